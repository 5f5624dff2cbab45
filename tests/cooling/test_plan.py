from __future__ import annotations

from dataclasses import replace

import pytest

from wallwright.carcass.record import BayBox
from wallwright.cooling import heat
from wallwright.cooling.plan import openings, plan
from wallwright.cooling.stand import compartments, stand
from wallwright.core.shape import Box
from wallwright.core.units import Length
from wallwright.job.document import Job
from wallwright.job.survey import Place, Reading, Room, Survey, SurveyedWall
from wallwright.library import load
from wallwright.services.record import PlacedDevice

LIMITS = load.limits()


def job(hot: bool = False) -> Job:
    wall = SurveyedWall((Reading(Length(0.0), Length(4000.0)),), (Reading(Length(0.0), Length(2700.0)),))
    return Job("Sample, invented", Survey(Room(), wall, Place(hot_humid=hot)))


def bay(
    ref: str,
    front: str,
    width: float = 700,
    height: float = 300,
    depth: float = 400,
    unit: str = "C1",
    **more: int,
) -> BayBox:
    box = Box(900, 268, width, height)
    ir = front in ("open", "glass", "cloth")
    return BayBox(ref, unit, box, depth, front, more.get("drawers", 1), more.get("shelves", 0), ir)


def device(
    ref: str,
    watts: float,
    kind: str = "games_console",
    control: str = "radio",
    place: str = "cabinet",
    **size: float,
) -> PlacedDevice:
    return PlacedDevice(
        ref, kind, ref, place, "C1", watts, 1, control, size.get("width", 300), size.get("depth", 250), size.get("height", 100)
    )  # fmt: skip


def held(bays: tuple[BayBox, ...], devices: tuple[PlacedDevice, ...]) -> dict[str, set[str]]:
    return {b.ref: {d.ref for d in inside} for b, inside in stand(bays, devices, LIMITS)}


def test_devices_keep_out_of_drawers_and_spread_their_heat() -> None:
    bays = (bay("C1.1", "drawers"), bay("C1.2", "open"), bay("C1.3", "shutter"))
    found = held(bays, (device("a", 200), device("b", 150), device("c", 20)))
    assert found == {"C1.2": {"a"}, "C1.3": {"b", "c"}}


def test_a_drawer_is_the_last_resort() -> None:
    assert held((bay("C1.1", "drawers"),), (device("a", 20),)) == {"C1.1": {"a"}}


def test_a_remote_must_reach_its_device() -> None:
    bays = (bay("C1.1", "flap"), bay("C1.2", "cloth"))
    found = held(bays, (device("hot", 200), device("box", 20, control="ir")))
    assert "box" in found["C1.2"]


def test_a_device_goes_where_it_fits() -> None:
    bays = (bay("C1.1", "open", height=150), bay("C1.2", "open", height=300))
    assert held(bays, (device("tall", 50, height=170),)) == {"C1.2": {"tall"}}
    bays = (bay("C1.1", "open", depth=300), bay("C1.2", "open", depth=450))
    assert held(bays, (device("deep", 50, depth=380),)) == {"C1.2": {"deep"}}
    bays = (bay("C1.1", "open", shelves=1), bay("C1.2", "flap"))
    assert held(bays, (device("tall", 50, height=170),)) == {
        "C1.2": {"tall"}
    }  # 300 / 2 is too low for 170 + 50


def test_what_stands_free_heats_no_bay() -> None:
    bays = (bay("C1.1", "open"),)
    assert held(bays, (device("bar", 40, place="on_console"), device("stick", 5, place="screen"))) == {}
    other = PlacedDevice("x", "router", "x", "tower", "T9", 10, 1, "wired", 200, 100, 50)
    assert held(bays, (other,)) == {}


def test_openings_by_front() -> None:
    low, high, height = openings(bay("b", "open"), LIMITS)
    assert low == high == pytest.approx(0.7 * 0.3 / 2) and height == pytest.approx(0.15)
    assert openings(bay("b", "cloth"), LIMITS)[0] == pytest.approx(0.4 * 0.105)
    low, high, height = openings(bay("b", "flap"), LIMITS)
    assert low == pytest.approx(0.7 * 0.003)  # 3 mm × 700 = 21 cm²
    assert high == pytest.approx(0.0021 + 0.0028) and height == pytest.approx(0.3)


