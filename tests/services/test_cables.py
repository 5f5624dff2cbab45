"""Cable figures against the books, and worked examples whose numbers were reckoned by hand."""

from __future__ import annotations

import runpy
from pathlib import Path

import pytest

from wallwright.library import load
from wallwright.services import cables as c
from wallwright.services.supply import air_factor, beside_factor

PUBLISHED = Path(__file__).parents[1] / "published"
BS = runpy.run_path(str(PUBLISHED / "bs_7671.py"))
IEC = runpy.run_path(str(PUBLISHED / "iec_60364_5_52.py"))
NEC = runpy.run_path(str(PUBLISHED / "nec_ch9.py"))

LIMITS = load.limits()


def twin(size: float) -> load.Cable:
    return next(
        cable for key, cable in load.cables().items() if key.startswith("twin") and cable.size == size
    )


def flex(size: float) -> load.Cable:
    return next(
        cable for key, cable in load.cables().items() if key.startswith("flex") and cable.size == size
    )


def test_ratings_are_those_of_the_table() -> None:
    for size, by_method in IEC["RATINGS"].items():  # IEC 60364-5-52:2009 table B.52.2
        key = f"{size:g}".replace(".", "_")
        assert {m: LIMITS.value(f"circuits.carries_{m.lower()}_{key}") for m in by_method} == by_method
        assert twin(size).rating == by_method["B1"]


def test_resistances_are_those_of_the_table() -> None:
    assert {size: twin(size).ohm_per_km for size in IEC["R20"]} == IEC["R20"]  # IEC 60228 class 1 and 2
    assert {size: flex(size).ohm_per_km for size in IEC["R20_FLEX"]} == IEC["R20_FLEX"]  # IEC 60228 class 5
    for gauge, ohm in NEC["OHM_PER_KFT"].items():  # NEC chapter 9 table 8
        assert load.cables()[f"awg{gauge}"].ohm_per_km * 0.3048 == pytest.approx(ohm, abs=1e-4)


def test_drop_figures_are_those_of_the_table_and_follow_from_the_resistance() -> None:
    assert c.warm_factor() == pytest.approx(1.19646, abs=1e-4)  # IEC 60228, copper from 20 to 70 °C
    for size, tabulated in BS["DROP"].items():  # BS 7671 appendix 4 table 4D
        assert twin(size).drop == tabulated
        assert c.drop_per_amp_metre(twin(size).ohm_per_km) == pytest.approx(tabulated, rel=0.02)


def test_factors_are_those_of_the_table() -> None:
    assert {step: air_factor(step, LIMITS) for step in BS["AMBIENT"]} == BS["AMBIENT"]  # BS 7671 appendix 4
    assert {n: beside_factor(n, LIMITS) for n in BS["GROUPED"]} == BS["GROUPED"]  # BS 7671 appendix 4
    assert air_factor(36, LIMITS) == 0.87  # the next warmer step: never the cooler one
    assert (
        beside_factor(1, LIMITS) == 1 and beside_factor(9, LIMITS) == 0.5
    )  # BS 7671 appendix 4, from memory
    assert beside_factor(10, LIMITS) == 0.38  # the next step of the table, never the last passed
    # NEC table 310.15(C)(1): three circuits are six conductors, five are ten
    assert (beside_factor(3, LIMITS, "us"), beside_factor(5, LIMITS, "us")) == (0.8, 0.5)
    with pytest.raises(ValueError, match="51 °C"):
        air_factor(51, LIMITS)
    with pytest.raises(ValueError, match="6 circuits"):
        c.grouped_factor(6, BS["GROUPED"])


def test_a_socket_circuit_of_18_m() -> None:
    by_table = c.drop_volts(18, 16, 18)
    assert by_table == pytest.approx(5.184, abs=1e-3)  # 18 mV/A/m × 16 A × 18 m, BS 7671 method
    assert 100 * by_table / 230 == pytest.approx(2.254, abs=1e-3)
    assert c.drop_volts_iec(2.5, 16, 18, 1.0) == pytest.approx(
        5.184, abs=1e-3
    )  # IEC 60364-5-52 annex G, power factor 1
    assert c.drop_volts_iec(2.5, 16, 18, 0.8) == pytest.approx(
        4.1748, abs=1e-3
    )  # annex G, 0.8 (λ from memory)
    assert c.drop_volts(18, 6.3, 18) == pytest.approx(2.041, abs=1e-3)  # the same at what it draws, by hand


