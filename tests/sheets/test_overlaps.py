"""No text of any sheet lies over another, leaves the frame, or runs into the title block. Measured on the printed paper."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

import pytest

from wallwright.core.drawing import Text
from wallwright.core.shape import Box
from wallwright.sheets.ink import inked
from wallwright.sheets.paper import Sheet
from wallwright.sheets.templates import templates

Texts = list[tuple[str, Box, str]]


def test_every_sheet_is_clean(
    drawings: tuple[Sheet, ...], sheet_faults: Callable[[Sheet], list[str]]
) -> None:
    assert {sheet.name: found for sheet in drawings if (found := sheet_faults(sheet))} == {}


def test_templates_are_as_clean(any_wall: Any, sheet_faults: Callable[[Sheet], list[str]]) -> None:
    sheets = templates(any_wall)
    assert len(sheets) > 3
    assert {sheet.name: found for sheet in sheets if (found := sheet_faults(sheet))} == {}


def test_every_text_is_tall_enough(drawings: tuple[Sheet, ...]) -> None:
    """Lettering of at least 2.5 mm (ISO 3098 heights; common practice for a copied sheet)."""
    for sheet in drawings:
        for view in sheet.layers:
            for mark in view.drawing.marks:
                for part in inked(mark, view.drawing.scale):
                    assert not isinstance(part, Text) or part.height >= 2.5, (sheet.name, part)


def test_the_measure_finds_what_it_should(
    drawings: tuple[Sheet, ...],
    sheet_texts: Callable[[Sheet], Texts],
    text_overlaps: Callable[[Texts], list[str]],
) -> None:
    """The check itself: the same sheet written twice, half a millimetre apart, overlaps with itself everywhere."""
    texts = sheet_texts(drawings[0])
    moved = [(words, Box(box.x + 0.5, box.z, box.width, box.height), of) for words, box, of in texts]
    assert text_overlaps(texts) == []
    assert len(text_overlaps(texts + moved)) >= len(texts)


@pytest.mark.parametrize("name", ["elevation", "services"])
def test_a_sheet_has_plenty_of_text(
    drawings: tuple[Sheet, ...], sheet_texts: Callable[[Sheet], Texts], name: str
) -> None:
    assert len(sheet_texts(next(sheet for sheet in drawings if sheet.name == name))) > 60
