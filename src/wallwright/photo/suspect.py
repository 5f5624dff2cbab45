"""Which measured point is wrong: each is read from the photo by the others, and what it differs by is set against what it may."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any

import numpy as np

from wallwright.photo.fit import Doubt, Fit, Marked, fitted, place, spread_at
from wallwright.photo.homography import inverse

FAR = 13.82
"""Squared distance in its own standard deviations that one good point in a thousand exceeds (chi-square, two degrees of freedom)."""
TELLING = 6
"""With fewer points any one of them may be the wrong one: leaving out one leaves nothing that checks the rest."""


@dataclass(frozen=True, slots=True)
class LeftOut:
    """A point as the others see it. off : read from the photo less measured (x, z) [mm] · square : its squared distance in its own
    standard deviations · rest : variance of the others without it (0 where nothing checks them)
    """

    ref: str
    off: tuple[float, float]
    square: float
    rest: float

    @property
    def far(self) -> float:
        """By how much it is off, as the others see it [mm]."""
        return float(np.hypot(*self.off))


def left_out(marked: Sequence[Marked], doubt: Doubt, edges: Sequence[Any] = ()) -> tuple[LeftOut, ...]:
    """Every point against the rest; empty with fewer than five points, for then nothing is over."""
    if len(marked) < 5:
        return ()
    return tuple(_without(i, marked, doubt, edges) for i in range(len(marked)))


def _without(i: int, marked: Sequence[Marked], doubt: Doubt, edges: Sequence[Any]) -> LeftOut:
    one = marked[i]
    others = fitted([*marked[:i], *marked[i + 1 :]], doubt, edges)
    off = place(others, np.array(one.px))[0] - np.array(one.at)
    may = _plain(others, one) + np.eye(2) * one.sigma**2
    return LeftOut(one.ref, (float(off[0]), float(off[1])), float(off @ inverse(may) @ off), others.variance)


def _plain(fit: Fit, one: Marked) -> Any:
    """The spread as it was said, not blown up by how ill the rest agrees."""
    return spread_at(fit, one.px) / max(1.0, fit.variance)


def suspects(found: Sequence[LeftOut]) -> tuple[LeftOut, ...]:
    """The point that is wrong; more than one where they cannot be told apart; empty where all agree."""
    if not found or max(one.square for one in found) < FAR:
        return ()
    if len(found) < TELLING:
        return tuple(found)
    return (min(found, key=lambda one: (one.rest, -one.square)),)
