"""How high the household reaches, and what it costs to keep a thing at a height."""

from __future__ import annotations

from collections.abc import Sequence

from wallwright.core.limit import Limits
from wallwright.job.brief import Person
from wallwright.library import load
from wallwright.storage.record import Reach

GROWN = 16.0
"""Years from which somebody is reckoned as an adult."""


def reach_of(people: Sequence[Person], limits: Limits) -> Reach:
    """The reach of a household: of its shortest adult, its children, and whoever sits in a wheelchair."""
    v = limits.value
    walking = [p for p in people if not p.wheelchair]
    adults = [p.stature.mm for p in walking if p.stature and (p.age is None or p.age >= GROWN)]
    standing = v("storage.reach_ratio") * min(adults, default=v("storage.stature"))
    small = [p for p in people if p.age is not None and p.age < v("storage.child_age")]
    out = 0.0
    if small:
        tallest = max(_stature(person) for person in small)
        out = max(v("storage.child_out"), v("storage.reach_ratio") * tallest)
    seated = None
    if any(p.wheelchair for p in people):
        seated = v("storage.seated_low"), v("storage.seated_high")
    easy = v("storage.easy_low"), v("storage.easy_high")
    return Reach(v("storage.low_reach"), out, easy, standing, standing + v("storage.step"), seated)


def _stature(child: Person) -> float:
    """A child's height [mm]: as given, else the usual one of its age."""
    if child.stature:
        return child.stature.mm
    rows = load.children().values()
    return min(rows, key=lambda row: abs(row.years - (child.age or 0.0))).stature


def effort(z: float, reach: Reach) -> float:
    """The effort of a shelf at a height: 0 from knee to shoulder, 1 at the floor and at the highest reach, 2 with a step up."""
    low, high = reach.easy
    if z < low:
        return (low - max(z, 0.0)) / low
    if z <= high:
        return 0.0
    if z <= reach.standing:
        return (z - high) / max(reach.standing - high, 1.0)
    return 1.0 + min(1.0, (z - reach.standing) / max(reach.step - reach.standing, 1.0))
