"""Circuits by rule set: what the books ask, reckoned again by hand."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from types import SimpleNamespace
from typing import Any, get_args

import pytest

from wallwright.core.limit import Certainty
from wallwright.job.survey import Place
from wallwright.library import load
from wallwright.services import circuits as c
from wallwright.services import loads
from wallwright.services.loads import Load
from wallwright.services.record import Services
from wallwright.services.supply import air_factor, beside_factor, supply

Planner = Callable[..., Services]
LIMITS = load.limits()
CERTAINTIES = get_args(Certainty)


@pytest.fixture
def services(make: SimpleNamespace) -> Planner:
    def planned(**changes: Any) -> Services:
        rules = changes.pop("rules", {})
        return make.plan(make.job(**changes), make.screen(), make.setout(), LIMITS.overridden(rules))

    return planned


def test_every_rule_set_is_whole_and_says_where_it_is_from() -> None:
    sets = load.electrical()
    assert set(sets) == {"uk", "eu", "in", "us", "none"}  # the places of the survey
    names = (
        "volts", "sockets", "lights", "drop_lights", "drop_other", "least_sockets", "least_lights", "air", "trip", "leak_share",
    )  # fmt: skip
    for key, rules in sets.items():
        assert rules.edition and rules.source and rules.certainty in CERTAINTIES and rules.says
        assert all(
            row.text.endswith(".") and row.source and row.certainty in CERTAINTIES for row in rules.says
        )
        for name in names:
            assert LIMITS[f"circuits.{key}_{name}"].source


def test_the_rule_set_of_the_place_sizes_the_circuits(services: Planner) -> None:
    made = {key: services(place=Place(rules=key)).circuits[0] for key in ("UK", "EU", "IN", "US", "none")}
    assert {key: one.rules for key, one in made.items()} == {key: key.lower() for key in made}
    assert [made[key].volts for key in ("UK", "EU", "IN", "US")] == [230, 230, 230, 120]
    # BS 7671 reckons 30 °C, an Indian summer 40 °C: 23 A × 1.0, and × 0.87 (IEC 60364-5-52 table B.52.2 method B2)
    assert made["UK"].carries == pytest.approx(23.0)
    assert made["IN"].carries == pytest.approx(20.01)
    assert made["US"].leak_most == 0  # no residual-current device is asked for
    assert made["UK"].leak_most == pytest.approx(9.0)  # BS 7671:2018 531.3.2


def test_a_hot_place_is_reckoned_hot_under_any_rule_set(services: Planner) -> None:
    hot = services(place=Place(rules="UK", hot_humid=True)).circuits[0]
    assert hot.air == 40 and hot.carries == pytest.approx(23 * 0.87)


def test_the_users_own_figure_goes_before_the_rule_sets(services: Planner) -> None:
    own = services(place=Place(rules="IN"), rules={"circuits.in_sockets": 20.0}).circuits[0]
    assert own.rating == 20
    # 2.5 mm² carries 23 × 0.87 = 20.01 A there: it still does; with 25 A the next size is taken
    assert own.cable_mm2 == 2.5
    assert services(place=Place(rules="IN"), rules={"circuits.in_sockets": 25.0}).circuits[0].cable_mm2 == 4


def test_the_longest_run_is_that_of_its_cable_and_device(services: Planner) -> None:
    one = services(place=Place(rules="UK")).circuits[0]
    assert (one.cable_mm2, one.rating) == (2.5, 16)
    assert one.longest / 1000 == pytest.approx(
        39.93, abs=0.01
    )  # 5 % of 230 V / (18 mV/A/m × 16 A), BS 7671 appendix 4
    assert one.drop_percent == pytest.approx(100 * 18 * 16 * one.length / 1e6 / 230)


def test_only_loaded_neighbours_warm_a_cable(make: SimpleNamespace) -> None:
    def asked(*currents: float) -> list[Any]:
        return [c.Asked(f"Q{i}", "x", (), 16.0, amps) for i, amps in enumerate(currents)]

    idle = asked(2.0, 3.0, 4.0)  # all below 30 % of 16 A
    assert [c.beside(one, idle, LIMITS) for one in idle] == [1, 1, 1]
    mixed = asked(2.0, 10.0, 12.0)
    assert [c.beside(one, mixed, LIMITS) for one in mixed] == [3, 2, 2]
    own = LIMITS.overridden({"services.grouped": 4.0})
    assert c.beside(mixed[0], mixed, own) == 4
    # WE: three bunched in an insulated wall, 18.5 × 0.70, do not carry 16 A (IEC 60364-5-52 table B.52.2 method A2)
    assert 18.5 * air_factor(30, LIMITS) * beside_factor(3, LIMITS) == pytest.approx(12.95)


def test_an_unknown_wall_is_taken_as_the_worse(make: SimpleNamespace) -> None:
    job = make.job()
    for substrate, method in (("unknown", "A2"), ("metal_stud", "A2"), ("brick", "B2"), ("concrete", "B2")):
        wall = replace(job.survey.wall, substrate=substrate)
        assert supply(replace(job, survey=replace(job.survey, wall=wall)), LIMITS).method == method


def test_load_table_adds_up_to_the_circuits(services: Planner) -> None:
    for one in services().circuits:
        assert one.connected == pytest.approx(sum(item.watts for item in one.items))
        assert one.diversified == pytest.approx(sum(item.watts * item.factor for item in one.items))
        assert one.standby == pytest.approx(sum(item.standby for item in one.items))
        assert one.leakage_ma == pytest.approx(0.5 * len(one.items))


def test_a_driver_that_dims_draws_a_little_asleep() -> None:
    def strip(dimmable: bool) -> Any:
        return SimpleNamespace(ref="G1", watts=58.0, dimmable=dimmable, drivers=2)

    dims, plain = c.light_loads([strip(True), strip(False)], LIMITS)
    assert dims.watts == pytest.approx(65.9, abs=0.05)  # 58 / 0.88
    assert (dims.standby, plain.standby) == (1.0, 0.0)  # 2 × 0.5 W


def test_what_the_wall_asks_and_sleeps_is_told_with_its_working(services: Planner) -> None:
    found = services()
    whys = {why.name: why for why in found.whys}
    sockets = sorted((one.diversified for one in found.circuits if one.ref != "Q2"), reverse=True)
    lights = sum(one.diversified for one in found.circuits if one.ref == "Q2")
    # On-Site Guide, table of diversity
    assert whys["services.demand"].value == pytest.approx(sockets[0] + 0.4 * sum(sockets[1:]) + 0.66 * lights)
    asleep = sum(one.standby for one in found.circuits)
    hours = next(
        given.value for given in whys["services.standby_year"].inputs if given.name == "in use, a week"
    )
    assert whys["services.standby_year"].value == pytest.approx(loads.standby_year(asleep, float(hours)))
    for one in found.circuits:
        for name in ("current", "cable", "drop", "longest", "leakage"):
            assert "licensed electrician" in whys[f"circuit {one.ref}.{name}"].says


def test_a_large_load_has_a_circuit_and_its_own_device() -> None:
    shared, own = loads.split(
        (Load("tv", 200), Load("fire", 2000)), LIMITS.value("services.own_circuit_watts")
    )
    assert [x.name for x in shared] == ["tv"] and [x.name for x in own] == ["fire"]


def test_the_tests_ask_what_the_book_asks() -> None:
    once, five = LIMITS.value("circuits.trip_once"), LIMITS.value("circuits.trip_five")
    assert (once, five) == (300, 40)  # BS 7671:2018: ms at the rated residual current, and at five times it
    assert LIMITS.value("circuits.test_insulation") == 1  # BS 7671:2018 part 6: MΩ
    assert LIMITS.value("circuits.test_volts") == 500  # ... at V DC
