"""Limits: each a named number with its unit, its source and how sure that source is; the user may override any, within reason."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace
from typing import Literal

Certainty = Literal["published", "computed", "derived", "common practice", "from memory", "your rule set"]


FAR = 100.0
"""How many times smaller or larger than the library's value a user's own may be, where the data says nothing nearer."""
SHARES = ("share", "ratio", "0..1")
"""Units of which there is no more than the whole."""
RIGHT_ANGLE = 90.0


@dataclass(frozen=True, slots=True)
class Limit:
    """One limit: its value, what it is counted in, where it comes from and how sure that is.

    low, high : the least and the most that a user may set it to; None = a hundredth and a hundred times the value
    """

    name: str
    value: float
    unit: str
    source: str
    certainty: Certainty
    note: str = ""
    low: float | None = None
    high: float | None = None

    @property
    def least(self) -> float:
        """The least it may be set to: of the value's own sign, so that what is divided by never reaches 0."""
        return min(self.value / FAR, self.value * FAR) if self.low is None else self.low

    @property
    def most(self) -> float:
        """The most it may be set to: a share is never more than the whole, a slope never more than upright."""
        if self.high is not None:
            return self.high
        far = max(self.value / FAR, self.value * FAR)
        if self.unit.startswith(SHARES) and self.value <= 1.0:
            return 1.0
        if self.unit == "%" and self.value <= 100.0:
            return 100.0
        if self.unit == "deg" and self.value <= RIGHT_ANGLE:
            return min(far, RIGHT_ANGLE)
        return far

    def allows(self, value: float) -> bool:
        """Whether a user may set it to that."""
        return self.least <= value <= self.most


class Limits:
    """The rule set in force: the library's limits with the user's own values laid over them."""

    __slots__ = ("_rows",)

    def __init__(self, rows: Mapping[str, Limit]) -> None:
        self._rows = dict(rows)

    def __getitem__(self, name: str) -> Limit:
        """The limit of that name. KeyError names it."""
        try:
            return self._rows[name]
        except KeyError:
            raise KeyError(f"no limit named {name!r} in the rule set") from None

    def __iter__(self) -> Iterator[Limit]:
        """All limits by name."""
        return iter(self._rows[name] for name in sorted(self._rows))

    def __contains__(self, name: object) -> bool:
        """Whether there is a limit of that name."""
        return name in self._rows

    def value(self, name: str) -> float:
        """The number of the limit of that name."""
        row = self._rows.get(name)  # asked some thousand times for a wall
        return self[name].value if row is None else row.value

    def overridden(self, values: Mapping[str, float]) -> Limits:
        """A rule set with these numbers in place of the library's; itself where there are none. KeyError names an unknown one."""
        if not values:
            return self
        rows = dict(self._rows)
        for name, value in values.items():
            rows[name] = replace(
                self[name], value=float(value), source="your rule set", certainty="your rule set"
            )
        return Limits(rows)
