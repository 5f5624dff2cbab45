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
    fitter,
    fixings,
    flute_rod,
    gantt,
    heights_strip,
    hidden_services,
    joinery,
    owner,
    pack_out,
    panels,
    reflections,
    seat_plan,
    seat_view,
    section,
    services,
    setting_out,
    snags,
    stone,
    storage,
    sun_hours,
    variation,
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
            *elevation.sheets(wall),
            section.sheet(wall),
            *services.sheets(wall),
            *electrician.sheets(wall),
            *cable_map.sheets(wall),
            *hidden_services.sheets(wall),
            *fixings.sheets(wall),
            *pack_out.sheets(wall),
            *setting_out.sheets(wall),
            *fitter.sheets(wall),
            heights_strip.sheet(wall),
            seat_plan.sheet(wall),
            *seat_view.sheets(wall),
            *reflections.sheets(wall),
            *sun_hours.sheets(wall),
            *composition.sheets(wall),
            *storage.sheets(wall),
            *joinery.sheets(wall),
            *exploded.sheets(wall),
            *drilling.sheets(wall),
            *panels.sheets(wall),
            *flute_rod.sheets(wall),
            *stone.sheets(wall),
            *details.sheets(wall),
            *cutting.sheets(wall, cuts),
            *gantt.sheets(wall),
            *owner.sheets(wall),
            *snags.sheets(wall),
            *variation.sheets(wall),
        ),
        wall,
    )
