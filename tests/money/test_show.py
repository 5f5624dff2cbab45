from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from wallwright.money.show import grouped, grouping_for, show_amount, show_money


@pytest.mark.parametrize(
    ("whole", "thousand", "lakh"),
    [
        (0, "0", "0"),
        (999, "999", "999"),
        (1000, "1,000", "1,000"),
        (100_000, "100,000", "1,00,000"),
        (
            12_345_678,
            "12,345,678",
            "1,23,45,678",
        ),  # one crore twenty-three lakh: digits in twos above the thousand
        (-1_005_000, "-1,005,000", "-10,05,000"),
    ],
)
def test_groups(whole: int, thousand: str, lakh: str) -> None:
    assert grouped(whole) == thousand
    assert grouped(whole, "lakh") == lakh


@given(st.integers(-(10**15), 10**15), st.sampled_from(["thousand", "lakh"]))
def test_groups_lose_nothing(whole: int, grouping: str) -> None:
    assert int(grouped(whole, grouping).replace(",", "")) == whole
    assert grouped(whole, "lakh").split(",")[-1] == grouped(whole).split(",")[-1]


def test_amounts() -> None:
    assert show_amount(5) == "0.05"
    assert show_amount(-123_456_78, "lakh") == "-1,23,456.78"
    assert show_money(-150, "¤") == "-¤\u00a01.50"
    assert grouping_for("IN") == "lakh"
    assert grouping_for("UK") == "thousand"
