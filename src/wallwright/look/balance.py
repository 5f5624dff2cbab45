"""Proportion as numbers: what the two halves of the wall carry, and how much the wall asks to be looked at.

Balance: Ngo, Teo and Byrne, "Formalising guidelines for the design of screen layouts" (2000): area times distance
from the axis, a part that crosses the axis counted on both sides. Only left and right are weighed: furniture
stands on the floor, so a wall is always heavier below. Visual weight is our own sum; no published model says which wall leads.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from wallwright.core.shape import Box


def carried(spans: Iterable[tuple[float, float, float]], axis: float) -> tuple[float, float]:
    """What lies before and behind the axis: Σ area · distance of the piece's middle from it. Each span: (start,
    length, breadth).
    """
    before = behind = 0.0
    for start, length, breadth in spans:
        low, high = min(axis - start, length), min(start + length - axis, length)
        if low > 0:
            before += low * breadth * (axis - start - low / 2)
        if high > 0:
            behind += high * breadth * (start + length - high / 2 - axis)
    return before, behind


def left_right(parts: Iterable[Box], axis: float) -> tuple[float, float]:
    """What the parts left and right of an upright axis carry [mm³]."""
    return carried(((part.x, part.width, part.height) for part in parts), axis)


def balance(parts: Iterable[Box], axis: float) -> float:
    """1 where both sides carry the same, 0 where one carries nothing; 1 for a bare wall."""
    left, right = left_right(parts, axis)
    most = max(left, right)
    return 1.0 - abs(left - right) / most if most > 0 else 1.0


def visual_weight(parts: Sequence[tuple[float, float]], wall: float) -> float:
    """The mean colour difference from the wall's ground over the whole wall: Σ area · ΔE00 / wall's area. parts: (area, ΔE00)."""
    return sum(area * difference for area, difference in parts) / wall
