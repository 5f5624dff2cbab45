"""What is kept from one derivation to the next never shows: a wall after many edits is the wall that is derived for the first time."""

from __future__ import annotations

import functools
import gc
from dataclasses import replace

import pytest

from wallwright.carcass.kept import made_of
from wallwright.core.units import Length
from wallwright.derive import built, derive, tried
from wallwright.job.demos import demo_jobs
from wallwright.job.document import Job
from wallwright.job.edits import apply
from wallwright.job.read import read_job
from wallwright.rules import check
from wallwright.rules.places import faults
from wallwright.services.routes import shortest
from wallwright.services.runs import Layer


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


def test_a_wall_that_is_tried_stands_as_the_derived_one() -> None:
    job = read_job(demo_jobs()["living"])
    kept = derive(job)
    other = apply(job, "add_device", {"ref": "fan1", "kind": "cabinet_fan", "place": "tower"})
    other = apply(other, "resize_unit", {"ref": "C1", "width": kept.setout.unit("C1").box.width - 60})
    other = apply(other, "set_screen_height", {"centre_height": 1180})
    whole, alone = derive(other), tried(other, kept)
    for stage in ("sight", "setout", "services", "carcass", "storage", "cooling", "structure", "light"):
        assert getattr(whole, stage) != getattr(kept, stage), stage
        assert getattr(alone, stage) == getattr(whole, stage), stage
    assert alone.job == other
    for stage in ("look", "cuts", "money", "programme"):
        assert getattr(alone, stage) is getattr(kept, stage), stage


def test_what_no_leaf_bears_is_seen_before_the_runs_are_settled(monkeypatch: pytest.MonkeyPatch) -> None:
    job = read_job(demo_jobs()["living"])
    # the picture's conduit is too thick for a level chase, and the cabinet no longer stands under the screen
    console = replace(job.design.units[0], x=Length(40.0), width=Length(1200.0))
    thin = replace(job, design=replace(job.design, panels=(), units=(console,), lights=()))
    # there is a way behind a deep panel, but nobody minds the chase: it is not without a way
    aside = replace(console, x=Length(600.0))
    deep = replace(job.design.panels[0], void=Length(60.0))
    other = replace(
        job,
        rules={"services.price_unlawful": 1.0},
        design=replace(job.design, panels=(deep,), units=(aside,), lights=()),
    )
    told: list[tuple[bool, bool]] = []
    ask = Layer.without_way

    def asked(lay: Layer) -> bool:
        told.append((lay.ground.too_deep(lay.runs), ask(lay)))
        return told[-1][1]

    def never(_: Layer) -> bool:
        return False

    monkeypatch.setattr(Layer, "without_way", asked)
    seen = [derive(one).services for one in (job, thin, other)]
    assert told == [(False, False), (True, True), (True, False)]
    monkeypatch.setattr(Layer, "without_way", never)
    _forget()
    assert [derive(one).services for one in (job, thin, other)] == seen
