"""Limits: each a named number with its unit, its source and how sure that source is; the user may override any."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace
from typing import Literal

Certainty = Literal["published", "computed", "derived", "common practice", "from memory", "your rule set"]


@dataclass(frozen=True, slots=True)
class Limit:
    """One limit: its value, what it is counted in, where it comes from and how sure that is."""

    name: str
    value: float
    unit: str
    source: str
    certainty: Certainty
    note: str = ""


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
        return self[name].value

    def overridden(self, values: Mapping[str, float]) -> Limits:
        """A rule set with these numbers in place of the library's. KeyError names an unknown one."""
        rows = dict(self._rows)
        for name, value in values.items():
            rows[name] = replace(
                self[name], value=float(value), source="your rule set", certainty="your rule set"
            )
        return Limits(rows)
