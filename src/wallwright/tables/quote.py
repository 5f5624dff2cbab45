"""The bill of quantities and the chain to the price."""

from __future__ import annotations

from collections.abc import Iterator
from typing import TYPE_CHECKING

from wallwright.core.table import Cell, Column, Table
from wallwright.money.quote import by_trade
from wallwright.money.show import grouping_for, show_money

if TYPE_CHECKING:
    from wallwright.derive import Wall
    from wallwright.money.record import Money

DEMO = "The demo rates are invented: replace them by your own rates book before this goes to a client."
EXCLUDED = "Not in the price: the screen, the devices, structural works, moving existing services not shown, permits."


def quote(wall: Wall) -> Table:
    """Lines by trade with their quantities, what each trade comes to, the sum, each step of the chain and the price.

    Amounts are in the job's currency.
    """
    money = wall.money
    columns = (
        Column("No."),
        Column("Trade"),
        Column("Item"),
        Column("Quantity", "", 2, "right"),
        Column("Unit"),
        Column("Rate", money.currency, 2, "right"),
        Column("Amount", money.currency, 2, "right"),
        Column("Measured"),
    )
    rows = (*_lines(money), *_sums(money))
    return Table("quote", "Bill of quantities and quote", columns, rows, tuple(_notes(wall)))


def _lines(money: Money) -> Iterator[tuple[Cell, ...]]:
    """Numbered trade.line, and under each trade what its lines come to."""
    for first, (trade, amount) in enumerate(by_trade(money.lines).items(), 1):
        lines = [line for line in money.lines if line.trade == trade]
        for second, line in enumerate(lines, 1):
            price = (line.quantity, line.unit, line.rate / 100, line.amount / 100)
            yield f"{first}.{second:02d}", trade, line.item, *price, line.measured
        count = f"{len(lines)} line{'s' if len(lines) != 1 else ''}"
        yield str(first), trade, f"{trade.capitalize()} in all", None, "", None, amount / 100, count


def _sums(money: Money) -> Iterator[tuple[Cell, ...]]:
    yield "", "", "Direct cost", None, "", None, money.direct / 100, "sum of the trades"
    for step in money.steps:
        how = "of the price" if step.name == "margin" else "on top"
        yield (
            "",
            "",
            step.name.capitalize(),
            None,
            "",
            None,
            step.amount / 100,
            f"{100 * step.share:g} % {how}",
        )
    yield "", "", "Price", None, "", None, money.total / 100, "all in"


def _notes(wall: Wall) -> Iterator[str]:
    money = wall.money
    grouping = grouping_for(wall.job.survey.place.rules)
    if wall.job.design.rates == "demo":
        yield DEMO
    yield f"Price {show_money(money.total, money.currency, grouping)}, revision {wall.job.revision} of {wall.job.date}."
    if money.budget:
        left = money.budget - money.total
        shown = show_money(abs(left), money.currency, grouping)
        yield f"Budget {show_money(money.budget, money.currency, grouping)}: {shown} {'left' if left >= 0 else 'over'}."
    unpriced = [line.item for line in money.lines if not line.rate]
    if unpriced:
        yield f"No rate in the book, not priced: {', '.join(unpriced)}."
    yield EXCLUDED
    yield "No change is done before it is priced, timed and signed."
