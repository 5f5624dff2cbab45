"""Flicker of a dimmed driver: how deep it may be at its frequency.

IEEE 1789-2015, recommended practice 1 (low risk), from memory: modulation in percent at most 0.025 f below 90 Hz and 0.08 f
above it, so that any is free from 1250 Hz; no effect is seen at all below 0.01 f and 0.0333 f (any is free from 3000 Hz).
"""

from __future__ import annotations

SLOW = 90.0
LOW_RISK = 0.08
NO_EFFECT = 0.0333
_SLOW_SHARE = 0.025 / 0.08
"""Below 90 Hz the line is flatter by this; it is so for both lines, to within the rounding of the standard."""


def allowed(hz: float, slope: float = LOW_RISK) -> float:
    """The deepest modulation (0..1) at that frequency under a line of so many % a hertz (of low risk, or of no effect)."""
    return min(1.0, slope * (_SLOW_SHARE if hz < SLOW else 1.0) * hz / 100)


def least_hz(depth: float, slope: float = LOW_RISK) -> float:
    """The lowest frequency at which a modulation that deep (0..1) lies under that line."""
    slow = 100 * depth / (slope * _SLOW_SHARE)
    return slow if slow < SLOW else max(SLOW, 100 * depth / slope)
