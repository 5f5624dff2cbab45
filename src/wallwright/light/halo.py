"""How much of a strip's light lands where one sees it, and what the gap behind a board gives back.

Same strip and letters as in `lines`: F lumen a metre, a matt face, s from the wall; h along the wall from the strip's foot. The
closed forms are the integrals of those in `lines` over h, d² = s² + h². All mm; light in lumen a metre of strip.
"""

from __future__ import annotations

import math

FAR = math.inf


def facing_between(lumens: float, s: float, low: float, high: float = FAR) -> float:
    """Light of an endless strip that looks at the wall, between two distances to one side: F/2 · [h/d]. All over: F."""
    return lumens / 2 * (_sine(high, s) - _sine(low, s))


def grazing_between(lumens: float, s: float, low: float, high: float = FAR) -> float:
    """Light of an endless strip that looks along the wall, between two distances: F s/2 · (1/d_low − 1/d_high). All over: F/2."""
    far = 0.0 if math.isinf(high) else 1 / math.hypot(s, high)
    return lumens * s / 2 * (1 / math.hypot(s, low) - far)


def _sine(h: float, s: float) -> float:
    return math.copysign(1.0, h) if math.isinf(h) else h / math.hypot(s, h)


def gap_view(s: float, depth: float) -> float:
    """The share of light that two facing strips of board see of one another, s apart and `depth` deep: √(1 + (s/a)²) − s/a.

    Hottel's crossed strings, endless parallel strips.
    """
    ratio = s / depth
    return math.hypot(1.0, ratio) - ratio


def gap_gain(s: float, depth: float, wall: float, back: float) -> float:
    """By how much at most the light grows that goes to and fro in the gap: 1/(1 − ρ_wall ρ_back F).

    wall, back : reflectances 0..1. An upper bound: part of it never comes out.
    """
    return 1 / (1 - wall * back * gap_view(s, depth)) if depth > 0 else 1.0


GRAZING_PEAK = 2 / (3 * math.sqrt(3)) / 2
"""0.19245: a grazing strip's brightest light is this times F/s, s/√2 along the wall."""


def brightest(lumens: float, s: float, lit: str, from_h: float) -> tuple[float, float]:
    """The brightest light on the part of the wall that one sees, which begins `from_h` from the strip: how far from the
    strip's foot [mm], and how bright [lx]. lit : facing or grazing; an endless strip.
    """
    if lit == "facing":
        h = max(from_h, 0.0)
        d = math.hypot(s, h)
        return h, lumens * s * s / (2 * d**3) * 1000
    h = max(from_h, s / math.sqrt(2))
    d = math.hypot(s, h)
    return h, lumens * s * h / (2 * d**3) * 1000


def setback_for(s: float, share: float) -> float:
    """The setback at which that share of a facing strip's light comes out to one side: ½ (1 − a/d) solved for a [mm]."""
    sine = max(0.0, 1 - 2 * share)
    return s * sine / math.sqrt(1 - sine * sine)
