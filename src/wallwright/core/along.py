"""Things along the wall, found by where they lie: what asks about a stretch looks at the few things about it, not at all."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

STEP = 600.0
"""The wall is looked at in stretches of so many mm: about a unit's width."""
LONG = 12
"""What reaches over more stretches than this is looked at always (the floor, a ceiling, a side wall)."""


class Along:
    """Where spans (from, to) [mm] lie, each known by its number in the order they were given."""

    __slots__ = ("_at", "_long")

    def __init__(self, spans: Iterable[tuple[float, float]]) -> None:
        self._at: dict[int, list[int]] = {}
        self._long: list[int] = []
        for number, (low, high) in enumerate(spans):
            first, last = int(low // STEP), int(high // STEP)
            if last - first > LONG:
                self._long.append(number)
                continue
            for k in range(first, last + 1):
                self._at.setdefault(k, []).append(number)

    def about(self, low: float, high: float) -> list[int]:
        """The numbers of all spans that touch this one, in order; others may be among them, for the caller looks closer."""
        found = set(self._long)
        for k in range(int(low // STEP), int(high // STEP) + 1):
            found.update(self._at.get(k, ()))
        return sorted(found)


def meeting(spans: Iterable[tuple[float, float]]) -> Iterator[tuple[int, int]]:
    """All pairs of numbers whose spans touch, in the order of all pairs; others may be among them."""
    known = list(spans)
    along = Along(known)
    for number, (low, high) in enumerate(known):
        yield from ((number, other) for other in along.about(low, high) if other > number)
