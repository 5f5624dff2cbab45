"""What to buy for the runs: each cable with its slack, made-up cables in the lengths they come in, conduit by its size."""

from __future__ import annotations

import math
from collections import defaultdict
from collections.abc import Sequence

from wallwright.core.limit import Limits
from wallwright.library import load
from wallwright.services.record import Order, Run

MADE_UP = (1000.0, 1500.0, 2000.0, 3000.0, 5000.0, 7500.0, 10_000.0, 15_000.0, 20_000.0, 30_000.0)
"""Lengths in which cables with plugs on both ends are sold [mm] (common practice)."""
PLUGGED = frozenset({"hdmi", "usb"})


def orders_of(runs: Sequence[Run], limits: Limits) -> tuple[Order, ...]:
    """One line for each cable and each size of conduit, cables first. A run that does not say what lies in it brings no cable."""
    whole = limits.value("services.cable_reel")
    known = load.cables()
    cables: dict[str, list[tuple[str, float, float]]] = defaultdict(list)
    conduits: dict[float, list[tuple[str, float, float]]] = defaultdict(list)
    for run in runs:
        for key, count in run.contents:
            cables[key] += [(run.ref, run.order, bought(key, run.order))] * count
        if run.kind == "conduit" or not run.in_void:
            conduits[run.outside_diameter].append((run.ref, run.length, run.length))
    out = [_order(key, known[key].name, pieces, whole) for key, pieces in cables.items()]
    out += [
        _order(f"conduit_{size:.0f}", f"Conduit {size:.0f} mm", pieces, whole)
        for size, pieces in sorted(conduits.items())
    ]
    return tuple(out)


def bought(key: str, length: float) -> float:
    """The length in which a piece is bought [mm]: with plugs on, the next one there is (the longest where none is long enough)."""
    if key not in PLUGGED:
        return length
    return next((made for made in MADE_UP if made >= length), MADE_UP[-1])


def _order(key: str, name: str, pieces: list[tuple[str, float, float]], whole: float) -> Order:
    total = sum(length for _, _, length in pieces)
    return Order(key, name, math.ceil(total / whole - 1e-9) * whole / 1000.0, tuple(pieces))
