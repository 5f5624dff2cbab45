"""A lost unit is named where it was typed, with the unit that was probably meant."""

from __future__ import annotations

import pytest

from wallwright.job.demos import demo_jobs
from wallwright.job.edits import apply
from wallwright.job.problem import JobError
from wallwright.job.read import read_job

JOB = read_job(demo_jobs()["living"])


@pytest.mark.parametrize(
    ("edit", "values", "field", "meant"),
    [
        ("set_wall_reading", {"which": "width", "at": 1000, "value": 3.6}, "survey.wall.widths", "3.6 m"),
        ("set_wall_reading", {"which": "width", "at": 1000, "value": "420"}, "survey.wall.widths", "420 cm"),
        ("set_wall_reading", {"which": "height", "at": 200, "value": 9}, "survey.wall.heights", "9 ft"),
        ("set_screen_height", {"centre_height": "1050 in"}, "design.screen.centre_height", ""),
        ("set_screen_height", {"centre_height": 48}, "design.screen.centre_height", "48 in"),
        ("set_seat", {"ref": "A", "distance": 3}, "survey.seats[0].distance", "3 m"),
        ("resize_unit", {"ref": "C1", "width": 1.8}, "design.units[0].width", "1.8 m"),
        ("set_room", {"depth": 4.1}, "survey.room.depth", "4.1 m"),
    ],
)
def test_a_lost_unit_is_named(edit: str, values: dict[str, object], field: str, meant: str) -> None:
    with pytest.raises(JobError) as caught:
        apply(JOB, edit, values)
    (problem,) = caught.value.problems
    assert problem.field.startswith(field)
    assert "out of scale" in problem.says
    assert (
        (meant in problem.says.partition("did you mean")[2])
        if meant
        else ("did you mean" not in problem.says)
    )


def test_rooms_people_live_in_pass() -> None:
    for width, height, distance in (("8 ft", "7 ft", "5 ft"), (2400, 2300, 1800), ("12 m", "5.5 m", "9 m")):
        job = apply(JOB, "set_wall_reading", {"which": "width", "at": 1000, "value": width})
        job = apply(job, "set_wall_reading", {"which": "height", "at": 200, "value": height})
        assert apply(job, "set_seat", {"ref": "A", "distance": distance})
