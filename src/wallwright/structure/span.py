"""A board over any number of supports, with ends that stand out: sag, support forces and moment, EI constant.

The three-moment equation (Clapeyron), with loads even over whole spans and single loads within them. N, mm; sag down positive.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from functools import lru_cache

STEPS = 32
"""Places looked at in each span: the largest sag is flat, so that a step of L/32 misses less than two thousandths of it."""


@dataclass(frozen=True, slots=True)
class Bent:
    """A loaded board: largest sag between supports, the sag of its two ends (lift: negative), support forces, largest moment."""

    sag: float
    ends: tuple[float, float]
    forces: tuple[float, ...]
    moment: float


@dataclass(frozen=True, slots=True)
class Laid:
    """A board laid on supports: the spans between them, what stands out at its ends [mm], its EI [N·mm²]."""

    spans: tuple[float, ...]
    EI: float
    out: tuple[float, float] = (0.0, 0.0)


def bent(
    laid: Laid,
    even: Sequence[float],
    points: Sequence[tuple[int, float, float]] = (),
    out: tuple[float, float] = (0.0, 0.0),
    tips: tuple[float, float] = (0.0, 0.0),
) -> Bent:
    """The board under its loads.

    even : N/mm on each span · points : (span, from its left support, N) · out : N/mm on the two ends that stand out ·
    tips : N at their tips. ValueError where there are not as many loads as spans.
    """
    spans, EI = laid.spans, laid.EI
    if len(even) != len(spans) or not spans:
        raise ValueError(f"{len(spans)} spans want as many even loads, not {len(even)}")
    over = [-(w * a * a / 2 + P * a) for w, a, P in zip(out, laid.out, tips, strict=True)]
    at = _moments(spans, even, points, (over[0], over[1]))
    forces = [0.0] * (len(spans) + 1)
    forces[0] += out[0] * laid.out[0] + tips[0]
    forces[-1] += out[1] * laid.out[1] + tips[1]
    sag, most = 0.0, max(abs(moment) for moment in at)
    for k, L in enumerate(spans):
        here = [(p, P) for span, p, P in points if span == k]
        a, b, w = at[k], at[k + 1], even[k]
        left = w * L / 2 + sum(P * (L - p) / L for p, P in here) + (b - a) / L
        forces[k] += left
        forces[k + 1] += w * L + sum(P for _, P in here) - left
        for step in range(1, STEPS):
            x = L * step / STEPS
            sag = max(sag, _sag(x, L, w, here, (a, b), EI))
            most = max(most, abs(a + left * x - w * x * x / 2 - sum(P * (x - p) for p, P in here if p < x)))
        for p, _ in here:  # a single load bends most under itself
            most = max(most, abs(a + left * p - w * p * p / 2 - sum(Q * (p - q) for q, Q in here if q < p)))
    ends = _tips(laid, even, points, at, out, tips)
    return Bent(sag, ends, tuple(forces), most)


def _moments(
    spans: Sequence[float], even: Sequence[float], points: Sequence[tuple[int, float, float]],
    over: tuple[float, float],
) -> list[float]:  # fmt: skip
    """Moments at the supports [N·mm], hogging negative: a row of three-moment equations, solved from end to end."""
    n = len(spans)
    right = [w * L**3 / 4 for w, L in zip(even, spans, strict=True)]
    left = list(right)
    for k, p, P in points:
        L = spans[k]
        right[k] += P * p * (L * L - p * p) / L
        left[k] += P * (L - p) * (L * L - (L - p) ** 2) / L
    whole, said = [0.0] * (n + 1), [0.0] * (n + 1)
    whole[0], said[0] = 0.0, over[0]
    for i in range(1, n):
        a, b = spans[i - 1], spans[i]
        known = -(right[i - 1] + left[i]) - a * said[i - 1]
        lead = 2 * (a + b) - a * whole[i - 1]
        whole[i], said[i] = b / lead, known / lead
    at = [0.0] * (n + 1)
    at[n] = over[1]
    for i in range(n - 1, 0, -1):
        at[i] = said[i] - whole[i] * at[i + 1]
    at[0] = over[0]
    return at


def _sag(  # noqa: PLR0913
    x: float, L: float, w: float, points: Sequence[tuple[float, float]], at: tuple[float, float], EI: float
) -> float:
    """Sag at x from a span's left support: of its even load, its single loads and the moments at its supports."""
    v = w * x * (L**3 - 2 * L * x * x + x**3) / 24
    v += x * (L - x) / (6 * L) * (at[0] * (2 * L - x) + at[1] * (L + x))
    for p, P in points:
        near, far = (x, L - p) if x <= p else (L - x, p)
        v += P * far * near * (L * L - far * far - near * near) / (6 * L)
    return v / EI


def _tips(  # noqa: PLR0913
    laid: Laid, even: Sequence[float], points: Sequence[tuple[int, float, float]], at: Sequence[float],
    out: tuple[float, float], tips: tuple[float, float],
) -> tuple[float, float]:  # fmt: skip
    """Sag of the ends that stand out: the turn at their support, and what they bend themselves."""

    def turn(k: int, near: float, far: float, from_near: bool) -> float:
        L = laid.spans[k]
        value = even[k] * L**3 / 24 + L * (2 * near + far) / 6
        for span, p, P in points:
            if span == k:
                q = p if from_near else L - p
                value += P * q * (L - q) * (2 * L - q) / (6 * L)
        return value

    n = len(laid.spans)
    turns = turn(0, at[0], at[1], True), turn(n - 1, at[n], at[n - 1], False)
    one, two = (
        (w * a**4 / 8 + P * a**3 / 3 - slope * a) / laid.EI
        for w, a, P, slope in zip(out, laid.out, tips, turns, strict=True)
    )
    return one, two


@lru_cache(maxsize=1024)
def even_forces(spans: tuple[float, ...], out: tuple[float, float]) -> tuple[float, ...]:
    """Support forces under 1 N/mm over the whole board, ends that stand out with it [N]. ValueError where there is no span."""
    if not spans:
        raise ValueError("a board without a span has no support forces")
    n = len(spans)
    at = _moments(spans, (1.0,) * n, (), (-out[0] * out[0] / 2, -out[1] * out[1] / 2))
    forces = [0.0] * (n + 1)
    forces[0], forces[n] = out
    for k, L in enumerate(spans):
        left = L / 2 + (at[k + 1] - at[k]) / L
        forces[k] += left
        forces[k + 1] += L - left
    return tuple(forces)


def worst_even(laid: Laid, own: float, carried: float) -> Bent:
    """Equal or unequal spans under their own weight [N/mm], with the load [N/mm] where it does most: on every other span, on all, or
    on the two beside a support and every other beyond, which bends most over it. Support forces and moment are the largest of these.
    """
    n = len(laid.spans)
    cases = [[own + carried] * n]
    if n > 1:
        cases += [[own + (carried if k % 2 == first else 0.0) for k in range(n)] for first in (0, 1)]
        cases += [
            [own + (carried if (i - 1 - k if k < i else k - i) % 2 == 0 else 0.0) for k in range(n)]
            for i in range(1, n)
        ]
    bents = [bent(laid, case) for case in cases]
    return Bent(
        max(one.sag for one in bents),
        bents[0].ends,
        tuple(max(one.forces[i] for one in bents) for i in range(n + 1)),
        max(one.moment for one in bents),
    )
