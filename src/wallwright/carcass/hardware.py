"""How many hinges, which stays: by weight and height. Formulas only."""

from __future__ import annotations

G = 9.80665
_BY_MASS = ((6.0, 2), (12.0, 3), (17.0, 4), (22.0, 5))
"""Up to [kg] → hinges. A hinge maker's published table for doors to 600 wide (first two rows); the rest its weight bands."""
_BY_HEIGHT = ((900.0, 2), (1600.0, 3), (2000.0, 4), (2400.0, 5))
"""Up to [mm] → hinges. Common practice."""


def hinge_count(mass: float, height: float, width: float) -> int:
    """Hinges of a door [kg, mm]: the larger of what its weight and its height ask for, one more over 600 wide."""
    by_mass = next((count for most, count in _BY_MASS if mass <= most), 6)
    by_height = next((count for most, count in _BY_HEIGHT if height <= most), 6)
    return max(by_mass, by_height) + (1 if width > 600 else 0)


def flap_torque(mass: float, height: float) -> float:
    """Torque of a flap lying level about its hinge [N·m]: m·g·H/2. mass kg, height mm."""
    return mass * G * height / 2 / 1000
