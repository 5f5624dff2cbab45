"""The plane map between a photo and the wall: normalised direct linear transform.

Source: R. Hartley, A. Zisserman, Multiple View Geometry in Computer Vision, 2nd ed. 2004, algorithm 4.2. Points are rows (n, 2).
"""

from __future__ import annotations

from math import sqrt
from typing import Any, cast

import numpy as np

Array = Any


def normaliser(points: Array) -> Array:
    """The similarity that brings the centroid to the origin and the mean distance from it to √2."""
    points = np.asarray(points, float)
    middle = points.mean(axis=0)
    far = float(np.hypot(*(points - middle).T).mean()) or 1.0
    s = sqrt(2.0) / far
    return np.array([[s, 0.0, -s * middle[0]], [0.0, s, -s * middle[1]], [0.0, 0.0, 1.0]])


def inverse(matrix: Array) -> Array:
    """The inverse of a square matrix."""
    return cast("Any", np.linalg.inv(matrix))


def solved(rows: Array, right: Array) -> Array:
    """The least-squares solution of rows · x = right."""
    return cast("Any", np.linalg.lstsq(rows, right, rcond=None)[0])


def system(start: Array, end: Array) -> Array:
    """Two rows a point of the homogeneous equations A h = 0 for `end` ~ H `start` (2n × 9)."""
    rows: list[Array] = []
    for (x, y), (u, v) in zip(np.asarray(start, float), np.asarray(end, float), strict=True):
        rows.append(np.array([x, y, 1, 0, 0, 0, -u * x, -u * y, -u]))
        rows.append(np.array([0, 0, 0, x, y, 1, -v * x, -v * y, -v]))
    return np.array(rows)


def condition(start: Array, end: Array, normalised: bool = True) -> float:
    """Largest over eighth singular value of the equations: how much a marking error is blown up by arithmetic alone."""
    if normalised:
        start, end = mapped(normaliser(start), start), mapped(normaliser(end), end)
    values = np.linalg.svd(system(start, end), compute_uv=False)
    return float(values[0] / values[7])


def homography(start: Array, end: Array) -> Array:
    """H with `end` ~ H `start`, h33 = 1; of four points exact, of more by least algebraic error. They must not lie on a line."""
    a, b = normaliser(start), normaliser(end)
    last = np.linalg.svd(system(mapped(a, start), mapped(b, end)))[2][-1]
    found = inverse(b) @ last.reshape(3, 3) @ a
    return found / found[2, 2]


def mapped(h: Array, points: Array) -> Array:
    """Points through a plane map."""
    points = np.atleast_2d(np.asarray(points, float))
    out = np.column_stack((points, np.ones(len(points)))) @ np.asarray(h).T
    return out[:, :2] / out[:, 2:]


def slope(h: Array, point: Array) -> Array:
    """How the mapped point moves with the point (2 × 2)."""
    x, y = (float(v) for v in point)
    top = np.asarray(h) @ np.array([x, y, 1.0])
    return (h[:2, :2] - np.outer(top[:2] / top[2], h[2, :2])) / top[2]
