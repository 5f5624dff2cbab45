from __future__ import annotations

import pytest

from wallwright.job.demos import demo_jobs
from wallwright.job.edits import apply
from wallwright.job.path import get, keys_at, put, show_path, steps_of, walk
from wallwright.job.problem import JobError
from wallwright.job.read import read_job

JOB = read_job(demo_jobs()["living"])


@pytest.mark.parametrize(
    ("path", "steps"),
    [
        ("design.screen.centre_height", ("design", "screen", "centre_height")),
        ("survey.obstacles[1].width", ("survey", "obstacles", 1, "width")),
        ("survey.obstacles.1.width", ("survey", "obstacles", 1, "width")),
        ("survey.obstacles.EX1.width", ("survey", "obstacles", 1, "width")),
        ("survey.obstacles[EX1].width", ("survey", "obstacles", 1, "width")),
        ("survey.wall.widths.0.value", ("survey", "wall", "widths", 0, "value")),
        ("design.units.C1.bays[1].front", ("design", "units", 0, "bays", 1, "front")),
        ("design.units.C1", ("design", "units", 0)),
        ("title", ("title",)),
    ],
)
def test_a_path_leads_to_its_place(path: str, steps: tuple[str | int, ...]) -> None:
    assert steps_of(JOB, path) == steps
    assert steps_of(JOB, show_path(steps)) == steps
    get(JOB, steps)


def test_a_ref_with_dots_is_one_step() -> None:
    job = apply(JOB, "add_unit", {"ref": "T1.a", "kind": "tower"})
    assert get(job, steps_of(job, "design.units.T1.a.kind")) == "tower"
    assert get(job, steps_of(job, "design.units.T1.side")) == "left"


@pytest.mark.parametrize(
    ("path", "says"),
    [
        ("design.screen.centre_hight", "'centre_height'"),
        ("design.units.C9.x", "C1, T1, T2, S1"),
        ("survey.wall.widths[7]", "3 entries"),
        ("title.more", "no field 'more'"),
        ("survey.room.depth.mm", "no field 'mm'"),
        ("[", "no field"),
    ],
)
def test_a_path_to_nowhere_says_where_it_ends(path: str, says: str) -> None:
    with pytest.raises(JobError, match=says):
        steps_of(JOB, path)


def test_put_changes_one_value_and_keeps_the_rest() -> None:
    steps = steps_of(JOB, "survey.seats.B.hours")
    changed = put(JOB, steps, 3.5)
    before, after = dict(walk(JOB)), dict(walk(changed))
    assert after.pop(steps) == 3.5
    assert before.pop(steps) == 11
    assert before == after


def test_keys_at_a_place() -> None:
    assert keys_at(("design", "units", 0, "bays", 1)) == (
        "front",
        "width",
        "drawers",
        "shelves",
        "hinged",
        "vents",
    )
    assert keys_at(("brief", "budget")) == ("amount", "reserve", "keep")
    assert keys_at(("title",)) == ()
    assert keys_at(("survey", "room", "depth")) == ()
    assert keys_at(("nowhere", "at_all")) == ()
