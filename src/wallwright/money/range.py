"""What the price may turn out to be: low, likely and high by seeded simulation, and the reserve that makes it as sure as asked.

Each line is a triangle: low and high as its trade's lines may turn out, the line itself the likeliest. Lines of one trade move
together in part (a Gaussian copula), trades do not. Reserve and tax are left out of the draw and laid over it as the chain has them.
"""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING, Any, cast

from wallwright.core.limit import Limits
from wallwright.library import terms
from wallwright.library.terms import Spread

if TYPE_CHECKING:
    from wallwright.money.record import Line, Money

USUAL = "joinery"
"""The spread of a trade that has none of its own."""


@dataclass(frozen=True, slots=True)
class Range:
    """The price simulated. Amounts in minor units, all in but for the reserve.

    low, likely, high : 10, 50 and 90 of 100 such walls cost at most so much · base : the price with no reserve at all ·
    kept, kept_amount : the reserve in the price, as share and amount · sure : how many of 100 such walls it covers [0..1] ·
    wanted : how sure the price should be · asked, asked_amount : the reserve that makes it so · unpriced : lines with no rate, which
    nothing here covers · widened : trades whose high was widened, for the survey is not closed
    """

    draws: int
    seed: int
    base: int
    low: int
    likely: int
    high: int
    mean: float
    deviation: float
    kept: float
    kept_amount: int
    sure: float
    wanted: float
    asked: float
    asked_amount: int
    unpriced: int
    widened: tuple[str, ...]


def spread_of(trade: str, limits: Limits, *, unsure: bool) -> tuple[float, float]:
    """Low and high of a trade's line as multiples of it. unsure : the survey is not closed."""
    rows: Mapping[str, Spread] = terms.spreads()
    row = rows.get(trade, rows[USUAL])
    widen = limits.value("money.unsure_widens") if unsure and row.hidden else 1.0
    return 1 - row.low / 100, 1 + widen * row.high / 100


def simulated(
    money: Money, limits: Limits, *, unsure: bool, seed: int = 1, draws: int | None = None
) -> Range:
    """The price of a bill simulated. unsure : something the price rests on is only assumed. Same seed, same answer."""
    import numpy as np

    count = draws or int(limits.value("money.draws"))
    direct = drawn(money.lines, limits, unsure=unsure, seed=seed, draws=count)
    share = {"overhead": 0.0, "margin": 0.0, "contingency": 0.0, "tax": 0.0} | {
        s.name: s.share for s in money.steps
    }
    factor = (1 + share["overhead"]) / (1 - share["margin"]) * (1 + share["tax"])
    prices = direct * factor
    base = money.direct * factor
    wanted, kept = limits.value("money.sure") / 100, share["contingency"]
    asked = max(0.0, float(np.quantile(prices, wanted)) / base - 1) if base else 0.0
    low, likely, high = (round(float(at)) for at in np.quantile(prices, (0.1, 0.5, 0.9)))
    trades = sorted(
        {
            line.trade
            for line in money.lines
            if spread_of(line.trade, limits, unsure=True) != spread_of(line.trade, limits, unsure=False)
        }
    )
    return Range(
        count, seed, round(base), low, likely, high, float(prices.mean()), float(prices.std()), kept, round(base * kept),
        float((prices <= base * (1 + kept)).mean()), wanted, asked, round(base * asked),
        sum(line.rate == 0 for line in money.lines), tuple(trades) if unsure else (),
    )  # fmt: skip


def drawn(lines: Sequence[Line], limits: Limits, *, unsure: bool, seed: int, draws: int) -> Any:
    """Direct costs of so many such walls (an array of minor units)."""
    import numpy as np

    random = np.random.default_rng(seed)
    together = limits.value("money.lines_together")
    total: Any = np.zeros(draws)
    for trade in dict.fromkeys(line.trade for line in lines):
        low, high = spread_of(trade, limits, unsure=unsure)
        common = random.standard_normal(draws) * together**0.5
        for line in lines:
            if line.trade == trade:
                own = random.standard_normal(draws) * (1 - together) ** 0.5
                total += line.amount * triangle(_share_below(common + own), low, high)
    return total


def _share_below(at: Any) -> Any:
    """The share of a normal distribution that lies below each of these."""
    import numpy as np

    below = np.fromiter(map(math.erf, (at / math.sqrt(2.0)).tolist()), float, len(at))
    return (1.0 + below) / 2.0


def triangle(at: Any, low: float, high: float) -> Any:
    """The value below which a share `at` of a triangle lies whose peak is at 1."""
    import numpy as np

    if high <= low:
        return np.ones_like(at)
    peak = (1 - low) / (high - low)
    rising: Any = low + np.sqrt(at * (high - low) * (1 - low))
    falling: Any = high - np.sqrt((1 - at) * (high - low) * (high - 1))
    return cast("Any", np).where(at < peak, rising, falling)
