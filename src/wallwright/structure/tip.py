"""Standing units: the push that tips them, and whether they can be stood up in the room. N, mm, kg."""

from __future__ import annotations

import math

G = 9.80665


def push_to_tip(mass: float, depth: float, height: float, shift: float = 0.0) -> float:
    """Level push at `height` that tips a loose unit [N]: W·g·(d/2 − shift)/z.

    shift : how far its centre of mass stands forward of the middle [mm]
    """
    return max(0.0, mass * G * (depth / 2 - shift) / height)


def drawers_out(mass: float, depth: float, drawers: tuple[tuple[float, float], ...]) -> float:
    """Standing moment over tipping moment about the front foot with drawers open; below 1 it falls.

    drawers : (kg, centre of mass in front of the carcass's front [mm]). Infinite where nothing is out.
    """
    tipping = sum(kg * x for kg, x in drawers)
    return math.inf if tipping <= 0 else mass * depth / 2 / tipping


def tilt_up(height: float, depth: float) -> float:
    """The height a box needs while it is tilted up [mm]: √(h² + d²)."""
    return math.hypot(height, depth)
