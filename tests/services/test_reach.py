"""Beams of remotes: straight lines reckoned by hand, and shapely for what stands in the way."""

from __future__ import annotations

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st
from shapely.geometry import LineString, box

from wallwright.core.shape import Box
from wallwright.services.reach import Between, Opening, Spot, at, beam, between_slats, crosses, off_axis

HAND, EYE = Spot(2000, 3000, 700), Spot(2000, 400, 400)
BAY = Opening(Box(1700, 300, 600, 300), 440, "open", True)


def stopped(hand: Spot = HAND, eye: Spot = EYE, opening: Opening | None = BAY, *between: Between) -> str:
    return beam("A", hand, "stb", eye, opening, between, 30, 8000).stopped


def test_a_beam_is_a_straight_line() -> None:
    assert at(HAND, EYE, 3000) == (2000, 700) and at(HAND, EYE, 400) == (2000, 400)
    assert at(HAND, EYE, 1700) == (2000, 550)  # half way
    # 1000 aside over 1732 of depth is 30°, by hand
    assert off_axis(Spot(1000, 2132.05, 400), EYE) == pytest.approx(30, abs=1e-3)


def test_an_open_bay_lets_it_in_and_a_board_does_not() -> None:
    assert stopped() == ""
    assert stopped(opening=Opening(BAY.box, 440, "shutter", False)) == "the shutter front"
    assert stopped(opening=None) == ""


def test_the_boards_round_a_bay_stop_a_steep_beam() -> None:
    low = Opening(Box(1700, 300, 600, 102), 440, "open", True)  # its top 402: at 440 out the beam is at 404.6
    assert stopped(opening=low) == "the boards round its bay"
    assert stopped(opening=Opening(Box(1700, 300, 600, 106), 440, "open", True)) == ""


def test_what_stands_between_and_what_is_too_far_aside() -> None:
    table = Between("the table T", 1500, 2500, 1200, 1800, 0, 540)  # at 1200 out the beam is at 492.3
    assert stopped(HAND, EYE, BAY, table) == "the table T"
    lower = Between("the table T", 1500, 2500, 1200, 1800, 0, 490)
    assert stopped(HAND, EYE, BAY, lower) == ""
    aside = Between("the chair", 0, 1900, 1200, 1800, 0, 900)
    assert stopped(HAND, EYE, BAY, aside) == ""
    assert stopped(Spot(100, 3000, 700), EYE, None) == "36° aside of straight ahead"
    assert stopped(Spot(2000, 9000, 700), EYE, None).startswith("8.6 m")


@given(
    st.floats(0, 4000), st.floats(500, 4000), st.floats(0, 4000), st.floats(0, 400), st.floats(0, 3500), st.floats(10, 800),
    st.floats(0, 3500), st.floats(10, 800),
)  # fmt: skip
def test_in_plan_it_crosses_what_shapely_says(  # noqa: PLR0913
    x0: float, out0: float, x1: float, out1: float, left: float, wide: float, near: float, deep: float
) -> None:
    """At one height all along, a thing from floor to ceiling is crossed exactly where its plan is."""
    hand, eye = Spot(x0, out0, 500), Spot(x1, out1, 500)
    thing = Between("x", left, left + wide, near, near + deep, 0, 3000)
    ray, plan = LineString([(x0, out0), (x1, out1)]), box(left, near, left + wide, near + deep)
    if plan.exterior.distance(ray) < 1e-6 and not plan.buffer(-1e-6).intersects(ray):
        return  # grazing: either answer is right
    assert crosses(hand, eye, thing) == plan.intersects(ray)


def test_a_beam_says_how_long_it_is() -> None:
    found = beam("A", HAND, "stb", EYE, None, (), 30, 8000)
    assert found.length == pytest.approx(math.hypot(2600, 300))


@pytest.mark.parametrize(
    ("aside", "share"),
    [(0.0, 0.4), (1000.0, (16 - 18 / 3) / 40), (2000.0, (16 - 18 * 2 / 3) / 40), (2700.0, 0.0)],
)
def test_slats_pass_less_the_further_aside(aside: float, share: float) -> None:
    """Gap 16 of 40, slats 18 deep: a beam 1 in 3 aside moves 6 mm on its way through and sees a gap of 10 (plane geometry)."""
    hand, eye = Spot(aside, 3000.0, 600.0), Spot(0.0, 0.0, 600.0)
    assert between_slats(hand, eye, 16.0, 40.0, 18.0) == pytest.approx(share)
    opening = Opening(Box(-4000, 0, 8000, 1200), 300.0, "slatted", passes=True, slats=(16.0, 40.0, 18.0))
    found = beam("A", hand, "stb", eye, opening, (), 60.0, 8000.0)
    assert found.share == pytest.approx(share)
    far = 8000.0 * share**0.5  # intensity falls with the square of the way
    assert bool(found.stopped) == (found.length > far)
    assert "slats" in found.stopped or not found.stopped
