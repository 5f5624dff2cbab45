"""check(): order, exit code and gate over the demo walls."""

from __future__ import annotations

from dataclasses import replace

import pytest

from wallwright.core.finding import SEVERITIES
from wallwright.derive import derive
from wallwright.job.demos import demo_jobs
from wallwright.job.edits import apply
from wallwright.job.read import read_job
from wallwright.rules import check, exit_code, gate


@pytest.mark.parametrize("room", ["living", "bedroom"])
def test_well_made_demo_walls_need_no_fixing(room: str) -> None:
    found = check(derive(read_job(demo_jobs()[room])))
    assert [item.says for item in found if item.severity in ("danger", "fix")] == []
    assert exit_code(found) == 0


def test_the_faulty_wall_is_said_to_be_faulty_worst_first() -> None:
    wall = derive(read_job(demo_jobs()["living_faults"]))
    found = check(wall)
    ranks = [SEVERITIES.index(item.severity) for item in found]
    assert ranks == sorted(ranks)
    assert found[0].severity == "danger"
    assert exit_code(found) == 1
    assert gate(wall, found).startswith("G0")
    assert len({item.rule for item in found}) >= 10


def test_without_tried_cures_the_findings_are_the_same() -> None:
    wall = derive(read_job(demo_jobs()["living"]))
    every, bare = check(wall), check(wall, cures=False)
    assert [replace(item, cure="", edits=()) for item in every] == [
        replace(item, cure="", edits=()) for item in bare
    ]
    late = [full for full, item in zip(every, bare, strict=True) if item != full]
    assert late and {item.rule for item in late} <= {
        "services.hot_bay",
        "cooling.device_air",
        "services.remote_blocked",
    }
    assert check(wall) == every  # the switch is back where it was


def test_gate_rises_as_the_job_closes() -> None:
    job = read_job(demo_jobs()["living"])
    wall = derive(job)
    assert gate(wall, check(wall)).startswith("G3")
    open_floor = derive(apply(job, "set_floor", {"finished": False}))
    assert gate(open_floor, check(open_floor)).startswith("G0")
    no_size = derive(apply(job, "release", {"field": "design.screen.diagonal"}))
    assert gate(no_size, check(no_size)).startswith("G1")
    too_high = derive(apply(job, "set_screen_height", {"centre_height": 2100}))
    assert gate(too_high, check(too_high)).startswith("G1")
