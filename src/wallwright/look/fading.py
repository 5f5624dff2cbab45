"""What the sun does to a face: years until its colour has changed visibly, and how hot it makes a dark one."""

from __future__ import annotations

import math

DOSE = {1: 0.22e6, 2: 0.6e6, 3: 1.5e6, 4: 3.5e6, 5: 8e6, 6: 20e6, 7: 50e6, 8: 120e6}
"""Blue wool class → lux hours to a just noticeable change in light with ultraviolet. Source: CIE 157:2004, from memory."""


def years_to_fade(blue_wool: float, lux: float, hours: float) -> float:
    """Years of `hours` of sun each, at that illuminance, until a just noticeable change; infinite without sun."""
    a_year = lux * hours
    return DOSE[round(blue_wool)] / a_year if a_year > 0 else math.inf


def sun_heated(air: float, reflected: float, irradiance: float, film: float) -> float:
    """The temperature [°C] of a face in the sun, insulated behind: air + (1 − reflected)·I/h.

    reflected : share of sunlight thrown back, taken as of light · irradiance W/m² · film W/m²K. Source: sol-air temperature,
    ASHRAE Fundamentals, without its term for the sky.
    """
    return air + (1 - reflected) * irradiance / film
