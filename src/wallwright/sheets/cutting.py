"""Cutting plans: every sheet of board with the parts that come out of it, by name and size, to scale."""

from __future__ import annotations

from typing import TYPE_CHECKING

from wallwright.core.drawing import (
    TEXT_LABEL,
    TEXT_SMALL,
    Drawing,
    Hatch,
    Leader,
    Line,
    Mark,
    Text,
    rectangle,
)
from wallwright.core.shape import Box
from wallwright.core.table import Column, Table
from wallwright.core.units import show_mm
from wallwright.cutting.freed import freed
from wallwright.cutting.model import to_mm
from wallwright.library import load
from wallwright.sheets.beside import Block, Legend, Notes, column
from wallwright.sheets.chains import chain
from wallwright.sheets.cut_numbers import numbers
from wallwright.sheets.grounds import grounded
from wallwright.sheets.ink import extent_of, text_box
from wallwright.sheets.labels import in_sequence, together
from wallwright.sheets.lettering import text_width
from wallwright.sheets.paper import Fields, Sheet, centred
from wallwright.sheets.parts_table import edge_code
from wallwright.sheets.place import settle
from wallwright.sheets.room import layout
from wallwright.sheets.words import board_name, count

if TYPE_CHECKING:
    from wallwright.carcass.record import Part
    from wallwright.cutting.model import Placed, SheetPlan
    from wallwright.cutting.record import CutPlans
    from wallwright.derive import Wall

_CAUTIONS = (
    "Cut sizes: edge bands are added after cutting. Check the first sheet against the cut list before cutting the rest.",
    "Saw: guards on, extraction and a mask (wood and MDF dust).",
)


def sheets(wall: Wall, cuts: CutPlans | None = None) -> tuple[Sheet, ...]:
    """One page for each sheet of board; `cuts` are better plans than the wall's quick ones, where there are any."""
    chosen = cuts or wall.cuts
    parts = {part.id: part for part in together(wall.carcass.parts, chosen)}
    out: list[Sheet] = []
    for board, plan in chosen.plans:
        for i, sheet in enumerate(plan.sheets, 1):
            out.append(_sheet(wall, board, sheet, i, len(plan.sheets), parts))
    return tuple(out)


def _sheet(wall: Wall, board: str, plan: SheetPlan, i: int, of: int, parts: dict[str, Part]) -> Sheet:  # noqa: PLR0913
    length, width = to_mm(plan.sheet.length), to_mm(plan.sheet.width)
    on = layout(length, width, (16.0, 24.0))
    return Sheet(
        f"cutting_{board}_{i}",
        f"Cutting {i} of {of}: {board_name(board)}",
        "Cutting plan",
        (centred(drawing(wall, board, plan, on.scale, parts), on.view),),
        column(_beside(wall, board, plan, parts), on.beside),
        Fields.of(wall.job),
        _CAUTIONS,
        job_title=wall.job.title,
    )


