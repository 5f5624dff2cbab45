"""Fixings beside one another: what each keeps of its capacity, and what each gets of the load. Formulas only; mm, N.

Near one another or near a free edge they pull on the same cone: EN 1992-4, 7.2.1.4 (from memory).
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from itertools import pairwise

from wallwright.core.shape import Box, Point2
from wallwright.structure.anchor import edge_disturbed
from wallwright.structure.span import even_forces


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


def worst_share(xs: Sequence[float], over: tuple[float, float]) -> float:
    """What the worst fixing of a row gets of an even load that lies from x `over`[0] to `over`[1], over the mean.

    The greater of two: a beam over supports that do not give, and a stiff box on springs. Fixings one above the other share what
    comes to their line. Infinite on a single line: nothing keeps it from swinging about it.
    """
    lines = sorted({round(x, 1) for x in xs})
    if len(lines) < 2:
        return float("inf")
    left, right = min(over[0], lines[0]), max(over[1], lines[-1])
    forces = even_forces(
        tuple(round(b - a, 1) for a, b in pairwise(lines)),
        (round(lines[0] - left, 1), round(right - lines[-1], 1)),
    )
    beam = max(abs(force) for force in forces) * len(lines) / (right - left)
    return max(beam, stiff_share(lines, (over[0] + over[1]) / 2))


def plate_share(xs: Sequence[float], over: tuple[float, float]) -> float:
    """The same for a steel plate, which doesn't bend between its screws: only how far they stand to one side of it counts."""
    lines = sorted({round(x, 1) for x in xs})
    return float("inf") if len(lines) < 2 else stiff_share(lines, (over[0] + over[1]) / 2)


def stiff_share(xs: Sequence[float], middle: float) -> float:
    """The worst share of a stiff box on like springs, its load's middle at x = `middle`: n·(1/n + e·(x − x̄)/Σ(x − x̄)²)."""
    n, mean = len(xs), sum(xs) / len(xs)
    spread = sum((x - mean) ** 2 for x in xs)
    return max(1 + n * (middle - mean) * (x - mean) / spread for x in xs)


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
