"""Trades that are taxed differently: each bears its share of the price and its own tax."""

from __future__ import annotations

from decimal import ROUND_HALF_UP, Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from wallwright.money.quote import chain, chain_by_trade

shares = st.integers(0, 400).map(lambda tenths: tenths / 10)
costs = st.dictionaries(st.sampled_from("abcdef"), st.integers(0, 10**8), min_size=1)


@given(costs, shares, shares, shares, shares)
def test_one_tax_for_all_is_the_plain_chain(
    costs: dict[str, int], overhead: float, margin: float, reserve: float, tax: float
) -> None:
    steps, total, _ = chain_by_trade(costs, overhead, margin, reserve, dict.fromkeys(costs, tax), tax)
    assert (steps, total) == chain(sum(costs.values()), overhead, margin, reserve, tax)


def test_two_taxes_by_hand() -> None:
    # 600 + 400, no overhead, margin or reserve: 600 x 18 % + 400 x 5 % = 108 + 20
    steps, total, parts = chain_by_trade(
        {"joinery": 60000, "electrical": 40000}, 0, 0, 0, {"electrical": 5}, 18
    )
    assert total == 112_800
    assert {part.trades: part.amount for part in parts} == {("joinery",): 10_800, ("electrical",): 2_000}
    assert steps[-1].amount == 12_800


@given(costs, shares, shares, st.dictionaries(st.sampled_from("abcdef"), shares), shares)
def test_taxes_by_trade_against_decimal(
    costs: dict[str, int], overhead: float, margin: float, taxes: dict[str, float], tax: float
) -> None:
    steps, total, parts = chain_by_trade(costs, overhead, margin, 10, taxes, tax)
    before = chain(sum(costs.values()), overhead, margin, 10, 0)[1]
    assert sum(costs.values()) + sum(step.amount for step in steps) == total
    assert total - before == sum(part.amount for part in parts)
    for part in parts:
        exact = (Decimal(part.base) * Decimal(str(round(part.share * 100, 6))) / 100).to_integral_value(
            ROUND_HALF_UP
        )
        assert abs(part.amount - exact) <= 1
    if len(parts) > 1:
        assert sum(part.base for part in parts) == before


def test_the_price_chain_of_the_reference() -> None:
    # 1000 x 1.15 / 0.80 x 1.05 x 1.18 = 1781.0625; as a mark-up it would be x 1.20: 1709.82 (arithmetic)
    assert chain_by_trade({"joinery": 100_000}, 15, 20, 5, {}, 18)[1] == 178_106
    with pytest.raises(ValueError, match=r"money\.margin"):
        chain_by_trade({"joinery": 100_000}, 15, 100, 5, {}, 18)