def drawing(wall: Wall, board: str, plan: SheetPlan, scale: float, parts: dict[str, Part]) -> Drawing:
    """The layout at 1:`scale`: across the sheet's length (along its grain), up its width."""
    length, width = to_mm(plan.sheet.length), to_mm(plan.sheet.width)
    trim = wall.job.design.saw.trim.mm
    whole = Box(0, 0, length, width)
    still: list[Mark] = [
        rectangle(whole, "wide", layer="sheet", ref="sheet"),
        rectangle(whole.grown(-trim), "dashed", layer="sheet", ref="trim"),
    ]
    labels: list[Mark] = [
        Text(
            (0, width + 3.5 * scale),
            f"{board_name(board)}  {show_mm(length)} × {show_mm(width)}",
            TEXT_LABEL,
            bold=True,
            layer="text",
        )
    ]
    for offcut in plan.offcuts:
        box = Box(to_mm(offcut.x), to_mm(offcut.y), to_mm(offcut.length), to_mm(offcut.width))
        still += [
            Hatch(box.corners, "light", layer="hatch", ref="offcut"),
            rectangle(box, "thin", layer="offcuts", ref="offcut"),
        ]
        labels += _named("offcut", f"{_mm(offcut.length)} × {_mm(offcut.width)}", box, scale, "offcut")
    matched = in_sequence(parts.values())
    for placed in plan.placed:
        box = Box(to_mm(placed.x), to_mm(placed.y), to_mm(placed.length), to_mm(placed.width))
        still.append(rectangle(box, "medium", fill="#fff", layer="parts", ref=placed.name))
        still += _banded(box, placed, parts.get(placed.name), scale)
        size = f"{_mm(placed.length)} × {_mm(placed.width)}"
        row = matched.get(placed.name, "")
        labels += _named(placed.name, f"{size}  {row}" if row else size, box, scale, placed.name)
    labels += [
        *chain([0.0, length], "x", 0.0, -8.0, "overall"),
        *chain([0.0, width], "z", 0.0, -8.0, "overall"),
    ]
    if load.boards()[board].grain if board in load.boards() else False:
        arrow = _grain(length, width, scale)
        still += arrow[:-1]
        labels.append(arrow[-1])
    room = Box(-15 * scale, -15 * scale, length + 17 * scale, width + 27 * scale)
    labels += numbers(plan, scale, [label for label in labels if isinstance(label, Text)])
    within = [
        label for label in labels if isinstance(label, Text)
    ]  # each in its own part or cut: they stay there
    led = [label for label in labels if not isinstance(label, Text)]
    taken = [text_box(text, scale) for text in within]
    settled = (*within, *settle(led, scale, room, taken, still, PATIENT))
    marks = grounded(still, settled, scale)
    return Drawing(f"{board} {plan.sheet.name}", "Cutting plan", scale, marks, extent_of(marks, scale))


PATIENT = 400
"""Places tried for the name of a part too small to hold it, before one on a line is taken: a sheet of strips leaves few."""


def _grain(length: float, width: float, scale: float) -> list[Mark]:
    """The grain's direction as an arrow above the sheet, its word last."""
    z = width + 5.0 * scale
    tip, tail, barb = length, length - 34 * scale, 1.6 * scale
    return [
        Line(((tail, z), (tip, z)), "medium", layer="text", ref="grain"),
        Line(
            ((tip - 2 * barb, z + barb), (tip, z), (tip - 2 * barb, z - barb)),
            "medium",
            layer="text",
            ref="grain",
        ),
        Line(
            ((tail + 2 * barb, z + barb), (tail, z), (tail + 2 * barb, z - barb)),
            "medium",
            layer="text",
            ref="grain",
        ),
        Text((tail - 1.5 * scale, z - 1.2 * scale), "grain", anchor="end", layer="text"),
    ]


def _named(name: str, size: str, box: Box, scale: float, ref: str) -> list[Mark]:
    """A part's name and size inside it: in two lines, in one, turned, or the name alone; led out where it is too small."""
    w, h = box.width / scale - 0.8, box.height / scale - 0.8
    x, z = box.centre
    wide = max(text_width(name, TEXT_SMALL, True), text_width(size, TEXT_SMALL))
    both = f"{name}  {size}"
    row = text_width(both, TEXT_SMALL, True)
    s = scale
    if wide <= w and h >= 6.6:
        return [
            Text((x, z + 0.6 * s), name, anchor="middle", bold=True, layer="text", ref=ref),
            Text((x, z - 3.2 * s), size, anchor="middle", layer="text", ref=ref),
        ]
    if row <= w and h >= 2.6:
        return [Text((x, z - 1.25 * s), both, anchor="middle", bold=True, layer="text", ref=ref)]
    if wide <= h and w >= 6.6:
        return [
            Text((x - 0.6 * s, z), name, anchor="middle", turn=90, bold=True, layer="text", ref=ref),
            Text((x + 3.2 * s, z), size, anchor="middle", turn=90, layer="text", ref=ref),
        ]
    if row <= h and w >= 2.6:
        return [Text((x + 1.25 * s, z), both, anchor="middle", turn=90, bold=True, layer="text", ref=ref)]
    short = size if ref == "offcut" else name  # a part's size stands in the list beside the plan
    alone = text_width(short, TEXT_SMALL, True)
    if alone <= w and h >= 2.6:
        return [Text((x, z - 1.25 * s), short, anchor="middle", bold=True, layer="text", ref=ref)]
    if alone <= h and w >= 2.6:
        return [Text((x + 1.25 * s, z), short, anchor="middle", turn=90, bold=True, layer="text", ref=ref)]
    return [Leader(((x, z), (x + 6 * s, z + 5 * s)), short, layer="text", ref=ref)]


