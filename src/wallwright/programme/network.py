"""The works as a network: earliest and latest times, slack, and the chain that sets the end.

The critical path method: forward, an activity starts when its last predecessor ends; backward, it must end before its
first successor must start (J. E. Kelley and M. R. Walker, "Critical-path planning and scheduling", 1959). Times count
from 0 in the unit of the durations; a finish is the moment after the last unit worked.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Activity:
    """Something that takes time and follows others."""

    ref: str
    days: int
    after: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Times:
    """When an activity may be and must be worked."""

    early_start: int
    early_finish: int
    late_start: int
    late_finish: int

    @property
    def slack(self) -> int:
        """What it can slip without moving the end."""
        return self.late_start - self.early_start


@dataclass(frozen=True, slots=True)
class Schedule:
    """All times by ref, in an order in which the works can be done; the whole length; the critical chain in that order."""

    times: Mapping[str, Times]
    days: int
    critical: tuple[str, ...]


def schedule(activities: Iterable[Activity]) -> Schedule:
    """Earliest and latest times of a network.

    Raises:
        ValueError: a ref twice, an unknown predecessor, a duration below 0, or a ring of activities waiting for each other.
    """
    order = in_order(activities)
    start: dict[str, int] = {}
    finish: dict[str, int] = {}
    for item in order:
        start[item.ref] = max((finish[ref] for ref in item.after), default=0)
        finish[item.ref] = start[item.ref] + item.days
    days = max(finish.values(), default=0)
    latest = {item.ref: days for item in order}
    for item in reversed(order):
        for ref in item.after:
            latest[ref] = min(latest[ref], latest[item.ref] - item.days)
    times = {a.ref: Times(start[a.ref], finish[a.ref], latest[a.ref] - a.days, latest[a.ref]) for a in order}
    return Schedule(times, days, tuple(ref for ref, time in times.items() if time.slack == 0))


def in_order(activities: Iterable[Activity]) -> Sequence[Activity]:
    """The activities so that each stands behind all it waits for; otherwise as given."""
    given = _checked(activities)
    waits = {ref: len(set(item.after)) for ref, item in given.items()}
    followers: dict[str, list[str]] = {ref: [] for ref in given}
    for item in given.values():
        for ref in set(item.after):
            followers[ref].append(item.ref)
    ready = [ref for ref, count in waits.items() if count == 0]
    for ref in ready:  # grows while it is walked
        for follower in followers[ref]:
            waits[follower] -= 1
            if waits[follower] == 0:
                ready.append(follower)
    if len(ready) < len(given):
        ring = ", ".join(ref for ref, count in waits.items() if count)
        msg = f"programme: these wait for each other: {ring}; take one 'after' away"
        raise ValueError(msg)
    return [given[ref] for ref in ready]


def _checked(activities: Iterable[Activity]) -> dict[str, Activity]:
    given: dict[str, Activity] = {}
    for item in activities:
        if item.ref in given:
            msg = f"programme: {item.ref!r} is there twice"
            raise ValueError(msg)
        if item.days < 0:
            msg = f"programme: {item.ref!r} lasts {item.days} days; a duration is 0 or more"
            raise ValueError(msg)
        given[item.ref] = item
    for item in given.values():
        unknown = [ref for ref in item.after if ref not in given]
        if unknown:
            msg = f"programme: {item.ref!r} follows {', '.join(unknown)}, which is not there"
            raise ValueError(msg)
    return given


def three_point(best: float, likely: float, worst: float) -> tuple[float, float]:
    """Expected duration and its variance from three guesses: (a + 4 m + b) / 6 and ((b - a) / 6)²."""
    return (best + 4 * likely + worst) / 6, ((worst - best) / 6) ** 2
