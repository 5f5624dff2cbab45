"""What is passed over because it lies far off is what measuring every hole against every run passes over too."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

import pytest

from wallwright.derive import Wall, derive
from wallwright.job.demos import demo_jobs
from wallwright.job.read import read_job
from wallwright.rules import RULES
from wallwright.rules.runs_drilled import _in_the_void  # pyright: ignore[reportPrivateUsage]
from wallwright.services.drill import distance_to_path
from wallwright.structure.record import HoleRow

if TYPE_CHECKING:
    from collections.abc import Iterator


def _met(wall: Wall) -> Iterator[tuple[str, int, str]]:
    """(fixing, mm, run) of every fixing that a run comes too near to: each hole measured against the whole path."""
    clear = wall.limits.value("services.drill_warn")
    for fixing in (*wall.structure.fixings, *wall.structure.batten_rows, *wall.structure.panel_rows):
        short = isinstance(fixing, HoleRow) and fixing.into == "batten"
        for run in wall.services.runs:
            radius = fixing.hole_diameter / 2 + run.outside_diameter / 2
            gap = min((distance_to_path(hole, run.path) for hole in fixing.holes), default=9e9) - radius
            if gap < clear - 0.5 and not (short and not _in_the_void(wall, fixing.ref, run)):
                yield fixing.ref, max(round(gap), 0), run.ref


@pytest.mark.parametrize(
    ("dx", "dz"), [(0, 0), (31, 0), (0, 47), (-60, 15), (133, -80), (700, 20), (-411, 233)]
)
def test_nothing_near_is_passed_over(dx: float, dz: float) -> None:
    wall = derive(read_job(demo_jobs()["living"]))
    runs = tuple(
        replace(run, path=tuple((x + dx, z + dz) for x, z in run.path)) for run in wall.services.runs
    )
    moved = replace(wall, services=replace(wall.services, runs=runs))
    refs = {run.ref for run in runs}
    found = [
        (one.where, max(round(float(one.measured)), 0), one.says.rpartition(" mm of ")[2])
        for one in RULES["services.drill_clash"].find(moved)
    ]
    assert sorted(item for item in found if item[2] in refs) == sorted(_met(moved))
    assert (dx, dz) == (0, 0) or any(item[2] in refs for item in found)
