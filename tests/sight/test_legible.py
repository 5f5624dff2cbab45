"""Captions: minutes of arc by hand, and what readers of lower acuity need."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from wallwright.core.limit import Limits
from wallwright.sight.legible import caption, minutes, needed


def read(height: float, distance: float, acuity: float = 1.0):
    return caption("A", height, distance, acuity, 1 / 25, 5, 2.95, 15)


def test_a_letter_of_6_6_at_6_m() -> None:
    """The 6/6 line: 8.73 mm at 6 m fills 5 minutes of arc (definition of decimal acuity 1: common knowledge of opticians)."""
    assert minutes(8.727, 6000) == pytest.approx(5.0, abs=0.001)


def test_furthest_seat_by_the_rule() -> None:
    """A twenty-fifth of the height at 15′: d ≤ H/25/tan 15′ = 9.17 H (by hand)."""
    assert read(809.4, 3000).nearest / 809.4 == pytest.approx(9.17, abs=0.005)
    assert read(809.4, 9.16 * 809.4).reads and not read(809.4, 9.18 * 809.4).reads


def test_low_vision() -> None:
    """Fluent print is 0.47 log units above acuity (ARVO abstract, 50 low-vision readers): 10^0.47 = 2.95; at 0.3 (6/20) 49.2′."""
    assert needed(0.3, 5, 10**0.47, 15) == pytest.approx(49.2, abs=0.05)
    assert needed(1.0, 5, 2.95, 15) == 15 and needed(2.0, 5, 2.95, 15) == 15
    poor = read(809.4, 3000, 0.3)
    assert not poor.reads and poor.nearest == pytest.approx(
        2263, abs=2
    )  # 32.4 mm / (2 tan(49.17′/2)), by hand
    assert read(809.4, poor.nearest - 1, 0.3).reads


def test_reserve_is_the_limit_of_the_library(limits: Limits) -> None:
    assert limits.value("sight.read_reserve") == pytest.approx(10**0.47, abs=0.005)


@given(st.floats(300, 1300), st.floats(800, 6000), st.floats(0.05, 2))
def test_the_size_that_is_named_is_read(height: float, distance: float, acuity: float) -> None:
    text = read(height, distance, acuity)
    of_that_size = text.diagonal * 25.4 * 9 / 337**0.5
    assert read(of_that_size * 1.0001, distance, acuity).reads
    assert not read(of_that_size * 0.999, distance, acuity).reads
