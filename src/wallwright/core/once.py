"""What much is asked by, hashed once: a survey has hundreds of numbers, and each cabinet of a wall is asked for by it."""

from __future__ import annotations

from typing import Any, Generic, TypeVar, cast

Values = TypeVar("Values", bound="tuple[Any, ...]")
KNOWN = 16
"""So many of the last ones are known again by their very things."""


class Once(Generic[Values]):
    """Frozen values asked by together: equal where they are equal, their hash reckoned when they were put together."""

    __slots__ = ("_hash", "values")

    def __init__(self, values: Values) -> None:
        self.values = values
        self._hash = hash(values)

    def __hash__(self) -> int:
        return self._hash

    def __eq__(self, other: object) -> bool:
        return self is other or (isinstance(other, Once) and self.values == cast("Once[Any]", other).values)

    def __repr__(self) -> str:
        return f"Once({self.values!r})"


_last: tuple[Once[Any], ...] = ()


def once(values: Values) -> Once[Values]:
    """Those values together; of the very same things asked of again, the one that was made then. They must never change."""
    global _last
    for one in _last:
        if len(one.values) == len(values) and all(a is b for a, b in zip(one.values, values, strict=True)):
            return one
    made = Once(values)
    _last = (made, *_last[: KNOWN - 1])
    return made
