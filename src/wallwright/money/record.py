"""What the money stage hands on: measured quantities, priced lines and the chain to the total. Amounts in whole minor units."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from wallwright.core.why import Whys

if TYPE_CHECKING:
    from wallwright.money.show import Notation


@dataclass(frozen=True, slots=True)
class Line:
    """A line of the bill of quantities: rate and amount in minor units of the currency.

    of : refs of the things that are in it, where they have refs · hours : of work in it · fix : what of the amount is fixing, the
    rest is supply · invented : its rate is a demo one
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
    hours: float = 0.0
    fix: int = 0
    invented: bool = False

    @property
    def supply(self) -> int:
        """What of the amount is not fixing."""
        return self.amount - self.fix


@dataclass(frozen=True, slots=True)
class Step:
    """One step of the price chain: its name, the share used and the amount it brings."""

    name: str
    share: float
    amount: int


@dataclass(frozen=True, slots=True)
class TaxPart:
    """The tax of the trades that are taxed alike: their share of the price before tax, and what is owed on it."""

    trades: tuple[str, ...]
    share: float
    base: int
    amount: int


@dataclass(frozen=True, slots=True)
class Money:
    """All of it. total is all-in; budget 0 = none given; sheets : (board, sheets bought, used share of their area).

    notation : how its amounts are written · taxes : by trades that are taxed alike · faces : (finish, sheets bought, used share,
    m²) of face material
    """

    lines: tuple[Line, ...]
    direct: int
    steps: tuple[Step, ...]
    total: int
    budget: int
    currency: str
    sheets: tuple[tuple[str, int, float], ...]
    whys: Whys
    notation: Notation
    taxes: tuple[TaxPart, ...] = ()
    faces: tuple[tuple[str, int, float, float], ...] = ()

    @property
    def invented(self) -> tuple[Line, ...]:
        """The lines whose rates are demo ones."""
        return tuple(line for line in self.lines if line.invented)

    def shown(self, amount: int) -> str:
        """An amount as this job writes it, with its currency."""
        return self.notation.money(amount)

    def major(self, amount: int) -> float:
        """An amount in the currency's own unit."""
        return self.notation.major(amount)
