from __future__ import annotations

import runpy
from pathlib import Path

import pytest

from wallwright.library import load
from wallwright.services import loads
from wallwright.services.loads import Load

BS = runpy.run_path(str(Path(__file__).parents[1] / "published/bs_7671.py"))
# an invented living-room wall, added up by hand
WALL = (
    Load("screen", 250), Load("bar", 60), Load("subwoofer", 150, 0.5), Load("console", 220, 0.7), Load("set-top box", 35),
    Load("router and switch", 25), Load("LED driver", loads.driver_input(58, 0.88)), Load("spare 1", 200, 0.25),
    Load("spare 2", 200, 0.25), Load("fan", 6),
)  # fmt: skip


def test_a_living_room_wall() -> None:
    assert loads.driver_input(58, 0.88) == pytest.approx(65.9, abs=0.05)
    assert loads.connected(WALL) == pytest.approx(1211.9, abs=0.05)
    assert loads.diversified(WALL) == pytest.approx(770.9, abs=0.05)
    assert loads.current(1211.9, 230, 0.95) == pytest.approx(5.55, abs=0.005)
    assert loads.current(770.9, 230, 0.95) == pytest.approx(3.53, abs=0.005)
    assert loads.current(770.9, 120, 0.95) == pytest.approx(6.76, abs=0.005)


def test_a_fire_has_a_circuit_of_its_own() -> None:
    fire = Load("fire", 2000)
    shared, own = loads.split((*WALL, fire), 1000)
    assert own == (fire,) and shared == WALL
    # together it would take 2771 W / (230 V × 0.97), by hand
    assert loads.current(loads.diversified((*WALL, fire)), 230, 0.97) == pytest.approx(12.4, abs=0.05)


def test_standing_leakage() -> None:
    limits = load.limits()
    trip, share = limits.value("circuits.uk_trip"), limits.value("circuits.uk_leak_share")
    assert (trip, share) == (BS["RCD_TRIP"], BS["LEAKAGE_SHARE"])  # BS 7671:2018 411.3.3, 531.3.2
    assert loads.leakage_budget(trip, share) == pytest.approx(BS["LEAKAGE_BUDGET"])  # BS 7671:2018 531.3.2
    assert loads.items_on_rcd(trip, share, 3.5) == 2  # 3.5 mA each by the product standards
    assert loads.standby((Load("a", 10, 1, 2.5), Load("b", 10, 1, 0.5))) == 3


def test_library_has_the_diversity_of_the_wall() -> None:
    limits = load.limits()
    names = ("diversity_subwoofer", "diversity_games_console", "diversity_spare")
    assert [limits.value(f"services.{name}") for name in names] == [0.5, 0.7, 0.25]  # common practice


def test_what_is_drawn_asleep_in_a_year() -> None:
    # 10 W for the 8760 − 20 × 52 hours of a year that the wall is not in use, by hand
    assert loads.standby_year(10, 20) == pytest.approx(77.2)
    assert loads.standby_year(10, 200) == 0  # used all week


def test_circuits_do_not_all_ask_at_once() -> None:
    # On-Site Guide, table of diversity: largest socket circuit whole, 40 % of the others, 66 % of the lighting
    assert loads.demand([700, 2000, 500], 100, 0.4, 0.66) == pytest.approx(2000 + 0.4 * 1200 + 66)
    assert loads.demand([], 100, 0.4, 0.66) == pytest.approx(66)


def test_residual_current_devices_by_what_leaks_on_each() -> None:
    # 9 mA each by hand: 5 + 4, 4 + 3 + 1; one that is too much alone takes its own
    assert loads.devices_needed([5, 4, 4, 3, 1], 9) == 2
    assert loads.devices_needed([6, 6, 6], 9) == 3
    assert loads.devices_needed([12, 4], 9) == 2
    assert loads.devices_needed([], 9) == 0
