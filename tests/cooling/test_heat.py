"""Heat: values reckoned by hand from the printed formulas, and scipy's root finder as the other opinion."""

from __future__ import annotations

import math

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.optimize import brentq

from wallwright.cooling import heat

SMALL = heat.box_loss(0.6, 0.4, 0.3, 0.018, 0.16)
WIDE = heat.box_loss(0.9, 0.4, 0.3, 0.018, 0.16)


@pytest.mark.parametrize(
    ("watts", "height", "cm2"), [(100, 0.3, 412.8), (50, 0.3, 206.4), (20, 0.3, 82.6), (100, 0.5, 319.7)]
)
def test_openings_for_a_rise_of_10_k(watts: float, height: float, cm2: float) -> None:
    # ASHRAE Handbook Fundamentals chapter 16 equation 38, discharge 0.65, 25 °C outside, no leakage
    assert heat.area_needed(watts, 0, height, 10, 25) * 1e4 == pytest.approx(cm2, rel=0.005)


def test_air_for_100_w() -> None:
    assert heat.flow_for(100, 10) * 3600 == pytest.approx(29.85, rel=0.005)  # P / (1.2 × 1005 × ΔT)


def test_leakage_of_a_box() -> None:
    # ISO 6946 surface resistances 0.13 sideways, 0.10 up, 0.17 down; 18 mm board of 0.16 W/mK; nothing through the back
    assert heat.board_loss(0.018, 0.16, heat.SIDEWAYS) == pytest.approx(2.685, rel=0.002)
    assert heat.board_loss(0.018, 0.16, heat.UP) == pytest.approx(3.200, rel=0.002)
    assert heat.board_loss(0.018, 0.16, heat.DOWN) == pytest.approx(2.210, rel=0.002)
    assert pytest.approx(2.4259, rel=0.002) == SMALL
    assert pytest.approx(3.3167, rel=0.002) == WIDE


@pytest.mark.parametrize(("watts", "kelvin"), [(10, 4.12), (20, 8.24), (30, 12.37), (60, 24.73)])
def test_a_closed_box(watts: float, kelvin: float) -> None:
    assert heat.rise_closed(watts, SMALL) == pytest.approx(kelvin, rel=0.002)  # P / UA
    assert heat.rise(watts, SMALL, 0, 0.25, 25) == pytest.approx(kelvin, rel=0.002)


@pytest.mark.parametrize(
    ("watts", "loss", "cm2", "kelvin"),
    [
        (60, SMALL, 100, 12.317), (60, SMALL, 200, 9.039), (100, SMALL, 200, 13.326), (100, SMALL, 400, 9.168),
        (100, 0, 200, 17.362), (100, 0, 400, 10.862), (180, WIDE, 100, 26.40), (180, WIDE, 200, 19.23),
        (180, WIDE, 300, 15.61), (180, WIDE, 500, 11.78),
    ],
)  # fmt: skip
def test_openings_and_leakage_together(watts: float, loss: float, cm2: float, kelvin: float) -> None:
    # heat balance with the ASHRAE stack formula, 0.25 m between the openings, solved beforehand with a root finder
    assert heat.rise(watts, loss, cm2 / 1e4, 0.25, 25) == pytest.approx(kelvin, rel=0.005)


def test_the_wide_box_closed() -> None:
    assert heat.rise_closed(180, WIDE) == pytest.approx(54.3, rel=0.002)


def test_one_slot_is_worse_than_two_openings() -> None:
    one = heat.rise(60, SMALL, 0.02, 0.1, 25, discharge=0.61, single=True)
    assert one == pytest.approx(16.77, rel=0.005)  # CIBSE AM10 single-sided form, from memory: slot 200 × 100
    assert one > heat.rise(60, SMALL, 0.01, 0.1, 25)


@pytest.mark.parametrize(("m3h", "kelvin"), [(20, 14.93), (30, 9.95), (50, 5.97)])
def test_fan(m3h: float, kelvin: float) -> None:
    assert heat.rise_with_flow(100, m3h / 3600) == pytest.approx(kelvin, rel=0.002)  # P / (1.2 × 1005 × Q)
    assert heat.rise(100, 0, 0, 0.25, 25, fan=m3h / 3600) == pytest.approx(kelvin, rel=0.002)
    assert heat.fan_needed(100, 0, kelvin) == pytest.approx(m3h, rel=0.002)


def test_unequal_openings() -> None:
    assert heat.equal_area(200, 100) == pytest.approx(126.5, rel=0.003)  # √2·A1·A2/√(A1²+A2²)
    assert heat.equal_area(150, 150) == pytest.approx(150)
    assert heat.equal_area(150, 0) == 0


def test_nothing_to_carry_or_nothing_that_carries() -> None:
    assert heat.rise(0, SMALL, 0.01, 0.25, 25) == 0
    assert heat.rise(10, 0, 0, 0.25, 25) == math.inf
    assert heat.area_needed(10, SMALL, 0.25, 10, 25) == 0  # the boards leak 24 W at 10 K
    assert heat.fan_needed(10, SMALL, 10) == 0


@settings(max_examples=100, deadline=None)
@given(
    st.floats(1, 500),
    st.floats(0.5, 6),
    st.floats(0, 0.1),
    st.floats(0.05, 2),
    st.floats(0, 0.02),
    st.floats(10, 40),
)
def test_the_balance_against_scipy(
    watts: float, loss: float, area: float, height: float, fan: float, outside: float
) -> None:
    def balance(rise: float) -> float:
        flow = 0.65 * area * math.sqrt(9.81 * height * rise / (outside + 273.15 + rise)) + fan
        return 1.2 * 1005 * flow * rise + loss * rise - watts

    expected = brentq(balance, 1e-9, 2000, xtol=1e-12)
    assert heat.rise(watts, loss, area, height, outside, fan=fan) == pytest.approx(expected, rel=1e-6)


@given(st.floats(30, 500), st.floats(0, 3), st.floats(0.1, 1))
def test_the_area_needed_does_keep_the_rise(watts: float, loss: float, height: float) -> None:
    area = heat.area_needed(watts, loss, height, 10, 25)
    if area:
        assert heat.rise(watts, loss, area, height, 25) == pytest.approx(10, rel=1e-6)
    else:
        assert heat.rise_closed(watts, loss) <= 10
