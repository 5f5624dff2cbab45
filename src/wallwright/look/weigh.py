"""Which of two walls leads: four measured terms a wall, side by side, and the share of each term that one wall holds.

No published model says which wall of a room is looked at: these are measured numbers, not a verdict. Colour difference is
ISO/CIE 11664-6; edge length and area shares come exactly from the drawing; luminance from the light calculation. The
thresholds that make a wall `the star` are ours, editable, and not validated.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence

from wallwright.look.record import Terms

TERMS = ("difference", "edges", "lit", "entropy")
"""In the order of `Terms`."""


def entropy(areas: Iterable[float]) -> float:
    """Shannon's entropy of the shares of a whole [bit]: 0 for one finish, 1 for two of equal area, 2 for four."""
    parts = [area for area in areas if area > 0]
    whole = sum(parts)
    return -sum(area / whole * math.log2(area / whole) for area in parts) if whole > 0 else 0.0


def dominance(one: float, two: float) -> float:
    """The share of both that the first holds: 0.5 equal, 0.67 twice as much; 0.5 where neither has any."""
    return one / (one + two) if one + two > 0 else 0.5


def dominances(one: Terms, two: Terms) -> tuple[float, ...]:
    """Of each term, in order."""
    return tuple(dominance(a, b) for a, b in zip(one.each, two.each, strict=True))


def wins(one: Terms, two: Terms, ratio: float) -> int:
    """In how many terms the first is at least `ratio` times the second."""
    return sum(a > 0 and a >= ratio * b for a, b in zip(one.each, two.each, strict=True))


def star(this: Terms, other: Terms, ratio: float, terms: int) -> str:
    """`this` or `other` where one wall wins so many terms by that ratio, else "" (neither leads)."""
    if wins(this, other, ratio) >= terms:
        return "this"
    return "other" if wins(other, this, ratio) >= terms else ""


def mean_luminance(faces: Sequence[tuple[float, float]], lux: float, extra: float, whole: float) -> float:
    """The mean luminance of a wall [cd/m²]: its faces (area mm², reflectance 0..1) under the room's light, and what lamps and
    screen add. extra : Σ luminance · area of those [cd/m² · mm²] · whole : the wall's area [mm²].
    """
    return (sum(area * grey for area, grey in faces) * lux / math.pi + extra) / whole
