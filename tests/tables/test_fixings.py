"""A price without fixings says so."""

from __future__ import annotations

from dataclasses import replace

from wallwright.derive import derive
from wallwright.job.demos import demo_jobs
from wallwright.job.read import read_job
from wallwright.sheets.quote import quote_paper
from wallwright.tables.fixings import without_fixings

JOB = read_job(demo_jobs()["living"])


def test_an_unknown_wall_is_priced_without_fixings() -> None:
    known = derive(JOB)
    survey = replace(JOB.survey, wall=replace(JOB.survey.wall, substrate="unknown"))
    unknown = derive(replace(JOB, survey=survey))
    assert without_fixings(known) == "" and without_fixings(unknown) == "without fixings: the wall is unknown"
    said = [
        any("without fixings" in line for line in quote_paper(wall).warnings) for wall in (known, unknown)
    ]
    assert said == [False, True]
