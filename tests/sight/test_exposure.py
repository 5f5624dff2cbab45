"""Sun on a spot: the quick sum against every day of the year at every third minute."""

from __future__ import annotations

import itertools
from dataclasses import replace
from functools import lru_cache

import numpy as np
import pytest

from wallwright.core.units import Length
from wallwright.core.why import Why
from wallwright.job.demos import demo_jobs
from wallwright.job.face import wall_face
from wallwright.job.read import read_job
from wallwright.job.survey import Window
from wallwright.rules.faced import EVERY, STEP
from wallwright.sight.exposure import hours_lit
from wallwright.sight.reflect import Glass
from wallwright.sight.season import Pane, SunQuestion, ask
from wallwright.sight.year import daylight, lit_share, to_sun

JOB = read_job(demo_jobs()["living"])
L = Length


def question(latitude: float, bearing: float, side: str, middle: tuple[float, float, float]) -> SunQuestion:
    window = Window("WX", side, L(900), L(300), L(1500), L(1500), reveal=L(150))  # type: ignore[arg-type]
    place = replace(JOB.survey.place, latitude=latitude, longitude=10.0, bearing=bearing)
    survey = replace(JOB.survey, place=place, windows=(window,))
    made = ask(survey, wall_face(survey), Glass(middle, 300, 300, 0.0), (), STEP, (), (window,))
    assert not isinstance(made, Why)
    return made


@lru_cache(maxsize=64)
def finely(asked: SunQuestion) -> float:
    """Every day at every third minute."""
    offset = asked.longitude / 15 if asked.utc_offset is None else asked.utc_offset
    moments = daylight(asked.latitude, asked.longitude, offset, asked.year, 3.0, ())
    sun = to_sun(moments, asked.bearing)
    return sum(
        float(np.sum(lit_share(asked, pane, moments, sun) * moments.stands_for)) for pane in asked.panes
    )


CASES = list(itertools.product((12.0, 52.0), (0.0, 100.0, 200.0, 290.0), ("left", "right", "opposite")))


def test_the_quick_sum_is_within_five_percent_wherever_the_sun_matters() -> None:
    errors: list[float] = []
    for latitude, bearing, side in CASES:
        asked = question(latitude, bearing, side, (2100.0, -30.0, 1200.0))
        true, quick = finely(asked), hours_lit(asked, STEP, EVERY)
        if true < 10:  # what the rule calls no sun to speak of
            assert quick < 10.5
            continue
        errors.append(quick / true - 1)
    assert len(errors) >= 8
    assert max(map(abs, errors)) < 0.05
    assert abs(sum(errors) / len(errors)) < 0.01  # and not to one side


def test_two_days_a_month_would_not_do() -> None:
    """What this replaces: further off than that in these very rooms."""
    worst = 0.0
    for latitude, bearing, side in CASES:
        asked = question(latitude, bearing, side, (2100.0, -30.0, 1200.0))
        true = finely(asked)
        if true >= 10:
            moments = daylight(latitude, 10.0, 10.0 / 15, asked.year, 30.0, (8, 23))
            sun = to_sun(moments, bearing)
            lit = [lit_share(asked, pane, moments, sun) for pane in asked.panes]
            rough = sum(float(np.sum(one * moments.stands_for)) for one in lit)
            worst = max(worst, abs(rough / true - 1))
    assert worst > 0.05


def test_no_sun_behind_the_wall_and_none_below_a_high_horizon() -> None:
    asked = question(45.0, 200.0, "opposite", (2100.0, -30.0, 1200.0))
    assert hours_lit(replace(asked, bearing=180.0, latitude=66.0, panes=()), STEP, EVERY) == 0.0
    hidden = replace(asked, panes=tuple(replace(pane, horizon=89.0) for pane in asked.panes))
    assert hours_lit(hidden, STEP, EVERY) == pytest.approx(0.0)


def test_leaving_out_the_moments_far_from_the_opening_changes_nothing(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    from wallwright.sight import exposure

    asked = [question(45.0, bearing, "left", (2100.0, -400.0, 500.0)) for bearing in (0.0, 100.0, 290.0)]
    quick = [hours_lit(one, STEP, EVERY) for one in asked]
    monkeypatch.setattr(exposure, "_near", lambda question, pane, moments, sun: np.ones(len(sun), bool))  # pyright: ignore
    assert [hours_lit(one, STEP, EVERY) for one in asked] == pytest.approx(quick)
    assert any(hours > 10 for hours in quick)


def test_a_patch_that_comes_at_the_same_time_each_day_is_met_as_often_as_it_is_due() -> None:
    """22 hours a year, minutes a day: on an even grid of moments 5 % are lost, on the staggered one half of that."""
    pane = Pane(
        "WX",
        (2200.0, -4100.0, 900.0),
        (1.0, 0.0, 0.0),
        (0.0, -1.0, 0.0),
        1500.0,
        1300.0,
        reveal=150.0,
        horizon=8.0,
    )
    glass = Glass((700.0, -30.0, 1200.0), 300, 300, 0.0)
    asked = SunQuestion(12.0, 10.0, 290.0, None, glass, (pane,), (), 2025)
    assert abs(hours_lit(asked, STEP, EVERY) / finely(asked) - 1) < 0.04
