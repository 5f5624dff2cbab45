"""Colour as the eye weighs it: CIELAB under D65 and the CIEDE2000 difference.

CIELAB: ISO/CIE 11664-4. CIEDE2000: ISO/CIE 11664-6, as worked out by Sharma, Wu and Dalal, Color Research and
Application 30 (2005).
"""

from __future__ import annotations

import math
from functools import lru_cache

from wallwright.core.colour import Xyz, xyz

Lab = tuple[float, float, float]

WHITE: Xyz = (95.04559270516717, 100.0, 108.90577507598784)
"""D65 of the 2° observer, from x 0.3127 y 0.3290."""
GREYISH = 2.0
"""Below this chroma the hue of a colour says nothing."""


def lab_of_xyz(value: Xyz) -> Lab:
    """CIELAB of a CIE XYZ (white = 100)."""
    fx, fy, fz = (_f(v / w) for v, w in zip(value, WHITE, strict=True))
    return 116 * fy - 16, 500 * (fx - fy), 200 * (fy - fz)


@lru_cache(maxsize=1024)
def lab(colour: str) -> Lab:
    """CIELAB of a colour #RRGGBB."""
    return lab_of_xyz(xyz(colour))


def chroma(value: Lab) -> float:
    """C*ab: 0 for a grey, 30 and more for what people call a colour."""
    return math.hypot(value[1], value[2])


def hue(value: Lab) -> float | None:
    """The hue angle [deg, 0..360); None where the colour is so grey that it has none."""
    return None if chroma(value) < GREYISH else math.degrees(math.atan2(value[2], value[1])) % 360


def _f(t: float) -> float:
    return t ** (1 / 3) if t > (6 / 29) ** 3 else t / (3 * (6 / 29) ** 2) + 4 / 29


@lru_cache(maxsize=4096)
def difference(one: Lab, two: Lab) -> float:
    """CIEDE2000 between two colours (kL = kC = kH = 1): 1 is just seen side by side, 10 plainly another colour."""
    l1, a1, b1 = one
    l2, a2, b2 = two
    mean_c = (math.hypot(a1, b1) + math.hypot(a2, b2)) / 2
    g = 0.5 * (1 - math.sqrt(mean_c**7 / (mean_c**7 + 25.0**7)))
    a1, a2 = (1 + g) * a1, (1 + g) * a2
    c1, c2 = math.hypot(a1, b1), math.hypot(a2, b2)
    h1, h2 = _angle(a1, b1), _angle(a2, b2)

    d_l, d_c = l2 - l1, c2 - c1
    turn = 0.0 if c1 * c2 == 0 else (h2 - h1 + 180) % 360 - 180
    if turn == -180 and h2 > h1:
        turn = 180.0
    d_h = 2 * math.sqrt(c1 * c2) * math.sin(math.radians(turn / 2))

    l_mean, c_mean = (l1 + l2) / 2, (c1 + c2) / 2
    h_mean = _mean_hue(h1, h2, c1 * c2)
    t = (
        1 - 0.17 * _cos(h_mean - 30) + 0.24 * _cos(2 * h_mean) + 0.32 * _cos(3 * h_mean + 6) - 0.20 * _cos(4 * h_mean - 63)
    )  # fmt: skip
    s_l = 1 + 0.015 * (l_mean - 50) ** 2 / math.sqrt(20 + (l_mean - 50) ** 2)
    s_c = 1 + 0.045 * c_mean
    s_h = 1 + 0.015 * c_mean * t
    swing = 30 * math.exp(-(((h_mean - 275) / 25) ** 2))
    r_t = -2 * math.sqrt(c_mean**7 / (c_mean**7 + 25.0**7)) * math.sin(math.radians(2 * swing))
    light, colourful, hued = d_l / s_l, d_c / s_c, d_h / s_h
    return math.sqrt(light * light + colourful * colourful + hued * hued + r_t * colourful * hued)


def _angle(a: float, b: float) -> float:
    return 0.0 if a == 0 and b == 0 else math.degrees(math.atan2(b, a)) % 360


def _mean_hue(h1: float, h2: float, colourful: float) -> float:
    """Half-way between two hues by the shorter way round; their sum where one of the two is grey."""
    total = h1 + h2
    if colourful == 0:
        return total
    if abs(h1 - h2) <= 180:
        return total / 2
    return (total + 360) / 2 if total < 360 else (total - 360) / 2


def _cos(degrees: float) -> float:
    return math.cos(math.radians(degrees))
