"""What a face asks of whoever dusts it: how much more face a groove has, and minutes a month, as an estimate."""

from __future__ import annotations

import math

from wallwright.core.limit import Limits
from wallwright.core.shape import Box
from wallwright.look.record import Cleaning


def groove_length(width: float, depth: float) -> float:
    """Across a groove, along its face [mm]: a circular arc; deeper than half its width, half a circle with straight sides."""
    if depth <= 0 or width <= 0:
        return max(width, 0.0)
    if depth >= width / 2:
        return math.pi * width / 2 + 2 * (depth - width / 2)
    radius = (width * width / 4 + depth * depth) / (2 * depth)
    return 2 * radius * math.asin(width / (2 * radius))


def area_factor(pitch: float, rib: float, depth: float) -> float:
    """How many times larger a grooved face is than a flat one. rib : what is left flat of each pitch [mm]."""
    return (rib + groove_length(pitch - rib, depth)) / pitch


def effort(ref: str, pieces: tuple[Box, ...], factor: float, limits: Limits) -> Cleaning:
    """One face's minutes a month: its area, times the groove factor and what a groove costs, times what height costs."""
    reach = limits.value("look.dust_reach")
    area = sum(piece.area for piece in pieces) / 1e6
    high = sum(piece.width * max(0.0, piece.top - max(piece.z, reach)) for piece in pieces) / 1e6
    grooved = factor * limits.value("look.dust_groove") if factor > 1 else 1.0
    counted = area - high + high * limits.value("look.dust_high")
    return Cleaning(ref, factor, area, high, counted * grooved * limits.value("look.dust_minutes"))
