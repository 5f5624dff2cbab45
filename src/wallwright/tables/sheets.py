"""The sheets to buy."""

from __future__ import annotations

from typing import TYPE_CHECKING

from wallwright.core.table import Column, Table
from wallwright.library import load

if TYPE_CHECKING:
    from wallwright.derive import Wall

COLUMNS = (
    Column("Board"),
    Column("Name"),
    Column("Size", "mm"),
    Column("Sheets", "", 0, "right"),
    Column("At least", "", 0, "right"),
    Column("Area", "m²", 2, "right"),
    Column("Used", "%", 0, "right"),
    Column("Parts", "", 0, "right"),
)


def sheets(wall: Wall) -> Table:
    """Sheets of every board with their used share; At least = no cutting plan needs fewer."""
    areas = dict(wall.cuts.areas)
    used = {board: share for board, _, share in wall.cuts.sheets}
    rows = tuple(
        (
            board, load.boards()[board].name, plan.sheets[0].sheet.name, plan.used, plan.lower_bound, areas[board],
            100 * used[board], sum(layout.count * len(layout.placed) for layout in plan.sheets),
        )
        for board, plan in wall.cuts.plans
    )  # fmt: skip
    notes = ("By the quick plan; a longer search may save a sheet, it never needs more.",)
    return Table("sheets", "Sheets to buy", COLUMNS, rows, notes)
