"""What to buy: each cable with its slack, made-up cables as the cable map has them, conduit and trunking by their size."""

from __future__ import annotations

import math
from collections import defaultdict
from collections.abc import Sequence

from wallwright.core.limit import Limits
from wallwright.library import load
from wallwright.services import trunking
from wallwright.services.plugs import WORDS, Plug
from wallwright.services.record import Order, Run

_Pieces = list[tuple[str, float, float]]
MADE_UP = ("picture", "data", "aerial", "speaker", "line")
"""The cables with plugs on both ends that are bought, by the cable map's kinds; mains leads come with their boxes."""


def orders_of(runs: Sequence[Run], plugs: Sequence[Plug], limits: Limits) -> tuple[Order, ...]:
    """One line for each cable, each kind of made-up cable, each size of conduit and of trunking.

    What lies in a conduit that plugs go through is on the cable map, so it is bought once, as the map says. A run that lies partly
    in trunking brings as much trunking, and conduit for the rest.
    """
    whole = limits.value("services.cable_reel")
    known = load.cables()
    cables: dict[str, _Pieces] = defaultdict(list)
    conduits: dict[float, _Pieces] = defaultdict(list)
    channels: dict[tuple[float, float], _Pieces] = defaultdict(list)
    for run in runs:
        for key, count in run.contents if run.kind != "conduit" else ():
            cables[key] += [(run.ref, run.order, run.order)] * count
        if pipe := conduit_length(run):
            conduits[run.outside_diameter].append((run.ref, pipe, pipe))
        if run.on_surface > 0:
            channels[run.channel].append((run.ref, run.on_surface, run.on_surface))
    out = [_order(key, known[key].name, pieces, whole) for key, pieces in cables.items()]
    for kind in MADE_UP:
        pieces = [(plug.ref, plug.way, plug.bought) for plug in plugs if plug.kind == kind]
        if pieces:
            name = f"{WORDS[kind][0].upper()}{WORDS[kind][1:]}, made up"
            out.append(_order(f"made_{kind}", name, pieces, whole))
    out += [
        _order(f"conduit_{size:.0f}", f"Conduit {size:.0f} mm", pieces, whole)
        for size, pieces in sorted(conduits.items())
    ]
    out += [
        _order(f"trunking_{size[0]:.0f}x{size[1]:.0f}", f"Trunking {trunking.words(size)} mm", pieces, whole)
        for size, pieces in sorted(channels.items())
    ]
    return tuple(out)


def conduit_length(run: Run) -> float:
    """How much conduit a run needs [mm]: all of it but what lies in trunking; none wholly in a void, unless plugs go through it."""
    if run.in_void and run.kind != "conduit":
        return 0.0
    return max(0.0, run.length - run.on_surface)


def _order(key: str, name: str, pieces: _Pieces, whole: float) -> Order:
    total = sum(bought for _, _, bought in pieces)
    return Order(key, name, math.ceil(total / whole - 1e-9) * whole / 1000.0, tuple(pieces))
