"""What is in the wall already: no hole near the cable of an accessory, or near a pipe, until it was traced and made dead.

An accessory that is to go, or was taken off, leaves its cable behind: it stays a keep-out until the survey says otherwise.
A cable may run straight up, down or across from its accessory (BS 7671 522.6.202): both bands are kept until it is traced.
"""

from __future__ import annotations

from collections.abc import Iterable

from wallwright.core.limit import Limit, Limits
from wallwright.core.shape import Box
from wallwright.job.face import obstacle_box
from wallwright.job.survey import Obstacle
from wallwright.services.zones import accessory_bands

ACCESSORIES = frozenset({"socket", "switch", "data_point"})
PIPES = frozenset({"pipe", "cable"})


def live_bands(obstacles: Iterable[Obstacle], face: Box) -> tuple[tuple[Obstacle, Box], ...]:
    """Each thing that may be live with each part of the wall its cable or pipe may lie in."""
    found: list[tuple[Obstacle, Box]] = []
    for thing in obstacles:
        box = obstacle_box(thing)
        if thing.dead:
            continue
        if thing.kind in PIPES:
            found.append((thing, box))
        elif thing.kind in ACCESSORIES:
            upright, level = accessory_bands(face, box)
            if thing.cable != "level":
                found.append((thing, upright))
            if thing.cable != "upright":
                found.append((thing, level))
    return tuple(found)


def kept_from(thing: Obstacle, limits: Limits) -> Limit:
    """How far from it no hole's middle may come: from a pipe's edge, else from the line of a cable that nobody traced."""
    return limits["services.drill_warn_pipe" if thing.kind == "pipe" else "rule.existing_band"]


def keep_clear(obstacles: Iterable[Obstacle], face: Box, limits: Limits) -> tuple[Box, ...]:
    """Where no hole's middle may come: around each such part of the wall."""
    return tuple(box.grown(kept_from(thing, limits).value) for thing, box in live_bands(obstacles, face))
