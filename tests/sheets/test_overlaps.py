"""No text of any sheet lies over another, leaves the frame, or runs into the title block. Measured on the printed paper."""

from __future__ import annotations

import pytest

from wallwright.core.drawing import Text
from wallwright.core.shape import Box
from wallwright.sheets.ink import inked, text_box
from wallwright.sheets.paper import A3, BLOCK, EDGE, LEFT, Sheet
from wallwright.sheets.templates import templates


def written(sheet: Sheet) -> list[tuple[str, Box, str]]:
    """Every text of a sheet: its words, its box in paper mm, and the drawing it belongs to."""
    out: list[tuple[str, Box, str]] = []
    for view in sheet.layers:
        s = view.drawing.scale
        for mark in view.drawing.marks:
            for part in inked(mark, s):
                if isinstance(part, Text) and part.text:
                    box = text_box(part, s)
                    out.append(
                        (
                            part.text,
                            Box(view.x + box.x / s, view.y + box.z / s, box.width / s, box.height / s),
                            view.drawing.name,
                        )
                    )
    return out


def overlapping(texts: list[tuple[str, Box, str]]) -> list[str]:
    found: list[str] = []
    for i, (words, box, _) in enumerate(texts):
        for other, more, _ in texts[i + 1 :]:
            if box.grown(-0.05).meets(more.grown(-0.05)):
                found.append(f"{words!r} over {other!r}")
    return found


def outside(sheet: Sheet) -> list[str]:
    width, height = sheet.size
    inner = (
        Box(LEFT, EDGE, width - LEFT - EDGE, height - 2 * EDGE)
        if sheet.size == A3
        else Box(10, 4, width - 20, height - 8)
    )
    out = [words for words, box, _ in written(sheet) if not inner.holds(box)]
    if sheet.size == A3:
        paper = sheet.paper.name
        out += [
            f"{words} in the title block"
            for words, box, of in written(sheet)
            if of != paper and box.meets(BLOCK)
        ]
    return out


def test_no_text_over_another(drawings: tuple[Sheet, ...]) -> None:
    assert {sheet.name: found for sheet in drawings if (found := overlapping(written(sheet)))} == {}


def test_no_text_leaves_the_frame(drawings: tuple[Sheet, ...]) -> None:
    assert {sheet.name: found for sheet in drawings if (found := outside(sheet))} == {}


def test_templates_are_as_clean(any_wall) -> None:
    for sheet in templates(any_wall):
        assert overlapping(written(sheet)) == [], sheet.name
        assert outside(sheet) == [], sheet.name


def test_every_text_is_tall_enough(drawings: tuple[Sheet, ...]) -> None:
    for sheet in drawings:
        for view in sheet.layers:
            for mark in view.drawing.marks:
                for part in inked(mark, view.drawing.scale):
                    assert not isinstance(part, Text) or part.height >= 2.5, (sheet.name, part)


def test_the_measure_finds_what_it_should(drawings: tuple[Sheet, ...]) -> None:
    """The check itself: the same sheet written twice, half a millimetre apart, overlaps with itself everywhere."""
    texts = written(drawings[0])
    moved = [(words, Box(box.x + 0.5, box.z, box.width, box.height), of) for words, box, of in texts]
    assert len(overlapping(texts + moved)) >= len(texts)


@pytest.mark.parametrize("name", ["elevation", "services"])
def test_a_sheet_has_plenty_of_text(drawings: tuple[Sheet, ...], name: str) -> None:
    assert len(written(next(sheet for sheet in drawings if sheet.name == name))) > 60
