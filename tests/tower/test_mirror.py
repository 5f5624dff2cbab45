"""The other hand is the mirror: places, bays, doors, windows, light; mirrored twice it is the job again; every rule is asked anew."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import fields, is_dataclass, replace
from functools import cache
from pathlib import Path
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from wallwright.core.finding import Finding
from wallwright.core.units import Length
from wallwright.derive import Wall, built, derive
from wallwright.job.brief import Device
from wallwright.job.demos import demo_jobs
from wallwright.job.design import Panel, Point, Unit
from wallwright.job.document import Job
from wallwright.job.edits import apply
from wallwright.job.read import read_job
from wallwright.job.survey import Backer, Between, Entry, Lamp, OtherWall, Relief, Window
from wallwright.rules.check import check
from wallwright.rules.registry import untried
from wallwright.tower.likeness import unlike
from wallwright.tower.mirror import _flipped, mirrored, settled

MADE = Path(__file__).parents[1] / "sheets" / "made"
JOBS = {
    **{name: read_job(text) for name, text in demo_jobs().items()},
    **{name: read_job((MADE / f"{name}.toml").read_text("utf-8")) for name in ("every_unit", "every_panel")},
}


@cache
def hands(name: str) -> tuple[Wall, Wall]:
    """The walls of both hands, derived once."""
    return derive(JOBS[name]), derive(mirrored(JOBS[name]))


def found(job: Job) -> tuple[Finding, ...]:
    """What every rule says of the job's wall; its cures are not asked here."""
    with untried():
        return check(derive(job))


def values(thing: Any, path: str = "") -> Iterator[tuple[str, Any]]:
    """Every single value with its path; of a length its mm, state and tolerance: how it was typed is lost with its place."""
    if isinstance(thing, Length):
        yield path, thing.mm
        yield f"{path}.state", (thing.state, thing.tolerance)
    elif isinstance(thing, tuple):
        yield f"{path}.count", len(thing)
        for i, inner in enumerate(thing):
            yield from values(inner, f"{path}[{i}]")
    elif is_dataclass(thing) and not isinstance(thing, type):
        for item in fields(thing):
            yield from values(getattr(thing, item.name), f"{path}.{item.name}")
    elif not hasattr(thing, "items"):
        yield path, thing


def assert_same(one: Job, other: Job) -> None:
    mine, theirs = dict(values(one)), dict(values(other))
    assert mine.keys() == theirs.keys()
    for path, value in mine.items():
        if isinstance(value, float):
            assert value == pytest.approx(theirs[path], abs=1e-6), path
        else:
            assert value == theirs[path], path


@pytest.mark.parametrize("name", JOBS)
def test_mirrored_twice_it_is_the_same_job(name: str) -> None:
    assert_same(mirrored(mirrored(JOBS[name])), settled(JOBS[name]))


@pytest.mark.parametrize("name", JOBS)
def test_the_wall_of_the_other_hand_is_the_mirror_of_the_first(name: str) -> None:
    """Screen, units, panels, doors: all. Boards: all but battens, which begin at the left. Outlets that nobody placed stay by the
    screen's own sockets, which no mirror turns: they are told.
    """
    told = unlike(*hands(name))
    points = {point.ref for point in hands(name)[0].services.points}
    others = [one for one in told if one.ref not in points]
    assert all(one.ref == "boards" and "(batten," in one.says for one in others), others
    assert points & {one.ref for one in told}, "what is not the mirror is told"


def test_likeness_tells_what_is_not_the_mirror() -> None:
    job = JOBS["living"]
    wall, other = derive(job), mirrored(job)
    moved = derive(apply(other, "move_unit", {"ref": "C1", "x": 1200}))
    assert next(one.ref for one in unlike(wall, moved)) == "C1"
    assert any("the mirror has x" in one.says for one in unlike(wall, moved) if one.ref == "C1")
    door = derive(apply(other, "set_bay_hinge", {"ref": "T1", "bay": 1, "hinged": "left"}))
    assert any("hinged left in both hands" in one.says for one in unlike(wall, door))


