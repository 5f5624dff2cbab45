"""Cures of where things stand and of what they are built round: worked on the living-room demo and on bare walls."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

import pytest

from wallwright.core.finding import Finding
from wallwright.derive import Wall, derive
from wallwright.job.demos import demo_jobs
from wallwright.job.document import Job
from wallwright.job.edits import apply
from wallwright.job.read import job_from, read_job
from wallwright.rules import RULES


def living(*steps: tuple[str, dict[str, Any]]) -> Wall:
    job = read_job(demo_jobs()["living"])
    for name, values in steps:
        job = apply(job, name, values)
    return derive(job)


def bare(
    units: list[dict[str, Any]],
    panels: Sequence[dict[str, Any]] = (),
    width: float = 4200,
    height: float = 2700,
) -> Wall:
    return derive(
        job_from(
            {
                "wallwright-job": 1, "title": "bare", "brief": {},
                "survey": {
                    "date": "2026-02-16", "room": {"name": "r", "kind": "living", "depth": 4100}, "place": {"rules": "UK"},
                    "wall": {"widths": [{"at": 1000, "value": width}], "heights": [{"at": 100, "value": height}],
                             "substrate": "brick"},
                    "seats": [{"ref": "A", "kind": "sofa", "x": width / 2, "distance": 3200}], "obstacles": [],
                },
                "design": {"screen": {"diagonal": 55}, "mount": {"kind": "tilt"}, "units": units, "panels": list(panels)},
            }
        )
    )  # fmt: skip


def told(rule: str, wall: Wall) -> list[Finding]:
    return list(RULES[rule].find(wall))


def cured(job: Job, *items: Finding) -> Wall:
    for item in items:
        for call in item.edits:
            job = apply(job, call.edit, dict(call.values))
    return derive(job)


def test_depth_before_a_column_is_that_of_the_inside() -> None:
    """The clear depth of the bay, not the unit's depth less the column: back, fronts and the clearance take their share."""
    wall = living(
        ("add_obstacle", {"ref": "CO", "kind": "column", "x": 0, "z": 0, "width": 520, "height": 2750, "projection": 220}),
        ("move_unit", {"ref": "T1", "x": 25}), ("resize_unit", {"ref": "T1", "width": 450}),
    )  # fmt: skip
    (item,) = told("carcass.column_depth", wall)
    shallow = min(bay.depth for bay in wall.carcass.bays if bay.unit == "T1")
    assert item.measured == round(shallow) < wall.setout.unit("T1").depth - 220
    after = cured(wall.job, item)
    assert not told("carcass.column_depth", after)
    deep = min(bay.depth for bay in after.carcass.bays if bay.unit == "T1")
    assert deep == pytest.approx(wall.limits.value("carcass.column_depth"), abs=1)


def test_a_tower_deeper_than_the_room_is_high_is_told_for_its_depth() -> None:
    for given in ({}, {"height": 2690}):
        wall = bare([{"ref": "T1", "kind": "tower", "side": "left", "depth": 2400, **given}])
        (item,) = told("carcass.tilt_up", wall)
        assert item.severity == "fix" and "2400 mm is too deep" in item.cure
        assert "depth" in dict(item.edits[0].values)
        assert not told("carcass.tilt_up", cured(wall.job, item))
    for depth in (680, 720):  # a height that was asked for is at fault where a little less goes up
        wall = bare(
            [{"ref": "T1", "kind": "tower", "side": "left", "depth": depth, "height": 2425}], height=2440
        )
        (item,) = told("carcass.tilt_up", wall)
        assert set(dict(item.edits[0].values)) == {"ref", "height"}
        assert not told("carcass.tilt_up", cured(wall.job, item))


def test_two_panels_in_one_place_are_told_and_parted() -> None:
    over = [{"ref": "W1", "kind": "tile", "x": 500, "z": 0, "width": 2500, "height": 2400},
            {"ref": "W2", "kind": "flat", "x": 1500, "z": 0, "width": 2000, "height": 2400}]  # fmt: skip
    wall = bare([{"ref": "C1", "kind": "console"}], over, width=6200)
    (item,) = told("carcass.panels_meet", wall)
    assert item.where == "W2" and "1500 × 2400 mm" in item.says and item.severity == "fix"
    after = cured(wall.job, item)
    assert not told("carcass.panels_meet", after) and len(after.setout.zones) == 2
    aside = [over[0], over[1] | {"x": 3000}]
    assert not told("carcass.panels_meet", bare([{"ref": "C1", "kind": "console"}], aside, width=6200))


def test_a_unit_without_a_place_is_said_to_have_none() -> None:
    desks = [{"ref": f"D{k}", "kind": "desk"} for k in range(1, 4)]
    wall = bare(desks, width=2600)
    found = told("carcass.units_meet", wall)
    assert found and all("no place is free" in item.cure for item in found)
    assert not told("carcass.units_meet", cured(wall.job, *{item.where: item for item in found}.values()))
    wide = bare(desks, width=7000)
    assert not told("carcass.units_meet", wide)


def test_a_unit_far_beyond_the_wall_comes_back_onto_it() -> None:
    for place in (
        {"x": 9000, "width": 1600},
        {"x": -700, "width": 1600},
        {"z": 2500, "height": 400},
        {"x": 0, "width": 6000},
    ):
        wall = bare([{"ref": "C1", "kind": "console", **place}])
        (item,) = told("carcass.outside_wall", wall)
        after = cured(wall.job, item)
        assert after.face.box.grown(0.5).holds(after.setout.unit("C1").box), (place, item.cure)


def test_what_no_sheet_gives_is_shortened_along_the_axis_it_runs() -> None:
    """A tower 2300 high and 1400 wide: its back and a flap 1532 high are too wide for 1220, and its height is not at fault."""
    bays = [{"front": "flap", "width": 1500}, {"front": "open"}]
    wall = bare(
        [{"ref": "T1", "kind": "tower", "width": 1400, "x": 100, "height": 2300, "bays": bays}], width=6200
    )
    found = told("carcass.board_size", wall)
    assert {item.where for item in found} == {"T1.1-F1", "T1-K"}
    for item in found:
        assert set(dict(item.edits[0].values)) == {"ref", "width"}
        assert not told("carcass.board_size", cured(wall.job, item))


def test_a_joint_beside_an_edge_is_brought_onto_it_or_clear_of_it() -> None:
    panel = {"ref": "W1", "kind": "tile", "x": 0, "z": 0, "width": 3105, "height": 2400}
    wall = bare([{"ref": "C1", "kind": "console"}], [panel])
    (item,) = told("carcass.joint_near_edge", wall)
    after = cured(wall.job, item)
    assert not told("carcass.joint_near_edge", after)
    (zone,) = after.setout.zones
    assert abs(zone.box.x) < 100 and abs(zone.box.width - 3105) < 100  # a small move, not another panel
    assert zone.box.height == 2400  # what is not at fault stays as it was pinned
