"""Shelf spans and sag."""

from __future__ import annotations

from typing import TYPE_CHECKING

from wallwright.core.table import Column, Table
from wallwright.tables.names import code

if TYPE_CHECKING:
    from wallwright.derive import Wall

MADE = {"plain": "one board", "lipped": "lipped", "doubled": "two boards", "torsion_box": "torsion box"}
COLUMNS = (
    Column("Shelf"),
    Column("Unit"),
    Column("Board"),
    Column("Span", "mm", 0, "right"),
    Column("Depth", "mm", 0, "right"),
    Column("Thickness", "mm", 1, "right"),
    Column("Made of"),
    Column("Supports", "", 0, "right"),
    Column("Load", "kg/m", 1, "right"),
    Column("Sag at once", "mm", 2, "right"),
    Column("Sag after years", "mm", 2, "right"),
    Column("Span over sag", "", 0, "right"),
    Column("Longest span", "mm", 0, "right"),
    Column("Load in its middle", "N", 0, "right"),
    Column("Sag under it", "mm", 1, "right"),
    Column("Strength used", "%", 0, "right"),
)


def shelves(wall: Wall) -> Table:
    """Every shelf with its sag now and after creep; the longest span is the one that still passes both limits."""
    made = {shelf.ref: shelf for shelf in wall.carcass.shelves}
    rows = tuple(
        (
            c.ref, c.unit, code(made[c.ref].board), c.span, made[c.ref].depth, made[c.ref].thickness, MADE[c.build], c.supports,
            made[c.ref].load_kg_per_m, c.sag, c.sag_later, c.span / c.sag if c.sag else None, c.longest, c.point or None,
            c.sag_point if c.point else None, 100 * c.stress_point / c.strength if c.strength else None,
        )
        for c in wall.structure.shelves
        if c.ref in made
    )  # fmt: skip
    notes = (
        "Laid on its supports, not held by them, and loaded where it sags most. Stiffness and strength of the boards are "
        "conservative product minima.",
        "A lip stiffens the front edge: the back is held on a cleat or the shelf is reckoned as free to bend sideways.",
    )
    return Table("shelves", "Shelves", COLUMNS, rows, notes)
