"""Walls at the edges of the trade: their sheets are made, and are as clean as the others."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from typing import Any

import pytest

from wallwright.carcass.record import SetOut
from wallwright.core.units import Length
from wallwright.derive import Wall, derive
from wallwright.export.package import contents
from wallwright.job.demos import demo_jobs
from wallwright.job.design import Design
from wallwright.job.document import Job
from wallwright.job.read import read_job
from wallwright.job.survey import Reading
from wallwright.sheets.drawing_set import drawing_set
from wallwright.sheets.ink import inked
from wallwright.sheets.paper import Sheet
from wallwright.sheets.templates import templates


def living(change: Callable[[Job], Job] = lambda job: job) -> Wall:
    return derive(change(read_job(demo_jobs()["living"].encode(), "living")))


def sized(width: float, height: float) -> Callable[[Job], Job]:
    def change(job: Job) -> Job:
        wall = replace(
            job.survey.wall,
            widths=(Reading(Length(1000), Length(width)),),
            heights=(Reading(Length(1000), Length(height)),),
            diagonals=(),
        )
        return replace(job, survey=replace(job.survey, wall=wall, obstacles=()))

    return change


def bare(job: Job) -> Job:
    return replace(
        job,
        design=Design(),
        brief=replace(job.brief, devices=(), things=()),
        survey=replace(job.survey, obstacles=(), windows=()),
    )


def named(job: Job) -> Job:
    words = "बैठक की दीवार, बहुत लंबा नाम जो एक पंक्ति में नहीं समाता है और चलता रहता है"
    return replace(job, title=words[:80], client=words, designer=words, approver="<b>&\"'")


def seatless(job: Job) -> Job:
    return replace(job, survey=replace(job.survey, seats=()))


CASES: dict[str, Callable[[Job], Job]] = {
    "wide": sized(6500, 2700),
    "very wide": sized(11000, 3000),
    "narrow": sized(2600, 2400),
    "tall": sized(4200, 4200),
    "bare": bare,
    "named": named,
    "seatless": seatless,
}


@pytest.fixture(scope="module", params=CASES)
def extreme(request: pytest.FixtureRequest) -> Wall:
    try:
        return living(CASES[request.param])
    except ValueError as problem:  # the trade refuses it, with its reason: nothing to draw
        pytest.skip(f"not buildable: {problem}")


def outlined(sheet: Sheet) -> int:
    return sum(len(inked(mark, view.drawing.scale)) for view in sheet.layers for mark in view.drawing.marks)


def test_sheets_are_clean(extreme: Wall, sheet_faults: Callable[[Sheet], list[str]]) -> None:
    sheets = (*drawing_set(extreme), *templates(extreme))
    assert all(
        outlined(sheet) > (5 if "_full_" in sheet.name else 20) for sheet in sheets
    )  # a rod's last strip
    assert {sheet.name: faults for sheet in sheets if (faults := sheet_faults(sheet))} == {}


def test_the_whole_set_is_made(extreme: Wall) -> None:
    files = {name: data for _, name, data in contents(extreme, None, [])}
    assert len(files) > 12
    assert all(files.values())


def test_a_wall_without_anything_is_still_drawn(make_wall: Any) -> None:
    wall = make_wall()
    empty = replace(
        wall,
        setout=SetOut((), (), ()),
        carcass=replace(wall.carcass, bays=(), parts=(), shelves=(), hardware=(), movers=()),
        services=replace(wall.services, points=(), runs=(), zones=(), region=()),
        structure=replace(wall.structure, fixings=(), towers=(), shelves=()),
        light=replace(wall.light, runs=()),
        cuts=replace(wall.cuts, plans=()),
    )
    names = [sheet.name for sheet in drawing_set(empty)]
    assert names == [
        "elevation",
        "section",
        "services",
        "setting_out",
        "first_fix1",
        "screen_fitter",
        "heights",
        "seat_plan",
        "view_A",
        "view_B",
        "composition",
        "programme",
        "owner_book",
        "owner_snags1",
    ]
