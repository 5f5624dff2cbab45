"""Amounts as people write them: the currency's decimals, digits grouped by thousands or by lakh and crore, point or comma."""

from __future__ import annotations

from dataclasses import dataclass
from decimal import Decimal
from typing import Literal

from wallwright.job.document import Job
from wallwright.library import terms
from wallwright.money.quote import minor

Grouping = Literal["thousand", "lakh", "none"]
Mark = Literal["point", "comma"]


@dataclass(frozen=True, slots=True)
class Notation:
    """How amounts of a job are written. decimals : of the smallest coin: an amount is held in whole ones of it."""

    currency: str = "¤"
    decimals: int = 2
    grouping: Grouping = "thousand"
    mark: Mark = "point"

    def minor(self, amount: float | Decimal) -> int:
        """Whole smallest coins of an amount as written."""
        return minor(amount, self.decimals)

    def major(self, amount: int) -> float:
        """An amount in the currency's own unit, for a cell of numbers."""
        return amount / 10**self.decimals

    def amount(self, amount: int) -> str:
        """1,234.50, or 1.234,50 with a decimal comma, or 12,34,567.89; no currency."""
        return show_amount(amount, self.grouping, self.decimals, self.mark)

    def money(self, amount: int) -> str:
        """The amount with its currency in front: ¤ 1,234.50."""
        return f"{'-' if amount < 0 else ''}{self.currency}\u00a0{self.amount(abs(amount))}"

    def change(self, amount: int) -> str:
        """A difference with its sign: +¤ 12.00."""
        return f"{'+' if amount > 0 else ''}{self.money(amount)}"


def notation_of(job: Job) -> Notation:
    """As the terms say; else as the currency's people write; else, where the job stands in South Asia, by lakh."""
    row, said = terms.currencies().get(job.currency), job.terms
    country = grouping_for(job.survey.place.rules)
    return Notation(
        job.currency,
        said.decimals if said.decimals is not None else row.decimals if row else 2,
        said.grouping or (row.grouping if row else country),
        said.decimal_mark or (row.mark if row else "point"),
    )


def grouping_for(country: str) -> Literal["thousand", "lakh"]:
    """The grouping of a country's rule set."""
    return "lakh" if country == "IN" else "thousand"


def grouped(whole: int, grouping: Grouping = "thousand", mark: Mark = "point") -> str:
    """Digits in groups: 1,234,567 or 12,34,567; with a decimal comma 1.234.567."""
    between = "." if mark == "comma" else ","
    if grouping == "none":
        return str(whole)
    if grouping == "thousand" or abs(whole) < 1000:
        return f"{whole:,}".replace(",", between)
    head, tail = divmod(abs(whole), 1000)
    groups: list[str] = []
    while head:
        head, pair = divmod(head, 100)
        groups.append(f"{pair:02d}" if head else str(pair))
    return ("-" if whole < 0 else "") + between.join([*reversed(groups), f"{tail:03d}"])


def show_amount(amount: int, grouping: Grouping = "thousand", decimals: int = 2, mark: Mark = "point") -> str:
    """An amount in minor units with its decimals, no currency: 1,234.50."""
    units, coins = divmod(abs(amount), 10**decimals)
    after = f"{',' if mark == 'comma' else '.'}{coins:0{decimals}d}" if decimals else ""
    return f"{'-' if amount < 0 else ''}{grouped(units, grouping, mark)}{after}"


def show_money(amount: int, currency: str, grouping: Grouping = "thousand") -> str:
    """An amount in hundredths with its currency in front: ¤ 1,234.50; the minus stands before the currency."""
    return Notation(currency, 2, grouping).money(amount)
