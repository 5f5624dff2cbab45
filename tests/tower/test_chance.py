"""What a sample tells of the rest, against scipy's distributions and published sample sizes."""

from __future__ import annotations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy import stats

from wallwright.tower.chance import chance_of_so_few, most_bad, sample_for, share_covered


@settings(max_examples=60, deadline=None)
@given(st.integers(1, 150), st.data())
def test_the_chance_is_the_hypergeometric_one(lot: int, data: st.DataObject) -> None:
    bad, looked = data.draw(st.integers(0, lot)), data.draw(st.integers(0, lot))
    seen = data.draw(st.integers(0, looked))
    assert chance_of_so_few(lot, bad, looked, seen) == pytest.approx(
        float(stats.hypergeom.cdf(seen, lot, bad, looked)), abs=1e-9
    )


@settings(max_examples=40, deadline=None)
@given(st.integers(1, 120), st.sampled_from([0.8, 0.9, 0.95, 0.99]), st.data())
def test_the_most_that_may_be_bad_is_the_largest_that_is_not_ruled_out(
    lot: int, sure: float, data: st.DataObject
) -> None:
    looked = data.draw(st.integers(0, lot))
    bad = data.draw(st.integers(0, looked))
    most = most_bad(lot, looked, bad, sure)
    possible = [
        k
        for k in range(bad, lot - looked + bad + 1)
        if looked == lot or float(stats.hypergeom.cdf(bad, lot, k, looked)) > 1 - sure
    ]
    assert most == max(possible)


def test_for_a_very_large_lot_it_is_the_limit_of_clopper_and_pearson() -> None:
    """Clopper and Pearson, Biometrika 26 (1934): the upper limit is the beta quantile; 2 of 60, one-sided 95 %."""
    lot, looked, bad = 200_000, 60, 2
    limit = float(stats.beta.ppf(0.95, bad + 1, looked - bad))
    assert most_bad(lot, looked, bad, 0.95) / lot == pytest.approx(limit, abs=2e-4)


def test_nothing_is_left_open_where_all_were_looked_at_and_nothing_known_where_none_was() -> None:
    assert most_bad(30, 30, 4, 0.95) == 4
    assert most_bad(30, 0, 0, 0.95) == 30


@pytest.mark.parametrize("numbers", [(5, 6, 0, 0.9), (5, 3, 4, 0.9), (5, 3, -1, 0.9), (5, 3, 1, 1.0)])
def test_numbers_that_do_not_go_together_are_refused(numbers: tuple[int, int, int, float]) -> None:
    with pytest.raises(ValueError, match="no such sample"):
        most_bad(*numbers)


def test_93_measured_cover_95_percent_with_95_percent_confidence() -> None:
    """Wilks 1941: n = 93 for two limits at 95 %/95 %, 38 at 90 %/90 % (from memory); the beta law of the range of n (scipy)."""
    assert sample_for(0.95, 0.95) == 93
    assert sample_for(0.90, 0.90) == 38
    for n in (2, 10, 93):
        assert share_covered(n, 0.95) == pytest.approx(float(stats.beta.ppf(0.05, n - 1, 2)), abs=1e-9)
    assert share_covered(1, 0.95) == 0.0
