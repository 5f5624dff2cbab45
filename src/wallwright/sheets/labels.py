"""Labels for the workshop: one a part, in the order in which the saw gives them, with the part's picture, its grain and its edges.

A4 pages to be cut along the lines; the label goes on the face that is seen least, the arrow along the grain.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace
from typing import TYPE_CHECKING

from wallwright.core.drawing import TEXT_LABEL, TEXT_SMALL, Line, Mark, Text, rectangle
from wallwright.core.shape import Box
from wallwright.cutting.freed import freed
from wallwright.library import load
from wallwright.sheets.lettering import fitted, text_width, wrap
from wallwright.sheets.paper import A4, Fields, Sheet, numbered
from wallwright.sheets.parts_table import edge_code, size
from wallwright.sheets.words import short_board
from wallwright.tables.names import code

if TYPE_CHECKING:
    from wallwright.carcass.record import Part
    from wallwright.cutting.record import CutPlans
    from wallwright.derive import Wall

COLUMNS, ROWS = 3, 7
WIDE, HIGH = 62.0, 36.0  # of a label [paper mm]
_LEFT, _TOP = 12.0, 290.0
PICTURE = 14.5  # side of the square that holds the part's picture [paper mm]
STEP, DOWN = 4.2, 28.2  # from line to line, and from the name's line to the last one [paper mm]
THIN = 3.0  # a strip is drawn no narrower than this [paper mm]


def sheets(wall: Wall, cuts: CutPlans | None = None) -> tuple[Sheet, ...]:
    """Pages of labels, 21 a page; parts that no plan holds (ordered to size) come last."""
    chosen = cuts or wall.cuts
    placed = sawn(chosen)
    order = {name: i for i, name in enumerate(placed)}
    every = together(wall.carcass.parts, chosen)
    matched = in_sequence(every)
    parts = sorted(every, key=lambda part: order.get(part.id, len(order)))
    a_page = COLUMNS * ROWS
    pages = [parts[i : i + a_page] for i in range(0, len(parts), a_page)]
    return numbered(tuple(_page(wall, page, placed, matched) for page in pages))


def sawn(cuts: CutPlans) -> dict[str, str]:
    """Each part with the board and sheet that it comes out of, in the order in which the cuts free them."""
    return {
        placed.name: f"{code(board)} sheet {i}"
        for board, plan in cuts.plans
        for i, sheet in enumerate(plan.sheets, 1)
        for placed in sorted(sheet.placed, key=freed(sheet).__getitem__)
    }


def _page(wall: Wall, parts: list[Part], placed: dict[str, str], matched: dict[str, str]) -> Sheet:
    marks: list[Mark] = []
    job = f"{wall.job.number} {wall.job.revision}"
    for i, part in enumerate(parts):
        row, col = divmod(i, COLUMNS)
        box = Box(_LEFT + col * WIDE, _TOP - (row + 1) * HIGH, WIDE, HIGH)
        marks += label(part, box, placed.get(part.id, "ordered to size"), job, matched.get(part.id, ""))
    cautions = (
        "Wide line: edge with a band. Arrow: grain. Sizes are finished sizes; the saw cuts to the cut list.",
        *(
            f"{where}: place in its matched strip; keep them together."
            for where in [matched[part.id] for part in parts if part.id in matched][:1]
        ),
    )
    return Sheet(
        "labels", "Part labels", "Labels", (), tuple(marks), Fields.of(wall.job), cautions, size=A4, job_title=wall.job.title
    )  # fmt: skip


def together(parts: Iterable[Part], cuts: CutPlans) -> list[Part]:
    """The parts, without the mark where no sheet gives the strip that it asks for."""
    parted = {mark for mark, _ in cuts.parted}
    return [replace(part, match="") if part.match in parted else part for part in parts]


def in_sequence(parts: Iterable[Part]) -> dict[str, str]:
    """Part to its mark and place among the fronts that are cut from one strip in this order: `M1, 2 of 3`."""
    sets: dict[str, list[str]] = {}
    for part in parts:
        if part.match:
            sets.setdefault(part.match, []).append(part.id)
    return {
        ident: f"{mark}, {i} of {len(idents)}"
        for mark, idents in sets.items()
        for i, ident in enumerate(idents, 1)
    }


def label(part: Part, box: Box, sheet: str, job: str, matched: str = "") -> list[Mark]:
    """One label: whose part it is and how large at the left, its picture at the right.

    `matched`: its mark and place in a strip whose grain runs on from front to front.
    """
    room, whole = WIDE - PICTURE - 6.5, WIDE - 6.0  # beside the picture; below it
    finish = load.finishes().get(part.finish)
    sizes = f"{size(part.length)} × {size(part.width)} × {size(part.thickness)}"
    lines = [
        *((line, False) for line in wrap(part.name, room, TEXT_SMALL)),
        (sizes, text_width(sizes, TEXT_SMALL, True) <= room),
        (f"cut {size(part.cut_length)} × {size(part.cut_width)}", False),
        *((line, False) for line in wrap(f"{short_board(part.board)}, {sheet}", whole, TEXT_SMALL)),
        *((line, False) for line in _finished(finish.name if finish else "bare", matched, whole)),
        (f"edges {edge_code(part)}", False),
    ]
    x, at = box.x + 3.0, box.top - 6.0
    name, height = fitted(part.id, room, (TEXT_LABEL, TEXT_SMALL), bold=True)
    marks: list[Mark] = [
        rectangle(box, "thin", layer="frame", ref=part.id),
        Text((x, at), name, height, bold=True, layer="text", ref=part.id),
    ]
    for words, bold in lines:
        at -= min(STEP, DOWN / len(lines))
        marks.append(Text((x, at), words, TEXT_SMALL, bold=bold, layer="text", ref=part.id))
    right = box.right - 2.5
    marks.append(Text((right, at), job, TEXT_SMALL, "end", layer="text", ref=part.id))
    return marks + picture(part, Box(right - PICTURE, box.top - 2.5 - PICTURE, PICTURE, PICTURE))


def _finished(finish: str, matched: str, room: float) -> list[str]:
    """The finish, and the place in a matched strip: on a line of its own where both do not go on one."""
    both = f"{finish}; {matched}" if matched else finish
    if text_width(both, TEXT_SMALL) <= room:
        return [both]
    return [*wrap(finish, room, TEXT_SMALL), *([matched] if matched else [])]


def picture(part: Part, room: Box) -> list[Mark]:
    """The part lying along its length, its banded edges wide, an arrow along its grain."""
    share = min(room.width / part.length, room.height / part.width)
    wide, high = max(part.length * share, THIN), max(part.width * share, THIN)
    x, z = room.centre
    box = Box(x - wide / 2, z - high / 2, wide, high)
    (a, b, c, d) = box.corners
    sides = ((a, b), (d, c), (a, d), (b, c))  # two long ones, two short ones, as in the cutting plan
    marks: list[Mark] = [rectangle(box, "thin", layer="parts", ref=part.id)]
    marks += [
        Line(side, "extra", layer="bands", ref=part.id)
        for band, side in zip(part.edges, sides, strict=True)
        if band
    ]
    if part.grain != "none":
        marks += _arrow(box, along=part.grain == "length")
    return marks


def _arrow(box: Box, *, along: bool) -> list[Mark]:
    """The grain as an arrow with a head at each end."""
    x, z = box.centre
    half = max(1.2, (box.width if along else box.height) / 2 - 2.0)
    barb = 0.8

    def at(u: float, v: float) -> tuple[float, float]:
        return (x + u, z + v) if along else (x + v, z + u)

    return [
        Line((at(-half, 0), at(half, 0)), "medium", layer="text", ref="grain"),
        Line((at(half - 1.2, barb), at(half, 0), at(half - 1.2, -barb)), "medium", layer="text", ref="grain"),
        Line(
            (at(1.2 - half, barb), at(-half, 0), at(1.2 - half, -barb)), "medium", layer="text", ref="grain"
        ),
    ]
