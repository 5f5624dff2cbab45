"""Sight lines past an edge, against straight lines drawn the long way."""

from __future__ import annotations

import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from wallwright.light.hide import depth_at_edge, seen, setback_that_hides


def test_by_hand() -> None:
    """Console underside, strip 10 proud: eye 850 above it, 2650 before its front. The line drops 850/2650 a mm
    behind the edge.
    """
    assert seen(-850, 2650, 20, 10)  # 20 behind: 6.4 mm, less than 10
    assert not seen(-850, 2650, 300, 10)  # 300 behind: 96 mm
    assert setback_that_hides(-850, 2650, 10) == pytest.approx(31.18, abs=0.01)  # 10 · 2650/850


def test_lip_before_an_eye_below_the_shelf() -> None:
    """Eye 344 below a shelf, 2700 before it, strip 10 proud and 20 behind a lip: the line passes 12.5 below at the lip."""
    assert depth_at_edge(344, 2700, 20, 10) == pytest.approx(12.46, abs=0.01)
    assert not seen(344, 2700, 20, 10, lip=20)
    assert seen(344, 2700, 20, 10, lip=12)
    assert seen(344, 2700, 20, 10)
    assert setback_that_hides(344, 2700, 10) is None  # from below only a lip helps


def test_eye_inside_the_edge() -> None:
    assert not seen(-2000, -500, 60, 10)  # the board lies between
    assert seen(100, -500, 60, 10)


@given(st.floats(-3000, 1000), st.floats(1, 5000), st.floats(0.1, 400), st.floats(1, 30), st.floats(0, 40))
def test_against_a_straight_line(
    below: float, beyond: float, setback: float, proud: float, lip: float
) -> None:
    """Strip at (−setback, proud), eye at (beyond, below), lip from (0, 0) to (0, lip): seen when the line passes
    outside the lip.
    """
    cross = (0 - -setback) * (below - proud) - (lip - proud) * (
        beyond - -setback
    )  # which side of the line the lip's end lies
    assume(abs(cross) > 1e-3)
    assert seen(below, beyond, setback, proud, lip) == (cross > 0)


@given(st.integers(-3000, 500), st.integers(1, 5000), st.integers(1, 30), st.integers(0, 40))
def test_the_setback_hides_it(below: float, beyond: float, proud: float, lip: float) -> None:
    need = setback_that_hides(below, beyond, proud, lip)
    if need is None:
        assert seen(below, beyond, 1.0, proud, lip) and seen(below, beyond, 500.0, proud, lip)
        return
    assert depth_at_edge(below, beyond, need, proud) <= lip + 1e-6
    if need > 0.1:
        assert seen(below, beyond, need * 0.99, proud, lip)
