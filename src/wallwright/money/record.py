"""What the money stage hands on: measured quantities, priced lines and the chain to the total. Amounts in whole minor units."""

from __future__ import annotations

from dataclasses import dataclass

from wallwright.core.why import Why


@dataclass(frozen=True, slots=True)
class Line:
    """A line of the bill of quantities: rate and amount in minor units (1/100 of the currency).

    of : refs of the things that are in it, where they have refs
    """

    ref: str
    trade: str
    item: str
    quantity: float
    unit: str
    rate: int
    amount: int
    measured: str
    of: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Step:
    """One step of the price chain: its name, the share used and the amount it brings."""

    name: str
    share: float
    amount: int


@dataclass(frozen=True, slots=True)
class Money:
    """All of it. total is all-in; budget 0 = none given; sheets : (board, sheets bought, used share of their area)."""

    lines: tuple[Line, ...]
    direct: int
    steps: tuple[Step, ...]
    total: int
    budget: int
    currency: str
    sheets: tuple[tuple[str, int, float], ...]
    whys: tuple[Why, ...]
