"""Labels of a delivery: one a board with its flat in front, sheet by sheet in the order of the saw."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import replace
from typing import TYPE_CHECKING

from wallwright.core.drawing import Mark
from wallwright.core.shape import Box
from wallwright.cutting.freed import freed
from wallwright.sheets.labels import COLUMNS, HIGH, ROWS, WIDE, label
from wallwright.sheets.paper import A4, Sheet
from wallwright.sheets.tower_flat import fields_of

if TYPE_CHECKING:
    from wallwright.carcass.record import Part
    from wallwright.tower.pooled import BoardCut
    from wallwright.tower.record import TowerFile

_LEFT, _TOP = 12.0, 290.0


def sheets(
    delivery: str, cuts: Sequence[BoardCut], parts: Mapping[str, Part], tower: TowerFile
) -> tuple[Sheet, ...]:
    """Pages of labels, 21 a page. parts : by flat and part, `0304/C1-L`; those that no plan holds come last, ordered to size"""
    rows = list(_in_order(cuts, parts))
    placed = {part.id for part, _ in rows}
    rows += [
        (replace(part, id=name), "ordered to size") for name, part in parts.items() if name not in placed
    ]
    a_page = COLUMNS * ROWS
    pages = [rows[i : i + a_page] for i in range(0, len(rows), a_page)]
    return tuple(_page(delivery, page, tower) for page in pages)


def _in_order(cuts: Sequence[BoardCut], parts: Mapping[str, Part]) -> Iterator[tuple[Part, str]]:
    for one in cuts:
        for i, layout in enumerate(one.plan.sheets, 1):
            for placed in sorted(layout.placed, key=freed(layout).__getitem__):
                if placed.name in parts:
                    yield replace(parts[placed.name], id=placed.name), f"{one.board} sheet {i}"


def _page(delivery: str, rows: Sequence[tuple[Part, str]], tower: TowerFile) -> Sheet:
    marks: list[Mark] = []
    for i, (part, sheet) in enumerate(rows):
        row, col = divmod(i, COLUMNS)
        box = Box(_LEFT + col * WIDE, _TOP - (row + 1) * HIGH, WIDE, HIGH)
        marks += label(part, box, sheet, f"{delivery} {tower.revision}")
    cautions = (
        "Flat / part. Wide line: edge with a band. Arrow: grain. Sizes are finished sizes; the saw cuts to the cut list.",
    )
    return Sheet(
        "labels", f"Labels, delivery {delivery}", "Labels", (), tuple(marks), fields_of(tower), cautions, size=A4, job_title=tower.title
    )  # fmt: skip
