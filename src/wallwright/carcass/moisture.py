"""Wood and air: the moisture content wood comes to, how much boards grow with it, and how a board faced on one side bows."""

from __future__ import annotations

from itertools import pairwise

PRESSED = ((30.0, 7.0), (45.0, 8.0), (65.0, 10.0), (75.0, 11.0), (90.0, 15.5))
"""Relative humidity [%] → moisture content [%] of particleboard and MDF. Source: Facts about Particleboard and MDF
(Australasian wood-panel association), middle of each printed range."""


def emc(temperature: float, humidity: float) -> float:
    """The moisture content [%] that wood comes to in air of that temperature [°C] and relative humidity (0..1).

    Source: Wood Handbook (FPL-GTR-190) equation 4-5, in FPL-RN-0268. ValueError for a humidity outside 0 to 1.
    """
    if not 0 <= humidity <= 1:
        raise ValueError(f"a relative humidity of {humidity:g} is not a share from 0 to 1")
    t, h = temperature, humidity
    w = 349 + 1.29 * t + 0.0135 * t * t
    k = 0.805 + 0.000736 * t - 0.00000273 * t * t
    k1 = 6.27 - 0.00938 * t - 0.000303 * t * t
    k2 = 1.91 + 0.0407 * t - 0.000293 * t * t
    kh = k * h
    bound = (k1 * kh + 2 * k1 * k2 * kh * kh) / (1 + k1 * kh + k1 * k2 * kh * kh)
    return 1800 / w * (kh / (1 - kh) + bound)


def pressed_moisture(humidity: float) -> float:
    """The moisture content [%] of particleboard or MDF in air of that relative humidity (0..1): straight between the table's
    points and on beyond them.
    """
    rh = 100 * humidity
    points = list(pairwise(PRESSED))
    (x0, y0), (x1, y1) = next((pair for pair in points if rh <= pair[1][0]), points[-1])
    return y0 + (y1 - y0) * (rh - x0) / (x1 - x0)


def moisture(sorption: str, temperature: float, humidity: float) -> float:
    """The moisture content [%] of a board that takes it up as wood or as pressed panel."""
    return emc(temperature, humidity) if sorption == "wood" else pressed_moisture(humidity)


def growth(size: float, per_cent: float, change: float) -> float:
    """How much a board of that size grows [mm] when its moisture content rises by `change` per cent.

    per_cent : growth in % for each per cent of moisture content. Source: Wood Handbook equation 13-2, D·C·ΔM.
    """
    return size * per_cent / 100 * change


def bow_curvature(t1: float, e1: float, t2: float, e2: float, strain: float) -> float:
    """Curvature [1/mm] of two layers glued together of which one would grow by `strain` more than the other.

    t thicknesses [mm], e moduli. Source: Timoshenko 1925, bi-metal strip.
    """
    m, n = t1 / t2, e1 / e2
    return 6 * strain * (1 + m) ** 2 / ((t1 + t2) * (3 * (1 + m) ** 2 + (1 + m * n) * (m * m + 1 / (m * n))))


def bow(curvature: float, length: float) -> float:
    """The rise in the middle of that length [mm] of a board so curved."""
    return curvature * length * length / 8
