"""All sheets of a wall, numbered, in the order in which the trades need them."""

from __future__ import annotations

from typing import TYPE_CHECKING

from wallwright.sheets import (
    cable_map,
    composition,
    cutting,
    details,
    drilling,
    electrician,
    elevation,
    exploded,
    fixings,
    flute_rod,
    gantt,
    heights_strip,
    hidden_services,
    joinery,
    pack_out,
    panels,
    reflections,
    seat_plan,
    seat_view,
    section,
    services,
    storage,
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
            *electrician.sheets(wall),
            *cable_map.sheets(wall),
            *hidden_services.sheets(wall),
            *fixings.sheets(wall),
            *pack_out.sheets(wall),
            heights_strip.sheet(wall),
            seat_plan.sheet(wall),
            *seat_view.sheets(wall),
            *reflections.sheets(wall),
            *sun_hours.sheets(wall),
            composition.sheet(wall),
            *storage.sheets(wall),
            *joinery.sheets(wall),
            *exploded.sheets(wall),
            *drilling.sheets(wall),
            *panels.sheets(wall),
            *flute_rod.sheets(wall),
            *details.sheets(wall),
            *cutting.sheets(wall, cuts),
            gantt.sheet(wall),
        ),
        wall,
    )
