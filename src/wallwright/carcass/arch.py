"""Arched heads: their outline, the length round them, and how a board is bent to line them.

A segment of rise f over a span s has the radius (s²/4 + f²) / (2f); with f = s/2 it is a half round. Plane geometry.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

from wallwright.core.shape import Box, Point2


@dataclass(frozen=True, slots=True)
class Arch:
    """An arched head over a span: springing level, rise and radius [mm], half the angle it turns through [rad]."""

    x: float
    span: float
    springing: float
    rise: float

    @property
    def radius(self) -> float:
        """Of the curve [mm]."""
        return (self.span**2 / 4 + self.rise**2) / (2 * self.rise)

    @property
    def centre(self) -> Point2:
        """Where the trammel is pinned."""
        return self.x + self.span / 2, self.springing + self.rise - self.radius

    @property
    def half_angle(self) -> float:
        """From the crown to the springing [rad]: π/2 for a half round."""
        return math.atan2(self.span / 2, self.radius - self.rise)

    @property
    def length(self) -> float:
        """Round the curve from springing to springing [mm]."""
        return 2 * self.half_angle * self.radius

    @property
    def area(self) -> float:
        """Under the curve, above the springing [mm²]."""
        return self.radius**2 * (self.half_angle - math.sin(self.half_angle) * math.cos(self.half_angle))

    def height_at(self, x: float) -> float:
        """The level of the curve at x [mm]; the springing outside the span."""
        cx, cz = self.centre
        off = abs(x - cx)
        if off >= self.span / 2:
            return self.springing
        return cz + math.sqrt(max(self.radius**2 - off**2, 0.0))

    def points(self, steps: int = 32) -> tuple[Point2, ...]:
        """The curve from its left springing to its right one."""
        cx, cz = self.centre
        turn = self.half_angle
        angles = (-turn + 2 * turn * k / steps for k in range(steps + 1))
        return tuple((cx + self.radius * math.sin(a), cz + self.radius * math.cos(a)) for a in angles)


def arch_over(box: Box, rise: float) -> Arch:
    """The arch whose crown touches the head of a box. ValueError where it would rise higher than half its span or the box."""
    if not 0 < rise <= min(box.width / 2 + 1e-9, box.height):
        raise ValueError(
            f"a rise of {rise:.0f} mm over {box.width:.0f} × {box.height:.0f} mm; use more than 0 and at most "
            f"{min(box.width / 2, box.height):.0f} mm"
        )
    return Arch(box.x, box.width, box.top - rise, rise)


def outline(box: Box, arch: Arch | None) -> tuple[Point2, ...]:
    """The outline of a box whose head may be arched, from its lower left corner clockwise."""
    if arch is None:
        x, z, right, top = box.x, box.z, box.right, box.top
        return (x, z), (x, top), (right, top), (right, z)
    return (box.x, box.z), *arch.points(), (box.right, box.z)


@dataclass(frozen=True, slots=True)
class Kerfs:
    """Saw cuts across the back of a board that let it bend: how many, how far apart [mm], and how wide one is."""

    count: int
    spacing: float
    width: float


def kerfs(arch: Arch, thickness: float, left: float, kerf: float, flat: float) -> Kerfs:
    """The cuts in a board's back that let it follow the arch: enough to close, and close enough not to show flats.

    On the hollow side the cuts close: count ≥ angle · depth / kerf. Wherever they are, the face lies flat between two of them
    and stands spacing² / (8 · radius) off the curve, at most `flat`. thickness : of the board · left : what stays uncut at its
    face · kerf : of the saw · flat : what does not show [mm]. Plane geometry.
    """
    turned = 2 * arch.half_angle
    closing = turned * (thickness - left) / kerf
    smooth = arch.length / math.sqrt(8 * arch.radius * flat)
    count = max(1, math.ceil(max(closing, smooth) - 1e-9))
    return Kerfs(count, arch.length / count, kerf)
