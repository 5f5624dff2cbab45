"""The price simulated, against the moments of scipy's triangles."""

from __future__ import annotations

from typing import Any

import numpy as np
import pytest
from scipy import stats

from wallwright.derive import derive
from wallwright.job.demos import demo_jobs
from wallwright.job.read import read_job
from wallwright.library import load
from wallwright.money.range import drawn, simulated, spread_of, triangle
from wallwright.money.record import Line

LIMITS = load.limits()


@pytest.fixture(scope="module")
def money() -> Any:
    return derive(read_job(demo_jobs()["living"])).money


def one(trade: str, amount: int, ref: str = "x") -> Line:
    return Line(ref, trade, "", 1, "nr", amount, amount, "")


@pytest.mark.parametrize(("low", "high"), [(0.9, 1.3), (0.5, 1.0001), (1.0, 1.4), (0.8, 1.1)])
def test_the_triangle_is_scipys(low: float, high: float) -> None:
    at = np.linspace(0.001, 0.999, 201)
    oracle = stats.triang((1 - low) / (high - low), loc=low, scale=high - low)
    assert np.allclose(triangle(at, low, high), oracle.ppf(at), atol=1e-9)


def test_one_line_has_the_moments_of_its_triangle() -> None:
    low, high = spread_of("electrical", LIMITS, unsure=False)
    oracle = stats.triang((1 - low) / (high - low), loc=low, scale=high - low)
    got = drawn([one("electrical", 100_000)], LIMITS, unsure=False, seed=3, draws=200_000) / 100_000
    assert got.mean() == pytest.approx(oracle.mean(), rel=0.002)
    assert got.std() == pytest.approx(oracle.std(), rel=0.01)
    assert stats.skew(got) == pytest.approx(oracle.stats("s"), abs=0.03)
    assert got.min() >= low
    assert got.max() <= high


def test_lines_of_a_trade_move_together_and_trades_do_not() -> None:
    def spread(lines: list[Line], rho: float) -> float:
        limits = LIMITS.overridden({"money.lines_together": rho})
        return float(drawn(lines, limits, unsure=False, seed=5, draws=100_000).std())

    alike = [one("joinery", 50_000, "a"), one("joinery", 50_000, "b")]
    whole = spread([one("joinery", 100_000)], 0.5)
    assert spread(alike, 0) == pytest.approx(
        whole / 2**0.5, rel=0.02
    )  # two that do not know each other: 1/sqrt 2
    assert spread(alike, 1) == pytest.approx(whole, rel=0.02)
    assert spread(alike, 0) < spread(alike, 0.5) < spread(alike, 1)
    apart = [one("joinery", 50_000), one("light", 50_000)]
    assert spread(apart, 1) == pytest.approx(spread(apart, 0), rel=0.02)


def test_same_seed_same_answer_and_the_ends_in_order(money: Any) -> None:
    a, b, other = (simulated(money, LIMITS, unsure=False, seed=seed) for seed in (1, 1, 2))
    assert a == b != other
    assert a.low < a.likely < a.high
    assert a.likely == pytest.approx(other.likely, rel=0.002)


def test_the_reserve_that_is_asked_for_is_as_sure_as_was_asked(money: Any) -> None:
    found = simulated(money, LIMITS, unsure=False, draws=50_000)
    share = {step.name: step.share for step in money.steps}
    factor = (1 + share["overhead"]) / (1 - share["margin"]) * (1 + share["tax"])
    prices = drawn(money.lines, LIMITS, unsure=False, seed=1, draws=50_000) * factor
    assert float((prices <= found.base + found.asked_amount).mean()) == pytest.approx(0.80, abs=0.001)
    assert float((prices <= found.base + found.kept_amount).mean()) == pytest.approx(found.sure, abs=0.001)


def test_an_open_survey_widens_what_meets_the_unseen(money: Any) -> None:
    sure, unsure = (simulated(money, LIMITS, unsure=state) for state in (False, True))
    assert unsure.high - unsure.low > sure.high - sure.low
    assert "electrical" in unsure.widened
    assert "joinery" not in unsure.widened
    assert unsure.asked > sure.asked
