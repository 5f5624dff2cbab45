"""The unevenness of a row of diodes, against the sum written out."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from wallwright.light.dots import ripple


def summed(pitch: float, away: float) -> float:
    """Matt points, each 1/(d² + x²)²: before a diode and half-way between two."""

    def at(x: float) -> float:
        return sum(1 / (away**2 + (x - k * pitch) ** 2) ** 2 for k in range(-400, 401))

    most, least = at(0), at(pitch / 2)
    return (most - least) / (most + least)


@given(st.floats(3, 40), st.floats(0.15, 2.5))
def test_against_the_sum(pitch: float, ratio: float) -> None:
    assert ripple(pitch, ratio * pitch) == pytest.approx(summed(pitch, ratio * pitch), rel=1e-5, abs=1e-7)


def test_the_trade_rule_in_numbers() -> None:
    """Half a pitch off 34 %, one pitch 2.7 %, one and a half 0.17 %: why the trade asks for 1 to 1.5 pitches (derived)."""
    # first harmonic 2 (1 + u) e^-u, u = 2π d/p, by hand: 0.02720 and 0.001682; at half a pitch the next ones matter
    assert ripple(10, 10) == pytest.approx(0.02720, rel=1e-3)
    assert ripple(10, 15) == pytest.approx(0.001682, rel=1e-3)
    assert 0.3 < ripple(10, 5) < 0.4
    assert ripple(16.67, 16.67) == pytest.approx(ripple(10, 10))
    assert ripple(10, 0) == 1 and ripple(1, 500) == 0
