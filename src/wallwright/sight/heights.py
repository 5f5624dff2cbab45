"""The screen's centre height for several pairs of eyes: each seat has an angle that suits its posture, and all
share one screen.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Watcher:
    """One seat as the height sees it: eye height and plan distance to the picture's middle [mm], wanted elevation [deg],
    and its share of the hours (0..1).
    """

    eye: float
    run: float
    wanted: float
    share: float

    @property
    def best(self) -> float:
        """The centre height that suits this seat alone."""
        return height_at(self.eye, self.run, self.wanted)

    def off(self, height: float) -> float:
        """How far [deg] a centre at `height` is above (+) or below (−) what this seat wants."""
        return math.degrees(math.atan2(height - self.eye, self.run)) - self.wanted


def wanted_up(recline: float, flexion: float, gaze: float) -> float:
    """The elevation of the picture's middle that a posture asks for: ρ − f − g, never below eye level.

    The back leans by ρ, pillow or neck bring the head forward by f, the eyes rest g below the head's own horizontal. Whoever sits
    nearly upright watches at eye level: the small downward gaze is the ease that is left, not an aim.
    """
    return max(0.0, recline - flexion - gaze)


def height_at(eye: float, run: float, elevation: float) -> float:
    """The height met by a sight line of that elevation."""
    return eye + run * math.tan(math.radians(elevation))


def least_squares(watchers: Sequence[Watcher]) -> float:
    """The centre height with the smallest hours-weighted sum of squared angles off.

    Gauss-Newton from the weighted mean of the single bests, held inside their range: below the lowest of them
    every seat wants the screen higher, above the highest every seat wants it lower. ValueError without watchers.
    """
    low, high = _range(watchers)
    total = sum(watcher.share for watcher in watchers)
    weights = [watcher.share if total else 1.0 for watcher in watchers]
    height = sum(w * watcher.best for w, watcher in zip(weights, watchers, strict=True)) / (
        total or len(watchers)
    )
    for _ in range(40):
        slope = curve = 0.0
        for w, watcher in zip(weights, watchers, strict=True):
            rise = height - watcher.eye
            gradient = watcher.run / (watcher.run**2 + rise**2)
            error = math.atan2(rise, watcher.run) - math.radians(watcher.wanted)
            slope += w * gradient * error
            curve += w * gradient * gradient
        if slope > 0:
            high = height
        else:
            low = height
        step = height - slope / curve
        step = step if low <= step <= high else (low + high) / 2
        if abs(step - height) < 1e-6:
            return step
        height = step
    return height


def smallest_worst(watchers: Sequence[Watcher]) -> float:
    """The centre height at which the worst-placed seat is least off, whatever its hours.

    Every `off` grows with the height, so the answer is where the largest and the smallest cancel: found by halving.
    """
    low, high = _range(watchers)
    while high - low > 1e-6:
        middle = (low + high) / 2
        offs = [watcher.off(middle) for watcher in watchers]
        if max(offs) + min(offs) > 0:
            high = middle
        else:
            low = middle
    return (low + high) / 2


def good_for_all(watchers: Sequence[Watcher], tolerance: float) -> tuple[float, float] | None:
    """The centre heights at which no seat is more than `tolerance` [deg] off; None where no height is good for all."""
    low = max(height_at(watcher.eye, watcher.run, watcher.wanted - tolerance) for watcher in watchers)
    high = min(height_at(watcher.eye, watcher.run, watcher.wanted + tolerance) for watcher in watchers)
    return (low, high) if low <= high else None


def recommended(best: float, band: tuple[float, float] | None) -> float:
    """The height to hang it at: the least squares held inside the band that is good for all; as they are where there is none.

    By their hours alone those who watch most would push another seat out of its limits although a height serves both.
    """
    return best if band is None else min(max(best, band[0]), band[1])


def set_out(height: float, step: float, band: tuple[float, float] | None) -> float:
    """The nearest whole step that stays in the band; the height itself where the band holds no whole step."""
    low, high = band or (-math.inf, math.inf)
    nearest = round(height / step)
    for k in sorted(range(nearest - 1, nearest + 2), key=lambda k: abs(k * step - height)):
        if low <= k * step <= high:
            return k * step
    return height


@dataclass(frozen=True, slots=True)
class Penalty:
    """What a centre height costs. offs : each seat's angle off [deg] · regret : hours-weighted mean square off [deg²] ·
    worst : the largest off, whatever its hours [deg]
    """

    height: float
    offs: tuple[float, ...]
    regret: float
    worst: float


def penalty(watchers: Sequence[Watcher], height: float) -> Penalty:
    """Each seat's angle off at any height, and what that costs over all. ValueError without watchers."""
    _range(watchers)
    offs = tuple(watcher.off(height) for watcher in watchers)
    total = sum(watcher.share for watcher in watchers)
    weights = [watcher.share / total if total else 1 / len(watchers) for watcher in watchers]
    regret = sum(w * off * off for w, off in zip(weights, offs, strict=True))
    return Penalty(height, offs, regret, max(abs(off) for off in offs))


def curve(watchers: Sequence[Watcher], low: float, high: float, step: float = 25.0) -> tuple[Penalty, ...]:
    """The penalty sampled from `low` to `high`, ends included: what the page and the heights sheet draw."""
    count = max(1, math.ceil((high - low) / step))
    return tuple(penalty(watchers, low + (high - low) * i / count) for i in range(count + 1))


def _range(watchers: Sequence[Watcher]) -> tuple[float, float]:
    if not watchers:
        raise ValueError("a centre height needs at least one seat")
    bests = [watcher.best for watcher in watchers]
    return min(bests), max(bests)
