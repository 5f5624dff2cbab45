"""The wall's relief: how far its face stands out between the readings, what panels are packed out by, how flat it is.

A plane of faces is plumb; it touches the highest spot, and everywhere else is packed out to it. Flatness is judged as a straight
edge would: the middle one of three readings in a line against the two beside it.
"""

from __future__ import annotations

from bisect import bisect_right
from collections.abc import Sequence
from dataclasses import dataclass

from wallwright.core.limit import Limits

Reading = tuple[float, float, float]
"""x, z and how far the wall stands towards the room there [mm]."""
BASES = (100.0, 1000.0, 4000.0)
"""Distances between the points of a straight edge for which the flatness table has a row [mm]."""


def of_plumb(out_of_plumb: float, width: float, height: float) -> tuple[Reading, ...]:
    """The four corners of a wall of which only the lean is known: its top stands so far behind its foot [mm]."""
    return tuple((x, z, -out_of_plumb if z else 0.0) for x in (0.0, width) for z in (0.0, height))


def stands_out(readings: Sequence[Reading], x: float, z: float) -> float:
    """How far the wall stands out at a place [mm]: between four readings of a full grid in straight lines, else weighted by
    the inverse square of the distance. Beyond the outermost readings the wall is taken to go on as it is there.

    Raises ValueError without readings.
    """
    if not readings:
        raise ValueError("no readings of the wall's relief")
    table = {(at, up): out for at, up, out in readings}
    xs, zs = sorted({at for at, _ in table}), sorted({up for _, up in table})
    if len(table) == len(xs) * len(zs):
        (x0, x1, s), (z0, z1, t) = _between(xs, x), _between(zs, z)
        low = table[x0, z0] * (1 - s) + table[x1, z0] * s
        high = table[x0, z1] * (1 - s) + table[x1, z1] * s
        return low * (1 - t) + high * t
    near = [((at - x) ** 2 + (up - z) ** 2, out) for at, up, out in readings]
    on = next((out for square, out in near if square < 1.0), None)
    if on is not None:
        return on
    return sum(out / square for square, out in near) / sum(1 / square for square, _ in near)


def _between(stops: Sequence[float], at: float) -> tuple[float, float, float]:
    """The two stops on either side of a place, and how far between them it lies, 0 to 1."""
    if len(stops) == 1:
        return stops[0], stops[0], 0.0
    i = min(max(bisect_right(stops, at), 1), len(stops) - 1)
    low, high = stops[i - 1], stops[i]
    return low, high, min(max((at - low) / (high - low), 0.0), 1.0)


@dataclass(frozen=True, slots=True)
class Flat:
    """Three readings in a line: where the middle one is, the straight edge's length, by how much the wall leaves it [mm], and
    what the two lines of the table allow over that length.
    """

    at: tuple[float, float]
    base: float
    gap: float
    usual: float
    strict: float


def allowed(base: float, name: str, limits: Limits) -> float:
    """The gap allowed under a straight edge whose ends rest `base` apart [mm], between the rows in straight lines.

    Source: DIN 18202 table 3, line 6 (name "line_6") and the stricter line 7 ("line_7").
    """
    rows = [limits.value(f"carcass.{name}_{int(at)}") for at in BASES]
    low, high, share = _between(BASES, base)
    a, b = rows[BASES.index(low)], rows[BASES.index(high)]
    return a + (b - a) * share


def flatness(readings: Sequence[Reading], limits: Limits) -> tuple[Flat, ...]:
    """Every three neighbouring readings in a row or a column, the worst first."""
    out: list[Flat] = []
    for along, other in ((0, 1), (1, 0)):
        lines: dict[float, list[Reading]] = {}
        for one in readings:
            lines.setdefault(one[other], []).append(one)
        for line in lines.values():
            ordered = sorted(line, key=lambda one: one[along])
            for a, b, c in zip(ordered, ordered[1:], ordered[2:], strict=False):
                base = c[along] - a[along]
                share = (b[along] - a[along]) / base
                gap = abs(b[2] - (a[2] + (c[2] - a[2]) * share))
                out.append(
                    Flat(
                        (b[0], b[1]),
                        base,
                        gap,
                        allowed(base, "line_6", limits),
                        allowed(base, "line_7", limits),
                    )
                )
    return tuple(sorted(out, key=lambda one: -one.gap / one.usual))


@dataclass(frozen=True, slots=True)
class Packed:
    """A crossing and how much is packed there [mm]."""

    x: float
    z: float
    pack: float


def packing(readings: Sequence[Reading], places: Sequence[tuple[float, float]]) -> tuple[Packed, ...]:
    """What is packed at each place so that all faces lie in one plumb plane that touches the wall at the highest of the places."""
    outs = [stands_out(readings, x, z) for x, z in places]
    high = max(outs, default=0.0)
    return tuple(Packed(x, z, high - out) for (x, z), out in zip(places, outs, strict=True))
