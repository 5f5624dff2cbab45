"""The mount: confidence in the hole group, plate heights, plugs behind a tilted screen, and what arms and plate cover."""

from __future__ import annotations

from dataclasses import replace

import pytest

from wallwright.core.shape import Box
from wallwright.core.units import Length
from wallwright.job.design import Patch, Port, Screen, SecondSource
from wallwright.sight.mount import (
    arms,
    behind,
    confidence,
    covered,
    hand_room,
    hanging,
    on_wall,
    stand_off_needed,
)

L = Length
DRAWN = Screen(
    frame_width=L(1450), frame_height=L(830), hole_width=L(400), hole_height=L(300), hole_offset=L(0), source="maker_drawing"
)  # fmt: skip
SHOP = replace(DRAWN, source="shop_page")


def second(source: str = "shop_page", holes: float = 400, offset: float = 0.0) -> SecondSource:
    return SecondSource(source, L(1450), L(830), L(holes), L(300), L(offset))  # type: ignore[arg-type]


def test_who_may_drill() -> None:
    """Two sources that agree within 3 mm, the maker's drawing, or a measured screen; never one shop page (common practice)."""
    assert confidence(DRAWN, 3).holes
    assert confidence(replace(SHOP, source="measured"), 3).holes
    assert not confidence(SHOP, 3).holes
    assert confidence(replace(SHOP, second=second(offset=3)), 3).holes
    assert not confidence(replace(SHOP, second=second(offset=3.5)), 3).holes
    assert not confidence(
        replace(DRAWN, second=second(offset=-25)), 3
    ).holes  # a drawing of another model, it seems
    assert confidence(
        replace(DRAWN, source="measured", second=second(offset=-25)), 3
    ).holes  # what is there counts
    assert not confidence(replace(DRAWN, hole_width=None), 3).holes  # the drawing's holes were not entered
    assert not confidence(replace(SHOP, source="typical", second=second()), 3).holes
    assert not confidence(replace(SHOP, second=SecondSource("measured", frame_width=L(1450))), 3).holes
    assert confidence(replace(SHOP, second=second(offset=25)), 3).differ == 25
    assert "differ by 25 mm" in confidence(replace(SHOP, second=second(offset=25)), 3).says


@pytest.mark.parametrize("source", ["maker_drawing", "measured"])
def test_nobody_drills_by_an_offset_that_was_not_entered(source: str) -> None:
    """The bracket's height is the screen's middle and the offset: without it, width and height of the holes say nothing of it."""
    wide = replace(DRAWN, source=source, hole_offset=None)  # type: ignore[arg-type]
    loose = hanging(wide, (2100, 1080), 0.0, None, 3)
    assert not loose.verified and not loose.confidence.holes and loose.confidence.frame
    assert loose.drill.startswith("DO NOT DRILL") and "the offset is not entered" in loose.drill
    assert not confidence(
        replace(wide, source="shop_page", second=second()), 3
    ).holes  # nor by one source alone
    unsaid = Screen(hole_width=L(400), hole_height=L(300), source=source)  # type: ignore[arg-type]
    assert not confidence(unsaid, 3).holes  # as it is read where nobody wrote the offset
    assert hanging(replace(wide, hole_offset=L(0)), (2100, 1080), 0.0, None, 3).verified  # 0 is an offset too


def test_plate_and_holes() -> None:
    """Screen's middle 1080, holes 60 below it, hanging 35 below the plate's middle: holes at 1020, plate at 1055 (by hand)."""
    sure = hanging(DRAWN, (2100, 1080), -60, 35, 3)
    assert (sure.holes, sure.plate_z, sure.drill, sure.verified) == ((2100, 1020), 1055, "", True)
    loose = hanging(SHOP, (2100, 1080), -60, None, 3)
    assert loose.drill.startswith("DO NOT DRILL") and "single shop page" in loose.drill
    assert (loose.plate_z, loose.hook_given) == (1020, False)


def port(z: float, faces: str = "wall") -> Port:
    return Port("P", L(100), L(z), L(40), L(100), faces)  # type: ignore[arg-type]


def test_plugs_behind_a_tilted_screen() -> None:
    """60 off the wall, tilted 10°: a port 300 below the axis is 300 sin 10° = 52.1 nearer, 7.9 left (by hand)."""
    (low,) = behind([port(-300)], 60, 10, 0, 60, 25)
    assert low.out == pytest.approx(7.906, abs=0.001) and low.needs == 60
    (high,) = behind([port(200, "down")], 60, 10, 0, 60, 25)
    assert high.out == pytest.approx(94.73, abs=0.01) and high.needs == 25
    assert stand_off_needed([low, high], 60) == pytest.approx(112.09, abs=0.01)
    (again,) = behind([port(-300)], 112.0945, 10, 0, 60, 25)
    assert again.out == pytest.approx(60, abs=0.001)
    assert stand_off_needed([], 60) == 60


def test_what_arms_and_plate_cover() -> None:
    """Arms 40 wide on holes 400 apart: x −220..−180 and 180..220 of the middle; a port at 190..230 lies 30 × 100 under one."""
    holes, plate = Box(1900, 930, 400, 300), Box(1860, 960, 480, 240)
    bars = arms(holes, 40, 30)
    assert bars[1] == Box(2280, 900, 40, 360)
    under = Port("H", L(190), L(-50), L(40), L(100), "side")
    (hit,) = covered([under], [], (2100, 1080), plate, bars)
    assert (hit.by, hit.area, hit.share) == ("arm", 30 * 100, 0.75)
    assert on_wall(under, (2100, 1080)) == Box(2290, 1030, 40, 100)
    beside = replace(under, x=L(300))
    assert covered([beside], [], (2100, 1080), plate, bars) == ()
    middle = Port("M", L(-40), L(-50), L(80), L(60), "side")
    assert covered([middle], [], (2100, 1080), plate, bars) == ()  # before the plate, its plugs go sideways
    (struck,) = covered([replace(middle, faces="wall")], [], (2100, 1080), plate, bars)
    assert (struck.by, struck.area) == ("plate", 80 * 60)
    vent = Patch("V", L(-300), L(100), L(600), L(40))
    by = {hit.by: hit.area for hit in covered([], [vent], (2100, 1080), plate, bars)}
    assert by == {"arm": 2 * 40 * 40, "plate": 480 * 20}  # plate top 1200, vent 1180 .. 1220


def test_hands() -> None:
    frame = Box(1000, 800, 1450, 830)
    sides = [
        ("T1", Box(0, 0, 960, 2400)),
        ("shelf above", Box(900, 1700, 1000, 300)),
        ("T2", Box(2600, 0, 500, 2400)),
    ]
    assert hand_room(frame, sides, 3200) == (("T1", 40), ("T2", 150))
    assert hand_room(frame, [], 3200) == (("the wall's end", 1000), ("the wall's end", 750))
