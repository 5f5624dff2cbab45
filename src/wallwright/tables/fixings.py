"""Fixings of everything hung."""

from __future__ import annotations

from typing import TYPE_CHECKING

from wallwright.core.table import Column, Table

if TYPE_CHECKING:
    from wallwright.derive import Wall

CAUTIONS = (
    "Allowable loads are for sound material and the fixing's own drilling: prove them by a pull test on this wall.",
    "Unknown wall: stop. Open it or ask an engineer; no number here stands for it.",
    "Scan for cables and pipes both ways before drilling, wear eye protection, keep the dust down.",
)
COLUMNS = (
    Column("Ref"),
    Column("What"),
    Column("Mass", "kg", 1, "right"),
    Column("Someone leans", "kg", 0, "right"),
    Column("Pull in all", "N", 0, "right"),
    Column("Shear in all", "N", 0, "right"),
    Column("Fixing"),
    Column("Count", "", 0, "right"),
    Column("Needed", "", 0, "right"),
    Column("Hole", "mm", 1, "right"),
    Column("Deep", "mm", 0, "right"),
    Column("Allowed pull each", "N", 0, "right"),
    Column("Allowed shear each", "N", 0, "right"),
    Column("Used", "%", 0, "right"),
    Column("Holes at x, height"),
)


def fixings(wall: Wall) -> Table:
    """Loads, fixings and how much of each is used; allowed loads are empty on an unknown wall."""
    rows = tuple(
        (
            c.ref, c.what, c.mass, c.lean, c.pull, c.shear, c.anchor, c.count, c.needed, c.hole_diameter or None,
            c.hole_depth or None, c.capacity_pull or None, c.capacity_shear or None, 100 * c.used if c.capacity_pull else None,
            "; ".join(f"{x:.0f}, {z:.0f}" for x, z in c.holes),
        )
        for c in wall.structure.fixings
    )  # fmt: skip
    towers = tuple(
        f"{tower.ref}: tips at {tower.push_to_tip:.0f} N pushed at its top when not anchored; "
        f"{'anchored' if tower.anchored else 'NOT ANCHORED: anchor it before anything is put in'}."
        for tower in wall.structure.towers
    )
    return Table("fixings", "Fixings", COLUMNS, rows, (*CAUTIONS, *towers))
