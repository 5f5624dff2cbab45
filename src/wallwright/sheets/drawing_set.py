"""All sheets of a wall, numbered, in the order in which the trades need them."""

from __future__ import annotations

from typing import TYPE_CHECKING

from wallwright.sheets import (
    composition,
    cutting,
    elevation,
    fixings,
    heights_strip,
    joinery,
    panels,
    reflections,
    seat_plan,
    seat_view,
    section,
    services,
    sun_hours,
)
from wallwright.sheets.paper import Sheet, numbered

if TYPE_CHECKING:
    from wallwright.cutting.record import CutPlans
    from wallwright.derive import Wall


def drawing_set(wall: Wall, cuts: CutPlans | None = None) -> tuple[Sheet, ...]:
    """What stands on the wall and what is let into it, what is seen of it, then what is made.

    cuts : better cutting plans than the wall's quick ones
    """
    return numbered(
        (
            elevation.sheet(wall),
            section.sheet(wall),
            services.sheet(wall),
            *fixings.sheets(wall),
            heights_strip.sheet(wall),
            seat_plan.sheet(wall),
            *seat_view.sheets(wall),
            *reflections.sheets(wall),
            *sun_hours.sheets(wall),
            composition.sheet(wall),
            *joinery.sheets(wall),
            *panels.sheets(wall),
            *cutting.sheets(wall, cuts),
        ),
        wall,
    )
