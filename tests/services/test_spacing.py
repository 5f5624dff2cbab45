from __future__ import annotations

import runpy
from pathlib import Path

import pytest

from wallwright.library import load
from wallwright.services.spacing import SEPARATION_2000, alongside, separation, wall_is_served

NEC = runpy.run_path(str(Path(__file__).parents[1] / "published/nec_ch9.py"))


@pytest.mark.parametrize(
    ("kind", "circuits", "expected"),
    [("b", 3, 20), ("b", 5, 40), ("c", 5, 20), ("b", 1, 20), ("b", 15, 100), ("b", 76, 600), ("d", 30, 20)],
)
def test_separation(kind: str, circuits: int, expected: float) -> None:
    assert separation(kind, circuits) == pytest.approx(expected)  # EN 50174-2:2009, A = S × P


def test_a_closed_steel_duct_needs_no_distance() -> None:
    assert separation("b", 60, "steel") == 0  # EN 50174-2:2009
    assert SEPARATION_2000 == {
        "unscreened": (200, 100, 50),
        "screened_data": (50, 20, 5),
        "screened_power": (30, 10, 2),
        "both_screened": (0, 0, 0),
    }  # EN 50174-2:2000: no divider, aluminium, steel


@pytest.mark.parametrize(("feet", "outlets", "passes"), NEC["SPACING"])
def test_outlets_along_a_us_wall(feet: float, outlets: tuple[float, ...], passes: bool) -> None:
    assert wall_is_served(feet * 304.8, [x * 304.8 for x in outlets], 1828.8) is passes  # NEC 210.52(A)
    assert not wall_is_served(feet * 304.8, [], 1828.8)


def test_us_distances_in_mm() -> None:
    limits = load.limits()
    names = {5.5: "services.us_highest", 6: "services.us_spacing", 2: "services.us_wall_space"}
    for feet, mm in NEC["FEET_MM"].items():
        assert limits.value(names[feet]) == pytest.approx(mm, abs=0.1)  # NEC 210.52, 304.8 mm a foot


def test_alongside_counts_what_runs_beside_and_not_what_crosses() -> None:
    mains = ((0.0, 1000.0), (2000.0, 1000.0), (2000.0, 0.0))
    beside = ((500.0, 1030.0), (1500.0, 1030.0), (1500.0, 500.0))
    assert alongside(beside, mains, 50) == (1000, 30)
    assert alongside(beside, mains, 30) == (0, float("inf"))  # at 30 mm it keeps 30
    crossing = ((700.0, 0.0), (700.0, 2000.0))
    assert alongside(crossing, mains, 50) == (0, float("inf"))
    both = ((1960.0, 900.0), (1960.0, 100.0))
    assert alongside(both, mains, 50) == (800, 40)


def test_link_limits() -> None:
    limits = load.limits()
    assert limits.value("services.ethernet_longest") == 90_000  # ISO/IEC 11801, TIA-568: 90 m permanent
    assert limits.value("services.data_bend_diameters") * 6.2 == pytest.approx(24.8)  # TIA-568: 4 diameters
