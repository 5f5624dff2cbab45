from __future__ import annotations

from collections import Counter
from collections.abc import Callable
from dataclasses import replace
from types import SimpleNamespace
from typing import Any

import pytest

from wallwright.carcass.record import PanelZone, SetOut
from wallwright.core.shape import Box, outline_area
from wallwright.core.units import Length
from wallwright.job.brief import Device
from wallwright.job.design import Bay, Design, Light, Mount, Point, Unit
from wallwright.job.survey import Obstacle
from wallwright.library import load
from wallwright.services.board import MAINS
from wallwright.services.points import next_plate
from wallwright.services.record import Services

Planner = Callable[..., Services]


@pytest.fixture
def services(make: SimpleNamespace) -> Planner:
    def planned(**changes: Any) -> Services:
        screen = changes.pop("screen", None) or make.screen()
        setout = changes.pop("setout", None) or make.setout()
        job = make.job(**changes)
        return make.plan(job, screen, setout)

    return planned


def counted(services: Services, zone: str) -> Counter[str]:
    return Counter(point.kind for point in services.points if point.zone == zone)


def test_the_usual_set_stands_behind_the_screen(services: Planner, make: SimpleNamespace) -> None:
    found = services()
    assert counted(found, "behind_screen") == {
        "twin_socket": 1,
        "data": 1,
        "rf": 1,
        "conduit": 1,
    }  # common practice
    screen = make.screen()
    for point in found.points:
        if point.zone == "behind_screen":
            assert screen.frame.grown(-50).holds(point.box)
            if point.kind != "conduit":
                assert point.z == screen.centre[1]
                assert point.box.gap(next_plate(screen, load.limits())) >= 25
    upper, lower = (
        next(p for p in found.points if p.kind == "conduit" and (p.zone == "cabinet") == low)
        for low in (False, True)
    )
    assert upper.x == lower.x and upper.box.gap(screen.plate) >= 25  # plumb over its other end
    mains = [p for p in found.points if p.zone == "behind_screen" and p.kind == "twin_socket"]
    signals = [p for p in found.points if p.zone == "behind_screen" and p.kind != "twin_socket"]
    assert all(a.box.gap(b.box) >= 50 for a in mains for b in signals)


def test_the_twin_is_at_the_least_offset(services: Planner) -> None:
    # plate 460 and the next larger 660: 330 + 25 + 73 = 428 from the middle of the plate, by hand
    twin = next(p for p in services().points if p.kind == "twin_socket")
    assert twin.x == 2000 - 428


def test_a_screen_too_small_for_the_next_plate_uses_this_one(
    services: Planner, make: SimpleNamespace
) -> None:
    found = services(screen=make.screen(frame=(860, 560), plate=(300, 300)))
    twin = next(p for p in found.points if p.kind == "twin_socket")
    assert twin.x == 2000 - (200 + 20 + 73)  # the mount's arms, 40 wide, stand on hole columns 400 apart
    assert "not of the next larger" in twin.reason


def test_no_room_behind_the_screen_is_said_with_what_opens_it(
    services: Planner, make: SimpleNamespace
) -> None:
    # above a plate 420 high: 620 / 2 - 50 - 210 - 25 = 25 for a box 86 high: 61 short, in steps of 10
    small = make.screen(frame=(700, 620))
    found = services(screen=small)
    assert found.region == () and found.region_polygons == ()
    why = next(w for w in found.whys if w.name == "services.region")
    assert why.value == 0 and "plate 70 mm" in why.says
    twin = next(p for p in found.points if p.kind == "twin_socket")
    assert "in view" in twin.reason and not twin.box.meets(small.plate)


def test_a_tilting_screen_hides_its_boxes_further_in(services: Planner, make: SimpleNamespace) -> None:
    fixed, tilting = services(), services(screen=make.screen(mount="tilt"))
    assert sum(b.area for b in tilting.region) < sum(b.area for b in fixed.region)
    frame = make.screen().frame
    assert all(frame.grown(-75).holds(p.box) for p in tilting.points if p.zone == "behind_screen")


def test_a_slim_mount_has_recessed_boxes(services: Planner, make: SimpleNamespace) -> None:
    depths = {
        p.box_depth for p in services(screen=make.screen(stand_off=25)).points if p.zone == "behind_screen"
    }
    assert depths == {70}


def test_boxes_never_meet_and_mains_keeps_off_data(services: Planner) -> None:
    points = services().points
    for index, point in enumerate(points):
        for other in points[index + 1 :]:
            least = 10 if (point.kind in MAINS) == (other.kind in MAINS) else 50
            assert point.box.gap(other.box) >= least, (point.ref, other.ref)


