"""The lens: straight lines that a photo shows bent, by one number.

A marked pixel p is put right to c + (p - c)(1 + k r²), r its distance from the middle c of the picture over half the diagonal.
k > 0 puts right a picture whose lines bulge outwards (barrel). One number is what a wall's points can tell; source of the form:
D. C. Brown, Close-range camera calibration, 1971, first radial term.
"""

from __future__ import annotations

from typing import Any

import numpy as np

Array = Any
_TURNS = 30


def middle(size: tuple[int, int]) -> Array:
    """The middle of a picture of that width and height [px]."""
    return np.array([size[0] / 2, size[1] / 2])


def radius(size: tuple[int, int]) -> float:
    """Half the diagonal [px]."""
    return float(np.hypot(*size)) / 2


def righted(points: Array, k: float, size: tuple[int, int]) -> Array:
    """Where marked pixels would be without the lens's bending."""
    c = middle(size)
    off = np.atleast_2d(np.asarray(points, float)) - c
    return c + off * (1 + k * (off**2).sum(axis=-1, keepdims=True) / radius(size) ** 2)


def bent(points: Array, k: float, size: tuple[int, int]) -> Array:
    """Where points without bending stand in the picture as it was taken: the inverse of `righted`."""
    c = middle(size)
    off = np.asarray(points, float) - c
    if k == 0.0:
        return c + off
    far = np.sqrt((off**2).sum(axis=-1, keepdims=True)) / radius(size)
    out = far.copy()  # solve r (1 + k r²) = far
    for _ in range(_TURNS):
        step = (out * (1 + k * out**2) - far) / np.maximum(1 + 3 * k * out**2, 0.2)
        out = out - step
        if float(np.abs(step).max(initial=0.0)) < 1e-12:
            break
    return c + off * np.where(far > 0, out / np.maximum(far, 1e-300), 1.0)


def crooked(edge: Array) -> Array:
    """How far each point of an edge lies off the straight line that fits it best [px]."""
    edge = np.asarray(edge, float)
    off = edge - edge.mean(axis=0)
    return off @ np.linalg.svd(off)[2][1]
