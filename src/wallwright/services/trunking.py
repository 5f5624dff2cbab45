"""Trunking on the wall, where nothing is cut: the size that takes what lies in it, with its lid off to lay the cables in."""

from __future__ import annotations

import math
from collections.abc import Sequence

SIZES = ((16.0, 16.0), (25.0, 16.0), (38.0, 16.0), (38.0, 25.0), (50.0, 25.0), (50.0, 50.0), (100.0, 50.0))
"""Width and height of light PVC trunking by its name size [mm], from memory; the maker's list goes before it."""
SKIN = 1.5
"""Thickness of its walls and lid [mm], from memory."""


def smallest(diameters: Sequence[float], share: float) -> tuple[float, float]:
    """The smallest trunking filled no more than `share` by cables of those diameters [mm] that each go in; the largest there is
    where none is large enough. An empty one is the second size, for a cable that is to come.

    Source: On-Site Guide appendix E gives the share (45 %).
    """
    if not diameters:
        return SIZES[1]
    area = sum(math.pi / 4 * diameter**2 for diameter in diameters)
    for width, height in SIZES:
        inner = width - 2 * SKIN, height - 2 * SKIN
        if max(diameters) <= min(inner) and area <= share * inner[0] * inner[1]:
            return width, height
    return SIZES[-1]


def words(size: tuple[float, float]) -> str:
    """The size as it is asked for over the counter."""
    return f"{size[0]:.0f}×{size[1]:.0f}"
