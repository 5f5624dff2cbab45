"""Openings: where they go, that they are on their board, and that they carry the heat they were cut for."""

from __future__ import annotations

from dataclasses import replace

import pytest

from wallwright.carcass.record import BayBox, Part, UnitBox
from wallwright.cooling import heat
from wallwright.cooling.plan import plan
from wallwright.cooling.record import BayHeat
from wallwright.cooling.vents import passes
from wallwright.core.shape import Block, Box
from wallwright.core.units import Length
from wallwright.derive import Wall, derive
from wallwright.job.demos import demo_jobs
from wallwright.job.design import Bay, Design, Unit
from wallwright.job.document import Job
from wallwright.job.edits import apply
from wallwright.job.read import read_job
from wallwright.job.survey import Place, Reading, Room, Survey, SurveyedWall
from wallwright.library import load
from wallwright.services.record import PlacedDevice

LIMITS = load.limits()
BAY = BayBox("C1.1", "C1", Box(1018, 268, 564, 264), 360, "flap", 0, 0, ir_open=False)
UNIT = UnitBox(
    "C1", "console", "centre", Box(1000, 250, 600, 300), 400, True, True, "ply18", "laminate_oak", frozenset()
)


def part(tag: str, role: str, block: Block) -> Part:
    return Part(f"C1{tag}", "C1", role, role, "ply18", "", 1, 1, 18, 1, 1, "none", ("", "", "", ""), 1, block)  # type: ignore[arg-type]


PARTS = (
    part("-B", "bottom", Block(1000, -380, 250, 600, 380, 18)),
    part("-T", "top", Block(1000, -380, 532, 600, 380, 18)),
    part("-K", "back", Block(1010, -20, 260, 580, 9, 280)),
    part(".1-F1", "front", Block(1002, -400, 252, 596, 18, 296)),
)


def job(vents: bool | None = None) -> Job:
    wall = SurveyedWall((Reading(Length(0.0), Length(4000.0)),), (Reading(Length(0.0), Length(2700.0)),))
    unit = Unit("C1", "console", bays=(Bay("flap", vents=vents),))
    return Job("Sample, invented", Survey(Room(), wall, Place()), design=Design(units=(unit,)))


def device(watts: float, kind: str = "av_receiver") -> PlacedDevice:
    return PlacedDevice("a", kind, "a", "cabinet", "C1", watts, 1, "radio", 300, 250, 100)


def found(watts: float, bay: BayBox = BAY, unit: UnitBox = UNIT, vents: bool | None = None) -> BayHeat:
    made = plan(job(vents), (bay,), (device(watts),), LIMITS, units=(unit,), parts=PARTS, ceiling=2700)
    return made.bays[0]


def test_a_warm_shut_bay_gets_openings_and_a_cool_one_none() -> None:
    cool, warm, refused = found(10), found(50), found(50, vents=False)
    assert cool.openings == () and cool.rise <= 10
    assert refused.openings == () and refused.rise > 10
    assert warm.rise <= 10 + 1e-6 and warm.opening >= warm.opening_needed
    assert found(50, replace(BAY, front="open")).openings == ()
    assert found(50, replace(BAY, front="drawers", drawers=1)).openings == ()


def test_openings_are_cut_for_what_the_box_bears() -> None:
    """In a room of 30 °C a games console bears 35 (five more), a receiver 40: 30 W ask for openings for the one, none as large
    for the other.
    """
    made = {
        kind: plan(job(), (BAY,), (device(30, kind),), LIMITS, units=(UNIT,), parts=PARTS, ceiling=2700).bays[
            0
        ]
        for kind in ("games_console", "av_receiver")
    }
    console, receiver = made["games_console"], made["av_receiver"]
    assert 5.0 < receiver.rise <= 10.0
    assert console.openings and console.rise <= 5.0 + 1e-6
    assert sum(vent.free for vent in console.openings) > sum(vent.free for vent in receiver.openings)


