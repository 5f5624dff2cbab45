"""Fixings beside one another: what each keeps of its capacity, and what each gets of the load. Formulas only; mm, N.

Near one another or near a free edge they pull on the same cone: EN 1992-4, 7.2.1.4 (from memory).
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from itertools import pairwise

from wallwright.core.shape import Box, Point2
from wallwright.structure.anchor import edge_disturbed


def group_factor(holes: tuple[Point2, ...], spacing: float) -> float:
    """Share of their capacity that fixings on a grid keep (≤ 1): (s + Σ min(gap, s)) both ways over n·s²."""
    if len(holes) < 2:
        return 1.0
    across = _spread((x for x, _ in holes), spacing)
    upright = _spread((z for _, z in holes), spacing)
    return min(1.0, across * upright / (len(holes) * spacing * spacing))


def _spread(places: Iterable[float], spacing: float) -> float:
    there = sorted({round(place, 2) for place in places})
    return spacing + sum(min(b - a, spacing) for a, b in pairwise(there))


def edge_factor(holes: tuple[Point2, ...], edge: float, openings: Iterable[Box]) -> float:
    """Share of its capacity that the fixing nearest to an opening keeps: (c + c_cr) / 2·c_cr of the cone, times ψ_s; 0 inside."""
    around = tuple(openings)
    least = min((_distance(hole, box) for hole in holes for box in around), default=edge)
    return 0.0 if least <= 0 else min(1.0, (least + edge) / (2 * edge)) * edge_disturbed(least, edge)


def _distance(hole: Point2, box: Box) -> float:
    """From a hole's middle to an opening's edge; 0 or less inside."""
    x, z = hole
    dx, dz = max(box.x - x, x - box.right), max(box.z - z, z - box.top)
    return max(dx, dz) if dx <= 0 or dz <= 0 else (dx * dx + dz * dz) ** 0.5


def worst_share(xs: Sequence[float], middle: float) -> float:
    """What the worst fixing of a row gets of a load whose middle is at x = `middle`, over the mean: a stiff box on like fixings.

    n·(1/n + e·(x − x̄)/Σ(x − x̄)²). 1 where the row stands evenly about the load; infinite where one fixing is to hold it alone
    beside itself.
    """
    n = len(xs)
    mean = sum(xs) / n
    spread = sum((x - mean) ** 2 for x in xs)
    off = middle - mean
    if spread <= 0:
        return 1.0 if abs(off) < 1e-6 else float("inf")
    return max(1 + n * off * (x - mean) / spread for x in xs)


def turned(holes: Sequence[Point2], shear: float, moment: float) -> float:
    """Shear of the worst fixing [N] of a group under a weight and a moment that turns it in the wall's plane [N·mm].

    Each fixing is moved square to its line from the group's middle and takes in proportion to that distance: V/n + M·r/Σr².
    """
    n = len(holes)
    cx, cz = sum(x for x, _ in holes) / n, sum(z for _, z in holes) / n
    polar = sum((x - cx) ** 2 + (z - cz) ** 2 for x, z in holes)
    if polar <= 0:
        return shear / n
    return max(
        ((moment * (z - cz) / polar) ** 2 + (shear / n + abs(moment) * abs(x - cx) / polar) ** 2) ** 0.5
        for x, z in holes
    )
