"""A photo fitted to measured points of the wall: the plane map, the lens's bending, and how sure every place read from it is.

Unknown are the eight numbers of the map and the lens's k, found by least squares on the marked pixels, each weighted by how well
it was marked and taped; k is held at 0 within what lenses do, so that where points and edges cannot tell it, it counts as an error.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from typing import Any, cast

import numpy as np

from wallwright.photo.homography import homography, inverse, mapped, normaliser, slope, solved
from wallwright.photo.lens import bent, crooked, righted

Array = Any
_TURNS = 40
_STEP = 1e-6
AXIS_95 = 1.96
"""Half width that holds 95 % on one axis, in standard deviations (normal distribution)."""
PLANE_95 = 2.4477
"""Radius that holds 95 % in the plane, in standard deviations: √5.991 (chi-square, two degrees of freedom)."""


@dataclass(frozen=True, slots=True)
class Marked:
    """A point of the wall marked in the photo. px : column, row [px] · at : x from the left corner, z above FFL [mm] ·
    sigma : standard deviation of its tape measures [mm]
    """

    ref: str
    px: tuple[float, float]
    at: tuple[float, float]
    sigma: float = 0.0


@dataclass(frozen=True, slots=True)
class Doubt:
    """How the photo was marked and taken: standard deviation of a mark [px], of the lens's k, and the picture's size [px]."""

    pick: float
    lens: float
    size: tuple[int, int]


@dataclass(frozen=True, slots=True)
class Fit:
    """The photo on the wall. to_px : wall [mm] → pixel without bending · k : the lens · spread : covariance of the nine unknowns ·
    spare : measures beyond those needed · variance : squared weighted residuals over `spare`; about 1 where marks and tape are as
    good as said (0 without spare) · residuals : marked less expected, for each point [mm]
    """

    marked: tuple[Marked, ...]
    doubt: Doubt
    to_px: Array
    k: float
    spread: Array
    spare: int
    variance: float
    residuals: tuple[tuple[float, float], ...]
    frame: tuple[Array, Array]

    @property
    def to_mm(self) -> Array:
        """Pixel without bending → wall [mm]."""
        return inverse(self.to_px)


def fitted(
    marked: Sequence[Marked], doubt: Doubt, edges: Sequence[Sequence[tuple[float, float]]] = ()
) -> Fit:
    """The best map of the marked points. edges : marks along lines that are straight on site (door frame, ceiling line, shelf).

    At least four points, no three of which lie on a line (`checked` says it in words before).
    """
    px = np.array([one.px for one in marked], float)
    mm = np.array([one.at for one in marked], float)
    frame = normaliser(mm), normaliser(px)
    first = homography(mapped(frame[0], mm), mapped(frame[1], px))
    unknown = np.append(first.ravel()[:8], 0.0)
    whiten = _whiten(marked, inverse(frame[1]) @ first @ frame[0], doubt)

    def left(x: Array) -> Array:
        return _left(x, px, mm, whiten, edges, doubt, frame)

    unknown = _settled(left, unknown)
    rows = _rows(left, unknown)
    if doubt.lens == 0.0:
        spread = np.zeros((9, 9))
        spread[:8, :8] = _covariance(rows[:, :8].T @ rows[:, :8])
    else:
        spread = _covariance(rows.T @ rows)
    rest = left(unknown)
    spare = 2 * len(marked) - 8 + sum(max(0, len(edge) - 2) for edge in edges)
    variance = float(rest @ rest) / spare if spare > 0 else 0.0
    made = Fit(
        tuple(marked), doubt, _full(unknown, frame), float(unknown[8]), spread, spare, variance, (), frame
    )
    return replace(made, residuals=tuple((float(a), float(b)) for a, b in place(made, px) - mm))


def _full(unknown: Array, frame: tuple[Array, Array]) -> Array:
    h = np.append(unknown[:8], 1.0).reshape(3, 3)
    full = inverse(frame[1]) @ h @ frame[0]
    return full / full[2, 2]


def _whiten(marked: Sequence[Marked], to_px: Array, doubt: Doubt) -> list[Array]:
    """For each point the matrix that makes its pixel residual one standard deviation long each way: the mark's error and the tape's."""
    out: list[Array] = []
    for one in marked:
        tape = slope(to_px, one.at) * one.sigma
        out.append(inverse(np.linalg.cholesky(np.eye(2) * doubt.pick**2 + tape @ tape.T)))
    return out


def _left(  # noqa: PLR0913
    x: Array, px: Array, mm: Array, whiten: list[Array], edges: Sequence[Any], doubt: Doubt, frame: tuple[Array, Array]
) -> Array:  # fmt: skip
    """What is left over: points, edges, and the lens against what lenses do, each in its own standard deviations."""
    off = righted(px, x[8], doubt.size) - mapped(_full(x, frame), mm)
    out = [w @ row for w, row in zip(whiten, off, strict=True)]
    out += [crooked(righted(edge, x[8], doubt.size)) / doubt.pick for edge in edges]
    out.append(np.array([x[8] / doubt.lens if doubt.lens else 1e9 * x[8]]))
    return np.concatenate(out)


def _rows(left: Any, x: Array) -> Array:
    columns: list[Array] = []
    for i in range(9):
        step = np.zeros(9)
        step[i] = _STEP * max(1.0, abs(x[i]))
        columns.append((left(x + step) - left(x - step)) / (2 * step[i]))
    return np.array(columns).T


def _settled(left: Any, x: Array) -> Array:
    """Gauss-Newton, its steps shortened while they do not help."""
    best = left(x)
    for _ in range(_TURNS):
        step = solved(_rows(left, x), -best)
        share = 1.0
        while share > 1e-6:
            tried = left(x + share * step)
            if float(tried @ tried) <= float(best @ best):
                break
            share /= 2
        else:
            return x
        x, best = x + share * step, tried
        if float(np.abs(share * step).max()) < 1e-13:
            break
    return x


def _covariance(matrix: Array) -> Array:
    """From the normal equations; what they do not determine at all is left at 0."""
    return cast("Any", np.linalg.pinv(matrix, rcond=1e-15, hermitian=True))


def place(fit: Fit, px: Array) -> Array:
    """Where marked pixels are on the wall [mm]."""
    return mapped(fit.to_mm, righted(px, fit.k, fit.doubt.size))


def pixel(fit: Fit, mm: Array) -> Array:
    """Where places of the wall are in the photo as it was taken [px]."""
    return bent(mapped(fit.to_px, mm), fit.k, fit.doubt.size)


def spread_at(fit: Fit, px: Sequence[float], pick: float | None = None) -> Array:
    """Covariance of the place read at a pixel [mm²]: J Σ Jᵀ of the whole chain, and of the mark itself.

    pick : standard deviation of this mark [px], the fit's own where it is left out, 0 for the map's error alone. Where the points
    agree worse than was said (variance over 1), all of it counts as so much worse.
    """
    at = np.array(px, float)
    start = _unknown(fit)

    def moved(x: Array, p: Array) -> Array:
        return mapped(inverse(_full(x, fit.frame)), righted(p, x[8], fit.doubt.size))[0]

    columns: list[Array] = []
    for i in range(9):
        step = np.zeros(9)
        step[i] = _STEP
        columns.append((moved(start + step, at) - moved(start - step, at)) / (2 * _STEP))
    rows = np.array(columns).T
    out = rows @ fit.spread @ rows.T
    sigma = fit.doubt.pick if pick is None else pick
    if sigma:
        step = 0.01
        own = [(moved(start, at + d) - moved(start, at - d)) / (2 * step) for d in np.eye(2) * step]
        turn = np.array(own).T * sigma
        out = out + turn @ turn.T
    return out * max(1.0, fit.variance)


def _unknown(fit: Fit) -> Array:
    h = fit.frame[1] @ fit.to_px @ inverse(fit.frame[0])
    return np.append((h / h[2, 2]).ravel()[:8], fit.k)


def either_way(cov: Array) -> float:
    """The radius that holds the place with 95 % [mm]: 2.45 standard deviations along its worst direction."""
    return PLANE_95 * float(np.sqrt(max(np.linalg.eigvalsh(cov)[-1], 0.0)))


def sure_at(fit: Fit, mm: Sequence[float]) -> float:
    """± within which a place of the wall is read from the photo with 95 %, a mark included [mm]."""
    return either_way(spread_at(fit, pixel(fit, mm)[0]))


def tried(fit: Fit, px: Array, trials: int = 2000, seed: int = 1, pick: float = 0.0) -> Array:
    """Places read at pixels when the marks are taken again and again with their error (trials, n, 2): a check of `spread_at`.

    pick : standard deviation of the marks at `px` themselves
    """
    rng = np.random.default_rng(seed)
    base = np.atleast_2d(np.asarray(px, float))
    marks = np.array([one.px for one in fit.marked], float)
    tapes = np.array([[one.sigma] * 2 for one in fit.marked])
    at = np.array([one.at for one in fit.marked], float)
    out: list[Array] = []
    for _ in range(trials):
        seen = righted(
            marks + rng.normal(0, fit.doubt.pick, marks.shape),
            fit.k + rng.normal(0, fit.doubt.lens),
            fit.doubt.size,
        )
        h = homography(seen, at + rng.normal(0, 1, at.shape) * tapes)
        out.append(
            mapped(
                h, righted(base + rng.normal(0, pick, base.shape) if pick else base, fit.k, fit.doubt.size)
            )
        )
    return np.array(out)
