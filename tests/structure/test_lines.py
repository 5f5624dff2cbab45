"""The lines that services keep off are the very lines that the fixings are drilled on."""

from __future__ import annotations

import pytest

from wallwright.derive import derive
from wallwright.job.demos import demo_jobs
from wallwright.job.edits import apply
from wallwright.job.read import read_job
from wallwright.structure.lines import fixing_lines


@pytest.mark.parametrize("changes", [
    (), (("resize_unit", {"ref": "C1", "height": 280}),), (("set_unit_hung", {"ref": "T1", "hung": True}),),
])  # fmt: skip
@pytest.mark.parametrize("room", ["living", "bedroom"])
def test_every_hole_of_a_unit_lies_on_its_line(
    room: str, changes: tuple[tuple[str, dict[str, object]], ...]
) -> None:
    job = read_job(demo_jobs()[room])
    for name, values in changes:
        if any(unit.ref == values["ref"] for unit in job.design.units):
            job = apply(job, name, values)
    wall = derive(job)
    lines = fixing_lines(wall.setout.units, wall.limits)
    holes = [hole for check in wall.structure.fixings if check.ref != "screen" for hole in check.holes]
    assert holes
    for x, z in holes:
        assert any(line.x - 0.01 <= x <= line.right + 0.01 and abs(z - line.z) < 0.01 for line in lines), (
            x,
            z,
        )