def test_a_hung_console_takes_air_from_below_and_lets_it_out_above() -> None:
    low, high = found(50).openings
    assert (low.part, low.face, low.low) == ("C1-B", "bottom", True)
    assert (high.part, high.face, high.low) == ("C1-T", "top", False)
    # a slot in the bottom ends 25 mm behind the front edge (380 out); one in the top begins 25 mm before the back (380 - 360)
    assert low.z + low.height == pytest.approx(380 - 25)
    assert high.z == pytest.approx(380 - 360 + 25)
    for vent in (low, high):
        assert vent.x >= BAY.box.x + 40 - 1e-9 and vent.x + vent.width <= BAY.box.right - 40 + 1e-9
        assert vent.free == pytest.approx(0.6 * vent.width * vent.height / 100)  # cm², free share 0.6


def test_what_they_pass_and_how_far_apart_they_are_gives_the_rise() -> None:
    bay = found(50)
    low, high = (passes(bay.openings, low=side) for side in (True, False))
    gap = 0.564 * 0.003
    area = heat.equal_area(gap + low, gap + 0.0028 + high)
    loss = heat.box_loss(0.564, 0.360, 0.264, 0.018, 0.16)
    between = ((532 + 9) - (250 + 9)) / 1000  # between the middles of top and bottom board
    assert bay.rise == pytest.approx(heat.rise(50, loss, area, between, 30))


def test_on_the_floor_or_under_the_ceiling_the_front_is_pierced() -> None:
    low, high = found(50, unit=replace(UNIT, box=Box(1000, 40, 600, 300))).openings
    assert (low.face, high.face) == ("front", "top")
    made = plan(job(), (BAY,), (device(50),), LIMITS, units=(UNIT,), parts=PARTS, ceiling=560)
    low, high = made.bays[0].openings
    assert (low.face, high.face) == ("bottom", "front")
    face = Block(1002, -400, 252, 596, 18, 296).face
    assert face.holds(Box(high.x, high.z, high.width, high.height)) and high.z > BAY.box.centre[1]


def test_more_heat_than_openings_can_carry_asks_for_a_fan() -> None:
    hot = found(400)
    assert hot.openings and hot.rise > 10
    loss = heat.box_loss(0.564, 0.360, 0.264, 0.018, 0.16)
    assert hot.fan_m3h == pytest.approx(heat.fan_needed(400, loss, 10))  # 40 °C borne, 30 in the room


def living(*edits: tuple[str, dict[str, object]]) -> Wall:
    made = read_job(demo_jobs()["living"])
    for name, values in edits:
        made = apply(made, name, values)
    return derive(made)


def test_on_the_demo_wall_each_opening_lies_on_its_board() -> None:
    wall = living(
        (
            "set_unit_bays",
            {"ref": "C1", "bays": [{"front": "drawers"}, {"front": "flap"}, {"front": "drawers"}]},
        )
    )
    assert wall.cooling.openings
    parts = {item.id: item for item in wall.carcass.parts}
    for vent in wall.cooling.openings:
        block = parts[vent.part].block
        there = Box(block.x, -(block.y + block.dy), block.dx, block.dy) if vent.level else block.face
        assert there.grown(0.01).holds(Box(vent.x, vent.z, vent.width, vent.height)), vent


def test_drivers_warm_the_bay_they_stand_in() -> None:
    wall = living()
    lost = {
        run.ref: run.watts * (1 / 0.88 - 1) for run in wall.light.runs
    }  # what a driver of 88 % does not hand on
    feeds = {ref: p for p in wall.services.points if p.kind == "led_feed" for ref in p.serves}
    bays = {bay.ref: bay.box for bay in wall.carcass.bays}
    expected: dict[str, float] = {}
    for ref, watts in lost.items():
        for name, box in bays.items():
            if box.x <= feeds[ref].x <= box.right and box.z <= feeds[ref].z <= box.top:
                expected[name] = expected.get(name, 0.0) + watts
    assert expected
    assert {bay.bay: bay.drivers for bay in wall.cooling.bays if bay.drivers} == pytest.approx(expected)


def test_on_a_plinth_air_passes_the_plinth_and_the_bottom() -> None:
    wall = living()
    tower = [vent for vent in wall.cooling.openings if vent.bay == "T1.1"]
    assert [vent.face for vent in tower] == ["plinth", "bottom", "back"]
    assert passes(tower, low=True) == pytest.approx(min(v.free for v in tower if v.low) / 1e4)
    shelf = next(part for part in wall.carcass.parts if part.id == "T1.1-S1")
    assert tower[-1].z + tower[-1].height < shelf.block.z  # the slot lies under the loose shelf
