"""Do single diodes show? The unevenness along a strip, in closed form.

The diodes are matt points in an endless row, `pitch` apart, seen on a face d away. Each gives ∝ 1/(d² + x²)², so along the
row the sum is ∝ g − u g′ with u = 2πd/p and g = sinh u/(cosh u − cos 2πx/p): brightest before a diode, weakest between two.
"""

from __future__ import annotations

import math

_APART = 1e-3
"""Below this u the row is separate dots to the last digit (and cosh u − 1 would vanish)."""
_SMOOTH = 60.0
"""Beyond this u the row is even to the last digit (and cosh would grow without end)."""


def ripple(pitch: float, away: float) -> float:
    """(brightest − weakest)/(brightest + weakest) on a face `away` from diodes `pitch` apart: 0 even, 1 separate dots."""
    u = 2 * math.pi * away / pitch
    if u < _APART:
        return 1.0
    if u > _SMOOTH:
        return 0.0
    most = (math.sinh(u) + u) / (math.cosh(u) - 1)
    least = (math.sinh(u) - u) / (math.cosh(u) + 1)
    return (most - least) / (most + least)
