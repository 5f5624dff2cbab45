"""Where nobody drills, band by band: round every run and box as planned, and round what is in the wall already."""

from __future__ import annotations

from typing import TYPE_CHECKING

from wallwright.core.shape import around
from wallwright.core.table import Column, Table
from wallwright.services.drill import NoDrill
from wallwright.services.drill import no_drill as bands
from wallwright.services.existing import live_bands
from wallwright.tables.points import DESIGN_AID

if TYPE_CHECKING:
    from wallwright.derive import Wall

COLUMNS = (
    Column("Ref"),
    Column("What lies there"),
    Column("x from", "mm", 0, "right"),
    Column("x to", "mm", 0, "right"),
    Column("z from", "mm", 0, "right"),
    Column("z to", "mm", 0, "right"),
)


def found(wall: Wall) -> tuple[NoDrill, ...]:
    """Every part of the wall where nobody drills, the zones in which a cable may be expected among them."""
    there = live_bands(wall.job.survey.obstacles, wall.face.box)
    return bands(wall.services, there, wall.face.box, wall.limits, zones=True)


def no_drill(wall: Wall) -> Table:
    """The bands with their edges, x from the left corner and z from FFL."""
    rows = tuple(
        (item.ref, item.says, box.x, box.right, box.z, box.top)
        for item in found(wall)
        if item.sort != "zone" and (box := around(item.outline))
    )
    notes = (
        DESIGN_AID,
        "x from the left corner of the wall, z from finished floor level. The bands hold for holes of any depth.",
        "Between the bands a cable may still lie that nobody recorded: scan both ways, isolate and prove dead before any hole.",
    )
    return Table("no_drill", "Where nobody drills", COLUMNS, rows, notes)
