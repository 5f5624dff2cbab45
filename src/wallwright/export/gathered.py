"""Light that comes by way of other walls, asked for at every few pixels and made even: how a picture gets it without spots.

Each point asks a few directions only, so that its own answer is rough; but neighbours on the same flat face see nearly the same room,
so their answers are put together, and never across an edge. Metres; arrays are float32.
"""

from __future__ import annotations

from math import pi
from typing import Any

import numpy as np

FLAT = 0.002
"""Points no farther than this from each other's planes lie on one face [m]."""
OFF = 5e-4
"""How far before its face a point asks from [m], so that it does not find its own face."""
SEED = 20
USUAL = 4.0
"""So many times the mean of all that is found is a bright spot."""
KERNEL = (1 / 16, 1 / 4, 3 / 8, 1 / 4, 1 / 16)
"""The cubic B-spline's five taps, for even smoothing in steps that double (an "à trous" wavelet)."""


def chosen(high: int, wide: int, block: int) -> tuple[Any, Any]:
    """Row and column of one ray of each block of rays, anywhere in it, so that no pattern of slats falls in step with them."""
    chance = np.random.default_rng(SEED)
    rows, columns = -(-high // block), -(-wide // block)
    row = np.arange(rows)[:, None] * block + chance.integers(0, block, (rows, columns))
    column = np.arange(columns)[None, :] * block + chance.integers(0, block, (rows, columns))
    return np.minimum(row, high - 1), np.minimum(column, wide - 1)


def asked(points: Any, normals: Any, round_: int, out: int, seed: int) -> Any:
    """Rays (points, directions, 6) into the half space before each point, as dense as the cosine: their mean is what lands there over pi.

    round_, out : into how many parts the horizon, and the way from straight ahead to it, are cut; one ray in each part
    """
    chance = np.random.default_rng((SEED, seed))
    n = len(points)
    turn = (np.arange(round_)[None, None, :] + chance.random((n, out, round_), np.float32)) / round_
    square = (np.arange(out)[None, :, None] + chance.random((n, out, round_), np.float32)) / out
    far = np.sqrt(square)
    a, b = (far * f(2 * pi * turn) for f in (np.cos, np.sin))
    ahead = np.sqrt(1 - square)
    side = np.where(np.abs(normals[:, :1]) < 0.7, np.array([1.0, 0, 0]), np.array([0, 1.0, 0]))
    u = np.cross(normals, side)
    u /= np.maximum(np.linalg.norm(u, axis=1, keepdims=True), 1e-9)
    v = np.cross(normals, u)
    rays = np.empty((n, out * round_, 6), np.float32)
    rays[..., :3] = (points + OFF * normals)[:, None]
    rays[..., 3:] = (a[..., None] * u[:, None, None] + b[..., None] * v[:, None, None]
                     + ahead[..., None] * normals[:, None, None]).reshape(n, -1, 3)  # fmt: skip
    return rays


def parted(found: Any, mean: float) -> tuple[Any, Any]:
    """Each point's mean of what its directions found (..., directions, 3): what is usual, and what single bright spots add to it.

    A direction that meets the narrow band beside a lamp finds a hundred times the usual light, and most of its neighbours do not.
    mean : of all that is found in the picture
    """
    bright = found.mean(axis=-1)
    usual = USUAL * mean
    calm = found * np.minimum(1.0, usual / np.maximum(bright, 1e-12))[..., None].astype(np.float32)
    return calm.mean(axis=-2), (found - calm).mean(axis=-2)


def evened(usual: Any, spots: Any, points: Any, normals: Any) -> Any:
    """The light of a grid of points (rows, columns, 3), each with its neighbours' on the same face; that of spots over a wider part."""
    out: Any = 0.0
    for light, steps, tight in ((usual, (1, 2, 4, 8), 4.0), (spots, (1, 2, 4, 8, 16), 1.5)):
        known, done = None, light
        for step in steps:
            done = _round(done, points, normals, step, known, tight)
            known = done if step >= steps[-1] // 4 else None
        out = out + done
    # a point in a slit has no neighbours of its own face to be evened with
    return without_sparks(out)


def _round(light: Any, points: Any, normals: Any, step: int, like: Any, tight: float) -> Any:  # noqa: PLR0913
    """One smoothing with taps `step` apart. like : what is known so far; neighbours that differ from it count less, as `tight` says."""
    total: Any = np.zeros_like(light)
    weight: Any = np.zeros(light.shape[:2], np.float32)
    known = None if like is None else like.mean(axis=2)
    for i, down in enumerate(KERNEL):
        for j, across in enumerate(KERNEL):
            move = ((i - 2) * step, (j - 2) * step)
            w = np.float32(down * across) * _same(
                points, normals, *(_moved(a, move) for a in (points, normals))
            )
            if known is not None:
                other = _moved(known, move)
                w = w * np.exp(
                    -np.float32(tight) * np.abs(known - other) / (known + other + np.float32(1e-9))
                )
            total += w[..., None] * _moved(light, move)
            weight += w
    return total / np.maximum(weight, np.float32(1e-9))[..., None]


def _same(at: Any, facing: Any, other: Any, turned: Any) -> Any:
    """1 where two points lie on one flat face, falling to 0 as one leaves the other's plane or faces another way."""
    off = np.abs(np.sum((other - at) * facing, axis=-1)) / np.float32(FLAT)
    alike = np.clip(np.sum(facing * turned, axis=-1), 0, 1)
    return np.exp(-off * off) * alike**16


def _moved(values: Any, move: tuple[int, int]) -> Any:
    """The grid moved by so many rows and columns, its edges repeated."""
    rows = np.clip(np.arange(values.shape[0]) + move[0], 0, values.shape[0] - 1)
    columns = np.clip(np.arange(values.shape[1]) + move[1], 0, values.shape[1] - 1)
    return values[rows[:, None], columns[None, :]]


def spread(light: Any, points: Any, normals: Any, at: Any, facing: Any, rows: Any, block: int) -> Any:  # noqa: PLR0913
    """The grid's light at each ray of some rows of the picture: that of the nearest points of its own face.

    light, points, normals : the grid · at, facing : what the rays meet · rows : which rows of the picture they are
    """
    high, wide = at.shape[:2]
    y = np.clip((rows + 0.5) / block - 0.5, 0, light.shape[0] - 1).astype(np.float32)
    x = np.clip((np.arange(wide) + 0.5) / block - 0.5, 0, light.shape[1] - 1).astype(np.float32)
    total: Any = np.zeros((high, wide, 3), np.float32)
    weight: Any = np.zeros((high, wide), np.float32)
    near_y, near_x = np.rint(y).astype(int), np.rint(x).astype(int)
    for i in (-1, 0, 1):
        for j in (-1, 0, 1):
            r = np.clip(near_y + i, 0, light.shape[0] - 1)[:, None]
            c = np.clip(near_x + j, 0, light.shape[1] - 1)[None, :]
            close = np.exp(-1.1 * ((r - y[:, None]) ** 2 + (c - x[None, :]) ** 2))
            w = close * (_same(at, facing, points[r, c], normals[r, c]) + np.float32(1e-5))
            total += w[..., None] * light[r, c]
            weight += w
    return total / weight[..., None]


def without_sparks(light: Any) -> Any:
    """A ray far brighter than all but three of those round it is brought down to them: it met a strip in a polished edge by chance."""
    bright = light.sum(axis=2)
    around = np.stack([_moved(bright, (i, j)) for i in (-1, 0, 1) for j in (-1, 0, 1)])
    most = 1.5 * np.partition(around, 5, axis=0)[5] + 1e-9
    return light * np.minimum(1.0, most / np.maximum(bright, 1e-12))[..., None]
