"""What the wall draws: connected and diversified load, current, circuits, standby and leakage.

Diversity is reckoned for what seldom runs at once; a circuit is never chosen smaller than its largest load needs.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Load:
    """One load: its name, its running power [W], its diversity factor 0..1, and what it draws asleep [W]."""

    name: str
    watts: float
    factor: float = 1.0
    standby: float = 0.0


def connected(loads: Iterable[Load]) -> float:
    """All loads at once [W]."""
    return sum(load.watts for load in loads)


def diversified(loads: Iterable[Load]) -> float:
    """What is reckoned to run together [W]."""
    return sum(load.watts * load.factor for load in loads)


def standby(loads: Iterable[Load]) -> float:
    """What is drawn asleep [W]."""
    return sum(load.standby for load in loads)


def current(watts: float, volts: float, power_factor: float) -> float:
    """The current [A] of that power."""
    return watts / (volts * power_factor)


def driver_input(watts: float, efficiency: float) -> float:
    """What an LED driver takes from the mains [W] to give that power."""
    return watts / efficiency


def leakage_budget(trip: float, share: float) -> float:
    """The standing leakage [mA] that may lie on one RCD. Source: BS 7671:2018 531.3.2, 30 % of the trip current."""
    return trip * share


def items_on_rcd(trip: float, share: float, each: float) -> int:
    """How many items of that leakage [mA] may share one RCD."""
    return int(leakage_budget(trip, share) // each)


def split(loads: Iterable[Load], own_from: float) -> tuple[tuple[Load, ...], tuple[Load, ...]]:
    """The loads that share a circuit, and those so large that each has its own."""
    loads = tuple(loads)
    return tuple(x for x in loads if x.watts < own_from), tuple(x for x in loads if x.watts >= own_from)
