"""What a window looks like in the dark picture: its mirror image for one eye, clipped to the picture, as a polygon and a share.

Axes of the wall: x right, y into the wall (the room is y < 0), z up; all mm. People and furniture in between are ignored, so the
share is what an empty room would show.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

from wallwright.core.shape import Point2

Point3 = tuple[float, float, float]


@dataclass(frozen=True, slots=True)
class Glass:
    """The picture as a mirror: its middle, width, height and forward tilt [deg]."""

    middle: Point3
    width: float
    height: float
    tilt: float

    def local(self, point: Point3) -> Point3:
        """A point in the picture's own axes: right, up along the picture, and out of it towards the room."""
        sine, cosine = math.sin(math.radians(self.tilt)), math.cos(math.radians(self.tilt))
        dx, dy, dz = (point[i] - self.middle[i] for i in range(3))
        return dx, -dy * sine + dz * cosine, -dy * cosine - dz * sine

    def on_wall(self, point: Point2) -> Point2:
        """A point of the picture as the elevation shows it (x, z)."""
        return self.middle[0] + point[0], self.middle[2] + point[1] * math.cos(math.radians(self.tilt))


def image(glass: Glass, eye: Point3, window: Sequence[Point3]) -> tuple[Point2, ...]:
    """The part of the picture in which `eye` sees `window` mirrored, in the picture's own axes; () where it sees none.

    A ray from the eye by the picture to the window is the straight line to the window's mirror image: it meets the picture at
    P = (e·w_out + w·e_out) / (e_out + w_out). `window` is a convex polygon; what lies behind the picture's plane
    is cut off first.
    """
    e = glass.local(eye)
    if e[2] <= 0:
        return ()
    ahead = _in_front([glass.local(corner) for corner in window])
    if len(ahead) < 3:
        return ()
    seen = [
        ((e[0] * w[2] + w[0] * e[2]) / (e[2] + w[2]), (e[1] * w[2] + w[1] * e[2]) / (e[2] + w[2]))
        for w in ahead
    ]
    for axis, half in ((0, glass.width / 2), (1, glass.height / 2)):
        seen = _keep(seen, axis, half, 1.0)
        seen = _keep(seen, axis, half, -1.0)
    return tuple(seen)


def share(glass: Glass, eye: Point3, window: Sequence[Point3]) -> float:
    """The share (0..1) of the picture's area in which `eye` sees the window."""
    return area(image(glass, eye, window)) / (glass.width * glass.height)


def clearing_tilt(
    glass: Glass, eye: Point3, window: Sequence[Point3], most: float, allowed: float = 0.0
) -> float | None:
    """The smallest forward tilt up to `most` [deg, to 0.5] at which at most `allowed` of the picture mirrors the window."""
    for half_degrees in range(round(most * 2) + 1):
        tilt = half_degrees / 2
        if share(Glass(glass.middle, glass.width, glass.height, tilt), eye, window) <= allowed:
            return tilt
    return None


def area(polygon: Sequence[Point2]) -> float:
    """The area of a polygon [mm²]."""
    total = 0.0
    for i, (x, z) in enumerate(polygon):
        x0, z0 = polygon[i - 1]
        total += x0 * z - x * z0
    return abs(total) / 2


def _in_front(corners: list[Point3]) -> list[Point3]:
    """The part of a polygon that stands in front of the picture's plane (out > 0)."""
    near = 1e-9
    kept: list[Point3] = []
    for i, here in enumerate(corners):
        before = corners[i - 1]
        if (before[2] > near) != (here[2] > near):
            t = (near - before[2]) / (here[2] - before[2])
            kept.append((before[0] + t * (here[0] - before[0]), before[1] + t * (here[1] - before[1]), near))
        if here[2] > near:
            kept.append(here)
    return kept


def _keep(polygon: list[Point2], axis: int, half: float, sign: float) -> list[Point2]:
    """The part of a convex polygon with sign · coordinate ≤ half (one side of the clip by Sutherland and Hodgman)."""
    kept: list[Point2] = []
    for i, here in enumerate(polygon):
        before = polygon[i - 1]
        inside, was_inside = sign * here[axis] <= half, sign * before[axis] <= half
        if inside != was_inside:
            t = (sign * half - before[axis]) / (here[axis] - before[axis])
            kept.append((before[0] + t * (here[0] - before[0]), before[1] + t * (here[1] - before[1])))
        if inside:
            kept.append(here)
    return kept
