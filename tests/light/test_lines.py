"""Light of a line: hand values, numeric integration of the inverse-square law, and conservation."""

from __future__ import annotations

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.integrate import quad

from wallwright.light import lines

MM = st.floats(15, 600)


def integrated(lumens: float, s: float, h: float, ends: tuple[float, float], grazing: bool) -> float:
    """The inverse-square law along the strip: dE = dI cosβ / r², dI = F dx cosψ / π (matt strip, lumen a metre,
    both sides in mm).
    """

    def part(x: float) -> float:
        r = math.sqrt(s * s + h * h + x * x)
        away = (h if grazing else s) / r
        return lumens / 1000 / math.pi * away * (s / r) / r**2 * 1e6

    return quad(part, -ends[0], ends[1], epsabs=0, epsrel=1e-9, limit=400)[0]


def test_facing_by_hand() -> None:
    """F 1000 lm/m, 40 mm off: F/(2 s) = 12 500 lx opposite; F s²/2d³ = 640.33 at 100 mm, 640.13 from 2.4 m of strip."""
    assert lines.facing(1000, 40, 0) == pytest.approx(12_500)
    assert lines.facing(1000, 40, 100) == pytest.approx(640.33, rel=5e-4)
    assert lines.facing(1000, 40, 100, (1200, 1200)) == pytest.approx(640.13, rel=5e-4)


def test_grazing_by_hand() -> None:
    """Brightest at h = s/√2 with 0.19245 F/s: 3849.0 lx at 35.36 mm for 50 mm. 2.4 m of strip at 100 mm: 470.94 and 42.83 lx."""
    assert lines.grazing(1000, 50, 50 / math.sqrt(2)) == pytest.approx(3849.0, abs=0.1)
    assert lines.grazing(1000, 100, 100 / math.sqrt(2)) == pytest.approx(1924.5, abs=0.1)
    assert all(
        lines.grazing(1000, 50, 50 / math.sqrt(2)) > lines.grazing(1000, 50, h) for h in (30, 34, 37, 45)
    )
    assert lines.grazing(1000, 100, 300, (1200, 1200)) == pytest.approx(470.94, rel=5e-4)
    assert lines.grazing(1000, 100, 1000, (1200, 1200)) == pytest.approx(42.83, rel=5e-4)


def test_bare_tube() -> None:
    """All round alike: I = F/π² ... the flux through a cylinder round it is F: E = F/(2 π d) facing it."""
    assert lines.bare(1000, 100, 0) == pytest.approx(1000 / (2 * math.pi * 0.1))


@given(MM, MM, st.floats(50, 4000), st.floats(50, 4000), st.booleans())
def test_against_integration(s: float, h: float, one: float, two: float, grazing: bool) -> None:
    ours = (lines.grazing if grazing else lines.facing)(900, s, h, (one, two))
    assert ours == pytest.approx(integrated(900, s, h, (one, two), grazing), rel=1e-6)


@given(MM)
def test_where_the_light_goes(s: float) -> None:
    """All of a facing strip's light lands on the wall, half of a grazing one's."""
    facing = quad(lambda h: lines.facing(1000, s, h) / 1000, -200 * s, 200 * s, limit=400, points=[0.0])[0]
    grazing = quad(
        lambda h: lines.grazing(1000, s, h) / 1000, 0, 2000 * s, limit=800, points=[s, 10 * s, 100 * s]
    )[0]
    assert facing == pytest.approx(1000, rel=1e-3)
    assert grazing == pytest.approx(500, rel=1e-3)


@given(MM, MM, st.floats(50, 2000))
def test_longer_is_brighter_and_endless_brightest(s: float, h: float, half: float) -> None:
    short, long = lines.facing(900, s, h, (half, half)), lines.facing(900, s, h, (2 * half, 2 * half))
    assert short <= long <= lines.facing(900, s, h) * (1 + 1e-12)
    assert lines.facing(900, s, h, (half, half)) == pytest.approx(
        lines.facing(900, s, h, (half, 0)) + lines.facing(900, s, h, (0, half))
    )


def test_bias_light() -> None:
    """10 cd/m² at ρ 0.5 needs 62.83 lx; 0.5 m round a 65 in picture 3.2484 m², 204.1 lm, 45.39 lm/m (π L/ρ · area, by hand)."""
    assert lines.lux_for(10, 0.5) == pytest.approx(62.83, abs=0.01)
    width, height = 1438.97, 809.42
    assert lines.halo_area(width, height, 500) == pytest.approx(3.2484, rel=1e-3)
    assert lines.bias_lumens(10, 0.5, width, height, 500, 1.0) == pytest.approx(45.39, rel=1e-3)
    assert lines.bias_lumens(10, 0.5, width, height, 500, 0.5) == pytest.approx(90.78, rel=1e-3)
