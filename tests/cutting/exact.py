"""Oracles for a handful of parts: every way to divide a sheet is tried. Plain, slow, and unlike anything in the package."""

from __future__ import annotations

from collections.abc import Iterator
from functools import cache
from itertools import combinations
from typing import Any

Lies = tuple[tuple[int, int], ...]


def splits(parts: tuple[int, ...]) -> Iterator[tuple[tuple[int, ...], ...]]:
    """Every way to deal the parts into heaps."""
    if not parts:
        yield ()
        return
    head, rest = parts[0], parts[1:]
    for size in range(len(rest) + 1):
        for with_head in combinations(rest, size):
            others = tuple(p for p in rest if p not in with_head)
            for tail in splits(others):
                yield ((head, *with_head), *tail)


def fits_one(parts: tuple[int, ...], lies: tuple[Lies, ...], x: int, y: int, stages: int) -> bool:
    """Can the parts be sawn from one sheet in so many stages and a trimming cut?"""

    @cache
    def need(heap: tuple[int, ...], span: int, axis: int, level: int) -> int:
        """Least extent along the axis of a slab with this span across it; huge where there is none."""
        if len(heap) == 1:
            return min((lie[axis] for lie in lies[heap[0]] if lie[1 - axis] <= span), default=10**9)
        if level > stages:
            return 10**9
        top = sum(max(lie[axis] for lie in lies[p]) for p in heap)
        return next((t for t in range(1, top + 1) if holds(heap, t, span, axis, level)), 10**9)

    def holds(heap: tuple[int, ...], thick: int, span: int, axis: int, level: int) -> bool:
        return any(
            sum(need(part, thick, 1 - axis, level + 1) for part in deal) <= span for deal in splits(heap)
        )

    extent = (x, y)
    return any(
        sum(need(part, extent[1 - axis], axis, 2) for part in deal) <= extent[axis]
        for axis in (0, 1)
        for deal in splits(parts)
    )


def fewest(lies: tuple[Lies, ...], x: int, y: int, stages: int) -> int:
    """The least number of sheets."""
    everything = tuple(range(len(lies)))
    return min(
        len(deal) for deal in splits(everything) if all(fits_one(heap, lies, x, y, stages) for heap in deal)
    )


def worth(lies: tuple[Lies, ...], values: list[float], x: int, y: int, stages: int) -> float:
    """The most that one sheet is worth when every part may be cut from it any number of times."""

    @cache
    def best(w: int, h: int, axis: int, level: int) -> float:
        extent = (w, h)
        one = max(
            (v for way, v in zip(lies, values, strict=True) if any(a <= w and b <= h for a, b in way)),
            default=0.0,
        )
        if level > stages:
            return one
        fill = [0.0] * (extent[axis] + 1)
        for end in range(1, extent[axis] + 1):
            for thick in range(1, end + 1):
                slab = (thick, h) if axis == 0 else (w, thick)
                fill[end] = max(fill[end], fill[end - thick] + best(*slab, 1 - axis, level + 1))
        return max(one, fill[-1])

    return max(best(x, y, axis, 1) for axis in (0, 1))


def lies_of(task: Any) -> tuple[Lies, ...]:
    """Every single part's ways to lie, from a task of the package."""
    return tuple(
        tuple((x, y) for x, y, _ in way)
        for way, piece in zip(task.lies, task.pieces, strict=True)
        for _ in range(piece.quantity)
    )
