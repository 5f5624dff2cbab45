"""Where something solid in the void stands between an LED strip behind a panel and the edge that its light comes out at."""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from itertools import pairwise
from typing import TYPE_CHECKING

from wallwright.core.shape import Box, Point2

if TYPE_CHECKING:
    from wallwright.carcass.record import Part
    from wallwright.light.record import LightRun

STEP = 10.0
"""How closely the way out is looked at beside a chord that is neither level nor upright [mm]; a batten is several times that."""
SOLID = ("batten", "backer")


@dataclass(frozen=True, slots=True)
class Stretch:
    """A straight piece of a strip, and whether its light comes out."""

    a: Point2
    b: Point2
    clear: bool

    @property
    def length(self) -> float:
        """[mm]."""
        return math.dist(self.a, self.b)


def in_void(run: LightRun, parts: Iterable[Part]) -> tuple[Part, ...]:
    """The battens and the packing in the void of the panel that a strip lies behind."""
    if run.along != "behind_panel":
        return ()
    return tuple(part for part in parts if part.unit == run.of and part.role in SOLID)


def stretches(run: LightRun, solids: Sequence[Box], profile: float) -> Iterator[Stretch]:
    """The strip piece by piece. solids : what fills the void, on the wall's face · profile : width of what the strip lies in [mm]."""
    for a, b in pairwise(run.path):
        if not solids:
            yield Stretch(a, b, clear=True)
        elif a[0] == b[0] or a[1] == b[1]:
            yield from _square(a, b, run.setback, profile / 2, solids)
        else:
            yield Stretch(a, b, clear=not _met(a, b, run.setback, profile / 2, solids))


def _outward(a: Point2, b: Point2) -> Point2:
    """The way from the strip to the panel's edge: to its left as it is laid, up the left side and down the right one."""
    length = math.dist(a, b)
    return -(b[1] - a[1]) / length, (b[0] - a[0]) / length


def _square(a: Point2, b: Point2, out: float, half: float, solids: Sequence[Box]) -> Iterator[Stretch]:
    """A level or upright leg, parted where something lies on it or between it and the edge."""
    (ox, oz), long = _outward(a, b), math.dist(a, b)
    corners = [(x + by * ox, z + by * oz) for x, z in (a, b) for by in (-half, out)]
    xs, zs = [x for x, _ in corners], [z for _, z in corners]
    way = Box(min(xs), min(zs), max(xs) - min(xs), max(zs) - min(zs))
    ux, uz = oz, -ox  # along the leg
    taken: list[tuple[float, float]] = []
    for solid in solids:
        shared = solid.shared(way)
        if shared is not None and shared.area > 0:
            ends = [(x - a[0]) * ux + (z - a[1]) * uz for x, z in shared.corners]
            taken.append((min(ends), max(ends)))
    at = 0.0
    for low, high in sorted(taken):
        if low > at:
            yield _piece(a, (ux, uz), at, low, clear=True)
        if high > at:
            yield _piece(a, (ux, uz), max(at, low), high, clear=False)
            at = high
    if at < long:
        yield _piece(a, (ux, uz), at, long, clear=True)


def _piece(a: Point2, along: Point2, low: float, high: float, *, clear: bool) -> Stretch:
    ends = [(a[0] + at * along[0], a[1] + at * along[1]) for at in (low, high)]
    return Stretch(ends[0], ends[1], clear)


def _met(a: Point2, b: Point2, out: float, half: float, solids: Sequence[Box]) -> bool:
    """Whether something stands before the middle of a chord."""
    ox, oz = _outward(a, b)
    x, z = (a[0] + b[0]) / 2, (a[1] + b[1]) / 2
    steps = math.ceil((out + half) / STEP)
    ways = [-half + k * (out + half) / steps for k in range(steps + 1)]
    points = [(x + way * ox, z + way * oz) for way in ways]
    return any(box.x < px < box.right and box.z < pz < box.top for px, pz in points for box in solids)
