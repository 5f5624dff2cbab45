"""Where on the wall something can stand: what hangs above it, and what stands beside it."""

from __future__ import annotations

from collections.abc import Iterable
from itertools import pairwise
from math import inf

from wallwright.core.limit import Limits
from wallwright.core.shape import Box
from wallwright.job.face import Face, obstacle_box
from wallwright.job.survey import Obstacle, Survey

HANGS = frozenset({"beam", "ac", "cornice", "curtain"})
"""Things that come down from the ceiling: tall units and panels stop beneath them."""
STANDS = frozenset({"column", "window", "door", "radiator", "niche", "ac", "other", "pipe"})
"""Things that units stand clear of sideways."""
CLOSES = frozenset({"beam", "cornice"})
"""Of those that hang, what a filler may close up to: the rest is serviced, drips or is drawn aside."""

BUILT_ROUND = frozenset({"column", "beam", "cornice", "pipe"})
"""What a unit set there on purpose is built round: it is cut out for it, and is less deep in front of it."""


def hanging(face: Face, limits: Limits, kinds: frozenset[str] = HANGS) -> list[Box]:
    """Obstacles that hang from above."""
    above = limits.value("carcass.hangs_from")
    return [obstacle_box(thing) for thing in face.obstacles if thing.kind in kinds and thing.z.mm >= above]


def depth_unknown(thing: Obstacle) -> bool:
    """Whether nobody measured how far it stands into the room: nothing entered, and not said to be flush."""
    return thing.projection.mm == 0 and thing.projection.state == "assumed"


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


def soffit(face: Face, over: Box, level: float, thick: float) -> float:
    """How far from the wall a filler so thick may stand that closes up to that level over a unit [mm]: as far as the beam or cornice there
    comes into the room. No bound under the ceiling, under what nobody measured, nor where it would stand in a column or pipe behind.
    """
    there = [
        thing
        for thing in face.obstacles
        if thing.x.mm < over.right and over.x < thing.x.mm + thing.width.mm and not depth_unknown(thing)
    ]
    beams = [one for one in there if one.kind in CLOSES and abs(one.z.mm - level) < 0.5]
    under = min((beam.projection.mm for beam in beams), default=inf)
    behind = [
        one
        for one in there
        if one.kind in STANDS and one.z.mm < level and over.top < one.z.mm + one.height.mm
    ]
    return inf if any(one.projection.mm > under - thick for one in behind) else under


def ends(face: Face, unit: Box, out: float) -> tuple[float, float]:
    """X of what a unit's side fillers close to: the ends of the wall, or a column beside it that comes as far into the room as its
    front, `out` [mm], over its whole height. What is shorter than the unit but as deep leaves no place for a filler: the unit's own
    end is given then.
    """
    left, right = 0.0, face.width
    for thing in face.obstacles:
        box = obstacle_box(thing)
        if thing.kind != "column" or thing.projection.mm < out or box.top <= unit.z or unit.top <= box.z:
            continue
        whole = box.z <= unit.z + 0.5 and unit.top - 0.5 <= box.top
        if box.right <= unit.x + 0.5:
            left = max(left, box.right if whole else unit.x)
        elif box.x >= unit.right - 0.5:
            right = min(right, box.x if whole else unit.right)
    return left, right


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


def stretches(
    low: float, high: float, z: float, top: float, things: Iterable[Box]
) -> list[tuple[float, float]]:
    """The stretches of low..high, from the left, where nothing of these stands between heights z and top."""
    out: list[tuple[float, float]] = []
    at = low
    for box in sorted(
        (box for box in things if box.z < top - 0.5 and z + 0.5 < box.top), key=lambda box: box.x
    ):
        out.append((at, min(box.x, high)))
        at = max(at, box.right)
    out.append((at, high))
    return [(left, right) for left, right in out if right - left > 1e-6]


def nearest(x: float, width: float, free: Iterable[tuple[float, float]]) -> float | None:
    """Where a thing of that width stands nearest to x within one of the free stretches; None where none is wide enough."""
    places = [min(max(x, low), high - width) for low, high in free if high - low >= width - 1e-6]
    return min(places, key=lambda place: abs(place - x), default=None)


def mirrored(box: Box, width: float) -> Box:
    """The box seen in a mirror: x counted from the right end of a wall this wide."""
    return Box(width - box.right, box.z, box.width, box.height)


def taper(survey: Survey, z: float, top: float) -> float:
    """By how much the wall is wider at some height between z and top than where it is narrowest of all [mm].

    From the widths surveyed, straight between two readings; a filler at a unit's end has to take all of it, for nobody knows from
    widths alone which corner runs out.
    """
    readings = sorted((reading.at.mm, reading.value.mm) for reading in survey.wall.widths)
    inside = [value for at, value in readings if z <= at <= top]
    widths = [*inside, *(_between(readings, level) for level in (z, top))]
    return max(widths) - min(width for _, width in readings)


def _between(readings: list[tuple[float, float]], level: float) -> float:
    """The width at a level, straight between the readings, level beyond them [mm]."""
    for (low, one), (high, other) in pairwise(readings):
        if low <= level <= high and high > low:
            return one + (other - one) * (level - low) / (high - low)
    return readings[0][1] if level < readings[0][0] else readings[-1][1]


def unevenness(survey: Survey, face: Face, box: Box) -> float:
    """How far the wall behind an outline stands in and out [mm]: what is packed behind a unit, or scribed off its rear edges.

    From the readings of its relief within the outline and the nearest one beyond each side of it, else from how far the wall
    leans over the outline's height.
    """
    wall = survey.wall
    if not wall.relief:
        return abs(wall.out_of_plumb.mm) * box.height / face.height
    xs = _about(sorted({reading.x.mm for reading in wall.relief}), box.x, box.right)
    zs = _about(sorted({reading.z.mm for reading in wall.relief}), box.z, box.top)
    out = [r.out.mm for r in wall.relief if xs[0] <= r.x.mm <= xs[1] and zs[0] <= r.z.mm <= zs[1]]
    return max(out) - min(out) if out else 0.0


def _about(places: list[float], low: float, high: float) -> tuple[float, float]:
    """The stretch of readings that holds low..high: out to the nearest reading on each side."""
    below = [place for place in places if place <= low]
    above = [place for place in places if place >= high]
    return (max(below) if below else places[0], min(above) if above else places[-1])
