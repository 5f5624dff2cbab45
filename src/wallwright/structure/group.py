"""Fixings near one another or near a free edge carry less: they pull on the same cone. Formulas only; mm.

EN 1992-4, 7.2.1.4 (from memory): in proportion to the projected area of the group over that of fixings far apart.
"""

from __future__ import annotations

from collections.abc import Iterable
from itertools import pairwise

from wallwright.core.shape import Box, Point2


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
    """Share of its capacity that the fixing nearest to an opening keeps: (c + c_cr) / 2·c_cr, 0 inside the opening."""
    around = tuple(openings)
    least = min((_distance(hole, box) for hole in holes for box in around), default=edge)
    return 0.0 if least <= 0 else min(1.0, (least + edge) / (2 * edge))


def _distance(hole: Point2, box: Box) -> float:
    """From a hole's middle to an opening's edge; 0 or less inside."""
    x, z = hole
    dx, dz = max(box.x - x, x - box.right), max(box.z - z, z - box.top)
    return max(dx, dz) if dx <= 0 or dz <= 0 else (dx * dx + dz * dz) ** 0.5
