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
NEAR = 1e-9
"""What is no further out of the picture's plane than this is not before it [mm]."""


Axes = tuple[Point3, Point3, Point3]


@dataclass(frozen=True, slots=True)
class Glass:
    """The picture as a mirror: its middle, width, height, forward tilt and swivel [deg].

    swivel : positive turns the picture towards larger x; the tilt is about the picture's own level axis, after the swivel
    """

    middle: Point3
    width: float
    height: float
    tilt: float
    swivel: float = 0.0

    def axes(self) -> Axes:
        """The picture's own directions in the room: right, up along the picture, and out of it."""
        t, s = math.radians(self.tilt), math.radians(self.swivel)
        sin_t, cos_t, sin_s, cos_s = math.sin(t), math.cos(t), math.sin(s), math.cos(s)
        right = (cos_s, sin_s, 0.0)
        up = (sin_s * sin_t, -cos_s * sin_t, cos_t)
        out = (sin_s * cos_t, -cos_s * cos_t, -sin_t)
        return right, up, out

    def local(self, point: Point3) -> Point3:
        """A point in the picture's own axes: right, up along the picture, and out of it towards the room."""
        return into(self.axes(), self.middle, point)

    def in_room(self, point: Point3) -> Point3:
        """A point of the picture's own axes in the room."""
        right, up, out = self.axes()
        x, z, y = point
        return (
            self.middle[0] + x * right[0] + z * up[0] + y * out[0],
            self.middle[1] + x * right[1] + z * up[1] + y * out[1],
            self.middle[2] + x * right[2] + z * up[2] + y * out[2],
        )

    def on_wall(self, point: Point2) -> Point2:
        """A point of the picture as the elevation shows it (x, z)."""
        x, _, z = self.in_room((point[0], point[1], 0.0))
        return x, z


def into(axes: Axes, origin: Point3, point: Point3) -> Point3:
    """A point of the room in these axes about this origin."""
    dx, dy, dz = point[0] - origin[0], point[1] - origin[1], point[2] - origin[2]
    right, up, out = axes
    return (
        dx * right[0] + dy * right[1] + dz * right[2],
        dx * up[0] + dy * up[1] + dz * up[2],
        dx * out[0] + dy * out[1] + dz * out[2],
    )


def image(glass: Glass, eye: Point3, window: Sequence[Point3]) -> tuple[Point2, ...]:
    """The part of the picture in which `eye` sees `window` mirrored, in the picture's own axes; () where it sees none.

    `window` is a convex polygon; what lies behind the picture's plane is cut off first.
    """
    axes = glass.axes()
    e = into(axes, glass.middle, eye)
    return seen_at(
        e, [into(axes, glass.middle, corner) for corner in window], glass.width / 2, glass.height / 2
    )


def seen_at(e: Point3, window: list[Point3], half_width: float, half_height: float) -> tuple[Point2, ...]:
    """The same with eye and window in the picture's own axes.

    A ray from the eye by the picture to the window is the straight line to the window's mirror image: it meets the picture at
    P = (e·w_out + w·e_out) / (e_out + w_out).
    """
    if e[2] <= 0:
        return ()
    ahead = window if all(corner[2] > NEAR for corner in window) else _in_front(window)
    if len(ahead) < 3:
        return ()
    seen: list[Point2] = []
    for w in ahead:
        both = e[2] + w[2]
        seen.append(((e[0] * w[2] + w[0] * e[2]) / both, (e[1] * w[2] + w[1] * e[2]) / both))
    for axis, half in ((0, half_width), (1, half_height)):
        places = [point[axis] for point in seen]
        low, high = min(places), max(places)
        if high <= -half or low >= half:
            return ()
        if high > half:
            seen = _keep(seen, axis, half, 1.0)
        if low < -half:
            seen = _keep(seen, axis, half, -1.0)
    return tuple(seen)


def share(glass: Glass, eye: Point3, window: Sequence[Point3]) -> float:
    """The share (0..1) of the picture's area in which `eye` sees the window."""
    return area(image(glass, eye, window)) / (glass.width * glass.height)


def area(polygon: Sequence[Point2]) -> float:
    """The area of a polygon [mm²]."""
    total = 0.0
    for i, (x, z) in enumerate(polygon):
        x0, z0 = polygon[i - 1]
        total += x0 * z - x * z0
    return abs(total) / 2


def _in_front(corners: list[Point3]) -> list[Point3]:
    """The part of a polygon that stands in front of the picture's plane (out > 0)."""
    kept: list[Point3] = []
    for i, here in enumerate(corners):
        before = corners[i - 1]
        if (before[2] > NEAR) != (here[2] > NEAR):
            t = (NEAR - before[2]) / (here[2] - before[2])
            kept.append((before[0] + t * (here[0] - before[0]), before[1] + t * (here[1] - before[1]), NEAR))
        if here[2] > NEAR:
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
