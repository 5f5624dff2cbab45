"""Where a cable may be expected in a wall: the prescribed zones of BS 7671 522.6.202.

A cable less than 50 mm deep lies within 150 mm of the top of the wall or of an angle of two walls, or runs straight up, down or
across from an accessory that can be seen. The foot of the wall is no zone. The regulation gives the straight run no width: the
accessory's own is taken. Where a country has no such rule the same bands serve as a house rule.
"""

from __future__ import annotations

from collections.abc import Iterable
from itertools import pairwise

from wallwright.core.shape import Box


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
