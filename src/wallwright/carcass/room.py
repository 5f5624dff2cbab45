"""Where on the wall something can stand: what hangs above it, and what stands beside it."""

from __future__ import annotations

from wallwright.core.shape import Box
from wallwright.job.face import Face, obstacle_box

HANGS = frozenset({"beam", "ac", "cornice", "curtain"})
"""Things that come down from the ceiling: tall units and panels stop beneath them."""
STANDS = frozenset({"column", "window", "door", "radiator", "niche", "ac", "other", "pipe"})
"""Things that units stand clear of sideways."""
HANGS_FROM = 1500.0  # lower edge above which an obstacle is passed beneath [mm]


def hanging(face: Face) -> list[Box]:
    """Obstacles that hang from above."""
    return [
        obstacle_box(thing) for thing in face.obstacles if thing.kind in HANGS and thing.z.mm >= HANGS_FROM
    ]


def standing(face: Face) -> list[Box]:
    """Obstacles that stand in the way."""
    return [
        obstacle_box(thing)
        for thing in face.obstacles
        if thing.kind in STANDS and not (thing.kind in HANGS and thing.z.mm >= HANGS_FROM)
    ]


def underside(top: float, left: float, right: float, hanging: list[Box]) -> float:
    """The lowest ceiling, beam or the like over left..right [mm above FFL]."""
    return min([top, *(box.z for box in hanging if box.x < right and left < box.right)])


def free_span(
    low: float, high: float, z: float, top: float, about: float, things: list[Box], clear: float
) -> tuple[float, float]:
    """The widest clear stretch within low..high around `about`, past all things that stand between heights z and top.

    A thing that stands at `about` itself cannot be avoided and is left to the rules.
    """
    for box in things:
        if box.z >= top or box.top <= z or box.x <= about <= box.right:
            continue
        if box.right < about:
            low = max(low, box.right + clear)
        else:
            high = min(high, box.x - clear)
    return low, high


def mirrored(box: Box, width: float) -> Box:
    """The box seen in a mirror: x counted from the right end of a wall this wide."""
    return Box(width - box.right, box.z, box.width, box.height)
