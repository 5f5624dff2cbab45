"""The wall laid straight: which pixel of the photo belongs to each pixel of a picture to scale, and where it is how sure."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

import numpy as np

from wallwright.core.shape import Box
from wallwright.photo.fit import Fit, sure_at
from wallwright.photo.lens import bent

Array = Any
MOST = 24_000_000
"""Pixels of a straightened picture: as many as a good print of a wall takes."""


@dataclass(frozen=True, slots=True)
class Sure:
    """± within which a place is read with 95 % [mm]."""

    x: float
    z: float
    sure: float


def step_for(area: Box, fit: Fit) -> float:
    """Millimetres a pixel: as fine as the photo is at the middle of the points, rounded to a half, and no more pixels than `MOST`."""
    middle = np.mean([one.at for one in fit.marked], axis=0)
    there = bent_px(fit, middle + np.array([(0, 0), (1, 0), (0, 1)]))
    fine = 1 / max(float(np.hypot(*(there[1] - there[0]))), float(np.hypot(*(there[2] - there[0]))), 1e-6)
    least = (area.width * area.height / MOST) ** 0.5
    return float(np.ceil(max(fine, least, 0.5) * 2) / 2)


def bent_px(fit: Fit, places: Array) -> Array:
    """Where places of the wall are in the photo as it was taken; far outside it where they lie behind the camera."""
    h = fit.to_px
    flat = np.asarray(places, float)
    deep = flat @ h[2, :2] + h[2, 2]
    sign = np.sign(np.mean([np.array(one.at) @ h[2, :2] + h[2, 2] for one in fit.marked]))
    ahead = deep * sign > 1e-9
    top = flat @ h[:2, :2].T + h[:2, 2]
    ideal = top / np.where(ahead, deep, 1.0)[..., None]
    return np.where(ahead[..., None], bent(ideal, fit.k, fit.doubt.size), -1e6)


def maps(fit: Fit, area: Box, step: float) -> tuple[Array, Array]:
    """For each pixel of the straight picture, the column and the row in the photo (float32)."""
    wide, high = round(area.width / step), round(area.height / step)
    xs = area.x + (np.arange(wide) + 0.5) * step
    out = np.empty((2, high, wide), np.float32)
    for row in range(high):  # row by row: a whole wall at once would take gigabytes
        z = area.top - (row + 0.5) * step
        seen = bent_px(fit, np.column_stack((xs, np.full(wide, z))))
        out[:, row] = seen.T
    return out[0], out[1]


def sure_over(fit: Fit, area: Box, step: float = 600.0) -> tuple[Sure, ...]:
    """How sure the photo is on a grid over the wall."""
    xs = np.linspace(area.x, area.right, max(2, round(area.width / step) + 1))
    zs = np.linspace(area.z, area.top, max(2, round(area.height / step) + 1))
    return tuple(Sure(float(x), float(z), sure_at(fit, (x, z))) for z in zs for x in xs)


def marked_area(fit: Fit) -> Box:
    """The extent of the measured points."""
    at = np.array([one.at for one in fit.marked])
    low, high = at.min(axis=0), at.max(axis=0)
    return Box(float(low[0]), float(low[1]), float(high[0] - low[0]), float(high[1] - low[1]))
