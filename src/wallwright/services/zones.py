"""Where a cable may be expected in a wall: the prescribed zones of BS 7671 522.6.202.

A cable less than 50 mm deep lies within 150 mm of the top of the wall or of an angle of two walls, or runs straight up, down or
across from an accessory that can be seen. The foot of the wall is no zone. The regulation gives the straight run no width: the
accessory's own is taken. Where a country has no such rule the same bands serve as a house rule.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from itertools import pairwise
from math import dist
from typing import TYPE_CHECKING

from wallwright.core.shape import Box, Point2

if TYPE_CHECKING:
    from wallwright.carcass.record import SetOut
    from wallwright.services.record import ServicePoint


def corner_bands(face: Box, band: float) -> tuple[Box, ...]:
    """The band under the top of the wall and the two at its angles [mm]."""
    return (
        Box(face.x, face.top - band, face.width, band),
        Box(face.x, face.z, band, face.height),
        Box(face.right - band, face.z, band, face.height),
    )


def accessory_bands(face: Box, accessory: Box) -> tuple[Box, Box]:
    """The upright and the level band of one accessory, as wide and as high as it is, across the whole face."""
    return (
        Box(accessory.x, face.z, accessory.width, face.height),
        Box(face.x, accessory.z, face.width, accessory.height),
    )


def prescribed(face: Box, accessories: Iterable[Box], band: float) -> tuple[Box, ...]:
    """All zones of a face: corner bands first, then each accessory's; bands that are the same stand once."""
    zones = dict.fromkeys(corner_bands(face, band))
    for accessory in accessories:
        zones.update(dict.fromkeys(accessory_bands(face, accessory)))
    return tuple(zones)


def zones_of(
    face: Box, seen: Iterable[Box], hidden: Iterable[Box], band: float
) -> tuple[tuple[Box, ...], tuple[Box, ...]]:
    """The zones that corners and accessories in view make, and those that only hidden accessories would make.

    Nobody who drills knows of the second sort: a cable there lies 50 mm deep or is covered by steel.
    """
    shown = prescribed(face, seen, band)
    more = dict.fromkeys(zone for box in hidden for zone in accessory_bands(face, box) if zone not in shown)
    return shown, tuple(more)


def in_view(point: ServicePoint, frame: Box, setout: SetOut) -> bool:
    """Whether a box stays in view: not behind the screen, nor in or behind a unit, nor a feed behind a panel."""
    if point.box.meets(frame) or any(u.box.meets(point.box) for u in setout.units if u.cabinet):
        return False
    return point.kind != "led_feed" or not any(zone.box.meets(point.box) for zone in setout.zones)


def feed_place(path: Sequence[Point2], feed: str, face: Box) -> Point2:
    """Where the lead reaches a strip: its first end, or its middle where it is fed there; on the wall's face."""
    x, z = path[0]
    if feed == "centre":
        left = sum(dist(a, b) for a, b in pairwise(path)) / 2
        for a, b in pairwise(path):
            length = dist(a, b)
            if length >= left:
                share = left / length if length else 0.0
                x, z = a[0] + share * (b[0] - a[0]), a[1] + share * (b[1] - a[1])
                break
            left -= length
    return min(max(x, face.x), face.right), min(max(z, face.z), face.top)


def covered_area(boxes: Iterable[Box]) -> float:
    """The area that overlapping boxes cover together [mm²]."""
    boxes = tuple(boxes)
    xs = sorted({edge for box in boxes for edge in (box.x, box.right)})
    total = 0.0
    for left, right in pairwise(xs):
        spans = sorted((box.z, box.top) for box in boxes if box.x <= left and box.right >= right)
        reach = float("-inf")
        for low, top in spans:
            if top > reach:
                total += (top - max(low, reach)) * (right - left)
                reach = top
    return total
