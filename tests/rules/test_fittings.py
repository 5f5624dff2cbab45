"""Fittings past their tables are told, never listed as if they held."""

from __future__ import annotations

from functools import cache

import pytest

from wallwright.core.finding import Finding
from wallwright.derive import Wall, derive
from wallwright.job.demos import demo_jobs
from wallwright.job.document import Job
from wallwright.job.edits import apply
from wallwright.job.read import read_job
from wallwright.rules import check


@cache
def living() -> Job:
    return read_job(demo_jobs()["living"])


def made(*steps: tuple[str, dict[str, object]]) -> Wall:
    job = living()
    for name, values in steps:
        job = apply(job, name, values)
    return derive(job)


def told(wall: Wall, rule: str) -> list[Finding]:
    return [item for item in check(wall) if item.rule == rule]


BIG = (
    ("resize_unit", {"ref": "C1", "height": 900, "width": 2000}),
    ("set_unit_bays", {"ref": "C1", "bays": [{"front": "flap"}]}),
)


def test_a_flap_that_no_stay_holds_is_told_and_not_given_a_desks() -> None:
    wall = made(*BIG)
    (item,) = told(wall, "fittings.flap_stay")
    flap = next(part for part in wall.carcass.parts if part.id == item.where)
    torque = flap.mass * 9.80665 * flap.block.dz / 2000  # lying level, its weight half its height out
    assert item.severity == "fix" and item.limit == 30 and item.measured == pytest.approx(torque, abs=0.06)
    (stay,) = [row for row in wall.carcass.hardware if row.kind == "lift"]
    assert "Desk" not in stay.name and "more than the 30 N·m" in stay.note and "holds" in stay.note
    cured = derive(apply(wall.job, item.edits[0].edit, dict(item.edits[0].values)))
    assert not told(cured, "fittings.flap_stay")
    assert not told(made(), "fittings.flap_stay")


def test_a_door_past_the_hinge_table_is_told() -> None:
    wall = made(("set_limit", {"name": "carcass.hinge_mass_5", "value": 1}))
    found = told(wall, "fittings.door_hinges")
    doors = {mover.ref for mover in wall.carcass.movers if mover.kind == "door"}
    assert found and {item.where for item in found} <= doors and all(item.severity == "fix" for item in found)
    assert not told(made(), "fittings.door_hinges")