def test_a_bay_is_reckoned_by_the_formulas() -> None:
    shut = bay("C1.1", "flap")
    (found,) = plan(job(), (shut,), (device("a", 60),), LIMITS).bays
    loss = heat.box_loss(0.7, 0.4, 0.3, 0.018, 0.16)
    area = heat.equal_area(0.0021, 0.0049)
    assert found.watts == 60 and found.devices == ("a",)
    assert found.rise_closed == pytest.approx(60 / loss)
    assert found.opening == pytest.approx(area * 1e4)
    assert found.rise == pytest.approx(heat.rise(60, loss, area, 0.3, 30))
    assert found.opening_needed == pytest.approx(heat.area_needed(60, loss, 0.3, 5, 30) * 1e4)
    assert found.opening_needed > found.opening and found.fan_m3h == pytest.approx(
        heat.fan_needed(
            60, loss, 5
        )  # a games console bears 35 °C, the room has 30: openings or a fan for 10 K would cook it
    )
    assert found.rise > 10


def test_every_fan_goes_where_the_most_heat_is_left_for_one() -> None:
    from wallwright.cooling.stand import FAN

    bays = (bay("b1", "shutter"), bay("b2", "shutter"), bay("b3", "drawers"))
    fans = tuple(replace(device(f"f{n}", 6), kind=FAN) for n in range(3))
    held_in = {
        b.ref: [d.ref for d in inside]
        for b, inside in stand(bays, (device("a", 200), device("b", 20), *fans), LIMITS)
    }
    assert held_in == {
        "b1": ["a", "f0", "f1", "f2"],
        "b2": ["b"],
    }  # 200, 100 and 67 W a fan, before 20; none among drawers
    held_in = {
        b.ref: [d.ref for d in inside]
        for b, inside in stand(bays, (device("a", 90), device("b", 60), *fans), LIMITS)
    }
    assert held_in == {"b1": ["a", "f0", "f2"], "b2": ["b", "f1"]}


def test_no_box_stands_on_what_is_pulled_out_while_another_bay_has_room() -> None:
    bays = (bay("b1", "pull_out"), bay("b2", "flap"))
    assert [b.ref for b, _ in stand(bays, (device("a", 20),), LIMITS)] == ["b2"]
    assert [
        b.ref for b, _ in stand((bay("b1", "flap"), bay("b2", "slatted")), (device("a", 20),), LIMITS)
    ] == ["b2"]


def test_a_fan_is_asked_for_what_the_box_bears_also_where_the_bay_is_not_hot() -> None:
    mild = plan(job(), (bay("C1.1", "flap"),), (device("a", 28),), LIMITS).bays[0]
    assert 5 < mild.rise < 10 and mild.fan_m3h > 0  # 35 °C borne in a room of 30
    loss = heat.box_loss(0.7, 0.4, 0.3, 0.018, 0.16)
    assert heat.flow_for(28 - loss * 5, 5) * 3600 == pytest.approx(mild.fan_m3h)
    hot_room = LIMITS.overridden({"cooling.room_temperature": 36})  # warmer than it bears: no fan cures that
    assert plan(job(), (bay("C1.1", "flap"),), (device("a", 60),), hot_room).bays[0].fan_m3h == 0


def test_openings_are_asked_for_what_the_box_bears() -> None:
    """In a room of 30 °C a receiver bears 40, ten more; a console 35, five more; in a room warmer than that, the room's own ten."""
    loss = heat.box_loss(0.7, 0.4, 0.3, 0.018, 0.16)
    for kind, room, most in (("av_receiver", 30, 10), ("games_console", 30, 5), ("games_console", 36, 10)):
        limits = LIMITS.overridden({"cooling.room_temperature": room})
        made = plan(job(), (bay("C1.1", "flap"),), (device("a", 60, kind),), limits)
        needed = heat.area_needed(60, loss, 0.3, most, room) * 1e4
        assert made.bays[0].opening_needed == pytest.approx(needed)
        (why,) = [why for why in made.whys if why.name == "bay C1.1.opening_needed"]
        assert f"keeps the rise to {most} K" in why.says


def test_an_open_front_cools_what_a_flap_does_not() -> None:
    def rise(front: str) -> float:
        return plan(job(), (bay("C1.1", front),), (device("a", 120),), LIMITS).bays[0].rise

    fronts = [rise(front) for front in ("open", "cloth", "flap")]
    assert fronts == sorted(fronts) and fronts[0] < 10 < fronts[-1]
    assert rise("shutter") == rise(
        "flap"
    )  # a solid board both: only the gaps and the cable hole let air through


def test_a_device_warms_its_own_compartment_not_the_whole_bay() -> None:
    tall, shelved = bay("T1.1", "flap", height=1680), bay("T1.1", "flap", height=1680, shelves=3)
    (whole,) = plan(job(), (tall,), (device("a", 100),), LIMITS).bays
    (part,) = plan(job(), (shelved,), (device("a", 100),), LIMITS).bays
    (own,) = plan(job(), (bay("T1.1", "flap", height=420),), (device("a", 100),), LIMITS).bays
    assert part.height == 420 and whole.height == 1680  # 1680 / 4
    assert part.rise > own.rise > whole.rise + 5  # over it lies a shelf, not the room


