"""Sizes compared: the regret, what is picked, and that a nearer sofa never asks for a larger screen."""

from __future__ import annotations

from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from wallwright.core.limit import Limits
from wallwright.core.units import Length
from wallwright.job.survey import Seat
from wallwright.library import load
from wallwright.sight.candidates import Taste, compare, pick, regret
from wallwright.sight.eyes import Eye, eye_of
from wallwright.sight.record import Candidate

LIMITS = load.limits()
SOFA = Taste(30, 20, 45)


def eyes_at(*distances: float) -> tuple[Eye, ...]:
    return tuple(
        eye_of(Seat(f"S{i}", "sofa", Length(0), Length(d)), None, LIMITS) for i, d in enumerate(distances)
    )


def sizes(*distances: float) -> tuple[Candidate, ...]:
    eyes = eyes_at(*distances)
    share = [1 / len(eyes)] * len(eyes)
    return compare(load.screens().values(), eyes, share, 0.0, 60, 2160, lambda w, h: True, LIMITS)


def test_regret_is_least_at_the_aim_and_steep_outside_the_band() -> None:
    assert regret(30, SOFA) == 0
    assert regret(28, SOFA) < regret(24, SOFA) < regret(18, SOFA)
    assert regret(33, SOFA) < regret(45, SOFA) < regret(50, SOFA)
    assert regret(18, SOFA) - regret(20, SOFA) > 2 * (regret(20, SOFA) - regret(22, SOFA))


def test_good_size_at_a_sofa() -> None:
    """At 2.7 m 30° are 65.4 in (2 d tan 15°/0.8716 by hand): 65 in; near the wall a smaller one, far away a larger one."""
    assert pick(sizes(2700 + 135)).diagonal == 65
    assert pick(sizes(1900)).diagonal < 65 < pick(sizes(3600)).diagonal


def test_verdicts_say_why() -> None:
    rows = {row.diagonal: row for row in sizes(3600)}
    assert rows[43.0].verdict.startswith("too small from 1 of 1 seats (15")
    assert rows[75.0].verdict.startswith("good: fills 27.0°")
    near = {row.diagonal: row for row in sizes(1400)}
    assert "too wide" in near[85.0].verdict and "dots show" in near[85.0].verdict


def test_what_does_not_fit_is_never_picked() -> None:
    eyes = eyes_at(3600)
    rows = compare(load.screens().values(), eyes, (1.0,), 0.0, 60, 2160, lambda w, h: w < 1300, LIMITS)
    assert pick(rows).diagonal == 55
    assert {row.diagonal for row in rows if not row.fits} == {65, 75, 85, 98}
    assert all(row.verdict == "does not fit the wall" for row in rows if not row.fits)
    assert pick([replace(row, fits=False) for row in rows]).diagonal == 43
    with pytest.raises(ValueError, match="no screen"):
        pick(())


@given(st.lists(st.floats(1500, 6000), min_size=1, max_size=4), st.floats(0.5, 1), st.integers(0, 3))
def test_a_nearer_seat_never_yields_a_larger_screen(
    distances: list[float], factor: float, which: int
) -> None:
    nearer = list(distances)
    nearer[which % len(nearer)] *= factor
    assert pick(sizes(*nearer)).diagonal <= pick(sizes(*distances)).diagonal


def test_a_bed_is_content_with_less(limits: Limits) -> None:
    bed = (eye_of(Seat("B", "bed", Length(0), Length(3000), Length(550)), None, limits),)
    rows = compare(load.screens().values(), bed, (1.0,), 0.0, 60, 2160, lambda w, h: True, limits)
    assert pick(rows).diagonal < pick(sizes(3000)).diagonal
