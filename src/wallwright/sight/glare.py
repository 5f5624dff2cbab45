"""Lamps in view beside the picture: the veil that each lays over what the eye sees of it, and the contrast that is left."""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from wallwright.sight.mirrored import Source
from wallwright.sight.record import SeatView
from wallwright.sight.reflect import Glass, Point3
from wallwright.sight.veil import Front, Picture, contrast, disability, scattered

FIELD = 30.0
"""The formula of the veil holds to 30 degrees beside the line of sight: Stiles and Holladay."""


@dataclass(frozen=True, slots=True)
class Glare:
    """One lamp in view of one seat. angle : beside the line of sight [deg] · light : on the eye [lx] · veil [cd/m²] ·
    contrast : white to black of the picture behind it
    """

    seat: str
    lamp: str
    angle: float
    light: float
    veil: float
    contrast: float


def glares(
    sources: Iterable[Source], seats: Sequence[SeatView], glass: Glass, front: Front, picture: Picture
) -> tuple[Glare, ...]:
    """Every lit lamp within 30 degrees of a seat's line of sight to the picture's middle. Furniture in between is ignored."""
    grey = scattered(picture.room, front.scatters)
    found: list[Glare] = []
    for source in sources:
        for seat in seats:
            angle = _between(_way(seat.eye, glass.middle), _way(seat.eye, source.middle))
            if angle > FIELD or _hidden(source, seat.eye):
                continue
            light = source.luminance * solid_angle(seat.eye, source.corners) * math.cos(math.radians(angle))
            veil = disability(light, angle)
            found.append(
                Glare(
                    seat.ref,
                    source.ref,
                    angle,
                    light,
                    veil,
                    contrast(picture.white, picture.black, grey + veil),
                )
            )
    return tuple(found)


def solid_angle(eye: Point3, corners: Sequence[Point3]) -> float:
    """The solid angle of a convex polygon at the eye [sr]: its triangles by van Oosterom and Strackee (from memory)."""
    ways = [_way(eye, corner) for corner in corners]
    total = 0.0
    for i in range(1, len(ways) - 1):
        a, b, c = ways[0], ways[i], ways[i + 1]
        la, lb, lc = (math.hypot(*way) for way in (a, b, c))
        volume = _dot(a, (b[1] * c[2] - b[2] * c[1], b[2] * c[0] - b[0] * c[2], b[0] * c[1] - b[1] * c[0]))
        total += 2 * math.atan2(volume, la * lb * lc + _dot(a, b) * lc + _dot(a, c) * lb + _dot(b, c) * la)
    return abs(total)


def _hidden(source: Source, eye: Point3) -> bool:
    """Whether the eye is beyond the angle at which the lamp hides its bright parts."""
    x, y, z = source.middle
    down = math.degrees(math.atan2(math.hypot(eye[0] - x, eye[1] - y), z - eye[2]))
    return source.cut_off is not None and down > source.cut_off


def _way(start: Point3, end: Point3) -> Point3:
    return end[0] - start[0], end[1] - start[1], end[2] - start[2]


def _dot(a: Point3, b: Point3) -> float:
    return a[0] * b[0] + a[1] * b[1] + a[2] * b[2]


def _between(a: Point3, b: Point3) -> float:
    cosine = _dot(a, b) / (math.hypot(*a) * math.hypot(*b))
    return math.degrees(math.acos(min(1.0, max(-1.0, cosine))))
