"""Where on the wall something can stand: what hangs above it, and what stands beside it."""

from __future__ import annotations

from wallwright.core.limit import Limits
from wallwright.core.shape import Box
from wallwright.job.face import Face, obstacle_box

HANGS = frozenset({"beam", "ac", "cornice", "curtain"})
"""Things that come down from the ceiling: tall units and panels stop beneath them."""
STANDS = frozenset({"column", "window", "door", "radiator", "niche", "ac", "other", "pipe"})
"""Things that units stand clear of sideways."""
CLOSES = frozenset({"beam", "cornice"})
"""Of those that hang, what a filler may close up to: the rest is serviced, drips or is drawn aside."""


def hanging(face: Face, limits: Limits, kinds: frozenset[str] = HANGS) -> list[Box]:
    """Obstacles that hang from above."""
    above = limits.value("carcass.hangs_from")
    return [obstacle_box(thing) for thing in face.obstacles if thing.kind in kinds and thing.z.mm >= above]


def standing(face: Face, limits: Limits) -> list[Box]:
    """Obstacles that stand in the way."""
    above = limits.value("carcass.hangs_from")
    return [
        obstacle_box(thing)
        for thing in face.obstacles
        if thing.kind in STANDS and not (thing.kind in HANGS and thing.z.mm >= above)
    ]


def underside(top: float, left: float, right: float, hanging: list[Box]) -> float:
    """The lowest ceiling, beam or the like over left..right [mm above FFL]."""
    return min([top, *(box.z for box in hanging if box.x < right and left < box.right)])


def closing(face: Face, left: float, right: float, foot: float, limits: Limits) -> float | None:
    """The level up to which a filler above a unit of that width may close: ceiling, beam or cornice over the whole of it.

    None where something else hangs there, or a beam over part of the width only: a filler would run into it.
    """
    inside = [box for box in hanging(face, limits) if box.x < right and left < box.right and box.top > foot]
    whole = [box for box in hanging(face, limits, CLOSES) if box.x <= left + 0.5 and right - 0.5 <= box.right]
    level = min((box.z for box in whole), default=face.height)
    return None if any(box.z < level for box in inside) else level


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
