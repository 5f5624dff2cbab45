"""The sun on a face: doses to a visible change, and the heat of a dark face."""

from __future__ import annotations

import math

import pytest

from wallwright.look.fading import DOSE, sun_heated, years_to_fade


@pytest.mark.parametrize(
    ("blue_wool", "megalux_hours"),
    [(1, 0.22), (3, 1.5), (4, 3.5), (6, 20), (8, 120)],  # CIE 157:2004, light with ultraviolet, from memory
)
def test_doses(blue_wool: int, megalux_hours: float) -> None:
    assert years_to_fade(blue_wool, 1e6, 1) == pytest.approx(megalux_hours)


def test_a_walnut_front_in_the_evening_sun() -> None:
    assert years_to_fade(3, 40_000, 100) == pytest.approx(0.375)  # 1.5 Mlx·h at 4 Mlx·h a year
    assert math.isinf(years_to_fade(3, 40_000, 0))
    assert list(DOSE.values()) == sorted(DOSE.values())


def test_a_black_face_in_the_sun() -> None:
    # arithmetic: 30 + 0.95·400/7.7
    assert sun_heated(30, 0.05, 400, 7.7) == pytest.approx(79.35, abs=0.01)
    assert sun_heated(30, 1.0, 400, 7.7) == 30
