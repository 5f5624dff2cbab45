"""The boring of a wall's boards, gathered from its records, and the list of every hole for the workshop."""

from __future__ import annotations

from collections.abc import Iterable
from typing import TYPE_CHECKING

from wallwright.carcass import holes as carcass_holes
from wallwright.carcass.attached import Vent
from wallwright.carcass.bored import Bored, Hole
from wallwright.core.table import Column, Table

if TYPE_CHECKING:
    from wallwright.derive import Wall

COLUMNS = (
    Column("Board"), Column("Face"), Column("x", "mm", 1, "right"), Column("y", "mm", 1, "right"), Column("Ø", "mm", 1, "right"),
    Column("Deep", "mm", 1, "right"), Column("For"),
)  # fmt: skip


_last: list[tuple[Wall, Bored]] = []
"""The wall that was bored last, with its boring: every sheet of joinery, the drilling and the list of holes ask for the same."""


def bored(wall: Wall) -> Bored:
    """Every cabinet's boards with their holes, grooves and cut-outs."""
    for known, made in _last:
        if known is wall:  # a wall is frozen
            return made
    made = _bored(wall)
    _last[:] = [(wall, made)]
    return made


def _bored(wall: Wall) -> Bored:
    opened = {unit.ref: unit.opening or "push" for unit in wall.job.design.units}
    fixed = {check.ref: (check.holes, check.hole_diameter) for check in wall.structure.fixings}
    boxes = [(point.ref, point.box) for point in wall.services.points]
    vents = [
        Vent(vent.part, vent.x, vent.z, vent.width, vent.height, vent.what) for vent in wall.cooling.openings
    ]
    return carcass_holes.bore(
        wall.setout, wall.carcass, wall.limits, opened, fixed=fixed, boxes=boxes, vents=vents
    )


def holes(wall: Wall) -> tuple[Hole, ...]:
    """Every hole of every board, in the board's own axes."""
    return bored(wall).holes


def in_order(wall: Wall) -> list[Hole]:
    """Every hole, by board, face and place."""
    return _sorted(bored(wall).holes)


def _sorted(found: Iterable[Hole]) -> list[Hole]:
    return sorted(found, key=lambda hole: (hole.part, hole.face, hole.y, hole.x))


def hole_list(wall: Wall) -> Table:
    """Every hole, board by board."""
    made = bored(wall)
    rows = tuple(
        (
            hole.part,
            hole.face,
            hole.x,
            hole.y,
            hole.diameter,
            hole.depth,
            f"{hole.what}{', through' if hole.through else ''}",
        )
        for hole in _sorted(made.holes)
    )
    corners = {part: own.corner for part, own in made.lies.items()}
    notes = (
        "x along the board's length, y across it, from its datum corner: "
        + "; ".join(
            f"{corner}: {sum(c == corner for c in corners.values())} boards"
            for corner in dict.fromkeys(corners.values())
        )
        + ". In an edge: x along the edge from the datum corner, y below the inside face.",
    )
    return Table("holes", "Holes of every board", COLUMNS, rows, notes)
