"""The cut list and the cutting plan as CSV: what a saw or a spreadsheet reads."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from wallwright.cutting.freed import freed
from wallwright.cutting.model import Placed, to_mm
from wallwright.export.xlsx import csv

if TYPE_CHECKING:
    from wallwright.cutting.record import CutPlans
    from wallwright.derive import Wall


def cutlist_csv(wall: Wall) -> bytes:
    """The cut list, cut sizes first in the columns that `wallwright cut` reads, then what the workshop needs besides."""
    heads = (
        "name",
        "material",
        "length",
        "width",
        "quantity",
        "grain",
        "thickness",
        "long_1",
        "long_2",
        "short_1",
        "short_2",
        "finished_length",
        "finished_width",
        "finish",
        "unit",
        "part",
    )
    rows = [
        (
            p.id,
            p.board,
            p.cut_length,
            p.cut_width,
            1,
            p.grain,
            p.thickness,
            *p.edges,
            p.length,
            p.width,
            p.finish,
            p.unit,
            p.name,
        )
        for p in wall.carcass.parts
    ]
    return csv(heads, rows)


def cutting_plan_csv(cuts: CutPlans) -> bytes:
    """Every part where it lies and every cut in order, sheet by sheet [mm].

    Panel 1 is the sheet as delivered. A cut saws its `panel` right through, the blade running in `from`..`to` at
    `cut_at`..`cut_at` + kerf along `cut_axis`, and gives the panels below and above the blade (empty: nothing is left
    there). A part or offcut is the panel named on its own row, in hand after the cut `freed_by`.
    """
    heads = (
        "board",
        "sheet",
        "what",
        "name",
        "x",
        "y",
        "length",
        "width",
        "turned",
        "stage",
        "cut_at",
        "cut_axis",
        "panel",
        "from",
        "to",
        "gives_1",
        "gives_2",
        "freed_by",
    )
    rows: list[tuple[Any, ...]] = []
    for board, plan in cuts.plans:
        for i, layout in enumerate(plan.sheets, 1):
            free, no = freed(layout), (None,) * 4
            for thing in (*layout.placed, *layout.offcuts):
                what = ("part", thing.name) if isinstance(thing, Placed) else ("offcut", "")
                where = (thing.x, thing.y, thing.length, thing.width)
                turned = int(thing.turned) if isinstance(thing, Placed) else None
                cut, panel = free[thing]
                rows.append((board, i, *what, *map(to_mm, where), turned, *no[:3], panel, *no, cut))
            for n, c in enumerate(layout.cuts, 1):
                at, start, end = to_mm(c.at), to_mm(c.start), to_mm(c.end)
                along = (at, start) if c.axis == "x" else (start, at)
                sawn = (c.stage, at, c.axis, c.panel, start, end, c.first, c.second)
                rows.append((board, i, "cut", str(n), *along, *no[:3], *sawn, None))
    return csv(heads, rows)
