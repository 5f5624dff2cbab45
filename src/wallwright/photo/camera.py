"""Where the photo was taken from: focal length, place and direction, refined on every known point, and how sure they are.

Wall axes (x right, y into the wall, z up) [mm]; the camera looks along its own z, x right and y down. Sources: focal length from
the image of a rectangle, Hartley and Zisserman 2004, chapter 8 (orthogonal vanishing points); the diagonal of a 36 × 24 frame, 43.27 mm.
"""

from __future__ import annotations

from dataclasses import dataclass
from math import sqrt
from typing import Any

import numpy as np

from wallwright.photo.opencv import opencv

Array = Any
FRAME = 43.2666
"""Diagonal of the 36 × 24 mm frame that focal lengths are told for [mm]."""
_TURNS = 60


@dataclass(frozen=True, slots=True)
class Camera:
    """A camera that stands in the room. focal : [px] · middle : of the picture [px] · turn, shift : x_camera = turn · x_wall + shift ·
    spread : covariance of (rotation vector, shift, log focal), 7 × 7 · rms : of the points, expected less marked [px]
    """

    focal: float
    middle: tuple[float, float]
    turn: Array
    shift: Array
    spread: Array
    rms: float

    @property
    def at(self) -> Array:
        """Where it stands [mm]."""
        return -self.turn.T @ self.shift

    @property
    def matrix(self) -> Array:
        """Its 3 × 3 inner matrix."""
        return np.array([[self.focal, 0, self.middle[0]], [0, self.focal, self.middle[1]], [0, 0, 1.0]])

    @property
    def aside(self) -> float:
        """How far off square to the wall it stands, seen from the point it looks at [deg]."""
        back = -self.turn[2]
        return float(np.degrees(np.arccos(np.clip(-back[1], -1, 1))))


def focal_from_35(told: float, size: tuple[int, int]) -> float:
    """Focal length in pixels from the one told for a 36 × 24 frame [mm]."""
    return told * float(np.hypot(*size)) / FRAME


def focal_from_plane(to_px: Array, size: tuple[int, int]) -> float | None:
    """Focal length [px] from the map of the wall onto the photo; None where the wall was taken nearly square on, which tells nothing.

    Of the two formulas the one that is better founded is taken: each fails where its own side runs parallel to the picture.
    """
    h = np.array([[1, 0, -size[0] / 2], [0, 1, -size[1] / 2], [0, 0, 1.0]]) @ np.asarray(to_px)
    h = h / np.linalg.norm(h[:2, :2])
    a, b = h[:, 0], h[:, 1]
    scale = (h[2, 0] ** 2 + h[2, 1] ** 2) * 1e-4
    best: tuple[float, float] | None = None
    for over, under in (
        (-(a[0] * b[0] + a[1] * b[1]), a[2] * b[2]),
        (a[0] ** 2 + a[1] ** 2 - b[0] ** 2 - b[1] ** 2, b[2] ** 2 - a[2] ** 2),
    ):
        if abs(under) > max(scale, 1e-12) and over / under > 0 and (best is None or abs(under) > best[0]):
            best = abs(under), sqrt(over / under)
    least = 0.02 / float(np.hypot(*size))
    if best is None or max(abs(h[2, 0]), abs(h[2, 1])) < least:
        return None
    return best[1]


def posed(  # noqa: PLR0913
    points: Array, px: Array, focal: float, size: tuple[int, int], pick: float = 1.0, focal_sigma: float = 0.0
) -> Camera:
    """The camera that sees known points (n, 3) at pixels without bending, refined on all of them.

    pick : standard deviation of a mark [px] · focal_sigma : of the focal length, as a share of it; 0 holds it, otherwise it is refined
    too, which points in front of the wall make worth while

    Raises ValueError where no camera in the room sees them so.
    """
    cv, points, px = opencv(), np.asarray(points, float), np.asarray(px, float)
    middle = (size[0] / 2, size[1] / 2)
    matrix = np.array([[focal, 0, middle[0]], [0, focal, middle[1]], [0, 0, 1.0]])
    best: Camera | None = None
    for turn, shift in _starts(cv, points, px, matrix):
        turn, shift = cv.solvePnPRefineLM(points, px, matrix, None, turn, shift)
        made = _refined(cv, points, px, (turn, shift), focal, middle, pick, focal_sigma)
        if made.at[1] < 0 and (best is None or made.rms < best.rms):
            best = made
    if best is None:
        raise ValueError("no camera in front of the wall sees the points so")
    return best


