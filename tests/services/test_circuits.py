"""Circuits by rule set: what the books ask, reckoned again by hand."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from types import SimpleNamespace
from typing import Any, get_args

import pytest

from wallwright.core.limit import Certainty
from wallwright.job.brief import Device
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
        rules, board = changes.pop("rules", {}), changes.pop("board_distance", None)
        job = make.job(**changes)
        if board is not None:
            job = replace(job, survey=replace(job.survey, board_distance=make.mm(board)))
        return make.plan(job, make.screen(), make.setout(), LIMITS.overridden(rules))

    return planned


def test_every_rule_set_is_whole_and_says_where_it_is_from() -> None:
    sets = load.electrical()
    assert set(sets) == {"uk", "eu", "in", "us", "none"}  # the places of the survey
    names = (
        "volts", "sockets", "lights", "drop_lights", "drop_other", "least_sockets", "least_lights", "air", "trip", "leak_share",
        "own", "outlet", "long_share",
    )  # fmt: skip
    for key, rules in sets.items():
        assert (
            list(rules.devices) == sorted(rules.devices)
            and LIMITS.value(f"circuits.{key}_own") in rules.devices
        )
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
    # BS 7671 reckons 30 °C, an Indian summer 40 °C: 23 A × 1.0 (IEC 60364-5-52 table B.52.2 method B2), and
    # 24 A × 0.87 for single cores in conduit (method B1)
    assert made["UK"].carries == pytest.approx(23.0)
    assert made["IN"].carries == pytest.approx(20.88)
    assert made["US"].leak_most == 0  # no residual-current device is asked for
    assert made["UK"].leak_most == pytest.approx(9.0)  # BS 7671:2018 531.3.2


def test_a_hot_place_is_reckoned_hot_under_any_rule_set(services: Planner) -> None:
    hot = services(place=Place(rules="UK", hot_humid=True)).circuits[0]
    assert hot.air == 40 and hot.carries == pytest.approx(23 * 0.87)


def test_the_users_own_figure_goes_before_the_rule_sets(services: Planner) -> None:
    def set_to(amps: float) -> Any:
        own = {"circuits.in_sockets": amps, "circuits.in_power_points": 20.0}
        return services(place=Place(rules="IN"), rules=own).circuits[0]

    own = set_to(20.0)
    assert own.rating == 20
    # 2.5 mm² carries 24 × 0.87 = 20.88 A there alone: it still does; with 25 A the next size is taken
    assert own.cable_mm2 == 2.5
    assert set_to(25.0).cable_mm2 == 4


def test_the_longest_run_is_that_of_its_cable_and_device(services: Planner) -> None:
    one = services(place=Place(rules="UK")).circuits[0]
    assert (one.cable_mm2, one.rating) == (2.5, 16)
    assert one.longest / 1000 == pytest.approx(
        39.93, abs=0.01
    )  # 5 % of 230 V / (18 mV/A/m × 16 A), BS 7671 appendix 4
    assert one.drop_percent == pytest.approx(100 * 18 * 16 * one.length / 1e6 / 230)


def test_a_socket_circuit_counts_at_its_device_whatever_it_draws_today() -> None:
    def asked(*refs: str) -> list[Any]:
        return [
            c.Asked(ref, "x", (), 16.0, 2.0, 2.0) for ref in refs
        ]  # 2 A of 16 A: a guess of what is plugged in

    three = asked("Q1", "Q3", "Q4")
    assert [c.beside(one, three, frozenset(), LIMITS) for one in three] == [3, 3, 3]
    with_lights = asked("Q1", "Q2", "Q3")
    assert [c.beside(one, with_lights, {"Q2"}, LIMITS) for one in with_lights] == [2, 3, 2]
    own = LIMITS.overridden({"services.grouped": 4.0})
    assert c.beside(with_lights[0], with_lights, {"Q2"}, own) == 4
    # WE: three bunched in an insulated wall, 18.5 × 0.70, do not carry 16 A (IEC 60364-5-52 table B.52.2 method A2)
    assert 18.5 * air_factor(30, LIMITS) * beside_factor(3, LIMITS) == pytest.approx(12.95)


def test_an_appliance_on_its_own_thickens_the_cable_beside_it(services: Planner) -> None:
    devices = (Device("fire", "electric_fire", watts=2000), Device("stb", "set_top_box"))
    sockets, lights, fire = services(devices=devices, place=Place(rules="UK", hot_humid=True)).circuits
    assert (sockets.beside, lights.beside, fire.beside) == (2, 3, 2) and sockets.left_out == ("Q2",)
    # method B2, 40 °C, two grouped: 23 × 0.87 × 0.80 = 16.0 A still carries 16 (IEC 60364-5-52 table B.52.2)
    assert sockets.carries == pytest.approx(16.008) and sockets.cable == "2.5 mm²"


def test_lights_are_left_out_only_while_they_draw_little_of_the_grouped_rating(services: Planner) -> None:
    # two circuits, method B2 in 30 °C: 1.5 mm² carries 16.5 × 0.80 = 13.2 A, 30 % of it 3.96 A
    found = services(place=Place(rules="UK")).circuits
    amps = found[1].connected / (230 * 0.95)
    share = amps / 13.2
    inside, outside = share * 1.01, share * 0.99
    assert services(place=Place(rules="UK"), rules={"circuits.light_load": inside}).circuits[0].beside == 1
    assert services(place=Place(rules="UK"), rules={"circuits.light_load": outside}).circuits[0].beside == 2


def test_an_american_device_is_the_next_made_over_a_long_load(services: Planner) -> None:
    def fire(watts: float, rules: Any) -> Any:
        return services(
            devices=(Device("f", "electric_fire", watts=watts),), place=Place(rules=rules)
        ).circuits[-1]

    # NEC 210.20(A), from memory: 1500 W / (120 V × 0.95) = 13.2 A, / 0.8 = 16.4 A: 20 A; 2000 W: 17.5 / 0.8 = 21.9 A: 30 A
    assert (fire(1500, "US").rating, fire(2000, "US").rating) == (20, 30)
    assert fire(2000, "US").cable == "10 AWG"  # 30 °C, NEC 240.4(D), from memory
    # 4500 W / (230 × 0.95) = 20.6 A: the next size of IEC 60898, from memory; 16 A for what is less
    assert (fire(4500, "IN").rating, fire(2000, "UK").rating) == (25, 16)
    largest = fire(9000, "IN")
    assert largest.rating == 32 < largest.current  # and the rules say so


def test_the_american_drop_is_reckoned_at_what_is_drawn_for_hours(services: Planner) -> None:
    one = services(place=Place(rules="US"), board_distance=8000.0).circuits[0]
    assert one.long_draw == pytest.approx(12)  # 80 % of 15 A, NEC 210.19(A), from memory
    metres = one.length / 1000
    drop = {"14 AWG": 20.144, "12 AWG": 12.664}  # mV/A/m: NEC chapter 9 table 8
    least = next(size for size, mv in drop.items() if mv * 12 * metres / 1000 <= 0.03 * 120)
    assert one.cable == least
    assert one.drop_percent == pytest.approx(100 * drop[least] * 12 * metres / 1000 / 120)


def test_factors_of_american_cable_begin_from_its_insulation_and_end_at_its_fuse(
    make: SimpleNamespace,
) -> None:
    # two circuits, 30 °C: 14 AWG of 90 °C carries 25 × 0.8 = 20 A, and is fused at 15 A (NEC table 310.16, 240.4(D))
    asked = c.Asked("Q1", "x", (), 15.0, 5.0, 5.0)
    power = supply(make.job(place=Place(rules="US")), LIMITS)
    made = c._circuit(asked, 2, power, (5000.0, 0.0), LIMITS)  # pyright: ignore[reportPrivateUsage]
    assert (made.cable, made.carries) == ("14 AWG", 15)


def test_indian_electronics_lie_on_six_amperes_and_share_circuits_by_points_and_watts(
    services: Planner,
) -> None:
    found = services(place=Place(rules="IN"))
    one = found.circuits[0]
    assert (one.rating, one.kind, one.points) == (6, "light", 8)
    # at most ten points and 800 W (course texts on Indian wiring): 8 outlets and 542 W lie on one ...
    assert len([c for c in found.circuits if c.kind == "light"]) == 2
    # ... with six outlets a circuit they take two, and every load and outlet lies on one of them
    split = services(place=Place(rules="IN"), rules={"circuits.in_light_points": 6.0}).circuits
    sockets = [c for c in split if c.ref != "Q2"]
    assert [c.points for c in sockets] == [6, 2] and [c.ref for c in sockets] == ["Q1", "Q3"]
    names = [item.name for c in sockets for item in c.items if "spare" not in item.name]
    assert sorted(names) == sorted(item.name for item in one.items if "spare" not in item.name)
    # an outlet of 16 A is of a power circuit: at most two on each
    power = services(place=Place(rules="IN"), rules={"circuits.in_sockets": 16.0}).circuits
    assert [c.points for c in power if c.kind == "power"] == [2, 2, 2, 2]


def test_each_country_has_its_own_cables(services: Planner) -> None:
    def cable(rules: Any) -> set[str]:
        found = services(place=Place(rules=rules))
        return {key for run in found.runs if run.kind == "mains" for key, _ in run.contents}

    assert cable("UK") == {"twin_2_5", "twin_1_5"}
    assert cable("EU") == {"core3_2_5", "core3_1_5"}
    assert cable("IN") == {"single_2_5", "single_1_5"}
    assert all(key.startswith("awg") for key in cable("US"))
    # single cores in conduit in masonry: method B1, a cable in conduit B2 (IEC 60364-5-52 table B.52.2)
    assert (
        services(place=Place(rules="IN")).circuits[0].method,
        services(place=Place(rules="EU")).circuits[0].method,
    ) == ("B1", "B2")


def test_boxes_are_those_of_the_country() -> None:
    us, uk = load.limits_of("US"), load.limits_of("UK")
    # plate of one gang, 2 3/4 × 4 1/2 in
    assert us.value("services.box_height") == pytest.approx(4.5 * 25.4, abs=0.5)
    assert us.value("services.box_twin_width") == pytest.approx(2.75 * 25.4, abs=0.5)
    assert (
        uk.value("services.box_height") == 86 and uk.value("services.box_twin_width") == 146
    )  # common practice
    assert {row.name for row in us} == {row.name for row in LIMITS}


def test_a_surveyed_board_goes_before_the_assumed_one(services: Planner) -> None:
    assumed, known = services().circuits[0], services(board_distance=5000.0).circuits[0]
    assert assumed.board_assumed and not known.board_assumed
    assert assumed.length - known.length == pytest.approx(12_000 - 5000)


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