def _banded(box: Box, placed: Placed, part: Part | None, scale: float) -> list[Mark]:
    """A wide line inside each edge that gets a band. The long edges lie along x unless the part is turned."""
    if part is None:
        return []
    inset = 0.8 * scale
    inner = box.grown(-inset)
    (a, b, c, d) = inner.corners
    long, short = ((a, b), (d, c)), ((a, d), (b, c))
    if (placed.turned) != (part.length < part.width and part.grain == "none"):
        long, short = short, long
    edges = (*zip(part.edges[:2], long, strict=True), *zip(part.edges[2:], short, strict=True))
    return [Line(line, "extra", layer="bands", ref=part.id) for band, line in edges if band]


def _mm(tenths: int) -> str:
    return show_mm(to_mm(tenths), 0 if tenths % 10 == 0 else 1)


def used_share(plan: SheetPlan) -> float:
    """The part of the sheet's area that becomes parts, 0..1."""
    return sum(p.length * p.width for p in plan.placed) / (plan.sheet.length * plan.sheet.width)


def _beside(wall: Wall, board: str, plan: SheetPlan, parts: dict[str, Part]) -> list[Block]:
    saw = wall.job.design.saw
    stages = "as many stages as needed" if saw.stages == "any" else f"{saw.stages} stages"
    free = freed(plan)
    rows = tuple(
        (
            p.name,
            parts[p.name].name if p.name in parts else "",
            *(_mm(v) for v in ((p.width, p.length) if p.turned else (p.length, p.width))),
            edge_code(parts[p.name]) if p.name in parts else "",
            str(free[p].cut),
        )
        for p in sorted(plan.placed, key=lambda p: p.name)
    )
    cols = (
        Column("Part"),
        Column("Name"),
        Column("Cut L", "", 0, "right"),
        Column("Cut W", "", 0, "right"),
        Column("Edges"),
        Column("Cut", "", 0, "right"),
    )
    notes = (
        f"{board_name(board)}. {count(len(plan.placed), 'part')}; {100 * used_share(plan):.0f} % of the sheet is used.",
        f"Kerf {saw.kerf.mm:g}, trim {saw.trim.mm:g} at each edge, sawing in {stages}; every cut goes right through.",
        "A number in a line, or beside a trim line: the cuts in sawing order, as in cutting_plan.csv; in the list, the cut that "
        "frees the part.",
        "Length is along the part's grain; sizes in the plan are as the part lies.",
    )
    strips: dict[str, list[str]] = {}
    for name in (p for p in parts if p in {placed.name for placed in plan.placed}):
        if parts[name].match:
            strips.setdefault(parts[name].match, []).append(name)
    notes += tuple(
        f"Matched {mark}: {', '.join(names)} in this order, their grain runs on; keep them together."
        for mark, names in strips.items()
    )
    legend = Legend(
        (
            ("pen:extra", "edge that gets a band"),
            ("pen:dashed", "trim line"),
            ("hatch:light", "offcut worth keeping"),
        )
    )
    return [
        Table("cut_on_sheet", "Parts on this sheet, cut sizes", cols, rows),
        Notes("Notes", notes),
        legend,
    ]
