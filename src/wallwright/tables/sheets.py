"""The sheets to buy."""

from __future__ import annotations

from typing import TYPE_CHECKING

from wallwright.core.table import Column, Table
from wallwright.cutting.plan import sizes, to_buy
from wallwright.library import load
from wallwright.tables.names import code

if TYPE_CHECKING:
    from wallwright.derive import Wall

COLUMNS = (
    Column("Board"),
    Column("Name"),
    Column("Size", "mm"),
    Column("To buy", "", 0, "right"),
    Column("Sheets", "", 0, "right"),
    Column("At least", "", 0, "right"),
    Column("Area", "m²", 2, "right"),
    Column("Used", "%", 0, "right"),
    Column("Parts", "", 0, "right"),
)


def sheets(wall: Wall) -> Table:
    """Sheets of every board with their used share; To buy = less what is in the rack, At least = no cutting plan needs fewer."""
    areas = dict(wall.cuts.areas)
    used = {board: share for board, _, share in wall.cuts.sheets}
    rows = tuple(
        (
            code(board), load.boards()[board].name, sizes(plan), to_buy(plan), plan.used, plan.lower_bound, areas[board],
            100 * used[board], sum(layout.count * len(layout.placed) for layout in plan.sheets),
        )
        for board, plan in wall.cuts.plans
    )  # fmt: skip
    notes = ["Area is what is paid for: offcuts of earlier jobs are not."] if wall.job.design.stock else []
    if wall.cuts.at_most:
        notes.append(
            "By the quick plan, so at most these: quote, budget, options and issue search further, and are never dearer."
        )
    notes += [f"{mark}: {why}." for mark, why in wall.cuts.parted]
    return Table("sheets", "Sheets to buy", COLUMNS, rows, tuple(notes))
