"""What plugs into what, on walls small enough to reckon by hand."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

import pytest

from wallwright.core.shape import Box
from wallwright.derive import Wall, derive
from wallwright.job.demos import demo_jobs
from wallwright.job.read import read_job
from wallwright.services.plugs import MADE_UP, NONE_LEFT, SCREEN, Plug, plugs
from wallwright.services.record import PlacedDevice, Run, ServicePoint
from wallwright.tables.plugs import plug_list

PLACES = {
    "stb": (2000.0, 400.0),
    "amp": (2600.0, 400.0),
    "bar": (2000.0, 650.0),
    "wifi": (2300.0, 400.0),
    SCREEN: (2000.0, 1200.0),
}


def device(ref: str, kind: str, place: str = "cabinet", unit: str = "C1") -> PlacedDevice:
    return PlacedDevice(ref, kind, ref, place, unit, 10, 1, "ir", 200, 200, 50)


def point(ref: str, kind: str, x: float, z: float, *serves: str) -> ServicePoint:
    return ServicePoint(ref, kind, x, z, Box(x - 40, z - 40, 80, 80), 47, "cabinet", "", serves, "", False)


TRUNK = Run(
    "H1", "conduit", "K1", "K2", ((2400.0, 1000.0), (2400.0, 300.0)), 700, 0, "", 40, 35, 0.3, 5000, False
)


UNITS = {"C1": Box(1500, 200, 1500, 450), "T1": Box(0, 0, 500, 2200)}
ENDS = (
    ServicePoint("K1", "conduit", 2400, 1000, Box(2357, 957, 86, 86), 47, "behind_screen", "", (), "", False),
    point("K2", "conduit", 2400, 300),
)


def made(
    devices: list[PlacedDevice], points: tuple[ServicePoint, ...] = (), runs: tuple[Run, ...] = ()
) -> dict[str, Plug]:
    ends = ENDS if runs else ()
    return {f"{p.kind} {p.start}": p for p in plugs(devices, (*ends, *points), runs, PLACES, 300, UNITS)}


def test_a_player_goes_through_the_conduit_to_the_screen() -> None:
    found = made([device("stb", "set_top_box")], (), (TRUNK,))["picture stb"]
    # 400 + 100 to the lower end, 700 in it, 400 + 200 from its upper end, 300 at each box: by hand
    assert (found.through, found.way) == (("H1",), 500 + 700 + 600 + 600)
    assert found.bought == 3000 and not found.bare and (found.end, found.end_port) == (SCREEN, "HDMI 1")
    straight = made([device("stb", "set_top_box")])["picture stb"]
    assert (straight.through, straight.way, straight.bare) == ((), 800 + 600, True)


def test_the_soundbar_goes_through_the_conduit_too() -> None:
    found = made([device("bar", "soundbar", "on_console")], (), (TRUNK,))["picture bar"]
    # down into the console: 400 + 350 to the lower end, 700 in it, 400 + 200 from its upper end, 300 at each box: by hand
    assert (found.through, found.way, found.bare) == (("H1",), 750 + 700 + 600 + 600, False)


def test_from_another_unit_a_cable_goes_through_a_conduit_of_its_own_or_has_no_way() -> None:
    games = [device("stb", "set_top_box", "tower", "T1")]
    open_way = made(games, (), (TRUNK,))["picture stb"]
    assert (open_way.through, open_way.bare) == (("H1",), True)
    end = ServicePoint("K3", "conduit", 300, 300, Box(257, 257, 86, 86), 47, "tower", "", (), "", False)
    across = Run(
        "H2", "conduit", "K3", "K2", ((300.0, 300.0), (2400.0, 300.0)), 2100, 0, "", 40, 35, 0.3, 5000, False
    )
    joined = made(games, (end,), (TRUNK, across))["picture stb"]
    assert (joined.through, joined.bare, joined.unit, joined.unit_to) == (("H2", "H1"), False, "T1", SCREEN)
    # 1700 + 100 to its end, 2100 in the one, 700 in the other, 600 from there, 300 at each box: by hand
    assert joined.way == 1800 + 2100 + 700 + 600 + 600


def test_a_receiver_takes_the_players_and_feeds_the_screen() -> None:
    found = made([device("stb", "set_top_box"), device("amp", "av_receiver")])
    assert (found["picture stb"].end, found["picture stb"].end_port) == ("amp", "HDMI in 1")
    assert (found["picture amp"].end, found["picture amp"].end_port) == (SCREEN, "HDMI 1, return channel")


def test_the_soundbar_keeps_the_return_channel_to_itself() -> None:
    found = made([device("stb", "set_top_box"), device("bar", "soundbar", "on_console")])
    assert found["picture bar"].end_port == "HDMI 1, return channel"
    assert found["picture stb"].end_port == "HDMI 2"


def test_network_goes_to_the_router_beside_it_else_to_the_wall() -> None:
    points = (point("D1", "data", 2500, 400, "wifi"), point("D2", "data", 2000, 1100, "screen"))
    found = made([device("stb", "set_top_box"), device("wifi", "router")], points)
    assert found["data stb"].end == "wifi"
    assert (found["data wifi"].end, found["data wifi"].start_port) == ("D1", "WAN")
    assert found["data screen"].end == "D2"
    apart = made([device("stb", "set_top_box", unit="T1"), device("wifi", "router")], points)
    assert apart["data stb"].outlet


def test_every_plug_has_a_socket_of_its_own_and_a_missing_one_is_said() -> None:
    devices = [device("stb", "set_top_box"), device("amp", "av_receiver")]
    twin = point("P1", "twin_socket", 2000, 400, "stb", "amp", SCREEN)
    found = [p for p in plugs(devices, (twin,), (), PLACES, 300, UNITS) if p.kind == "mains"]
    assert [(p.start, p.end_port) for p in found] == [
        (SCREEN, "outlet 1"),
        ("stb", "outlet 2"),
        ("amp", NONE_LEFT),
    ]


def test_a_fire_goes_to_its_own_spur() -> None:
    points = (point("P1", "twin_socket", 2000, 400, "fire"), point("P2", "switched_spur", 2900, 400, "fire"))
    found = made([device("fire", "electric_fire")], points)
    assert found["mains fire"].end == "P2"


@pytest.mark.parametrize("name", ["living", "bedroom"])
def test_on_a_demo_wall_nothing_is_left_unplugged(name: str) -> None:
    wall: Wall = derive(read_job(demo_jobs()[name]))
    found = plug_list(wall)
    mains: list[Any] = [p for p in found if p.kind == "mains"]
    assert {p.start for p in mains} == {SCREEN, *(d.ref for d in wall.services.devices)}
    taken = [(p.end, p.end_port) for p in found if p.outlet]
    assert len(taken) == len(set(taken)) and not any(port == NONE_LEFT for _, port in taken)
    assert all(p.bought in MADE_UP and p.bought >= p.way for p in found)
    refs: Callable[[Plug], int] = lambda p: int(p.ref.removeprefix("CA"))  # noqa: E731
    assert [refs(p) for p in found] == list(range(1, len(found) + 1))
