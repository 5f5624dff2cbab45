"""Groove factors by hand and by measuring the curve."""

from __future__ import annotations

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.integrate import quad

from wallwright.core.shape import Box
from wallwright.library import load
from wallwright.look.cleaning import area_factor, effort, groove_length


def test_half_round_flutes_side_by_side() -> None:
    """π/2 = 1.5708 times a flat face (geometry)."""
    assert area_factor(20, 0, 10) == pytest.approx(math.pi / 2)
    assert area_factor(20, 20, 10) == 1 and area_factor(20, 10, 0) == 1
    assert groove_length(10, 12) == pytest.approx(math.pi * 5 + 14)  # half a circle and two sides of 7


@given(st.floats(4, 40), st.floats(0.05, 0.49))
def test_arc_against_its_integral(width: float, share: float) -> None:
    depth = share * width
    radius = (width**2 / 4 + depth**2) / (2 * depth)
    arc = quad(lambda x: radius / math.sqrt(radius**2 - x**2), -width / 2, width / 2)[0]
    assert groove_length(width, depth) == pytest.approx(arc, rel=1e-6)


def test_minutes() -> None:
    """2 m² of which 0.4 above 2000 mm: (1.6 + 0.4 · 2) · 1 min = 2.4; grooves 1.5 times the face, twice the work: 7.2 (ours)."""
    limits = load.limits()
    pieces = (Box(0, 400, 1000, 2000),)
    flat = effort("W1", pieces, 1.0, limits)
    assert (flat.area, flat.high, flat.minutes) == pytest.approx((2.0, 0.4, 2.4))
    assert effort("W1", pieces, 1.5, limits).minutes == pytest.approx(7.2)
