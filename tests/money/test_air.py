"""Grilles, slots and fans in the bill: each opening once, a fan that is asked for, nothing on a wall without warm boxes."""

from __future__ import annotations

import pytest

from wallwright.cooling.record import VentOpening
from wallwright.derive import Wall, derive
from wallwright.job.demos import demo_jobs
from wallwright.job.edits import apply
from wallwright.job.read import read_job
from wallwright.money.air import GRILLED, air
from wallwright.services.record import PlacedDevice


def opening(part: str, face: str) -> VentOpening:
    return VentOpening("C1.1", part, face, 100, 300, 400, 30, "")


def device(ref: str, kind: str) -> PlacedDevice:
    return PlacedDevice(ref, kind, ref, "cabinet", "C1", 6, 0, "wired", 120, 40, 120)


def test_what_is_seen_has_a_grille_and_the_rest_is_a_slot() -> None:
    cut = [
        opening("C1-F1", "front"),
        opening("C1-P", "plinth"),
        opening("C1-B", "bottom"),
        opening("C1-K", "back"),
    ]
    got = {
        item.key: item
        for item in air(
            cut, [device("f1", "cabinet_fan"), device("stb", "set_top_box"), device("f2", "cabinet_fan")]
        )
    }
    assert {key: item.quantity for key, item in got.items()} == {
        "vent_grille": 2,
        "vent_slot": 2,
        "cabinet_fan": 2,
    }
    assert got["vent_slot"].of == ("C1-B", "C1-K") and "400×30" in got["vent_slot"].how
    assert got["cabinet_fan"].of == ("f1", "f2") and got["cabinet_fan"].trade == "electrical"
    assert not list(air([], [device("stb", "set_top_box")]))


@pytest.fixture(scope="module")
def warm() -> Wall:
    job = read_job(demo_jobs()["living"])
    bays = [{"front": "drawers"}, {"front": "flap"}, {"front": "drawers"}]
    job = apply(job, "set_unit_bays", {"ref": "C1", "bays": bays})
    return derive(apply(job, "add_device", {"ref": "fan", "kind": "cabinet_fan"}))


def test_every_opening_of_the_wall_is_priced_once(warm: Wall) -> None:
    lines = {line.ref: line for line in warm.money.lines}
    seen = [vent for vent in warm.cooling.openings if vent.face in GRILLED]
    assert warm.cooling.openings
    there = sum(lines[key].quantity for key in ("vent_grille", "vent_slot") if key in lines)
    assert there == len(warm.cooling.openings)
    assert ("vent_grille" in lines) == bool(seen)
    assert lines["cabinet_fan"].quantity == 1
    for key in ("vent_grille", "vent_slot", "cabinet_fan"):
        if key in lines:
            assert lines[key].rate > 0 and lines[key].invented


def test_a_wall_without_warm_boxes_has_none() -> None:
    wall = derive(read_job(demo_jobs()["bedroom"]))
    assert not wall.cooling.openings or any(line.ref.startswith("vent_") for line in wall.money.lines)
    assert not any(line.ref == "cabinet_fan" for line in wall.money.lines)
