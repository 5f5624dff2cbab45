"""From priced lines to the price: overhead, margin, contingency, tax, in whole minor units.

All arithmetic is decimal. A half minor unit is rounded up (away from zero). Each step of the chain is the difference of
two rounded running totals, so the steps always sum to the price exactly and no rounding piles up along the chain.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from decimal import ROUND_FLOOR, ROUND_HALF_UP, Decimal

from wallwright.money.record import Line, Step, TaxPart


def whole(amount: Decimal) -> int:
    """The nearest whole minor unit, halves up (away from zero)."""
    return int(amount.to_integral_value(ROUND_HALF_UP))


def minor(amount: float | Decimal, decimals: int = 2) -> int:
    """Minor units of an amount as written in a rates book or a brief: 4.35 is 435, whatever a float makes of it."""
    return whole(Decimal(str(amount)).scaleb(decimals))


def priced(quantity: float, rate: int) -> int:
    """Quantity x rate in whole minor units."""
    return whole(Decimal(str(quantity)) * rate)


def chain(
    direct: int, overhead: float, margin: float, contingency: float, tax: float
) -> tuple[tuple[Step, ...], int]:
    """The steps from direct cost to the price, and the price; shares in percent.

    price = direct x (1 + overhead) / (1 - margin) x (1 + contingency) x (1 + tax). A margin is a share of the price it is
    in, so it divides; adding the same share would be a mark-up, which earns less.

    Raises:
        ValueError: a share below 0, or a margin of 100 % or more.
    """
    shares = (("overhead", overhead), ("margin", margin), ("contingency", contingency), ("tax", tax))
    for name, share in shares:
        if not share >= 0 or (name == "margin" and share >= 100):
            msg = f"money.{name}: {share:g} % must be 0 or more{' and below 100' if name == 'margin' else ''}"
            raise ValueError(msg)
    running, shown = Decimal(direct), direct
    steps: list[Step] = []
    for name, share in shares:
        part = Decimal(str(share)) / 100
        running = running / (1 - part) if name == "margin" else running * (1 + part)
        steps.append(Step(name, share / 100, whole(running) - shown))
        shown = whole(running)
    return tuple(steps), shown


def chain_by_trade(
    direct: Mapping[str, int], overhead: float, margin: float, contingency: float, taxes: Mapping[str, float], tax: float
) -> tuple[tuple[Step, ...], int, tuple[TaxPart, ...]]:  # fmt: skip
    """The chain where trades are taxed differently: each trade bears its share of the price before tax, and its own tax [%].

    direct : cost by trade · taxes : by trade, where it differs from `tax`. With one tax for all it is `chain`.

    Raises:
        ValueError: a share that cannot be, naming it.
    """
    cost = sum(direct.values())
    before, price = chain(cost, overhead, margin, contingency, 0)
    rates = {trade: taxes.get(trade, tax) for trade in direct}
    if len(set(rates.values()) | {tax}) <= 1:
        steps, total = chain(cost, overhead, margin, contingency, tax)
        return steps, total, (TaxPart((*direct,), tax / 100, price, total - price),) if tax else ()
    base = dict(zip(direct, allotted(price, list(direct.values())), strict=True))
    parts: list[TaxPart] = []
    for rate in sorted(set(rates.values())):
        trades = tuple(trade for trade in direct if rates[trade] == rate)
        bears = sum(base[trade] for trade in trades)
        parts.append(TaxPart(trades, rate / 100, bears, whole(Decimal(bears) * Decimal(str(rate)) / 100)))
    owed = sum(part.amount for part in parts)
    return (*before[:-1], Step("tax", owed / price if price else 0.0, owed)), price + owed, tuple(parts)


def allotted(amount: int, weights: Sequence[float]) -> list[int]:
    """An amount shared out by weight in whole minor units that sum to it: what rounding leaves goes to the largest remainders."""
    exact = [Decimal(str(weight)) for weight in weights]
    total = sum(exact, Decimal(0))
    if not total:
        exact, total = [Decimal(1)] * len(exact), Decimal(len(exact))
    shares = [Decimal(amount) * weight / total for weight in exact]
    out = [int(share.to_integral_value(ROUND_FLOOR)) for share in shares]
    by_remainder = sorted(range(len(out)), key=lambda i: (out[i] - shares[i], i))
    for i in by_remainder[: amount - sum(out)]:
        out[i] += 1
    return out


def direct_cost(lines: Sequence[Line]) -> int:
    """The sum of the lines, exact."""
    return sum(line.amount for line in lines)


def by_trade(lines: Sequence[Line]) -> dict[str, int]:
    """Direct cost of each trade in the order of the bill; sums to `direct_cost`."""
    total: dict[str, int] = {}
    for line in lines:
        total[line.trade] = total.get(line.trade, 0) + line.amount
    return total
