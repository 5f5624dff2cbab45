"""Sight lines over what stands before the screen: hand values, and that raising the screen by what is said clears them."""

from __future__ import annotations

import math
from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from wallwright.sight.angles import hidden_up_to
from wallwright.sight.sightlines import Ahead, Eyes, Foot, foot_needed, height, line, lines

EYE = Eyes("A", 2000, 2700, 1100)
FOOT = Foot(1300, 2700, 736, 0)


def test_soundbar_by_hand() -> None:
    """Bar top 750, 100 before the picture, eye 1100 at 2700: hides up to 736.5, less than its own top (by hand); from an eye at
    700 up to 751.9. The picture's foot at 736 is hidden by half a millimetre."""
    assert hidden_up_to(750, 100, 1100, 2700) == pytest.approx(736.5, abs=0.05)
    assert hidden_up_to(750, 100, 700, 2700) == pytest.approx(751.9, abs=0.05)
    bar = Ahead("bar", 1500, 2500, 100, 100, 750, 20)
    seen = line(EYE, FOOT, bar)
    assert seen is not None
    assert seen.hidden == pytest.approx(736.54 - 736, abs=0.01)
    low = line(replace(EYE, z=700), FOOT, bar)
    assert low is not None
    assert low.hidden == pytest.approx(751.92 - 736, abs=0.01)
    against = line(EYE, FOOT, replace(bar, near=0))
    assert (
        against is not None and against.hidden == 14
    )  # a bar that touches the picture hides it up to its own top


def test_foot_of_the_bed() -> None:
    """Eye 1116 at 3520, picture's foot 1145 high: the line rises, and 1750 from the eye it is 1116 + 29·1750/3520 = 1130.4 high,
    330 over a blanket of 800 (by hand)."""
    bed = Ahead("bed", -math.inf, math.inf, 1770, 1770, 800, 50)
    seen = line(Eyes("A", 0, 3520, 1116), Foot(-600, 600, 1145, 0), bed)
    assert seen is not None
    assert seen.ray == pytest.approx(1130.4, abs=0.05)
    assert seen.clear == pytest.approx(330.4, abs=0.05) and seen.good and seen.hidden == 0


def test_a_head_in_front() -> None:
    """A head of 1290 at half the way between an eye at 1170 and a foot at 700: the line is 935 high there, 355 too low."""
    head = Ahead("head", 1900, 2100, 1350, 1350, 1290, 0)
    seen = line(Eyes("B", 2000, 2700, 1170), replace(FOOT, z=700), head)
    assert seen is not None
    assert (seen.ray, seen.clear) == (935, -355)
    assert seen.hidden == pytest.approx(1170 + 120 * 2 - 700)  # to 1410: seen past, not over
    beside = replace(head, left=2600, right=2800)
    assert (
        line(Eyes("B", 2000, 2700, 1170), FOOT, beside) is None
    )  # the fan is 1000 to 3000 / 2 wide there: 1650 .. 2350


def test_what_is_behind_or_beyond_does_not_count() -> None:
    assert line(EYE, FOOT, Ahead("behind", 0, 4000, 2800, 3000, 2000, 0)) is None
    assert line(EYE, replace(FOOT, out=300), Ahead("under the screen", 0, 4000, 0, 250, 2000, 0)) is None
    own = Ahead("own", 0, 4000, 1000, 1000, 900, 50, seat="B")
    assert line(EYE, FOOT, own) is None and line(replace(EYE, seat="B"), FOOT, own) is not None


def test_the_tightest_comes_first() -> None:
    table = Ahead("table", 1500, 2500, 1500, 2000, 450, 50)
    plant = Ahead("plant", 1900, 2000, 1200, 1400, 1000, 50)
    assert [seen.over for seen in lines((EYE,), (FOOT,), (table, plant))] == ["plant", "table"]


@given(st.floats(700, 1400), st.floats(400, 900), st.floats(300, 1300), st.floats(100, 2000))
def test_raised_as_said_it_clears(eye: float, foot: float, top: float, near: float) -> None:
    thing = Ahead("it", 1000, 3000, near, near, top, 50)
    eyes, edge = replace(EYE, z=eye), replace(FOOT, z=foot)
    seen = line(eyes, edge, thing)
    assert seen is not None
    needed = foot_needed(eyes, edge, thing, seen.out)
    assert height(eyes, replace(edge, z=needed), near) == pytest.approx(top + 50)
    assert (needed > foot + 1e-6) == (seen.clear < 50 - 1e-6) or abs(seen.clear - 50) < 1e-3


def test_the_picture_stands_off_the_wall() -> None:
    """Eye 1100 at 2700, picture's foot 700 high and 100 out: half-way between, at 1400, the line is 900 high (by hand)."""
    assert height(EYE, Foot(1300, 2700, 700, 100), 1400) == pytest.approx(900)
    seen = line(EYE, Foot(1300, 2700, 700, 100), Ahead("it", 0, 4000, 1400, 1400, 860, 50))
    assert seen is not None and seen.clear == pytest.approx(40) and not seen.good and seen.hidden == 0
