"""What is in the wall already: no hole near the cable of an accessory, or near a pipe, until it was traced and made dead.

An accessory that is to go, or was taken off, leaves its cable behind: it stays a keep-out until the survey says otherwise.
Source: common practice (a cable runs straight up or down from its accessory).
"""

from __future__ import annotations

from collections.abc import Iterable

from wallwright.core.shape import Box
from wallwright.job.face import obstacle_box
from wallwright.job.survey import Obstacle

ACCESSORIES = frozenset({"socket", "switch", "data_point"})
PIPES = frozenset({"pipe", "cable"})


def live_bands(obstacles: Iterable[Obstacle], top: float) -> tuple[tuple[Obstacle, Box], ...]:
    """Each thing that may be live with the part of the wall its cable or pipe may lie in. top : height of the wall [mm]."""
    found: list[tuple[Obstacle, Box]] = []
    for thing in obstacles:
        box = obstacle_box(thing)
        if thing.dead:
            continue
        if thing.kind in PIPES:
            found.append((thing, box))
        elif thing.kind in ACCESSORIES:
            found.append((thing, Box(box.x, 0.0, box.width, max(top, box.top))))
    return tuple(found)


def keep_clear(obstacles: Iterable[Obstacle], top: float, band: float) -> tuple[Box, ...]:
    """Where no hole's middle may come: around each such part of the wall. band : the distance kept [mm]."""
    return tuple(box.grown(band) for _, box in live_bands(obstacles, top))
