"""Whose eyes may meet a strip: those in the seats, the tallest who stands there, the smallest child on the floor."""

from __future__ import annotations

from dataclasses import replace

import pytest

from wallwright.core.limit import Limits
from wallwright.core.units import Length
from wallwright.job.brief import Brief, Person
from wallwright.job.document import Job
from wallwright.job.survey import Reading, Room, Survey, SurveyedWall
from wallwright.light.eyes import every_eye
from wallwright.sight.record import Screen, SeatView

SURVEY = Survey(
    Room(), SurveyedWall((Reading(Length(0), Length(4000)),), (Reading(Length(0), Length(2600)),))
)


def eyes(
    screen: Screen, seat: SeatView, limits: Limits, *people: Person
) -> dict[str, tuple[float, float, float]]:
    job = Job("eyes", SURVEY, brief=Brief(people=people))
    return dict(every_eye(job, screen, (seat, replace(seat, ref="B", eye=(3000, -2500, 900))), limits))


def test_nobody_named(screen: Screen, seat: SeatView, limits: Limits) -> None:
    """Standing: men P95 1870 (ANSUR II) less 111 from crown to eye."""
    found = eyes(screen, seat, limits)
    assert set(found) == {"A", "B", "standing at A", "standing at B"}
    assert found["standing at B"] == (3000, -2500, 1870 - 111)


def test_the_tallest_and_the_smallest(screen: Screen, seat: SeatView, limits: Limits) -> None:
    """1950 and 1600 tall: 1839. Children of 2 and 4: the one of 2 by the WHO's median, 864 · 0.59 − 111 = 399 on the floor."""
    people = (
        Person("tall", stature=Length(1950)), Person("short", stature=Length(1600)), Person("four", stature=Length(1020), age=4),
        Person("two", age=2), Person("big", stature=Length(1400), age=10),
    )  # fmt: skip
    found = eyes(screen, seat, limits, *people)
    assert found["standing at A"][2] == pytest.approx(1839)
    assert found["a child on the floor"] == pytest.approx((2000, -1500, 864 * 0.59 - 111), abs=0.5)
