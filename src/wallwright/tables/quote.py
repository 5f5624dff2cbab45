"""The bill of quantities and the chain to the price: the designer's own page, with every rate where rates are shown."""

from __future__ import annotations

from collections.abc import Iterator
from typing import TYPE_CHECKING

from wallwright.core.table import Cell, Column, Table
from wallwright.library.rates import IN_FEET, METRIC
from wallwright.money.quote import by_trade

if TYPE_CHECKING:
    from wallwright.derive import Wall
    from wallwright.money.record import Line, Money

DEMO = "The demo rates are invented: replace them by your own rates before this goes to a client"
NO_TAX = "No tax is in the price (tax 0 %)."
SET_TAX = "Ask your accountant which tax it must carry, and set it as the limit money.tax, or by trade."
EXCLUDED = "Not in the price: the screen, the devices, structural works, moving existing services not shown, permits."
CHANGES = "No change is done before it is priced, timed and signed."
SHOWN_RATE = 4
"""Decimals of a rate that was turned from m² to sq ft or from metres to feet: so many that quantity times rate stays the amount."""


def quote(wall: Wall) -> Table:
    """Lines by trade with their quantities, what each trade comes to, the sum, each step of the chain and the price.

    Amounts are in the job's currency. Where the terms hide rates, quantities and the price are all there is.
    """
    money, terms = wall.money, wall.job.terms
    feet = terms.measure == "feet"
    decimals = money.notation.decimals
    columns = (
        Column("No."),
        Column("Trade"),
        Column("Item"),
        Column("Quantity", "", 2, "right"),
        Column("Unit"),
        Column("Rate", money.currency, SHOWN_RATE if feet else decimals, "right"),
        Column("Supply", money.currency, decimals, "right"),
        Column("Fixing", money.currency, decimals, "right"),
        Column("Amount", money.currency, decimals, "right"),
        Column("Measured"),
    )
    rows = (*_lines(money, feet, terms.rates_shown), *_sums(money, terms.rates_shown))
    if not terms.rates_shown:
        columns, rows = columns[:5] + columns[8:], tuple(row[:5] + row[8:] for row in rows)
    return Table("quote", "Bill of quantities and quote", columns, rows, tuple(_notes(wall)))


def measured_in(line: Line, feet: bool) -> tuple[float, str, float]:
    """A line's quantity, unit, and how many of the line's own unit one of it is: in feet where that is asked for."""
    if not feet or line.unit not in IN_FEET:
        return line.quantity, line.unit, 1.0
    unit = IN_FEET[line.unit]
    each = METRIC[unit][1]
    return round(line.quantity / each, 2), unit, each


def _lines(money: Money, feet: bool, shown: bool) -> Iterator[tuple[Cell, ...]]:
    """Numbered trade.line, and under each trade what its lines come to."""
    for first, (trade, amount) in enumerate(by_trade(money.lines).items(), 1):
        lines = [line for line in money.lines if line.trade == trade]
        for second, line in enumerate(lines, 1):
            quantity, unit, each = measured_in(line, feet)
            rate = money.major(line.rate) * each
            sums: tuple[Cell, ...] = tuple(money.major(part) for part in (line.supply, line.fix, line.amount))
            mark = " (demo rate)" if line.invented else ""
            yield (
                f"{first}.{second:02d}",
                trade,
                line.item,
                quantity,
                unit,
                rate,
                *(sums if shown else (None, None, None)),
                line.measured + mark,
            )
        fix = sum(line.fix for line in lines)
        sums = tuple(money.major(part) for part in (amount - fix, fix, amount))
        hours = sum(line.hours for line in lines)
        count = f"{len(lines)} line{'s' if len(lines) != 1 else ''}, {hours:.1f} h of work"
        name = f"{trade.capitalize()} in all"
        yield str(first), trade, name, None, "", None, *(sums if shown else (None, None, None)), count


def _sums(money: Money, shown: bool) -> Iterator[tuple[Cell, ...]]:
    def row(name: str, amount: int, how: str) -> tuple[Cell, ...]:
        return "", "", name, None, "", None, None, None, money.major(amount), how

    if shown:
        yield row("Direct cost", money.direct, "sum of the trades")
        for step in money.steps:
            how = "of the price" if step.name == "margin" else "on top"
            if step.name == "tax" and len(money.taxes) > 1:
                how = "by trade: " + "; ".join(
                    f"{', '.join(part.trades)} {100 * part.share:g} % of {money.notation.amount(part.base)}"
                    for part in money.taxes
                )
                yield row("Tax", step.amount, how)
            else:
                yield row(step.name.capitalize(), step.amount, f"{100 * step.share:g} % {how}")
    yield row("Price", money.total, "all in")


def _notes(wall: Wall) -> Iterator[str]:
    money = wall.money
    if money.invented:
        count = len(money.invented)
        yield f"{DEMO} ({count} of {len(money.lines)} lines have demo rates)."
    if not any(part.amount for part in money.taxes):
        yield f"{NO_TAX} {SET_TAX}"
    yield f"Price {money.shown(money.total)}, revision {wall.job.revision} of {wall.job.date}."
    if money.budget:
        left = money.budget - money.total
        yield f"Budget {money.shown(money.budget)}: {money.shown(abs(left))} {'left' if left >= 0 else 'over'}."
    unpriced = [line.item for line in money.lines if line.measured.endswith("not priced")]
    if unpriced:
        yield f"No rate in the book, not priced: {', '.join(unpriced)}."
    if wall.job.terms.measure == "feet":
        yield "Quantities turned from metres to feet after measuring; amounts are reckoned on the metric quantities."
    yield EXCLUDED
    yield CHANGES
