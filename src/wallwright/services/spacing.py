"""How far apart: mains from data, and outlets along a wall.

Sources: EN 50174-2:2009 (A = S times P), EN 50174-2:2000 (superseded, still asked for), NEC 210.52(A).
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from itertools import pairwise
from typing import Literal

from wallwright.core.shape import Point2

Barrier = Literal["none", "tray", "perforated", "steel"]
# EN 50174-2:2009: least distance S [mm] by class of data cable: a coaxial and the like (from memory), b unscreened 5e to 6A,
# c screened, d category 7; without metal, wire tray, perforated, closed 1 mm steel.
SEPARATION: Mapping[str, Mapping[Barrier, float]] = {
    "a": {"none": 300, "tray": 225, "perforated": 150, "steel": 0},
    "b": {"none": 100, "tray": 75, "perforated": 50, "steel": 0},
    "c": {"none": 50, "tray": 38, "perforated": 25, "steel": 0},
    "d": {"none": 10, "tray": 8, "perforated": 5, "steel": 0},
}
# The power factor P by the number of 230 V circuits up to 20 A.
_CIRCUITS = ((3, 0.2), (6, 0.4), (9, 0.6), (12, 0.8), (15, 1.0), (30, 2.0), (45, 3.0), (60, 4.0), (75, 5.0))
# EN 50174-2:2000 [mm]: no divider, aluminium, steel.
SEPARATION_2000: Mapping[str, tuple[float, float, float]] = {
    "unscreened": (200, 100, 50),
    "screened_data": (50, 20, 5),
    "screened_power": (30, 10, 2),
    "both_screened": (0, 0, 0),
}


def separation(kind: str, circuits: int, barrier: Barrier = "none") -> float:
    """The least distance [mm] between so many mains circuits and data cable of that class (a to d)."""
    power = next((factor for most, factor in _CIRCUITS if circuits <= most), 6.0)
    return SEPARATION[kind][barrier] * power


def alongside(path: Sequence[Point2], other: Sequence[Point2], least: float) -> tuple[float, float]:
    """How much of a path of level and upright pieces runs beside another nearer than `least` [mm], and the nearest it comes there.

    Crossings at a right angle do not count; (0, inf) where it keeps off all along.
    """
    length, nearest = 0.0, float("inf")
    for a, b in pairwise(path):
        for c, d in pairwise(other):
            for axis in (0, 1):
                across = 1 - axis
                if a[across] != b[across] or c[across] != d[across]:
                    continue
                gap = abs(a[across] - c[across])
                both = min(max(a[axis], b[axis]), max(c[axis], d[axis])) - max(
                    min(a[axis], b[axis]), min(c[axis], d[axis])
                )
                if gap < least and both > 0:
                    length, nearest = length + both, min(nearest, gap)
    return length, nearest


def wall_is_served(length: float, outlets: Sequence[float], reach: float) -> bool:
    """Whether no point along a wall of that length [mm] is further than `reach` from an outlet (x from its left end)."""
    if not outlets:
        return False
    at = sorted(outlets)
    reach += 0.01  # feet do not come out even in binary
    ends = at[0] <= reach and length - at[-1] <= reach
    return ends and all(right - left <= 2 * reach for left, right in pairwise(at))
