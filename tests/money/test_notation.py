"""Amounts in currencies of 0, 2 and 3 decimals, grouped and marked as their people do."""

from __future__ import annotations

from decimal import ROUND_HALF_UP, Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from wallwright.derive import derive
from wallwright.job.demos import demo_jobs
from wallwright.job.edits import apply
from wallwright.job.read import read_job
from wallwright.money.quote import allotted, minor
from wallwright.money.show import Notation, notation_of

JOB = read_job(demo_jobs()["living"])


@pytest.mark.parametrize(
    ("notation", "amount", "shown"),
    [
        (Notation("¤", 2), 123456789, "1,234,567.89"),
        (Notation("¤", 2, "lakh"), 123456789, "12,34,567.89"),
        (Notation("¤", 2, "thousand", "comma"), 123456789, "1.234.567,89"),
        (Notation("¤", 2, "none"), 123456789, "1234567.89"),
        (Notation("¤", 0), 1234567, "1,234,567"),
        (Notation("¤", 3), 1234567, "1,234.567"),
        (Notation("¤", 3, "thousand", "comma"), -5, "-0,005"),
    ],
)
def test_an_amount_as_it_is_written(notation: Notation, amount: int, shown: str) -> None:
    assert notation.amount(amount) == shown


@pytest.mark.parametrize(
    ("currency", "decimals"), [("JPY", 0), ("EUR", 2), ("KWD", 3)]
)  # ISO 4217 minor units, from memory
def test_the_decimals_of_a_currency(currency: str, decimals: int) -> None:
    job = apply(JOB, "set_currency", {"currency": currency})
    assert notation_of(job).decimals == decimals
    money = derive(job).money
    assert money.major(money.budget) == 2200
    assert money.total == money.direct + sum(step.amount for step in money.steps)


def test_the_terms_go_before_the_currency() -> None:
    job = apply(
        apply(JOB, "set_currency", {"currency": "JPY"}),
        "set_terms",
        {"decimals": 2, "decimal_mark": "comma", "grouping": "none"},
    )
    assert notation_of(job) == Notation("JPY", 2, "none", "comma")


@given(st.decimals(min_value=0, max_value=10**9, places=5), st.sampled_from([0, 2, 3]))
def test_minor_units_against_decimal(amount: Decimal, places: int) -> None:
    exact = amount.quantize(Decimal(1).scaleb(-places), ROUND_HALF_UP)  # Python's decimal is the oracle
    assert minor(amount, places) == int(exact.scaleb(places))


@given(st.integers(0, 10**10), st.lists(st.integers(0, 10**6), min_size=1, max_size=40))
def test_what_is_shared_out_sums_and_is_fair_to_a_coin(amount: int, weights: list[int]) -> None:
    shares = allotted(amount, weights)
    assert sum(shares) == amount
    total = sum(weights) or len(weights)
    for share, weight in zip(shares, weights, strict=True):
        exact = Decimal(amount) * (weight if sum(weights) else 1) / total
        assert abs(share - exact) < 1
