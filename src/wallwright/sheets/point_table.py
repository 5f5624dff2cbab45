"""The points of the wall as a list short enough for a sheet: what each is, where its middle stands, its box and its circuit."""

from __future__ import annotations

from typing import TYPE_CHECKING

from wallwright.core.table import Column, Table
from wallwright.core.units import show_mm
from wallwright.sheets.words import point_words

if TYPE_CHECKING:
    from wallwright.derive import Wall


def point_table(wall: Wall) -> Table:
    """The points, short enough for the sheet; reasons and loads stand in the schedules."""
    cols = (
        Column("Ref"),
        Column("Kind"),
        Column("x", "", 0, "right"),
        Column("z", "", 0, "right"),
        Column("Box"),
        Column("Circ."),
        Column("Feeds"),
    )
    rows = tuple(
        (
            p.ref,
            point_words(p.kind),
            p.x,
            p.z,
            f"{show_mm(p.box.width)}×{show_mm(p.box.height)}×{show_mm(p.box_depth)}",
            p.circuit or "-",
            ", ".join(p.serves),
        )
        for p in wall.services.points
    )
    return Table("points_on_sheet", "Points", cols, rows)
