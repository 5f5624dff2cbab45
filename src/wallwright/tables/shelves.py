"""Shelf spans and sag."""

from __future__ import annotations

from typing import TYPE_CHECKING

from wallwright.core.table import Column, Table

if TYPE_CHECKING:
    from wallwright.derive import Wall

COLUMNS = (
    Column("Shelf"),
    Column("Unit"),
    Column("Board"),
    Column("Span", "mm", 0, "right"),
    Column("Depth", "mm", 0, "right"),
    Column("Thickness", "mm", 1, "right"),
    Column("Load", "kg/m", 1, "right"),
    Column("Sag at once", "mm", 2, "right"),
    Column("Sag after years", "mm", 2, "right"),
    Column("Span over sag", "", 0, "right"),
    Column("Longest span", "mm", 0, "right"),
)


def shelves(wall: Wall) -> Table:
    """Every shelf with its sag now and after creep; the longest span is the one that still passes both limits."""
    made = {shelf.ref: shelf for shelf in wall.carcass.shelves}
    rows = tuple(
        (
            c.ref, c.unit, made[c.ref].board, c.span, made[c.ref].depth, made[c.ref].thickness, made[c.ref].load_kg_per_m, c.sag,
            c.sag_later, c.span / c.sag if c.sag else None, c.longest,
        )
        for c in wall.structure.shelves
        if c.ref in made
    )  # fmt: skip
    notes = ("Simply supported, evenly loaded. Stiffness of the board is a conservative product minimum.",)
    return Table("shelves", "Shelves", COLUMNS, rows, notes)
