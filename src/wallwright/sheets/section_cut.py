"""What the section through the screen meets: the wall's thickness, the screen as it hangs and as it is watched, beams."""

from __future__ import annotations

from math import cos, radians, sin
from typing import TYPE_CHECKING

from wallwright.core.shape import Point2
from wallwright.job.face import obstacle_box

if TYPE_CHECKING:
    from wallwright.derive import Wall
    from wallwright.job.survey import Obstacle


LEAF = 115.0  # drawn where the survey has no thickness


def leaf(wall: Wall) -> float:
    """Thickness of the wall as drawn [mm]."""
    return wall.job.survey.wall.leaf.mm if wall.job.survey.wall.leaf else LEAF


def screen_section(wall: Wall) -> tuple[Point2, ...]:
    """The screen's side view: its back's middle stands off the wall, and it leans forward by its tilt."""
    screen = wall.sight.screen
    half, depth, tilt = screen.frame.height / 2, screen.depth, radians(screen.tilt)
    z = screen.centre[1]
    corners = ((0.0, -half), (0.0, half), (-depth, half), (-depth, -half))
    return tuple(
        (-screen.stand_off + y * cos(tilt) - dz * sin(tilt), z + dz * cos(tilt) + y * sin(tilt))
        for y, dz in corners
    )


def turned(wall: Wall) -> bool:
    """Whether the screen is watched pulled out and turned on its arm."""
    screen = wall.sight.screen
    return screen.turned_to is not None and abs(screen.swivel) > 0.05


def watched_section(wall: Wall) -> tuple[Point2, ...]:
    """The screen's side view where it is watched: pulled out on its arm, cut through the middle of its picture."""
    if not turned(wall):
        return screen_section(wall)
    screen = wall.sight.screen
    front = screen_section(wall)[2:]
    out = -screen.middle[1] - (front[0][0] + front[1][0]) / 2
    return tuple((y + out, z) for y, z in screen_section(wall))


def turned_reach(wall: Wall) -> float:
    """How far out the turned screen's near edge stands [mm]."""
    screen = wall.sight.screen
    return screen.middle[1] + screen.frame.width / 2 * sin(radians(abs(screen.swivel)))


def beams_over(wall: Wall, at: float) -> list[Obstacle]:
    """The beams that the section cuts."""
    return [
        thing
        for thing in wall.face.obstacles
        if thing.kind == "beam" and obstacle_box(thing).x <= at <= obstacle_box(thing).right
    ]
