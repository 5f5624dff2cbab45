"""The United States' figures against the NEC's tables as reprinted."""

from __future__ import annotations

import runpy
from pathlib import Path

from wallwright.library import load
from wallwright.services.supply import air_factor, beside_factor

NEC = runpy.run_path(str(Path(__file__).parents[1] / "published" / "nec_314_16.py"))
LIMITS = load.limits_of("US")
MM2 = {14: "2_08", 12: "3_31", 10: "5_26", 8: "8_37"}


def test_what_copper_carries() -> None:
    for awg, size in MM2.items():
        assert LIMITS.value(f"circuits.us_carries_{size}") == NEC["COPPER_90"][awg]  # NEC table 310.16
        assert (
            load.cables()[f"awg{awg}"].rating == NEC["COPPER_60"][awg]
        )  # NEC 334.80: never more than the 60 °C column


def test_factors_for_warm_air_and_for_neighbours() -> None:
    """Those of insulation of 90 °C, from which NM cable is adjusted; not BS 7671's for PVC of 70 °C, which are lower."""
    assert {air: air_factor(air, LIMITS, "us") for air in NEC["AIR_90"]} == NEC[
        "AIR_90"
    ]  # NEC table 310.15(B)(1)
    assert air_factor(40, LIMITS, "us") > air_factor(40, LIMITS)
    for conductors, factor in NEC[
        "BUNCHED"
    ].items():  # NEC table 310.15(C)(1), two loaded conductors a circuit
        assert beside_factor(conductors // 2, LIMITS, "us") == factor


def test_the_box_holds_a_socket_and_the_cable_that_goes_on() -> None:
    """Two cables of 12 AWG and a duplex receptacle: 8 × 2.25 = 18.0 in³, the box of 3 1/2 in; one of 2 1/2 in has 12.5."""
    need = NEC["box_fill"](12, 2)
    assert need == 18.0
    depth = min(inch for inch, volume in NEC["DEVICE_BOX"].items() if volume >= need)
    assert LIMITS.value("services.box_depth") == round(depth * 25.4)
    assert NEC["box_fill"](14, 2) == 16.0 > NEC["DEVICE_BOX"][2.5] >= NEC["box_fill"](14, 1)


def test_the_plate_is_that_of_one_gang() -> None:
    """2 3/4 × 4 1/2 in, as makers' sizes are reprinted."""
    assert (
        round(2.75 * 25.4)
        == LIMITS.value("services.box_single_width")
        == LIMITS.value("services.box_twin_width")
    )
    assert round(4.5 * 25.4) == LIMITS.value("services.box_height")
