"""The rates book with the user's own rates over it: units, hours at the user's own hour rate, and what is refused."""

from __future__ import annotations

from dataclasses import replace
from decimal import Decimal
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from wallwright.derive import derive
from wallwright.job.demos import demo_jobs
from wallwright.job.edits import apply
from wallwright.job.problem import JobError
from wallwright.job.read import read_job
from wallwright.library import load
from wallwright.library.rates import METRIC, OwnRate, book, fix_share, unit_of

JOB = read_job(demo_jobs()["living"])


def line(money: Any, ref: str) -> Any:
    return next(line for line in money.lines if line.ref == ref)


def test_a_square_foot_and_a_running_foot() -> None:
    assert (
        METRIC["sq ft"][1] == 0.3048**2 == pytest.approx(1 / 10.7639104)
    )  # international foot of 1959, exact
    assert METRIC["rft"][1] == 0.3048
    assert METRIC["cu ft"][1] == pytest.approx(0.3048**3, rel=1e-12)


@pytest.mark.parametrize(
    ("said", "unit"),
    [
        ("sqft", "sq ft"),
        ("Sft.", "sq ft"),
        ("m2", "m²"),
        ("running foot", "rft"),
        ("nos", "nr"),
        ("acre", ""),
    ],
)
def test_units_as_people_say_them(said: str, unit: str) -> None:
    assert unit_of(said) == unit


def test_an_own_rate_prices_its_line_and_no_other(made: Any) -> None:
    plain = made.money()
    own = made.but(job=replace(made.job, rates={"board_ply18": OwnRate(20.0)})).money()
    for old in plain.lines:
        new = line(own, old.ref)
        assert (new.amount != old.amount) == (old.ref == "board_ply18")
        assert new.invented == (old.ref != "board_ply18")
    assert line(own, "board_ply18").rate == 2000


def test_a_rate_by_the_square_foot_measures_its_line_in_square_feet(made: Any) -> None:
    own = made.but(job=replace(made.job, rates={"board_ply18": OwnRate(1.5, "sqft")})).money()
    metric, feet = line(made.money(), "board_ply18"), line(own, "board_ply18")
    assert feet.unit == "sq ft"
    assert feet.quantity == pytest.approx(metric.quantity * 10.7639104, abs=0.006)
    assert feet.amount == round(feet.quantity * 150)
    assert f"{feet.quantity:.2f} sq ft" in feet.measured


def test_a_general_rate_gives_way_to_the_particular_one(made: Any) -> None:
    own = made.but(job=replace(made.job, rates={"finish_laminate_oak": OwnRate(9.0)})).money()
    assert line(own, "finish_laminate_oak").rate == 900
    assert (
        book("demo", {"finish_laminate_oak": OwnRate(9.0)})["finish_laminate"]
        == load.rates()["finish_laminate"]
    )


def test_an_own_hour_rate_reprices_what_holds_hours_of_that_trade() -> None:
    rows, base = book("demo", {"hour_joinery": OwnRate(5.0)}), book("demo")
    for key, row in rows.items():
        old = base[key]
        hours = old.hours if old.trade == "joinery" else 0  # 5 instead of 3 an hour: 2 more an hour
        assert row.amount == pytest.approx(old.amount + (2 * hours if key != "hour_joinery" else 2)), key
    kept = book("demo", {"hour_joinery": OwnRate(5.0), "labour_door": OwnRate(7.0)})
    assert kept["labour_door"].amount == 7  # what the user priced himself stays as he priced it


def test_supply_and_fixing_are_the_whole_rate() -> None:
    for key, row in book().items():
        fix = fix_share(row, book())
        assert 0 <= fix <= Decimal(str(row.amount)), key
        if row.hours:
            each = book()[f"hour_{row.trade}"].amount
            assert fix == Decimal(str(row.hours)) * Decimal(str(each)), (
                f"{key}: the rate does not cover its own hours"
            )


def test_every_line_splits_into_supply_and_fixing(made: Any) -> None:
    money = made.money()
    assert all(row.supply + row.fix == row.amount and row.supply >= 0 and row.fix >= 0 for row in money.lines)
    hung = line(money, "labour_hanging")
    assert (hung.supply, hung.hours) == (0, hung.quantity)
    strip = line(money, "led_strip")
    assert strip.fix == round(strip.quantity * 0.3 * 400)  # 0.3 h a metre at the demo's 4 an hour


def test_what_the_client_supplies_leaves_the_price(made: Any) -> None:
    job = apply(JOB, "set_scope", {"thing": "led", "supply": "client"})
    plain, taken = derive(JOB).money, derive(job).money
    assert line(taken, "led_strip").amount == line(plain, "led_strip").fix
    assert line(taken, "led_strip").measured.endswith("supplied by the client")
    assert (
        plain.direct - taken.direct
        == sum(line(plain, ref).supply for ref in ("led_strip", "led_driver")) + line(plain, "dimmer").supply
    )
    both = derive(apply(JOB, "set_scope", {"thing": "tv_bracket", "supply": "client", "fix": "client"})).money
    assert line(both, "mount_tilt").amount == 0


@pytest.mark.parametrize(
    ("values", "says"),
    [
        ({"key": "board_ply81", "amount": 9}, "did you mean 'board_ply18'"),
        ({"key": "board_ply18", "amount": 9, "unit": "nr"}, "by m², sq ft"),
        ({"key": "board_ply18", "amount": 9, "unit": "sq fot"}, "did you mean 'sq ft'"),
        ({"key": "board_ply18", "amount": 1e12}, "less than 1e9"),
        ({"key": "hardware_gold_knob", "amount": 9}, "needs name, trade, unit and amount"),
    ],
)
def test_a_rate_that_cannot_be_is_refused_with_what_would_do(values: dict[str, Any], says: str) -> None:
    with pytest.raises(JobError, match=says):
        apply(JOB, "set_rate", values)


def test_a_new_rate_of_a_known_family_is_taken() -> None:
    job = apply(
        JOB,
        "set_rate",
        {"key": "hardware_gold_knob", "amount": 9, "unit": "pc", "name": "Knob", "trade": "joinery"},
    )
    assert book("demo", job.rates)["hardware_gold_knob"].unit == "nr"


@given(st.sampled_from(sorted(load.rates())), st.integers(0, 10**7).map(lambda cents: cents / 100))
def test_any_known_rate_can_be_set_and_is_what_was_set(key: str, amount: float) -> None:
    row = book("demo", {key: OwnRate(amount)})[key]
    assert (row.amount, row.unit) == (amount, load.rates()[key].unit)
    assert "invented" not in row.source
