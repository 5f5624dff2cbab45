"""What the wall draws: connected and diversified load, current, circuits, standby and leakage.

Diversity is reckoned for what seldom runs at once; a circuit is never chosen smaller than its largest load needs.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Load:
    """One load: its name, its running power [W], its diversity factor 0..1, and what it draws asleep [W].

    what : in words; "" where the name says it
    """

    name: str
    watts: float
    factor: float = 1.0
    standby: float = 0.0
    what: str = ""


def connected(loads: Iterable[Load]) -> float:
    """All loads at once [W]."""
    return sum(load.watts for load in loads)


def diversified(loads: Iterable[Load]) -> float:
    """What is reckoned to run together [W]."""
    return sum(load.watts * load.factor for load in loads)


def standby(loads: Iterable[Load]) -> float:
    """What is drawn asleep [W]."""
    return sum(load.standby for load in loads)


HOURS_A_YEAR, WEEKS_A_YEAR = 8760.0, 52.0


def standby_year(watts: float, hours_a_week: float) -> float:
    """What is drawn asleep in a year [kWh], all the hours that the wall is not in use."""
    return watts * max(0.0, HOURS_A_YEAR - hours_a_week * WEEKS_A_YEAR) / 1000.0


def demand(sockets: Iterable[float], lighting: float, rest: float, lights: float) -> float:
    """What circuits ask for together [W]: the largest of the socket circuits whole, the others at the share `rest`, the lighting
    at the share `lights`. Source: On-Site Guide, table of diversity.
    """
    largest, *others = sorted(sockets, reverse=True) or [0.0]
    return largest + rest * sum(others) + lights * lighting


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


def devices_needed(leaks: Iterable[float], budget: float) -> int:
    """How many residual-current devices circuits that leak so much [mA] each ask for, the largest set first; a circuit that is too
    much alone takes one for itself.
    """
    filled: list[float] = []
    for leak in sorted(leaks, reverse=True):
        room = next((i for i, sum_ in enumerate(filled) if sum_ + leak <= budget + 1e-9), None)
        if room is None:
            filled.append(leak)
        else:
            filled[room] += leak
    return len(filled)


def split(loads: Iterable[Load], own_from: float) -> tuple[tuple[Load, ...], tuple[Load, ...]]:
    """The loads that share a circuit, and those so large that each has its own."""
    loads = tuple(loads)
    return tuple(x for x in loads if x.watts < own_from), tuple(x for x in loads if x.watts >= own_from)
