"""Rigid cartons through doors, lift cars and round stairs: published geometry, hand values, and brute force."""

from __future__ import annotations

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from wallwright.sight.fit import (
    EASY,
    FLAT,
    LEANED,
    ON_END,
    ONE_END_UP,
    UPRIGHT,
    Carton,
    Way,
    in_car,
    leans,
    longest_round_corner,
    niche_short,
    rectangle_fits,
    round_stair,
    route,
    through_door,
)

SIZE75 = Carton(1830, 1130, 200)
CAR = (1100.0, 1400.0, 2100.0)


@given(st.floats(10, 2500), st.floats(10, 2500), st.floats(10, 2500), st.floats(10, 2500))
def test_rectangle_in_rectangle_against_turning_it(p: float, q: float, a: float, b: float) -> None:
    """Carver 1957 (in Wetzel 2000) against a rectangle turned in steps of a tenth of a degree: its bounding box must fit."""

    def room(angle: float) -> float:
        c, s = math.cos(angle), math.sin(angle)
        return min(a - (p * c + q * s), b - (p * s + q * c))

    best = max(room(math.pi / 2 * i / 900) for i in range(901))
    if best > 3:
        assert rectangle_fits(p, q, a, b)
    if best < -6:
        assert not rectangle_fits(p, q, a, b)


def test_square_in_a_smaller_square() -> None:
    """10 × 10 does not go into 8 × 8, though the slanted condition alone would allow it (a known trap of the theorem)."""
    assert not rectangle_fits(10, 10, 8, 8)
    assert rectangle_fits(8, 10, 10, 8)
    assert rectangle_fits(1770, 5, 1400, 1100)  # diagonal √(1400² + 1100²) = 1780.4 (by hand)
    assert not rectangle_fits(1790, 1, 1400, 1100)


def test_ladder_round_a_corner() -> None:
    """A stick without thickness: (a^⅔ + b^⅔)^{3/2}, the ladder problem; 1000 and 1000 give 2828.4 = 1000·2√2 (by hand)."""
    assert longest_round_corner(1000, 1000, 0) == pytest.approx(2828.427, abs=0.01)
    assert longest_round_corner(900, 1200, 0) == pytest.approx(
        (900 ** (2 / 3) + 1200 ** (2 / 3)) ** 1.5, abs=0.01
    )


def test_thick_box_round_a_corner() -> None:
    """Equal passages: at 45° L = 2(a√2 − t); 1000 wide, 200 thick: 2428.4 (by hand). Too thick passes nothing."""
    assert longest_round_corner(1000, 1000, 200) == pytest.approx(2 * (1000 * math.sqrt(2) - 200), abs=0.01)
    assert longest_round_corner(900, 150, 200) == 0.0


@given(st.floats(600, 1500), st.floats(600, 1500), st.floats(50, 400), st.floats(1, 200))
def test_a_thicker_box_is_shorter_and_the_passages_may_be_swapped(
    a: float, b: float, t: float, more: float
) -> None:
    long = longest_round_corner(a, b, t)
    assert longest_round_corner(b, a, t) == pytest.approx(long, rel=1e-6)
    assert longest_round_corner(a, b, t + more) <= long + 1e-6


def test_a_75_in_carton_in_a_lift() -> None:
    """1830 × 1130 × 200 in 1100 × 1400 × 2100: level it is longer than the car's 1780 diagonal; on its end
    1830 < 2100 (by hand)."""
    assert in_car(SIZE75, *CAR) == ON_END
    assert in_car(SIZE75, 1140, 250, 1800) == ""  # too low to stand on end, too shallow to lean
    assert in_car(Carton(1300, 800, 150), *CAR) == UPRIGHT
    assert (
        in_car(Carton(1370, 2150, 60), 1100, 1400, 2100) == LEANED
    )  # √(2150² + 60²) leans within 1100 × 2100
    assert in_car(Carton(1200, 1000, 90), 1250, 1100, 300) == FLAT
    assert in_car(Carton(1800, 320, 250), 1300, 300, 1700) == ONE_END_UP  # 1800 × 320 aslant in 1300 × 1700


@given(st.floats(200, 2500), st.floats(20, 400), st.floats(100, 2000), st.floats(150, 2500))
def test_leaning_against_trying_every_angle(high: float, thick: float, across: float, room: float) -> None:
    angles = [math.pi / 4 * i / 600 for i in range(601)]
    spare = max(
        min(
            room - high * math.cos(b) - thick * math.sin(b), across - high * math.sin(b) - thick * math.cos(b)
        )
        for b in angles
    )
    if spare > 0:
        assert leans(high, thick, across, room)
    if spare < -6:
        assert not leans(high, thick, across, room)


def test_doors() -> None:
    """End first the carton is as wide as it is deep and as high as it is high."""
    assert through_door(SIZE75, 800, 2000) == UPRIGHT
    assert (
        through_door(Carton(1830, 2050, 200), 900, 2000) == LEANED
    )  # 2050 leant in 2000 needs 870 (by the formula)
    assert through_door(Carton(1500, 2600, 200), 800, 2000) == ON_END
    assert through_door(SIZE75, 190, 2000) == ""


def test_stair() -> None:
    """2428 is the longest that goes round 1000 × 1000 at 200 thick."""
    assert round_stair(SIZE75, 1000, 1000, 2000) == UPRIGHT
    assert round_stair(SIZE75, 700, 700, 2000) == ON_END  # 2(700√2 − 200) = 1580 < 1830, but 1130 goes on end
    assert round_stair(SIZE75, 500, 500, 1500) == ""


def test_the_way_takes_the_easier_of_lift_and_stair() -> None:
    way = Way(door=(900, 2050), lift=CAR, stair=(1100, 1100, 2100))
    carried = route(SIZE75, way, 30)
    assert carried.passes and not carried.on_end
    assert [step.place for step in carried.steps] == ["door", "lift", "stair turn"]
    only_lift = route(SIZE75, Way(door=(900, 2050), lift=CAR), 30)
    assert only_lift.passes and only_lift.on_end and "carrier's word" in only_lift.says
    assert all(step.how in EASY for step in carried.steps if step.place != "lift")
    blocked = route(SIZE75, Way(door=(900, 2050), lift=CAR, lift_door=(800, 1800)), 30)
    assert blocked.passes  # end first through the lift's door, on its end inside
    low = route(SIZE75, Way(lift=(1170, 300, 1850)), 30)
    assert not low.passes and "does not pass the lift" in low.says  # 1830 + 30 > 1850: no 30 mm to spare
    assert route(SIZE75, Way(lift=(1170, 300, 1850)), 10).passes
    unknown = route(SIZE75, Way(), 30)
    assert unknown.passes and not unknown.surveyed and "no door" in unknown.says


def test_niche() -> None:
    """A frame of 1450 in a niche of 1400 with 60 all round is 170 short; 1230 × 710 goes into 1400 × 850 (by hand)."""
    assert niche_short((1450, 830), (1400, 850), 60) == 170
    assert niche_short((1230, 710), (1400, 850), 60) == -20
    assert niche_short((1450, 830), (None, None), 60) == 0
