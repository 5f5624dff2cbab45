"""What is kept from one derivation to the next never shows: a wall after many edits is the wall that is derived for the first time."""

from __future__ import annotations

import functools
import gc
from dataclasses import replace

import pytest

from wallwright.carcass.kept import made_of
from wallwright.core.units import Length
from wallwright.derive import built, derive
from wallwright.job.demos import demo_jobs
from wallwright.job.document import Job
from wallwright.job.read import read_job
from wallwright.rules import check
from wallwright.rules.places import faults
from wallwright.services.routes import shortest


def _forget() -> None:
    for thing in gc.get_objects():
        if isinstance(thing, functools._lru_cache_wrapper):  # pyright: ignore[reportPrivateUsage]
            home = str(getattr(thing, "__module__", ""))
            if home.startswith("wallwright.") and not home.startswith(
                ("wallwright.library", "wallwright.job")
            ):
                thing.cache_clear()


def _wider(job: Job, ref: str, width: float) -> Job:
    units = tuple(
        replace(unit, width=Length(width)) if unit.ref == ref else unit for unit in job.design.units
    )
    return replace(job, design=replace(job.design, units=units))


def _said(job: Job) -> tuple[object, ...]:
    wall = derive(job)
    return (
        check(wall), tuple(wall.whys), wall.carcass.parts, wall.services.runs, wall.storage.placed, wall.structure.fixings,
        wall.money.total,
    )  # fmt: skip


@pytest.mark.parametrize("demo", ["living", "bedroom"])
def test_a_wall_after_edits_is_the_wall_derived_anew(demo: str) -> None:
    job = read_job(demo_jobs()[demo])
    unit = job.design.units[0].ref
    usual = derive(job).setout.unit(unit).box.width
    jobs = [_wider(job, unit, usual - less) for less in (0, 7, 60)]
    jobs.append(replace(jobs[1], rules={"carcass.keep_clear": 12.0}))  # the same units under another rule set
    jobs.append(replace(jobs[1], brief=replace(job.brief, tenure="rent")))
    place = replace(job.survey.place, hot_humid=not job.survey.place.hot_humid)
    jobs.append(replace(jobs[1], survey=replace(job.survey, place=place)))
    _forget()
    after = [_said(each) for each in (*jobs, *jobs)]
    for said, each in zip(after, (*jobs, *jobs), strict=True):
        _forget()
        assert said == _said(each)


def test_at_an_edit_of_one_unit_the_others_are_not_made_again() -> None:
    job = read_job(demo_jobs()["living"])
    _forget()
    derive(job)
    tower = next(unit.ref for unit in job.design.units if unit.kind == "tower")
    before = made_of.cache_info()
    cabinets = sum(unit.cabinet for unit in derive(job).setout.units)
    assert made_of.cache_info().hits - before.hits == cabinets
    misses = made_of.cache_info().misses
    derive(_wider(job, tower, derive(job).setout.unit(tower).box.width - 3))
    assert made_of.cache_info().misses - misses == 1


def test_the_same_job_asks_for_no_route_twice() -> None:
    job = read_job(demo_jobs()["living"])
    _forget()
    derive(job)
    found = shortest.cache_info().misses
    derive(job)
    assert found > 0
    assert shortest.cache_info().misses == found


def test_the_boards_alone_stand_where_the_whole_wall_has_them() -> None:
    job = read_job(demo_jobs()["living_faults"])
    whole, alone = derive(job), built(job)
    assert alone.setout.units == whole.setout.units
    assert alone.carcass.movers == whole.carcass.movers
    assert faults(alone) == faults(whole)