@pytest.mark.parametrize(
    ("drop", "amps", "share", "metres"),
    [
        (18, 16, 0.05, 39.93),
        (18, 20, 0.05, 31.94),
        (11, 32, 0.05, 32.67),
        (29, 6, 0.03, 39.66),
        (29, 10, 0.03, 23.79),
    ],
)
def test_longest_run(drop: float, amps: float, share: float, metres: float) -> None:
    # limit × 1000 / (mV/A/m × A) at 230 V, limits of IEC 60364-5-52:2009 table G.52.1
    assert c.longest_run(share * 230, drop, amps) == pytest.approx(metres, abs=0.01)


def test_a_us_run_of_60_ft() -> None:
    ohm = NEC["OHM_PER_KFT"][12] / 0.3048
    fallen = c.drop_volts_loop(ohm, 12, 60 * 0.3048)
    assert fallen == pytest.approx(2.779, abs=1e-2)  # 2 × 1.93 Ω/kft × 0.06 kft × 12 A, NEC chapter 9 table 8
    assert 100 * fallen / 120 == pytest.approx(2.32, abs=1e-2)
    thin = c.drop_volts_loop(NEC["OHM_PER_KFT"][14] / 0.3048, 12, 60 * 0.3048)
    assert 100 * thin / 120 == pytest.approx(
        3.68, abs=1e-2
    )  # over the 3 % note of NEC 210.19(A), from memory
    assert c.longest_run(3.6, 2 * ohm, 12) / 0.3048 == pytest.approx(77.7, abs=0.05)


def carried(method: str, size: str, celsius: float, beside: int) -> float:
    rating = LIMITS.value(f"circuits.carries_{method}_{size}")
    return c.carries(rating, air_factor(celsius, LIMITS), beside_factor(beside, LIMITS))


def test_where_a_cable_lies_decides_what_it_carries() -> None:
    # IEC 60364-5-52 table B.52.2 with factors of BS 7671 appendix 4, by hand
    assert carried("a2", "2_5", 30, 3) == pytest.approx(12.95)  # 18.5 × 0.70
    assert carried("a2", "2_5", 40, 1) == pytest.approx(16.1, abs=0.01)  # 18.5 × 0.87
    assert carried("b1", "2_5", 40, 1) == pytest.approx(20.88)  # 24 × 0.87


def test_size_is_the_smallest_that_carries_and_keeps_the_drop() -> None:
    def rows(celsius: float, beside: int) -> list[tuple[float, float, float]]:
        return [
            (size, carried("a2", f"{size:g}".replace(".", "_"), celsius, beside), twin(size).drop)
            for size in IEC["R20"]
        ]

    alone, three = rows(40, 1), rows(30, 3)
    assert c.choose_size(16, 18, 11.5, alone) == 2.5
    assert c.choose_size(16, 18, 11.5, three) == 4  # three bunched: 2.5 carries only 12.95 A
    assert c.choose_size(16, 41, 11.5, alone) == 4  # beyond 39.93 m the drop decides
    assert c.choose_size(6, 5, 6.9, alone, least=2.5) == 2.5
    assert c.choose_size(16, 500, 11.5, alone) is None


@pytest.mark.parametrize(("size", "volts"), [(0.5, 1.123), (0.75, 0.749), (1.0, 0.5616), (1.5, 0.383)])
def test_led_feed_of_6_m(size: float, volts: float) -> None:
    # 24 V, 4 m of 14.4 W/m = 2.4 A; 2 × 6 m × IEC 60228 class 5 resistance at 20 °C, by hand
    assert c.drop_volts_loop(IEC["R20_FLEX"][size], 2.4, 6) == pytest.approx(volts, abs=1e-3)


def test_led_feed_at_12_volts_drops_too_much() -> None:
    fallen = c.drop_volts_loop(IEC["R20_FLEX"][1.5], 4.8, 6)
    assert fallen == pytest.approx(0.766, abs=1e-3)
    assert 100 * fallen / 12 == pytest.approx(6.38, abs=1e-2)


def test_a_strip_fed_at_both_ends_drops_a_quarter() -> None:
    one, both = c.strip_drop(0.6, 0.06, 5), c.strip_drop(0.6, 0.06, 5, both_ends=True)
    assert (one, both) == (pytest.approx(0.45), pytest.approx(0.1125))  # r·i·L²/2 and r·i·L²/8, by hand
    # the same by adding up a thousand short pieces
    n = 1000
    pieces = [0.6 * 5 * (n - k - 0.5) / n * 0.06 * 5 / n for k in range(n)]
    assert sum(pieces) == pytest.approx(one, rel=1e-6)


def test_rule_sets_hold_the_books_drop() -> None:
    for place in ("uk", "eu", "none"):  # IEC 60364-5-52:2009 table G.52.1; BS 7671 uses the same
        assert LIMITS.value(f"circuits.{place}_drop_lights") == IEC["DROP_LIGHTING"]
        assert LIMITS.value(f"circuits.{place}_drop_other") == IEC["DROP_OTHER"]