def test_cabinet_points_stand_in_the_open_bay_and_spare_is_kept(services: Planner) -> None:
    found = services()
    inside = [p for p in found.points if p.zone == "cabinet"]
    console, open_bay = Box(900, 250, 2200, 420), Box(900 + 2200 / 3, 250, 2200 / 3, 420)
    assert inside and all(console.holds(p.box) for p in inside)
    assert all(
        open_bay.holds(p.box) for p in inside if p.kind != "twin_socket"
    )  # signals and drivers are reached
    divisions = [Box(900 + 2200 / 3 * n, 250, 0, 420) for n in range(4)]
    assert all(p.box.gap(side) >= 40 - 0.5 for p in inside for side in divisions)
    # box, console, bar and router use 4 outlets; 25 % or 2 spare make 6: three twins
    assert counted(found, "cabinet")["twin_socket"] == 3
    assert {p.z for p in inside if p.kind == "twin_socket"} == {
        250 + 140
    }  # 100 to 180 over its floor, common practice


def test_more_devices_more_sockets(services: Planner) -> None:
    few = services(devices=(Device("stb", "set_top_box"),))
    many = services(devices=tuple(Device(f"d{n}", "media_player") for n in range(7)))
    # 1 used + 2 spare -> 2 twins; 7 used + 2 spare -> 5 twins
    assert counted(few, "cabinet")["twin_socket"] == 2
    assert counted(many, "cabinet")["twin_socket"] == 5


def test_a_pinned_point_stays_and_counts_for_one(services: Planner) -> None:
    pinned = Point("P7", "twin_socket", x=_mm(1500), z=_mm(1200), note="where the client asked")
    design = Design(units=(Unit("C1", "console"),), points=(pinned,))
    found = services(design=design)
    point = next(p for p in found.points if p.ref == "P7")
    assert (point.x, point.z, point.pinned, point.zone) == (1500, 1200, True, "behind_screen")
    assert counted(found, "behind_screen")["twin_socket"] == 1
    assert all(why.pinned for why in found.whys if why.name.startswith("point P7"))


def test_refs_are_never_used_twice(services: Planner) -> None:
    design = Design(points=(Point("P1", "socket", x=_mm(300), z=_mm(300)),))
    refs = [p.ref for p in services(design=design).points]
    assert len(refs) == len(set(refs))
    twice = Design(
        points=(Point("P1", "socket", _mm(300), _mm(300)), Point("P1", "data", _mm(500), _mm(300)))
    )
    with pytest.raises(ValueError, match=r"design\.points\.1\.ref: 'P1'"):
        services(design=twice)


def test_each_light_has_a_feed(services: Planner) -> None:
    found = services()
    feeds = {ref: p for p in found.points if p.kind == "led_feed" for ref in p.serves}
    assert set(feeds) == {"LT1", "LT2"}
    assert feeds["LT1"].zone == "cabinet"
    assert feeds["LT2"].zone == "lighting" and feeds["LT2"].z == 2700 - 150
    panel = Light("LT3", "behind_panel", of="W1", driver_place="behind_panel")
    (feed,) = [p for p in services(lights=(panel,), setout=_with_panel()).points if p.kind == "led_feed"]
    assert feed.box.x >= 900 and feed.box.right <= 3100


def test_existing_things_are_kept_clear(services: Planner) -> None:
    old = Obstacle("old", "socket", _mm(1500), _mm(1050), _mm(146), _mm(86))
    found = services(obstacles=(old,))
    assert all(not p.box.meets(Box(1500, 1050, 146, 86)) for p in found.points)
    assert any(p.zone == "behind_screen" and p.kind == "twin_socket" for p in found.points)


def test_without_a_unit_the_spare_points_are_on_the_wall(services: Planner, make: SimpleNamespace) -> None:
    found = services(setout=SetOut((), (), ()), design=Design())
    assert counted(found, "wall")["twin_socket"] >= 1
    assert all(p.z == 300 for p in found.points if p.zone == "wall")


def test_drawers_everywhere_still_gives_points(services: Planner) -> None:
    design = Design(units=(Unit("C1", "console", bays=(Bay("drawers"), Bay("drawers"))),))
    assert counted(services(design=design), "cabinet")["twin_socket"] == 3


def test_a_point_that_finds_no_room_is_said(services: Planner, make: SimpleNamespace) -> None:
    tiny = SetOut((make.unit("C1", "console", 1800, 250, 300, 200),), (), ())
    found = services(setout=tiny, design=Design(), devices=tuple(Device(f"d{n}", "router") for n in range(6)))
    missing = [w for w in found.whys if w.name.startswith("services.no_room.cabinet")]
    assert missing and all("no free place" in w.says for w in missing)


def _mm(value: float) -> Length:
    return Length(float(value))


