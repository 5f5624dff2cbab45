"""The list of things in the document: own sizes and kinds are read, written, edited; what is wrong is said with its field."""

from __future__ import annotations

import pytest

from wallwright.core.units import Length
from wallwright.derive import derive
from wallwright.job.demos import demo_jobs
from wallwright.job.edits import apply
from wallwright.job.read import read_job
from wallwright.job.write import write_job

OWN = """
[[brief.things]]
kind = "kite"
count = 2
name = "Kite in its bag"
width = "12 cm"
depth = 200
height = 380
mass = 0.8
use = "seldom"
care = "toy"
"""


def test_a_kind_of_one_s_own_is_read_written_and_placed() -> None:
    job = read_job(demo_jobs()["living"] + OWN)
    kite = job.brief.things[-1]
    assert (kite.width, kite.mass, kite.use, kite.care) == (Length(120.0, "12 cm"), 0.8, "seldom", "toy")
    assert read_job(write_job(job)).brief.things == job.brief.things
    demand = next(d for d in derive(job).storage.demands if d.kind == "kite")
    assert (demand.name, demand.each, demand.one, demand.low) == (
        "Kite in its bag",
        pytest.approx(144),
        0.8,
        True,
    )


def test_a_kind_without_its_sizes_and_a_kind_named_twice_are_refused_with_their_field() -> None:
    with pytest.raises(ValueError, match=r"brief\.things.*kind"):
        read_job(demo_jobs()["living"] + OWN.replace("mass = 0.8\n", ""))
    with pytest.raises(ValueError, match="on the list already"):
        read_job(demo_jobs()["living"] + '[[brief.things]]\nkind = "paperback"\ncount = 3\n')


def test_the_edit_keeps_what_it_is_not_given() -> None:
    job = apply(
        read_job(demo_jobs()["living"] + OWN), "set_thing", {"kind": "kite", "count": 5, "height": 400}
    )
    kite = job.brief.things[-1]
    assert (kite.count, kite.height and kite.height.mm, kite.mass, kite.care) == (5, 400, 0.8, "toy")
    wider = apply(job, "set_thing", {"kind": "paperback", "count": 40, "width": 30, "use": "daily"})
    demand = next(d for d in derive(wider).storage.demands if d.kind == "paperback")
    assert (demand.each, demand.use, demand.one) == (36, "daily", pytest.approx(0.3))
    gone = apply(wider, "set_thing", {"kind": "kite", "count": 0})
    assert all(thing.kind != "kite" for thing in gone.brief.things)
