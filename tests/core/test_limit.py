"""Limits: how far a user may move one, and that every one of the library lies within its own range."""

from __future__ import annotations

import pytest

from wallwright.core.limit import Limit, Limits
from wallwright.library import load


def limit(value: float, unit: str = "mm", low: float | None = None, high: float | None = None) -> Limit:
    return Limit("trade.what", value, unit, "common practice", "common practice", "", low, high)


@pytest.mark.parametrize(
    ("one", "least", "most"),
    [
        (limit(400), 4, 40_000),
        (limit(-5, "K"), -500, -0.05),
        (limit(0.3, "ratio"), 0.003, 1),
        (limit(0.9, "share of the picture"), 0.009, 1),
        (limit(10, "%"), 0.1, 100),
        (limit(15, "deg"), 0.15, 90),
        (limit(150, "deg"), 1.5, 15_000),
        (limit(400, "mm", 100, 900), 100, 900),
        (limit(0, "%", 0, 200), 0, 200),
    ],
)
def test_the_range_follows_the_value_unless_the_data_says(one: Limit, least: float, most: float) -> None:
    assert (one.least, one.most) == (pytest.approx(least), pytest.approx(most))
    assert one.allows(one.least)
    assert one.allows(one.most)
    assert not one.allows(most * 1.01 + 1)
    assert not one.allows(least - abs(least) * 0.01 - 1e-6)


def test_every_limit_of_the_library_may_be_moved_both_ways() -> None:
    limits = load.limits()
    for one in limits:
        assert one.least <= one.value <= one.most, one.name
        assert one.least < one.most, one.name
        assert one.source, one.name


def test_a_rule_set_lays_its_values_over_the_library() -> None:
    rows = Limits({"trade.what": limit(400)})
    own = rows.overridden({"trade.what": 500})
    assert (own.value("trade.what"), own["trade.what"].certainty) == (500, "your rule set")
    assert rows.value("trade.what") == 400
    with pytest.raises(KeyError, match=r"trade\.other"):
        rows.overridden({"trade.other": 1})
