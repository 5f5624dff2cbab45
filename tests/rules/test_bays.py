"""A cure of one bay leaves the unit's other bays where they are, whether they were decided or are automatic."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

import pytest

from wallwright.core.finding import EditCall
from wallwright.core.shape import Box
from wallwright.derive import Wall, derive
from wallwright.job.demos import demo_jobs
from wallwright.job.edits import apply
from wallwright.job.read import read_job
from wallwright.rules.bays import bare_edit, front_edit, hinge_edit, split_edit, vents_edit

EVERY_UNIT = Path(__file__).parents[1] / "sheets" / "made" / "every_unit.toml"


@pytest.fixture(scope="module")
def automatic() -> list[tuple[Wall, str]]:
    """Walls of which no bay was decided, and their units."""
    out: list[tuple[Wall, str]] = []
    for text in (*demo_jobs().values(), EVERY_UNIT.read_text("utf-8")):
        job = read_job(text)
        for unit in job.design.units:
            job = apply(job, "set_unit_bays", {"ref": unit.ref, "bays": []}) if unit.bays else job
        wall = derive(job)
        out += [(wall, unit.ref) for unit in job.design.units]
    return out


def boxes(wall: Wall, ref: str) -> list[Box]:
    return [bay.box for bay in wall.carcass.bays if bay.unit == ref]


def after(wall: Wall, call: EditCall) -> Wall:
    return derive(apply(wall.job, call.edit, dict(call.values)))


def is_at(box: Box, was: Box) -> bool:
    pairs = ((box.x, was.x), (box.z, was.z), (box.width, was.width), (box.height, was.height))
    return all(now == pytest.approx(then, abs=0.3) for now, then in pairs)


@pytest.mark.parametrize(
    "edit",
    [
        lambda wall, bay: front_edit(wall, bay, "open"),
        bare_edit,
        lambda wall, bay: hinge_edit(wall, bay, "left"),
        lambda wall, bay: vents_edit(wall, bay, True),
    ],
    ids=["front", "bare", "hinge", "vents"],
)
def test_automatic_bays_stay_where_they_are(
    edit: Callable[[Wall, str], EditCall], automatic: list[tuple[Wall, str]]
) -> None:
    uneven = 0
    for wall, ref in automatic:
        was = boxes(wall, ref)
        if not was:
            continue
        now = boxes(after(wall, edit(wall, f"{ref}.1")), ref)
        assert len(now) == len(was)
        assert all(map(is_at, now, was)), (ref, now, was)
        uneven += len({(round(box.width), round(box.height)) for box in was}) > 1
    assert uneven >= 3  # towers with a shutter below, consoles with a wider bay for the boxes


@pytest.mark.parametrize("number", [1, 2, 3])
def test_an_upright_divides_one_bay_and_the_others_keep_their_size(number: int) -> None:
    bays = [{"front": "flap", "width": 700}, {"front": "open"}, {"front": "flap"}]
    wall = derive(apply(read_job(demo_jobs()["living"]), "set_unit_bays", {"ref": "C1", "bays": bays}))
    was, at = boxes(wall, "C1"), number - 1
    call = split_edit(wall, f"C1.{number}", was[at].width, was[at].width * 0.6)
    assert call is not None
    now = boxes(after(wall, call), "C1")
    assert len(now) == 4
    assert all(map(is_at, [*now[:at], *now[number + 1 :]], [*was[:at], *was[number:]]))
    assert now[at].width == pytest.approx(now[number].width, abs=0.3)
