"""How many hinges, which torque and how many legs: the figures behind the fittings."""

from __future__ import annotations

import math

from wallwright.core.limit import Limits

G = 9.80665
LOW_ENDS, APART = 90.0, 64.0
"""Of a low door: what its ends take of its height, and two hinges' distance at least [mm]. Common practice."""
COUNTS = (2, 3, 4, 5)
"""Hinges for which there is a most weight and a most height; beyond the last, one more."""


def hinge_count(mass: float, height: float, width: float, limits: Limits) -> int:
    """Hinges of a door [kg, mm]: the larger of what its weight and its height ask for, one more where it is wide."""
    asked = max(_band("carcass.hinge_mass", mass, limits), _band("carcass.hinge_height", height, limits))
    return min(asked + (1 if width > limits.value("carcass.hinge_wide") else 0), _room(height))


def _room(height: float) -> int:
    """The most hinges that a low door has room for, two at least [mm]: two steps of the 32 mm rows apart."""
    return max(2, math.floor((height - LOW_ENDS) / APART) + 1)


def asked_by(mass: float, height: float, width: float, limits: Limits, long: str = "high") -> str:
    """What asks for a door's hinges, in words: its weight, its height, its width."""
    words = [
        f"{mass:.1f} kg asks {_band('carcass.hinge_mass', mass, limits)}",
        f"{height:.0f} {long} asks {_band('carcass.hinge_height', height, limits)}",
    ]
    if width > limits.value("carcass.hinge_wide"):
        words.append(f"{width:.0f} wide asks one more")
    return ", ".join(words)


def _band(name: str, value: float, limits: Limits) -> int:
    return next((count for count in COUNTS if value <= limits.value(f"{name}_{count}")), COUNTS[-1] + 1)


def flap_torque(mass: float, height: float) -> float:
    """Torque of a flap lying level about its hinge [N·m]: m·g·H/2. mass kg, height mm."""
    return mass * G * height / 2 / 1000


def writing_torque(mass: float, height: float, lean: float) -> float:
    """Torque about the hinge of a flap that is leant on at its front edge [N·m]. mass kg, height mm, lean N."""
    return flap_torque(mass, height) + lean * height / 1000


def leg_count(width: float, inset: float, pitch: float) -> int:
    """Legs under a unit [mm]: pairs from end to end, at most `pitch` apart."""
    return 2 * (max(1, math.ceil((width - 2 * inset) / pitch - 1e-9)) + 1)
