"""The board between two bays is dragged: it goes there, and nothing else of the unit moves."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path
from typing import Any

import pytest

from wallwright.core.shape import Box
from wallwright.derive import Wall, derive
from wallwright.job.demos import demo_jobs
from wallwright.job.edits import apply
from wallwright.job.problem import JobError
from wallwright.job.read import read_job
from wallwright.studio.divisions import divisions
from wallwright.studio.marks import edits_for
from wallwright.studio.things import things

EVERY_UNIT = Path(__file__).parents[1] / "sheets" / "made" / "every_unit.toml"


def after(wall: Wall, name: str, at: Any) -> Wall:
    job = wall.job
    for call in edits_for(wall, name, at):
        job = apply(job, call.edit, dict(call.values))
    return derive(job)


def boxes(wall: Wall) -> dict[str, Box]:
    return {bay.ref: bay.box for bay in wall.carcass.bays}


@pytest.fixture(scope="module", params=["living", "bedroom", "every_unit"])
def wall(request: pytest.FixtureRequest) -> Wall:
    text = EVERY_UNIT.read_text("utf-8") if request.param == "every_unit" else demo_jobs()[request.param]
    return derive(read_job(text))


def test_the_division_goes_where_it_is_put_and_the_others_stay(wall: Wall) -> None:
    seen = 0
    for mark in list(divisions(wall)):
        by = -20.0
        before, put = boxes(wall), mark.at + by
        later = after(wall, mark.name, put)
        now = boxes(later)
        assert now.keys() == before.keys()
        (there,) = [m for m in divisions(later) if m.name == mark.name]
        assert there.at == pytest.approx(put, abs=0.11), mark.name
        assert there.standing == "pinned"
        up = mark.name.endswith("top")
        ref, _, number = mark.of.rpartition(".")
        beyond = f"{ref}.{int(number) + 1}"
        for bay, box in now.items():
            was = before[bay]
            if bay == mark.of:
                was = replace(was, height=was.height + by) if up else replace(was, width=was.width + by)
            if bay == beyond:
                was = (
                    replace(was, z=was.z + by, height=was.height - by)
                    if up
                    else replace(was, x=was.x + by, width=was.width - by)
                )
            assert (box.x, box.z, box.width, box.height) == pytest.approx(
                (was.x, was.z, was.width, was.height), abs=0.3
            ), (mark.name, bay)
        # dragged again, from what is decided by now, and back
        for bay, box in boxes(after(later, mark.name, mark.at)).items():
            assert (box.x, box.z) == pytest.approx((before[bay].x, before[bay].z), abs=0.3), (mark.name, bay)
        seen += 1
    assert seen >= 2


def test_it_is_told_with_its_bay_and_may_be_typed_in_feet() -> None:
    wall = derive(read_job(demo_jobs()["living"]))
    bays = [thing for thing in things(wall).wall if thing.kind == "bay"]
    mark = next(bay.end for bay in bays if bay.end is not None)
    last = max((bay for bay in bays if bay.ref.startswith("C1.")), key=lambda bay: bay.box.x)
    assert last.end is None
    later = after(wall, mark.name, f"{mark.at + 30:g} mm")
    assert next(m.at for m in divisions(later) if m.name == mark.name) == pytest.approx(
        mark.at + 30, abs=0.11
    )
    released = apply(
        later.job, "release", {"field": mark.release[0] if mark.release else "design.units.C1.bays"}
    )
    assert next(unit for unit in released.design.units if unit.ref == "C1").bays == ()
    box = next(bay.box for bay in bays if bay.end is mark)
    with pytest.raises(JobError, match="leaves a bay of 10 mm"):
        after(wall, mark.name, box.x + 10)
    with pytest.raises(JobError, match="no such mark"):
        after(wall, "C1.99.right", 500)
