"""Own runs keep off own fixings by construction: on walls with a column, a pipe, a low ceiling, other widths and screens."""

from __future__ import annotations

from dataclasses import replace

import pytest

from wallwright.core.units import Length
from wallwright.derive import derive
from wallwright.job.demos import demo_jobs
from wallwright.job.design import Wiring
from wallwright.job.edits import apply
from wallwright.job.read import read_job
from wallwright.rules import RULES

Step = tuple[str, dict[str, object]]


def standing(kind: str, x: float, width: float) -> Step:
    return "add_obstacle", {
        "ref": "OB",
        "kind": kind,
        "x": x,
        "z": 0,
        "width": width,
        "height": 2700,
        "projection": 150,
    }


def readings(which: str, value: float) -> tuple[Step, ...]:
    places = (200, 2100, 4000) if which == "height" else (100, 1000, 2200)
    return tuple(("set_wall_reading", {"which": which, "at": at, "value": value}) for at in places)


WALLS: dict[str, tuple[Step, ...]] = {
    "column in the middle": (standing("column", 1950, 300),),
    "wide column": (standing("column", 1500, 1200),),
    "pipe behind the mount": (standing("pipe", 2080, 30),),
    "pipe beside it": (standing("pipe", 1500, 30),),
    "ceiling 2300": readings("height", 2300),
    "ceiling 2450": readings("height", 2450),
    "wall 3000": readings("width", 3000),
    "wall 5000": readings("width", 5000),
    "screen 43": (("set_screen_size", {"diagonal": 43}),),
    "screen 85": (("set_screen_size", {"diagonal": 85}),),
    "hollow block": (("set_substrate", {"kind": "hollow_block"}),),
}


@pytest.mark.parametrize("steps", WALLS.values(), ids=WALLS)
@pytest.mark.parametrize("room", ["living", "bedroom"])
def test_no_hole_of_ours_comes_near_a_run_of_ours(room: str, steps: tuple[Step, ...]) -> None:
    job = read_job(demo_jobs()[room])
    for name, values in steps:
        job = apply(job, name, values)
    wall = derive(job)
    assert wall.services.runs and wall.structure.fixings
    runs = {run.ref for run in wall.services.runs}
    found = [item.says for item in RULES["services.drill_clash"].find(wall)]
    assert [says for says in found if says.split()[-1] in runs] == []


def test_holes_slide_away_from_the_cable_of_a_socket_that_is_there() -> None:
    job = read_job(demo_jobs()["living"])
    plain = derive(job)
    hole = next(check for check in plain.structure.fixings if check.ref == "C1").holes[2][0]
    job = apply(
        job,
        "add_obstacle",
        {"ref": "SX", "kind": "socket", "x": hole - 20, "z": 300, "width": 40, "height": 86},
    )
    wall = derive(job)
    moved = next(check for check in wall.structure.fixings if check.ref == "C1").holes
    assert min(abs(x - hole) for x, _ in moved) >= 20 + 50
    assert not [item for item in RULES["services.drill_clash"].find(wall) if item.where == "C1"]


@pytest.mark.parametrize("leaf", [100, 140, 200, 215, 221, 300])
def test_the_empty_conduit_of_our_own_is_never_cut_too_deep(leaf: float) -> None:
    """Guidance on Approved Document A (England): a level chase to a sixth of the leaf, an upright one to a third."""
    job = read_job(demo_jobs()["living"])
    thin = replace(job.survey.wall, leaf=Length(float(leaf)))
    job = replace(job, survey=replace(job.survey, wall=thin))
    wall = derive(job)
    assert not list(RULES["services.chase"].find(wall))  # nobody chose to cut: what is too deep is not cut
    asked = derive(replace(job, design=replace(job.design, wiring=Wiring("chased"))))
    spare = {run.ref for run in asked.services.runs if run.kind == "spare"}
    assert spare
    found = [item.where for item in RULES["services.chase"].find(asked)]
    assert not spare & set(found)
    assert bool(found) is (leaf < 192)  # 20 mm of conduit and 12 of cover for what is drawn in: 6 × 32
    shown = any(run.on_surface > 0 for run in wall.services.runs)
    assert bool(list(RULES["services.surface_run"].find(wall))) is shown
