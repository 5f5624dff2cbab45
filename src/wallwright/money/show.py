"""Amounts as people write them: grouped by thousands, or by lakh and crore where the job stands in South Asia."""

from __future__ import annotations

from typing import Literal

from wallwright.money.quote import MINOR

Grouping = Literal["thousand", "lakh"]


def grouping_for(country: str) -> Grouping:
    """The grouping of a country's rule set."""
    return "lakh" if country == "IN" else "thousand"


def grouped(whole: int, grouping: Grouping = "thousand") -> str:
    """Digits in groups: 1,234,567 or 12,34,567."""
    if grouping == "thousand" or abs(whole) < 1000:
        return f"{whole:,}"
    head, tail = divmod(abs(whole), 1000)
    groups: list[str] = []
    while head:
        head, pair = divmod(head, 100)
        groups.append(f"{pair:02d}" if head else str(pair))
    return ("-" if whole < 0 else "") + ",".join([*reversed(groups), f"{tail:03d}"])


def show_amount(amount: int, grouping: Grouping = "thousand") -> str:
    """An amount in minor units with two decimals, no currency: 1,234.50."""
    units, cents = divmod(abs(amount), MINOR)
    return f"{'-' if amount < 0 else ''}{grouped(units, grouping)}.{cents:02d}"


def show_money(amount: int, currency: str, grouping: Grouping = "thousand") -> str:
    """An amount in minor units with its currency in front: ¤ 1,234.50; the minus stands before the currency."""
    sign = "-" if amount < 0 else ""
    return f"{sign}{currency}\u00a0{show_amount(abs(amount), grouping)}"