def _with_panel() -> SetOut:
    panel = PanelZone(
        "W1", "flat", Box(900, 0, 2200, 2600), "ply18", "matt", 18, 50, (), 0, 0, 12, frozenset()
    )
    return SetOut((), (panel,), ())


def test_boxes_keep_clear_of_the_rails_of_a_hung_unit(services: Planner, make: SimpleNamespace) -> None:
    console = make.unit("C1", "console", 900, 250, 2400, 420)
    found = services(setout=SetOut((console,), (), ()), design=Design())
    inside = [p for p in found.points if p.zone == "cabinet"]
    assert inside
    # packing rail 60 on the bottom board, hanging rail and cleat 80 each under the top board, 18 mm boards
    clear = Box(900, 250 + 18 + 60, 2400, 420 - 2 * 18 - 60 - 160)
    assert all(clear.holds(p.box) for p in inside)


def test_boxes_stand_in_columns_where_one_row_is_too_short(services: Planner, make: SimpleNamespace) -> None:
    console = make.unit("C1", "console", 900, 250, 1900, 520)
    lights = (Light("LT1", "under_console"), Light("LT2", "behind_screen"))
    bays = (Bay("drawers"), Bay("open"), Bay("drawers"))
    design = Design(units=(Unit("C1", "console", bays=bays),), lights=lights)
    devices = (Device("stb", "set_top_box"), Device("bar", "soundbar"))
    found = services(setout=SetOut((console,), (), ()), design=design, devices=devices)
    inside = [p for p in found.points if p.zone == "cabinet"]
    middle = Box(900 + 1900 / 3, 250, 1900 / 3, 520)
    assert len(inside) == 7 and all(
        middle.holds(p.box) for p in inside
    )  # 2 twins, conduit, data, aerial, 2 drivers
    assert len({p.z for p in inside}) == 2


def test_a_tower_that_stands_keeps_its_points_over_the_plinth(
    services: Planner, make: SimpleNamespace
) -> None:
    found = services(devices=(Device("sub", "subwoofer"),))
    points = [p for p in found.points if p.zone == "tower"]
    assert points and all(p.box.x >= 100 and p.box.right <= 600 for p in points)
    assert (
        min(p.z for p in points) == 80 + 140
    )  # plinth 80, then 140 over the floor; a second one above the first


def test_a_sound_bar_under_the_screen_has_its_own_socket_at_its_height(
    services: Planner, make: SimpleNamespace
) -> None:
    bar = Device("bar", "soundbar", place="screen")
    found = services(devices=(bar,))
    (socket,) = [p for p in found.points if p.serves == ("bar",)]
    frame = make.screen().frame
    assert (
        socket.kind == "socket" and socket.z == frame.z - 40 - 70 / 2
    )  # the bar is 70 high, 40 under the screen
    assert abs(socket.x - frame.centre[0]) <= 500 - 43  # hidden by a bar 1000 wide


def test_motor_fan_and_subwoofer_have_their_outlets(services: Planner) -> None:
    few = counted(services(devices=(Device("stb", "set_top_box"),)), "cabinet")["twin_socket"]
    more = services(
        devices=(Device("stb", "set_top_box"), Device("lift", "lift_motor"), Device("fan", "cabinet_fan"))
    )
    assert counted(more, "cabinet")["twin_socket"] == few + 1  # 1 used and 2 spare: 2 twins; 3 and 2: 3 twins
    sub = services(devices=(Device("sub", "subwoofer"),))
    assert [p for p in sub.points if p.zone == "tower" and "sub" in p.serves]


def test_an_arm_that_turns_further_leaves_less_room(services: Planner, make: SimpleNamespace) -> None:
    def area(most: float) -> float:
        design = Design(units=(Unit("C1", "console"),), mount=Mount(kind="arm", swivel_most=most))
        found = services(screen=make.screen(mount="arm"), design=design)
        return sum(outline_area(piece) for piece in found.region_polygons)

    assert area(10) > area(30) > area(50) > 0


def test_boxes_keep_off_studs_and_out_of_the_drip(services: Planner, make: SimpleNamespace) -> None:
    job = make.job(obstacles=(Obstacle("AC", "ac", _mm(1300), _mm(2300), _mm(200), _mm(250)),))
    studs = tuple(_mm(x) for x in (1000, 1600, 2200, 2800))
    job = replace(
        job, survey=replace(job.survey, wall=replace(job.survey.wall, substrate="metal_stud", studs=studs))
    )
    found = make.plan(job)
    for point in found.points:
        if point.zone in ("behind_screen", "cabinet"):
            assert all(abs(point.x - stud.mm) >= point.box.width / 2 + 25 for stud in studs), point.ref
            assert point.box.right <= 1200 or point.box.x >= 1600, (
                point.ref
            )  # 100 mm beside the air conditioner