def test_devices_spread_over_the_compartments_and_the_warmest_is_told() -> None:
    shelved = bay("T1.1", "open", height=1680, shelves=3)
    devices = (device("hot", 150), device("warm", 40), device("cool", 5), device("wide", 30, width=600))
    inside = compartments(shelved, devices, 40)
    assert [{d.ref for d in level} for level in inside] == [{"hot"}, {"warm"}, {"wide"}, {"cool"}]
    (found,) = plan(job(), (shelved,), devices, LIMITS).bays
    assert found.watts == 150 and set(found.devices) == {"hot", "warm", "cool", "wide"}
    fan = device("fan", 6, kind="cabinet_fan", width=120, depth=40, height=120)
    assert {d.ref for d in compartments(shelved, (*devices, fan), 40)[0]} == {"hot", "fan"}


def test_a_fan_goes_to_the_warmest_bay_and_cools_it() -> None:
    bays = (bay("C1.1", "flap"), bay("C1.2", "flap"))
    fan = device("fan", 6, kind="cabinet_fan", width=120, depth=40, height=120)
    found = {b.bay: b for b in plan(job(), bays, (device("a", 150), device("b", 20), fan), LIMITS).bays}
    warm = next(b for b in found.values() if "a" in b.devices)
    assert warm.fans == 1 and warm.watts == 156
    without = plan(job(), bays, (device("a", 150), device("b", 20)), LIMITS).bays
    assert warm.rise < next(b for b in without if "a" in b.devices).rise / 2


def test_a_hot_climate_asks_for_more_air() -> None:
    bays, devices = (bay("C1.1", "cloth"),), (device("a", 60, "av_receiver"),)  # bears 40 °C: 10 K
    mild, hot = plan(job(), bays, devices, LIMITS).bays[0], plan(job(hot=True), bays, devices, LIMITS).bays[0]
    assert hot.opening_needed > mild.opening_needed


def test_every_value_has_its_why() -> None:
    found = plan(job(), (bay("C1.1", "flap"),), (device("a", 60),), LIMITS)
    whys = {why.name: why.value for why in found.whys}
    (heated,) = found.bays
    assert whys == {
        "bay C1.1.watts": heated.watts, "bay C1.1.rise": heated.rise, "bay C1.1.rise_closed": heated.rise_closed,
        "bay C1.1.opening_needed": heated.opening_needed,
    }  # fmt: skip


def test_no_devices_no_bays() -> None:
    assert plan(job(), (bay("C1.1", "open"),), (), LIMITS).bays == ()


def test_an_open_front_is_one_opening_in_below_and_out_above() -> None:
    """Q = C/3 · A · √(g·h·ΔT/T) with C 0.61 (CIBSE AM10, from memory): at the rise found, air and boards carry the heat off."""
    box = bay("C1.1", "open")
    made = plan(job(), (box,), (device("a", 150),), LIMITS).bays[0]
    room, area, high = LIMITS.value("cooling.room_temperature"), 0.7 * 0.3, 0.3
    flow = 0.61 / 3 * area * (9.81 * high * made.rise / (room + 273.15)) ** 0.5
    loss = heat.box_loss(0.7, 0.4, 0.3, 0.018, LIMITS.value("cooling.board_conductivity"))
    assert (1.2 * 1005 * flow + loss) * made.rise == pytest.approx(150, rel=1e-4)
    loose = LIMITS.overridden({"cooling.discharge_single": 0.3})
    assert plan(job(), (box,), (device("a", 150),), loose).bays[0].rise > made.rise
    said = next(
        why for why in plan(job(), (box,), (device("a", 150),), LIMITS).whys if why.name.endswith(".rise")
    )
    assert "AM10" in said.source


def test_what_an_open_front_needs_keeps_it_to_what_is_allowed() -> None:
    """An opening just as large as is asked for gives just the rise allowed, each half of it told."""
    allowed = LIMITS.value("cooling.rise_max")
    made = plan(job(), (bay("C1.1", "cloth"),), (device("a", 150, "av_receiver"),), LIMITS).bays[0]
    loss = heat.box_loss(0.7, 0.4, 0.3, 0.018, LIMITS.value("cooling.board_conductivity"))
    room = LIMITS.value("cooling.room_temperature")
    rise = heat.rise(150, loss, 2 * made.opening_needed / 1e4, 0.3, room, discharge=0.61, single=True)
    assert rise == pytest.approx(allowed, rel=1e-3)
