"""Where a strip's light lands, against numerical integration; and the gap that gives light back."""

from __future__ import annotations

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.integrate import dblquad, quad

from wallwright.light import halo, lines

MM = st.floats(15, 300)


@given(MM, st.floats(0, 400), st.floats(10, 800))
def test_against_integration(s: float, low: float, wide: float) -> None:
    for line, between in ((lines.facing, halo.facing_between), (lines.grazing, halo.grazing_between)):
        landing = quad(lambda h, line=line: line(900, s, h) / 1000, low, low + wide, epsabs=1e-9)[0]
        assert between(900, s, low, low + wide) == pytest.approx(landing, rel=1e-6, abs=1e-9)


@given(MM)
def test_all_of_it(s: float) -> None:
    """A facing strip's light lands on the wall whole, a grazing one's by half: F and F/2 (derived)."""
    assert halo.facing_between(1000, s, -math.inf, math.inf) == pytest.approx(1000)
    assert halo.facing_between(1000, s, 0) == pytest.approx(500)
    assert halo.grazing_between(1000, s, 0) == pytest.approx(500)


def test_gap_by_hand() -> None:
    """Strips of board 40 apart and 100 deep: F = 0.67703, at most 1.2037 times the light at ρ 0.5 (crossed strings, derived)."""
    assert halo.gap_view(40, 100) == pytest.approx(0.67703, abs=1e-4)
    assert halo.gap_gain(40, 100, 0.5, 0.5) == pytest.approx(1.2037, abs=1e-4)
    assert halo.gap_gain(40, 0, 0.5, 0.5) == 1


@pytest.mark.parametrize(("s", "depth"), [(40, 100), (20, 60), (100, 50)])
def test_gap_against_the_double_integral(s: float, depth: float) -> None:
    """Endless strips: dF = s²/(2 (s² + (x − y)²)^1.5) dx dy / depth."""
    whole = dblquad(lambda x, y: s * s / 2 / (s * s + (x - y) ** 2) ** 1.5, 0, depth, 0, depth)[0]
    assert halo.gap_view(s, depth) == pytest.approx(whole / depth, rel=1e-5)


def test_brightest() -> None:
    """Grazing: 3849.0 lx at 35.36 mm for 1000 lm/m at 50 mm; facing: 12 500 lx opposite, 640.33 lx from 100 mm on (derived)."""
    assert halo.brightest(1000, 50, "grazing", 0) == pytest.approx((35.36, 3849.0), abs=0.1)
    assert halo.brightest(1000, 40, "facing", 0) == pytest.approx((0, 12_500))
    assert halo.brightest(1000, 40, "facing", 100) == pytest.approx((100, 640.33), abs=0.01)
    assert halo.brightest(1000, 50, "grazing", 60) == pytest.approx((60, lines.grazing(1000, 50, 60)))
    assert pytest.approx(0.19245, abs=1e-5) == halo.GRAZING_PEAK


@given(MM, st.floats(0.01, 0.49))
def test_setback_for_a_share(s: float, share: float) -> None:
    assert halo.facing_between(1, s, halo.setback_for(s, share)) == pytest.approx(share, abs=1e-9)
