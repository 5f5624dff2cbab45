"""How a finding's numbers are said: units with their numbers, shares as %, a source once."""

from __future__ import annotations

import pytest

from wallwright.core.finding import Finding, measured_says, source_says, told
from wallwright.core.limit import Certainty


def found(
    measured: float | str,
    limit: float | str,
    unit: str,
    source: str = "a book",
    sure: Certainty = "published",
) -> Finding:
    return Finding("a.rule", "fix", "C1", "so it is", measured, limit, unit, source, sure, "do otherwise")


@pytest.mark.parametrize(
    ("item", "says"),
    [
        (found(948, 15.0, "mm"), "measured 948, limit 15 mm"),
        (found("a single source", 3.0, "mm"), "measured a single source, limit 3 mm"),
        (found(4197, "a known wall", "N"), "measured 4197 N, limit a known wall"),
        (found(0.37, 0.4, "0..1"), "measured 37, limit 40 %"),
        (found(0.015, 0.1, "share of the strip's light"), "measured 1.5, limit 10 % of the strip's light"),
        (found(3, 2.0, "ratio"), "measured 3, limit 2"),
        (found(1500, "914 to 1016", "mm"), "measured 1500 mm, limit 914 to 1016 mm"),
        (found("2 of 3 seats", "every seat", ""), "measured 2 of 3 seats, limit every seat"),
    ],
)  # fmt: skip
def test_measured_and_limit(item: Finding, says: str) -> None:
    assert measured_says(item) == says
    assert told(item)[:2] == tuple(
        says.removeprefix("measured ")
        .removesuffix(f" {told(item)[2]}" if told(item)[2] else "")
        .split(", limit ")
    )


def test_a_source_is_said_once() -> None:
    assert source_says(found(1, 2, "mm", "common practice", "common practice")) == "common practice"
    assert source_says(found(1, 2, "mm", "common practice: so", "common practice")) == "common practice: so"
    assert source_says(found(1, 2, "mm")) == "a book; published"
