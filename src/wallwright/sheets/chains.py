"""Chains of dimensions: running, with an overall outside, and their figures rounded so that they close."""

from __future__ import annotations

import itertools
from collections.abc import Iterable, Sequence
from math import floor
from typing import Literal

from wallwright.core.drawing import Dim
from wallwright.sheets.ink import rounded


def chain(
    stops: Iterable[float], along: Literal["x", "z"], at: float, offset: float, ref: str = "chain"
) -> list[Dim]:
    """A running chain of dimensions through the stops (sorted, doubles within half a mm joined): its parts close by construction.

    at : the outline's coordinate across · offset : paper mm from there to the dimension line
    """
    points = joined(stops)
    ends = [(at, stop) if along == "z" else (stop, at) for stop in points]
    figures = closing([b - a for a, b in itertools.pairwise(points)])
    return [
        Dim(start, end, along, at, offset, layer="dims", ref=ref, shown=shown)
        for (start, end), shown in zip(itertools.pairwise(ends), figures, strict=True)
    ]


MOST_KINDS = 10
"""Up to so many different part sizes every way of rounding a chain is tried."""


def closing(parts: Sequence[float]) -> list[int]:
    """The parts of a chain in whole mm that add up to the whole rounded: none is off by 1 mm or more.

    Equal parts are shown equal wherever that closes, with the least error in all; else the largest remainders are rounded up.
    """
    left = rounded(sum(parts)) - sum(floor(part + 1e-6) for part in parts)
    kinds: dict[float, int] = {}
    for part in parts:
        if part + 1e-6 - floor(part + 1e-6) > 1e-3:
            kinds[round(part, 2)] = kinds.get(round(part, 2), 0) + 1
    best: tuple[float, frozenset[float]] | None = None
    if len(kinds) <= MOST_KINDS:
        for ups in itertools.chain.from_iterable(
            itertools.combinations(kinds, k) for k in range(len(kinds) + 1)
        ):
            if sum(kinds[kind] for kind in ups) == left:
                error = sum(
                    n * ((1 - kind % 1) if kind in ups else kind % 1) ** 2 for kind, n in kinds.items()
                )
                best = min(best or (error, frozenset(ups)), (error, frozenset(ups)), key=lambda way: way[0])
    if best is not None:
        return [floor(part + 1e-6) + (round(part, 2) in best[1]) for part in parts]
    order = sorted(range(len(parts)), key=lambda i: floor(parts[i] + 1e-6) - parts[i])
    up = set(order[: max(left, 0)])
    return [floor(part + 1e-6) + (i in up) for i, part in enumerate(parts)]


def chains(
    stops: Iterable[float],
    along: Literal["x", "z"],
    at: float,
    offset: float,
    beyond: float = 8.0,
    ref: str = "chain",
) -> list[Dim]:
    """A chain, and `beyond` paper mm outside it the overall size, where the chain has more than one part."""
    points = joined(stops)
    inner = chain(points, along, at, offset, ref)
    outer = offset + beyond if offset > 0 else offset - beyond
    return inner + (chain((points[0], points[-1]), along, at, outer, "overall") if len(points) > 2 else [])


def joined(stops: Iterable[float]) -> list[float]:
    """The stops in order, those within half a millimetre of one another taken as one."""
    out: list[float] = []
    for stop in sorted(stops):
        if not out or stop - out[-1] > 0.5:
            out.append(stop)
    return out
