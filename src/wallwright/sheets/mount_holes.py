"""Where the mount's holes go, or why nobody drills yet: what templates and rods both say."""

from __future__ import annotations

from collections.abc import Iterator
from typing import TYPE_CHECKING

from wallwright.core.shape import Point2, around
from wallwright.core.units import show_mm
from wallwright.sheets.fixings import hole_words

if TYPE_CHECKING:
    from wallwright.derive import Wall
    from wallwright.structure.record import FixingCheck


def not_to_drill(wall: Wall) -> str:
    """What stands in place of drill heights while nothing verifies the bracket's; "" where they may be given."""
    hanging = wall.sight.hanging
    return hanging.drill if hanging is not None else ""


def hook_words(wall: Wall) -> str:
    """How far the screen's hole group hangs below the plate's middle, or that nobody entered it; "" where unknown."""
    hanging = wall.sight.hanging
    if hanging is None:
        return ""
    if not hanging.hook_given:
        return "Hook drop of the mount not entered: plate drawn level with the screen's holes. Measure it on the mount."
    drop = hanging.hook_drop
    side = "below" if drop >= 0 else "above"
    return f"Hook drop {show_mm(abs(drop))}: the screen's holes hang that far {side} the plate's middle."


def holes(wall: Wall) -> Iterator[tuple[Point2, float, str]]:
    """The mount's wall holes as the structure stage set them out: none where it could choose no fixing.

    None at all while nothing verifies the bracket's height: a printed hole is an invitation to drill.
    """
    own = chosen(wall)
    if own is None or not_to_drill(wall):
        return
    for hole in own.holes:
        yield hole, own.hole_diameter, hole_words(own)


def chosen(wall: Wall) -> FixingCheck | None:
    """The mount's fixing, where one was chosen."""
    plate = wall.sight.screen.plate.grown(60)
    found = (check for check in wall.structure.fixings if check.holes and plate.holds(around(check.holes)))
    return next((check for check in found if check.hole_diameter > 0), None)
