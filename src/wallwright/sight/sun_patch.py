"""Where the sun lies on the picture at one moment: the outline that one opening lets through, for the drawing.

The same geometry as `year`, for one moment and with the outline kept: the lit part of the opening is thrown along the sun's rays
on to the picture's plane and cut at the picture's edge. Axes of the wall: x right, y into the wall, z up; mm.
"""

from __future__ import annotations

from math import cos, radians, sin

from wallwright.core.shape import Point2, kept_side
from wallwright.sight.reflect import Glass, Point3, into
from wallwright.sight.season import Pane


def to_sun(azimuth: float, elevation: float, bearing: float) -> Point3:
    """The unit vector to the sun in the wall's axes; all degrees."""
    turned, up = radians(azimuth - bearing), radians(elevation)
    return cos(up) * sin(turned), cos(up) * cos(turned), sin(up)


def lit_opening(pane: Pane, sun: Point3, elevation: float) -> tuple[Point3, ...]:
    """The corners of the part of an opening by which the sun comes in past its reveal and overhang; () where it does not."""
    outward = _dot(sun, pane.out)
    if outward <= 1e-6 or elevation <= pane.horizon:
        return ()
    aside, rising = _dot(sun, pane.along) / outward, sun[2] / outward
    left, right = max(0.0, -pane.reveal * aside), min(pane.width, pane.width - pane.reveal * aside)
    top = pane.height - (pane.reveal + pane.overhang) * rising
    if right <= left or top <= 0:
        return ()
    x, y, z = pane.corner
    return tuple(
        (x + pane.along[0] * u, y + pane.along[1] * u, z + v)
        for u, v in ((left, 0.0), (right, 0.0), (right, top), (left, top))
    )


def sun_patch(glass: Glass, pane: Pane, sun: Point3, elevation: float) -> tuple[Point2, ...]:
    """The outline of the sun on the picture, in the picture's own axes about its middle; () where it does not fall on it."""
    axes = glass.axes()
    towards = into(axes, (0.0, 0.0, 0.0), sun)
    opening = lit_opening(pane, sun, elevation)
    if not opening or towards[2] <= 1e-6:
        return ()
    before = kept_side([tuple(into(axes, glass.middle, corner)) for corner in opening], 2, 0.0, 1.0)
    thrown: list[tuple[float, ...]] = [
        (p[0] - towards[0] / towards[2] * p[2], p[1] - towards[1] / towards[2] * p[2]) for p in before
    ]
    for axis, half in ((0, glass.width / 2), (1, glass.height / 2)):
        thrown = kept_side(kept_side(thrown, axis, half, -1.0), axis, -half, 1.0)
    return tuple((p[0], p[1]) for p in thrown) if len(thrown) > 2 else ()


def _dot(a: Point3, b: Point3) -> float:
    return a[0] * b[0] + a[1] * b[1] + a[2] * b[2]
