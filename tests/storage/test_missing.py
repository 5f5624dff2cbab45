"""Why a thing has no place, and the smallest change that gives it one."""

from __future__ import annotations

from dataclasses import replace

import pytest

from wallwright.core.shape import Box
from wallwright.derive import derive
from wallwright.job.brief import Person, Thing
from wallwright.job.demos import demo_jobs
from wallwright.job.edits import apply
from wallwright.job.read import read_job
from wallwright.library import load
from wallwright.rules.storage import left_over
from wallwright.storage.cures import cure
from wallwright.storage.demand import demands
from wallwright.storage.fit import terms_of
from wallwright.storage.missing import why
from wallwright.storage.reach import reach_of
from wallwright.storage.record import Level

LIMITS = load.limits()
TERMS = terms_of(reach_of((), LIMITS), LIMITS)
SPOT = Level("T1.1-1", "T1.1", "T1", Box(0, 800, 500, 400), 350, 500, 15, "shutter")


def told(kind: str, spot: Level = SPOT, people: tuple[Person, ...] = ()) -> tuple[str, float]:
    (demand,) = demands((Thing(kind, 1),), LIMITS, children=bool(people))
    one = why(demand, 1, (spot,), terms_of(reach_of(people, LIMITS), LIMITS) if people else TERMS)
    assert one.says
    return one.failing, one.short


def test_the_limit_that_fails_and_by_how_much() -> None:
    assert told("folding_chair") == ("height", pytest.approx(630))  # and too deep: the harder is told
    assert told("printer") == ("depth", pytest.approx(50))
    assert told("sewing_machine", replace(SPOT, load=8)) == ("load", pytest.approx(4))
    assert told("sewing_machine", replace(SPOT, run=400)) == ("room", pytest.approx(90))
    assert told("ornament") == ("hidden", 0)
    assert told("vinyl_record", replace(SPOT, warm=True)) == ("warm", 0)
    assert told("plate", people=(Person("C", None, 3),)) == ("child", pytest.approx(700))
    assert told("clothes_pile", replace(SPOT, box=Box(0, 2000, 500, 400), depth=400)) == (
        "reach",
        pytest.approx(80),
    )
    seat = (Person("D", None, 60, wheelchair=True),)
    assert told("linen", replace(SPOT, box=Box(0, 1300, 500, 400)), seat) == ("seated", pytest.approx(80))
    assert told("linen") == ("room", 0)  # fits: only full levels can have kept it out


def test_a_thing_too_deep_gets_a_deeper_unit_and_then_stands_there() -> None:
    job = apply(read_job(demo_jobs()["living"]), "set_thing", {"kind": "folding_chair", "count": 0})
    job = apply(
        job,
        "set_thing",
        {
            "kind": "wide",
            "count": 1,
            "name": "Wide box",
            "width": 200,
            "depth": 345,
            "height": 200,
            "mass": 2,
        },
    )
    wall = derive(job)
    (one,) = wall.storage.missing
    assert one.failing == "depth" and 0 < one.short < 40
    found = cure(job, wall.storage, one, wall.limits)
    (edit,) = found.edits
    assert edit.edit == "resize_unit" and found.left == 0
    cured = derive(apply(job, edit.edit, dict(edit.values)))
    assert cured.storage.leftovers == ()


def test_a_thing_too_high_gets_its_shelves_taken_out() -> None:
    job = read_job(demo_jobs()["living"])
    for kind, count in (("paperback", 0), ("board_game", 0), ("file_box", 0), ("hardback", 0)):
        job = apply(job, "set_thing", {"kind": kind, "count": count})
    job = apply(
        job, "set_thing", {"kind": "easel", "count": 1, "width": 100, "depth": 200, "height": 700, "mass": 3}
    )
    wall = derive(job)
    (one,) = wall.storage.missing
    found = cure(job, wall.storage, one, wall.limits)
    assert found.left == 0 and "out of T2.2" in found.says
    for edit in found.edits:
        job = apply(job, edit.edit, dict(edit.values))
    assert derive(job).storage.leftovers == ()


def test_what_no_change_helps_can_be_taken_off_the_list() -> None:
    job = apply(read_job(demo_jobs()["bedroom"]), "set_thing", {"kind": "vacuum", "count": 1})
    wall = derive(job)
    (found,) = left_over(wall)
    assert "too high" in found.says and [edit.edit for edit in found.edits] == ["set_thing"]
    for edit in found.edits:
        job = apply(job, edit.edit, dict(edit.values))
    assert derive(job).storage.leftovers == ()
