"""What each step of the trade's order waits for: the same as the gates say."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace

import pytest

from wallwright.derive import derive
from wallwright.job.demos import demo_jobs
from wallwright.job.document import Job
from wallwright.job.read import read_job
from wallwright.rules.check import check, gate
from wallwright.studio.steps import STEPS, step_of, steps


def closed() -> Job:
    """A wall on which nothing is open: the screen chosen, nothing more to come."""
    job = read_job(demo_jobs()["bedroom"])
    wall = derive(job)
    screen = replace(job.design.screen, diagonal=wall.sight.screen.diagonal)
    survey = replace(job.survey, finish_complete=True, room=replace(job.survey.room, floor_finished=True))
    return replace(job, survey=survey, design=replace(job.design, screen=screen))


def waits(job: Job) -> tuple[dict[str, dict[str, str]], str]:
    wall = derive(job)
    found = check(wall)
    told = {one.name: {w.step: w.says for w in one.waits} for one in steps(wall, found)}
    return told, gate(wall, found)[:2]


def unseated(job: Job) -> Job:
    return replace(job, survey=replace(job.survey, seats=()))


def unfinished(job: Job) -> Job:
    return replace(job, survey=replace(job.survey, room=replace(job.survey.room, floor_finished=False)))


def unchosen(job: Job) -> Job:
    return replace(job, design=replace(job.design, screen=replace(job.design.screen, diagonal=None)))


def to_come(job: Job) -> Job:
    return replace(job, survey=replace(job.survey, finish_complete=False))


@pytest.mark.parametrize(
    ("change", "reached", "waiting", "on", "says"),
    [
        (unseated, "G0", STEPS[2:], "Wall", "no seat is surveyed"),
        (unfinished, "G0", STEPS[2:], "Wall", "the floor is not finished"),
        (unchosen, "G1", STEPS[3:], "Screen", "its size is not chosen"),
        (to_come, "G2", STEPS[-1:], "Wall", "will still be added"),
    ],
)
def test_what_is_open_holds_up_the_steps_that_rest_on_it(
    change: Callable[[Job], Job], reached: str, waiting: tuple[str, ...], on: str, says: str
) -> None:
    told, now = waits(change(closed()))
    assert now == reached
    assert tuple(name for name in STEPS if says in told[name].get(on, "")) == waiting
    assert told["Brief"] == told["Wall"] == {}


def test_nothing_waits_at_the_last_gate() -> None:
    told, now = waits(closed())
    assert (now, told) == ("G3", {name: {} for name in STEPS})


def test_what_must_be_fixed_holds_up_later_steps_and_no_earlier_one() -> None:
    job = read_job(demo_jobs()["living_faults"])
    wall = derive(job)
    found = check(wall)
    must = {step_of(one.rule) for one in found if one.severity in ("danger", "fix")}
    assert {"Wall", "Services"} <= must
    told = {one.name: [w.step for w in one.waits] for one in steps(wall, found)}
    for i, name in enumerate(STEPS):
        assert all(STEPS.index(step) < i for step in told[name]), name
    assert "Services" in told["Build"] and "Services" not in told["Storage"]
    assert must <= set(told["Drawings"]), "by the drawings things are cut: they wait for all of it"