def _starts(cv: Any, points: Array, px: Array, matrix: Array) -> list[tuple[Array, Array]]:
    """Poses to start from: both that a flat set of points allows, and one of all points."""
    flat = np.abs(points[:, 1]) < 1e-6
    out: list[tuple[Array, Array]] = []
    if flat.sum() >= 4:
        turned = np.column_stack((points[flat][:, 0], points[flat][:, 2], np.zeros(int(flat.sum()))))
        back = np.array([[1.0, 0, 0], [0, 0, 1.0], [0, -1.0, 0]])
        _, turns, shifts, _ = cv.solvePnPGeneric(turned, px[flat], matrix, None, flags=cv.SOLVEPNP_IPPE)
        out += [(cv.Rodrigues(cv.Rodrigues(r)[0] @ back)[0], t) for r, t in zip(turns, shifts, strict=True)]
    good, r, t = cv.solvePnP(points, px, matrix, None, flags=cv.SOLVEPNP_SQPNP)
    return [*out, (r, t)] if good else out


def _refined(  # noqa: PLR0913
    cv: Any, points: Array, px: Array, start: tuple[Array, Array], focal: float, middle: tuple[float, float],
    pick: float, focal_sigma: float,
) -> Camera:  # fmt: skip
    """Gauss-Newton on rotation, shift and, held by its own doubt, the logarithm of the focal length."""
    x = np.concatenate((start[0].ravel(), start[1].ravel(), [0.0]))
    free = 7 if focal_sigma else 6

    def seen(x: Array) -> tuple[Array, Array]:
        f = focal * float(np.exp(x[6]))
        matrix = np.array([[f, 0, middle[0]], [0, f, middle[1]], [0, 0, 1.0]])
        at, slopes = cv.projectPoints(points, x[:3], x[3:6], matrix, None)
        by_focal = (slopes[:, 6:7] + slopes[:, 7:8]) * f
        rows = np.hstack((slopes[:, :6], by_focal))[:, :free] / pick
        left = (px - at.reshape(-1, 2)).ravel() / pick
        if focal_sigma:
            rows = np.vstack((rows, np.eye(7)[6] / focal_sigma))
            left = np.append(left, -x[6] / focal_sigma)
        return left, rows

    left, rows = seen(x)
    for _ in range(_TURNS):
        step = np.zeros(7)
        step[:free] = np.linalg.lstsq(rows, left, rcond=None)[0]
        share = 1.0
        while share > 1e-5:
            tried, slopes = seen(x + share * step)
            if float(tried @ tried) <= float(left @ left):
                break
            share /= 2
        else:
            break
        x, left, rows = x + share * step, tried, slopes
        if float(np.abs(share * step).max()) < 1e-10:
            break
    spread = np.zeros((7, 7))
    spread[:free, :free] = np.linalg.pinv(rows.T @ rows)
    off = left[: 2 * len(points)] * pick
    rms = float(np.sqrt((off**2).sum() / len(points)))
    return Camera(focal * float(np.exp(x[6])), middle, cv.Rodrigues(x[:3])[0], x[3:6].copy(), spread, rms)


def seen(camera: Camera, points: Array) -> Array:
    """Pixels of points (n, 3), without the lens's bending."""
    at = np.atleast_2d(np.asarray(points, float)) @ camera.turn.T + camera.shift
    return camera.focal * at[:, :2] / at[:, 2:] + np.array(camera.middle)


def spread_of(camera: Camera, point: Array) -> Array:
    """Covariance of where a point is drawn in the photo [px²], from that of the camera."""
    cv = opencv()
    at = np.asarray(point, float).reshape(1, 3)
    turn = cv.Rodrigues(camera.turn)[0]
    _, slopes = cv.projectPoints(at, turn, camera.shift, camera.matrix, None)
    rows = np.hstack((slopes[:, :6], (slopes[:, 6:7] + slopes[:, 7:8]) * camera.focal))
    return rows @ camera.spread @ rows.T


def off_plane(camera: Camera, at: tuple[float, float], proud: float) -> float:
    """How far a place seems shifted along the wall when the thing lies so far in front of the wall or behind its face [mm]."""
    eye = camera.at
    return abs(proud) * float(np.hypot(eye[0] - at[0], eye[2] - at[1])) / max(-float(eye[1]), 1.0)
