"""The price chain and the rounding, against exact fractions."""

from __future__ import annotations

from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from wallwright.money.quote import by_trade, chain, direct_cost, minor, priced
from wallwright.money.record import Line

shares = st.integers(0, 400).map(lambda tenths: tenths / 10)
amounts = st.integers(0, 10**10)


def test_the_chain_on_paper() -> None:
    # 1000 x 1.15 / 0.80 x 1.05 x 1.18 = 1781.0625 (by hand)
    steps, total = chain(100_000, 15, 20, 5, 18)
    assert total == 178_106
    assert [step.name for step in steps] == ["overhead", "margin", "contingency", "tax"]
    assert [step.amount for step in steps] == [
        15_000,
        28_750,
        7_188,
        27_168,
    ]  # running 1150.00, 1437.50, 1509.375, 1781.0625


def test_a_margin_is_not_a_mark_up() -> None:
    # 1000 x 1.15 x 1.20 x 1.05 x 1.18 = 1709.82 would be the mark-up (by hand)
    assert chain(100_000, 15, 20, 5, 18)[1] != 170_982
    steps, total = chain(80_000, 0, 20, 0, 0)
    assert total == 100_000
    assert steps[1].amount * 5 == total  # the margin is 20 % of the price, not of the cost


@given(amounts, shares, shares, shares, shares)
def test_the_chain_is_exact_to_half_a_minor_unit_and_its_steps_sum(
    direct: int, overhead: float, margin: float, contingency: float, tax: float
) -> None:
    steps, total = chain(direct, overhead, margin, contingency, tax)
    o, m, c, t = (Fraction(str(share)) / 100 for share in (overhead, margin, contingency, tax))
    exact = direct * (1 + o) / (1 - m) * (1 + c) * (1 + t)
    assert abs(total - exact) <= Fraction(1, 2) + Fraction(1, 10**9)
    assert direct + sum(step.amount for step in steps) == total
    assert all(step.amount >= 0 for step in steps)


@given(amounts, shares, shares, st.integers(1, 1000), st.sampled_from(range(4)))
def test_more_of_anything_never_costs_less(
    direct: int, overhead: float, margin: float, more: int, which: int
) -> None:
    base = [overhead, margin, 10.0, 18.0]
    dearer = base.copy()
    dearer[which] += 5
    assert chain(direct, *dearer)[1] >= chain(direct, *base)[1]
    assert chain(direct + more, *base)[1] > chain(direct, *base)[1] - 1


@pytest.mark.parametrize(
    ("written", "whole"), [(4.35, 435), (1.005, 101), (2.675, 268), (0.005, 1), (0.0049, 0), (19.0, 1900)]
)
def test_halves_go_up_as_written_not_as_floats_hold_them(written: float, whole: int) -> None:
    # 1.005, 2.675 and 4.35 lie below their halves as binary floats: round(2.675 * 100) is 267
    assert minor(written) == whole


@given(st.integers(0, 10**6), st.integers(0, 10**7))
def test_a_line_is_the_nearest_minor_unit(hundredths: int, rate: int) -> None:
    exact = Fraction(hundredths, 100) * rate
    got = priced(hundredths / 100, rate)
    assert abs(got - exact) <= Fraction(1, 2)
    if (exact * 2).denominator == 1 and exact.denominator == 2:
        assert got > exact  # an exact half goes up


@pytest.mark.parametrize(
    ("name", "values"),
    [("margin", (0, 100, 0, 0)), ("overhead", (-1, 0, 0, 0)), ("tax", (0, 0, 0, float("nan")))],
)
def test_a_share_that_cannot_be_is_named(name: str, values: tuple[float, ...]) -> None:
    with pytest.raises(ValueError, match=f"money.{name}"):
        chain(100, *values)


@given(st.lists(st.tuples(st.sampled_from("abc"), st.integers(0, 10**8)), max_size=30))
def test_trades_sum_to_the_direct_cost(rows: list[tuple[str, int]]) -> None:
    lines = [Line("x", trade, "", 1, "nr", amount, amount, "") for trade, amount in rows]
    assert sum(by_trade(lines).values()) == direct_cost(lines) == sum(amount for _, amount in rows)
