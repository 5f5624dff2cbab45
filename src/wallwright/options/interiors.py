"""Towers divided otherwise: more or fewer shelves over and under, for what is to be kept in them."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import replace
from itertools import product

from wallwright.job.design import Bay, Unit

LOWER, UPPER = (0, 1), (0, 1, 2)
"""Shelves behind the lower door, and shelves more than usual over it."""
MOST = 6
"""Shelves in one bay, at most: lower than this nothing but small books stands."""


def interiors(units: Iterable[Unit], given: Iterable[str]) -> Iterator[tuple[Unit, ...]]:
    """Every way to divide the towers of a wall, all of them alike; but for the way they are. given : refs that stay as they are."""
    units, fixed = tuple(units), set(given)
    for low, more in product(LOWER, UPPER):
        made = tuple(
            replace(unit, bays=_divided(unit.bays, low, more))
            if unit.kind == "tower" and unit.ref not in fixed
            else unit
            for unit in units
        )
        if made != units:
            yield made


def _divided(bays: tuple[Bay, ...], low: int, more: int) -> tuple[Bay, ...]:
    if len(bays) < 2:
        return bays
    first, *rest = bays
    return (
        replace(first, shelves=low),
        *(replace(bay, shelves=min(MOST, bay.shelves + more)) for bay in rest),
    )