@pytest.mark.parametrize("name", JOBS)
def test_every_rule_is_asked_on_the_mirrored_wall_and_says_the_same(name: str) -> None:
    with untried():
        first, other = (check(wall) for wall in hands(name))
    assert {(item.rule, item.severity) for item in first} == {(item.rule, item.severity) for item in other}


def test_a_door_swing_that_is_free_in_one_hand_is_found_in_the_other() -> None:
    """One tower, at the left; a column that stands before the right end bars no door, and the tower's own in the other hand."""
    job = apply(JOBS["living"], "remove_unit", {"ref": "T2"})
    job = apply(job, "move_unit", {"ref": "T1", "x": 25})
    column = {
        "ref": "COL",
        "kind": "column",
        "x": 3660,
        "z": 0,
        "width": 110,
        "height": 2700,
        "projection": 700,
    }

    def barred(one: Job) -> list[str]:
        told = found(apply(one, "add_obstacle", column))
        return [item.where for item in told if item.rule == "carcass.drawer_clash"]

    assert barred(job) == []
    assert barred(mirrored(job)) == ["T1.1-F1"]


def test_hands_of_survey_and_design() -> None:
    job, w = JOBS["living"], 4200.525
    other = mirrored(job)
    assert [one.wall for one in other.survey.windows] == ["right"]
    socket = next(one for one in other.survey.obstacles if one.ref == "EX1")
    assert socket.x.mm == pytest.approx(w - 3340 - 86)  # the left edge of what was its right one
    assert (socket.x.state, socket.x.tolerance, socket.x.written) == ("measured", 3.0, "")
    assert [seat.x.mm for seat in other.survey.seats] == pytest.approx([w - 1830, w - 2370, w - 3200])
    assert [one.at.mm for one in other.survey.wall.heights] == pytest.approx([w - 200, w - 2100, w - 4000])
    assert other.survey.wall.widths == job.survey.wall.widths
    assert other.survey.wall.diagonals == job.survey.wall.diagonals[::-1]
    assert {unit.ref: unit.side for unit in other.design.units} == {
        "C1": "centre",
        "T1": "right",
        "T2": "left",
        "S1": "left",
    }
    assert [bay.front for bay in other.design.units[1].bays] == [
        bay.front for bay in job.design.units[1].bays
    ]
    assert derive(other).setout.unit("T1").box.right == pytest.approx(w - 25)


def test_console_bays_change_places_and_pinned_hinges_sides() -> None:
    job = apply(JOBS["living"], "set_bay_front", {"ref": "C1", "bay": 1, "front": "shutter"})
    job = apply(job, "set_bay_hinge", {"ref": "C1", "bay": 1, "hinged": "left"})
    bays = mirrored(job).design.units[0].bays
    assert [(bay.front, bay.hinged) for bay in bays] == [
        ("drawers", None),
        ("open", None),
        ("shutter", "right"),
    ]


def test_the_screen_itself_is_not_mirrored_but_what_turns_it_is() -> None:
    job = JOBS["living"]
    mount = replace(job.design.mount, kind="arm", swivel=12.0, reach=Length(400.0), pivot_x=Length(30.0))
    screen = replace(job.design.screen, centre_x=Length(2000.0), hole_offset=Length(-20.0))
    other = mirrored(replace(job, design=replace(job.design, mount=mount, screen=screen))).design
    assert other.mount.swivel == -12.0
    assert other.mount.pivot_x == Length(30.0)
    assert other.screen.hole_offset == Length(-20.0)
    assert other.screen.centre_x == Length(4200.525 - 2000.0)


PLACE = st.floats(0.0, 3000.0, allow_nan=False)


