"""What a change touches, and which changes can both be kept."""

from __future__ import annotations

from typing import Any

import pytest

from wallwright.job.demos import demo_jobs
from wallwright.job.document import Job
from wallwright.job.edits import apply
from wallwright.job.read import read_job
from wallwright.studio.merge import clash, said, touched


@pytest.fixture(scope="module")
def job() -> Job:
    return read_job(demo_jobs()["living"])


def after(job: Job, name: str, **values: Any) -> Any:
    return touched(job, apply(job, name, values))


OBSTACLE = {"kind": "pipe", "x": 100, "z": 100, "width": 50, "height": 50}


def test_a_change_touches_the_fields_it_sets_and_no_others(job: Job) -> None:
    assert set(after(job, "move_unit", ref="C1", x=1200)) == {("design", "units", "C1", "x")}
    assert set(after(job, "add_obstacle", ref="OX", **OBSTACLE)) == {("survey", "obstacles", "OX")}
    reading = after(job, "set_wall_reading", which="width", at=1000, value=4201.5)
    assert set(reading) == {("survey", "wall", "widths", "1000", "value")}
    assert touched(job, job) == {}


@pytest.mark.parametrize(
    ("one", "other", "both"),
    [
        (("move_unit", {"ref": "C1", "x": 1200}), ("move_unit", {"ref": "C1", "z": 300}), True),
        (("move_unit", {"ref": "C1", "x": 1200}), ("move_unit", {"ref": "T1", "x": 300}), True),
        (("move_unit", {"ref": "C1", "x": 1200}), ("move_unit", {"ref": "C1", "x": 1300}), False),
        (("move_unit", {"ref": "C1", "x": 1200}), ("move_unit", {"ref": "C1", "x": 1200}), True),
        (("add_obstacle", {"ref": "OX", **OBSTACLE}), ("add_obstacle", {"ref": "OY", **OBSTACLE}), True),
        (("add_obstacle", {"ref": "OX", **OBSTACLE}), ("add_obstacle", {"ref": "OX", **OBSTACLE, "x": 200}), False),
        (("remove_unit", {"ref": "T1"}), ("move_unit", {"ref": "T1", "x": 300}), False),
        (("remove_unit", {"ref": "T1"}), ("move_unit", {"ref": "C1", "x": 1200}), True),
    ],
)  # fmt: skip
def test_two_changes_clash_only_where_they_meet(job: Job, one: Any, other: Any, both: bool) -> None:
    mine, theirs = after(job, one[0], **one[1]), after(job, other[0], **other[1])
    assert (clash(mine, theirs) is None) == both
    assert (clash(theirs, mine) is None) == both


def test_a_field_is_said_in_plain_words() -> None:
    assert said(("design", "units", "C1", "width")) == "C1 width"
    assert said(("design", "screen", "centre_height")) == "screen centre height"
