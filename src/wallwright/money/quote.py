"""From priced lines to the price: overhead, margin, contingency, tax, in whole minor units.

All arithmetic is decimal. A half minor unit is rounded up (away from zero). Each step of the chain is the difference of
two rounded running totals, so the steps always sum to the price exactly and no rounding piles up along the chain.
"""

from __future__ import annotations

from collections.abc import Sequence
from decimal import ROUND_HALF_UP, Decimal

from wallwright.money.record import Line, Step

MINOR = 100  # minor units in one unit of currency


def whole(amount: Decimal) -> int:
    """The nearest whole minor unit, halves up (away from zero)."""
    return int(amount.to_integral_value(ROUND_HALF_UP))


def minor(amount: float) -> int:
    """Minor units of an amount as written in a rates book or a brief: 4.35 is 435, whatever a float makes of it."""
    return whole(Decimal(str(amount)) * MINOR)


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


def direct_cost(lines: Sequence[Line]) -> int:
    """The sum of the lines, exact."""
    return sum(line.amount for line in lines)


def by_trade(lines: Sequence[Line]) -> dict[str, int]:
    """Direct cost of each trade in the order of the bill; sums to `direct_cost`."""
    total: dict[str, int] = {}
    for line in lines:
        total[line.trade] = total.get(line.trade, 0) + line.amount
    return total