@settings(max_examples=25, deadline=None)
@given(
    PLACE,
    PLACE,
    PLACE,
    PLACE,
    PLACE,
    st.sampled_from(["left", "right"]),
    st.sampled_from(["left", "right", "ceiling"]),
)
def test_mirrored_twice_it_is_the_same_job_wherever_things_stand(  # noqa: PLR0913
    unit: float, point: float, lamp: float, table: float, window: float, side: Any, comes: Any
) -> None:
    job = JOBS["bedroom"]
    design = replace(
        job.design,
        units=(
            *job.design.units,
            Unit("S9", "shelf", x=Length(unit), z=Length(1900.0), width=Length(300.0), side=side),
        ),
        points=(Point("P9", "socket", Length(point), Length(300.0)),),
        panels=(*job.design.panels, Panel("W9", x=Length(unit / 2), width=Length(200.0))),
    )
    survey = replace(
        job.survey,
        lamps=(Lamp("LA", "floor_lamp", Length(lamp), Length(900.0), Length(1500.0)),),
        between=(
            Between("TB", "table", Length(table), Length(900.0), Length(600.0), Length(500.0), Length(400.0)),
        ),
        windows=(
            *job.survey.windows,
            Window("W8", "opposite", Length(window), Length(900.0), Length(800.0), Length(1000.0)),
            Window("W7", side, Length(window), Length(900.0), Length(800.0), Length(1000.0)),
        ),
        supply=Entry(comes, Length(lamp) if comes == "ceiling" else None),
    )
    whole = replace(job, design=design, survey=survey)
    other = mirrored(whole)
    assert_same(mirrored(other), settled(whole))
    w = 3302.0
    assert other.design.points[0].x.mm == pytest.approx(w - point)
    assert other.design.units[-1].x.mm == pytest.approx(w - unit - 300.0)
    assert other.survey.between[0].x.mm == pytest.approx(w - table - 600.0)
    assert other.survey.windows[1].along.mm == pytest.approx(w - window - 800.0)
    assert other.survey.windows[2].wall != side
    assert other.survey.windows[2].along.mm == window


def test_everything_that_has_a_place_is_mirrored() -> None:
    """Of a wall 3302 wide, by hand: a middle goes to 3302 less itself, a left edge to 3302 less itself and its width."""

    def mm(value: float) -> Length:
        return Length(value, "", "measured")

    job = JOBS["bedroom"]
    wall = replace(
        job.survey.wall,
        studs=(mm(300.0), mm(900.0)),
        backers=(Backer(mm(200.0), mm(900.0), mm(600.0), mm(300.0)),),
        relief=(Relief(mm(500.0), mm(1000.0), mm(4.0)),),
        diagonals=(mm(4265.0), mm(4266.0)),
    )
    survey = replace(
        job.survey,
        wall=wall,
        lamps=(Lamp("LA", "floor_lamp", mm(400.0), mm(900.0), mm(1500.0)),),
        other_walls=(OtherWall("left"), OtherWall("opposite")),
        supply=Entry("right"),
        lines_in=Entry("wall", mm(700.0), mm(300.0)),
    )
    brief = replace(job.brief, devices=(Device("fire", "heater", "wall", x=mm(800.0), width=mm(1000.0)),))
    other = _flipped(replace(job, survey=survey, brief=brief), built(job))
    told, by = other.survey, other.survey.wall
    assert [one.mm for one in by.studs] == [2402.0, 3002.0]
    assert [one.x.mm for one in by.backers] == [2502.0]
    assert [(one.x.mm, one.out.mm) for one in by.relief] == [(2802.0, 4.0)]
    assert by.diagonals == wall.diagonals[::-1]
    assert [one.x.mm for one in told.lamps] == [2902.0]
    assert [one.side for one in told.other_walls] == ["right", "opposite"]
    assert told.supply == Entry("left")
    assert told.lines_in is not None
    assert told.lines_in.x is not None
    assert (told.lines_in.comes, told.lines_in.x.mm) == ("wall", 2602.0)
    assert other.brief.devices[0].x is not None
    assert other.brief.devices[0].x.mm == 1502.0
