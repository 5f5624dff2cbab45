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
    Column("Someone leans", "N", 0, "right"),
    Column("Pull in all", "N", 0, "right"),
    Column("Shear in all", "N", 0, "right"),
    Column("Fixing"),
    Column("Count", "", 0, "right"),
    Column("Needed", "", 0, "right"),
    Column("Hole", "mm", 1, "right"),
    Column("Deep", "mm", 0, "right"),
    Column("Allowed pull each", "N", 0, "right"),
    Column("Allowed shear each", "N", 0, "right"),
    Column("Through packing", "mm", 0, "right"),
    Column("Length in all", "mm", 0, "right"),
    Column("Worst over mean", "", 2, "right"),
    Column("Used", "%", 0, "right"),
    Column("Holes at x, height"),
)


def without_fixings(wall: Wall) -> str:
    """What a price leaves out where fixings are refused, since nobody knows what the wall holds; "" where they are given."""
    refused = wall.job.survey.wall.substrate == "unknown" and any(
        check.capacity_pull <= 0 and not check.into for check in wall.structure.fixings
    )
    return "without fixings: the wall is unknown" if refused else ""


def fixings(wall: Wall) -> Table:
    """Loads, fixings and how much of each is used; allowed loads are empty on an unknown wall."""
    rows = tuple(
        (
            c.ref, c.what, c.mass, c.lean, c.pull, c.shear, c.anchor, c.count, c.needed, c.hole_diameter or None,
            c.hole_depth or None, c.capacity_pull or None, c.capacity_shear or None, c.packing or None, c.length or None,
            c.uneven if c.capacity_pull else None, 100 * c.used if c.capacity_pull else None,
            "; ".join(f"{x:.0f}, {z:.0f}" for x, z in c.holes),
        )
        for c in wall.structure.fixings
    )  # fmt: skip
    towers = tuple(
        f"{tower.ref}: tips at {tower.push_to_tip:.0f} N pushed at its top when not anchored; "
        f"{'anchored' if tower.anchored else 'NOT ANCHORED: anchor it before anything is put in'}."
        for tower in wall.structure.towers
    )
    packed = tuple(
        f"{c.ref}: pack the panel's void solid from x {c.pack.x:.0f} to {c.pack.right:.0f}, z {c.pack.z:.0f} to {c.pack.top:.0f}, "
        f"or its fixings bend across it."
        for c in wall.structure.fixings
        if c.pack
    )
    framed = tuple(
        f"{c.ref}: its fixings go into {c.on} ({c.base.replace('_', ' ')}): where it belongs to the building's frame its engineer "
        f"allows the holes first; find the reinforcement and keep off it."
        for c in wall.structure.fixings
        if c.on
    )
    return Table(
        "fixings",
        "Fixings",
        COLUMNS,
        rows,
        (*CAUTIONS, *framed, *packed, *towers, *_standing(wall), *_battens(wall)),
    )


def _standing(wall: Wall) -> tuple[str, ...]:
    """What a child on its drawers does to each low unit on the floor."""
    return tuple(
        f"{s.ref}: with a child on its {'open drawers' if s.drawers else 'front'} it stands {min(s.climbed, 99):.1f} × what tips it"
        + (f"; {s.force:.0f} N at its top hold it." if s.force else ".")
        for s in wall.structure.standing
    )


def _battens(wall: Wall) -> tuple[str, ...]:
    """How many screws hold the battens, and with what."""
    rows = wall.structure.batten_rows
    count = sum(len(row.holes) for row in rows)
    return (f"Battens: {count} × {rows[0].anchor}, hole {rows[0].hole_diameter:g} mm.",) if rows else ()
