"""A job after a change is read anew where it changed, and says what reading the whole would say."""

from __future__ import annotations

from dataclasses import replace

import pytest

from wallwright.core.units import Length
from wallwright.job.demos import demo_jobs
from wallwright.job.design import Bay
from wallwright.job.document import Job
from wallwright.job.edits import EDITS
from wallwright.job.part import read_anew
from wallwright.job.problem import JobError
from wallwright.job.read import job_from, read_job
from wallwright.job.write import plain

LIVING = read_job(demo_jobs()["living"])


def with_units(job: Job, *units: object) -> Job:
    return replace(job, design=replace(job.design, units=units))  # type: ignore[arg-type]


def changes() -> list[Job]:
    first, *others = LIVING.design.units
    make = {name: edit.make for name, edit in EDITS.items()}
    wall = LIVING.survey.wall
    reading = replace(wall.widths[0], value=Length(wall.widths[0].value.mm - 3, state="measured"))
    return [
        replace(LIVING, title="Another title"),
        make["move_unit"](LIVING, ref=first.ref, x=Length(300.0, "300")),
        with_units(LIVING, replace(first, bays=(Bay("drawers"), Bay("open"))), *others),
        with_units(LIVING, first),
        replace(LIVING, rules={"carcass.keep_clear": 12.0}),
        replace(LIVING, survey=replace(LIVING.survey, wall=replace(wall, widths=(reading, *wall.widths[1:])))),
        replace(LIVING, brief=replace(LIVING.brief, devices=LIVING.brief.devices[1:])),
    ]  # fmt: skip


@pytest.mark.parametrize("number", range(len(changes())))
def test_what_is_read_is_what_reading_the_whole_gives(number: int) -> None:
    changed = changes()[number]
    assert read_anew(LIVING, changed) == job_from(plain(changed)) != LIVING


def test_what_did_not_change_is_the_very_thing() -> None:
    first, *others = LIVING.design.units
    job = read_anew(LIVING, with_units(LIVING, replace(first, x=Length(300.0)), *others))
    assert job.survey is LIVING.survey
    assert job.brief is LIVING.brief
    assert all(a is b for a, b in zip(job.design.units[1:], LIVING.design.units[1:], strict=True))
    assert job.design.units[0] is not first


def test_a_fault_is_told_as_reading_the_whole_tells_it() -> None:
    first, *others = LIVING.design.units
    for wrong in (
        with_units(LIVING, first, *others[:-1], replace(others[-1], width=Length(-5.0))),
        with_units(LIVING, replace(first, ref=others[0].ref), *others),
        with_units(LIVING, replace(first, bays=(Bay("drawers", drawers=-1),)), *others),
    ):
        with pytest.raises(JobError) as whole:
            job_from(plain(wrong))
        with pytest.raises(JobError) as part:
            read_anew(LIVING, wrong)
        assert part.value.problems == whole.value.problems
        assert "design.units" in str(part.value)
