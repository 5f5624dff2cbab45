"""Heaters: in an opening of their own, clear all round, never in a compartment."""

from __future__ import annotations

from functools import cache

from wallwright.core.drawing import Line, Text
from wallwright.core.finding import Finding
from wallwright.core.shape import Box
from wallwright.derive import Wall, derive
from wallwright.job.demos import demo_jobs
from wallwright.job.document import Job
from wallwright.job.edits import apply
from wallwright.job.read import read_job
from wallwright.rules import check
from wallwright.sheets import elevation


@cache
def living() -> Job:
    return read_job(demo_jobs()["living"])


def made(*steps: tuple[str, dict[str, object]]) -> Wall:
    job = living()
    for name, values in (("add_device", {"ref": "fire", "kind": "electric_fire"}), *steps):
        job = apply(job, name, values)
    return derive(job)


def told(wall: Wall, rule: str) -> list[Finding]:
    return [item for item in check(wall) if item.rule == rule and item.where == "fire"]


def test_a_fire_is_let_into_the_wall_and_warms_no_bay() -> None:
    wall = made()
    (fire,) = [device for device in wall.services.devices if device.ref == "fire"]
    assert fire.place == "wall" and fire.unit == ""
    assert all("fire" not in bay.devices for bay in wall.cooling.bays)
    opening, screen = fire.opening, wall.sight.screen.frame
    assert opening is not None and abs(opening.centre[0] - screen.centre[0]) < 0.1
    console = wall.setout.unit("C1").box
    assert opening.z == console.top + 50  # the house rule under an opening
    assert (opening.width, opening.height) == (1000, 450)
    (spur,) = [point for point in wall.services.points if "fire" in point.serves]
    assert spur.kind == "switched_spur" and fire.clear is not None and not spur.box.meets(fire.clear)


def test_the_screen_over_it_is_in_danger_and_the_cure_is_another_place_not_an_open_front() -> None:
    wall = made()
    (item,) = told(wall, "heaters.clear")
    assert item.severity == "danger" and "screen" in item.says and item.limit == 300
    assert "open" not in item.cure.replace("opening", "") and "fan" not in item.cure
    assert not [
        one
        for one in check(wall)
        if one.rule == "services.hot_bay" and "open" in one.cure and "2000 W" in one.says
    ]


def test_the_makers_own_clearance_goes_before_the_house_rule() -> None:
    bare = ("remove_unit", {"ref": "C1"})
    low = made(bare, ("set_device", {"ref": "fire", "z": 100, "height": 300, "clear_above": 200}))
    (fire,) = [device for device in low.services.devices if device.ref == "fire"]
    assert fire.opening is not None
    assert fire.clear == Box(fire.opening.x - 150, 50, 1300, 550)  # 50 below, 300 high, 200 above
    assert not told(low, "heaters.clear")
    (item,) = told(low, "heaters.under_screen")
    assert item.severity == "consider" and item.limit == 40 and "thermometer" in item.cure
    gap = low.sight.screen.frame.z - fire.opening.top
    near = made(
        bare, ("set_device", {"ref": "fire", "z": 100, "height": 300, "clear_above": round(gap) + 60})
    )
    (danger,) = told(near, "heaters.clear")
    assert danger.measured == round(gap) and danger.limit == round(gap) + 60


def test_a_fire_put_into_a_compartment_is_a_danger_whatever_the_front() -> None:
    for front in ("open", "flap"):
        bays = [{"front": front}]
        wall = made(
            ("set_device", {"ref": "fire", "place": "cabinet"}),
            ("set_unit_bays", {"ref": "C1", "bays": bays}),
        )
        (item,) = told(wall, "heaters.shut_in")
        assert item.severity == "danger" and "opening of its own" in item.cure
        (bay,) = [bay for bay in wall.cooling.bays if "fire" in bay.devices]
        assert not [
            one
            for one in check(wall)
            if one.where == bay.bay and one.rule in ("services.hot_bay", "cooling.device_air")
        ]
        assert not told(
            derive(apply(wall.job, item.edits[0].edit, dict(item.edits[0].values))), "heaters.shut_in"
        )


def test_its_opening_is_drawn_with_its_figures() -> None:
    wall = made(("remove_unit", {"ref": "C1"}))
    marks = elevation.drawing(wall, 20.0).marks
    (text,) = [mark for mark in marks if isinstance(mark, Text) and mark.ref == "fire"]
    assert "1000 × 450" in text.text and "50 above FFL" in text.text
    outlines = [mark for mark in marks if isinstance(mark, Line) and mark.ref == "fire"]
    assert {mark.pen for mark in outlines} >= {"medium", "dashed"}
