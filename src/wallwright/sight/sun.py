"""Where the sun stands: azimuth and elevation for any number of moments at once, good to about a hundredth of a degree.

The sun's place is Newcomb's as J. Meeus abridged it (Astronomical Formulae for Calculators, 1979, chapter 18, from memory),
with the pulls of Venus, Jupiter and the Moon; parallax and refraction are those of I. Reda and A. Andreas, "Solar Position
Algorithm for Solar Radiation Applications", NREL/TP-560-34302. The sun itself is half a degree wide: nothing finer is needed
to say where its light falls in a room. Moments are Julian days of universal time; angles in degrees.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

Floats = NDArray[np.float64]

J2000 = 2451545.0
DAY = 86400.0
DELTA_T = 69.2
"""Terrestrial less universal time [s] in the 2020s; ten seconds of it move the sun by a ten-thousandth of a degree."""
RISING = -0.8333 - 8.794 / 3600
"""Elevation of the sun's middle when its upper edge shows: 34′ refraction and 16′ radius below the horizon of the earth's
middle, to which that figure is referred, and the sun's parallax below that of the ground."""
SEA_LEVEL, MILD = 1010.0, 10.0  # mbar, °C: what the refraction's own formula is referred to


@dataclass(frozen=True, slots=True)
class Sun:
    """The sun at each moment: azimuth clockwise from north, geometric elevation, and the elevation it is seen at."""

    azimuth: Floats
    elevation: Floats
    seen: Floats


def julian_day(year: int, month: int, day: float) -> float:
    """The Julian day of a date of the Gregorian calendar; hours as parts of the day."""
    if month <= 2:
        year, month = year - 1, month + 12
    century = year // 100
    return (
        int(365.25 * (year + 4716)) + int(30.6001 * (month + 1)) + day + 2 - century + century // 4 - 1524.5
    )


def position(
    moments: Floats | float,
    latitude: float,
    longitude: float,
    altitude: float = 0.0,
    pressure: float = SEA_LEVEL,
    temperature: float = MILD,
    delta_t: float = DELTA_T,
) -> Sun:
    """The sun over a place (north and east positive, altitude in m, pressure in mbar) at moments of universal time."""
    ut = np.atleast_1d(np.asarray(moments, dtype=np.float64))
    ascension, declination, distance, sidereal = _apparent(ut, delta_t)
    phi = np.radians(latitude)
    hour = np.radians(sidereal + longitude) - ascension
    hour, declination = _from_the_ground(hour, declination, distance, float(phi), altitude)
    sine = np.sin(phi) * np.sin(declination) + np.cos(phi) * np.cos(declination) * np.cos(hour)
    elevation = np.degrees(np.arcsin(np.clip(sine, -1.0, 1.0)))
    west = np.arctan2(np.sin(hour), np.cos(hour) * np.sin(phi) - np.tan(declination) * np.cos(phi))
    return Sun(
        (np.degrees(west) + 180.0) % 360.0,
        elevation,
        elevation + refraction(elevation, pressure, temperature),
    )


def refraction(elevation: Floats, pressure: float = SEA_LEVEL, temperature: float = MILD) -> Floats:
    """How much the air lifts the sun [deg]; nothing once its whole disc is down. NREL/TP-560-34302, equation 42."""
    up = elevation >= -0.26667 - 0.5667
    safe = np.where(up, elevation, 0.0)
    lift = pressure / SEA_LEVEL * 283.0 / (273.0 + temperature) * 1.02
    return np.where(up, lift / (60.0 * np.tan(np.radians(safe + 10.3 / (safe + 5.11)))), 0.0)


def incidence(sun: Sun, slope: float, faces: float) -> Floats:
    """The angle between the sun and the normal of a surface that slopes from level and faces that azimuth."""
    zenith, tilt = np.radians(90.0 - sun.seen), np.radians(slope)
    turned = np.radians(sun.azimuth - faces)
    cosine = np.cos(zenith) * np.cos(tilt) + np.sin(tilt) * np.sin(zenith) * np.cos(turned)
    return np.degrees(np.arccos(np.clip(cosine, -1.0, 1.0)))


def equation_of_time(moments: Floats | float, delta_t: float = DELTA_T) -> Floats:
    """How far a sundial is ahead of the clock of mean time [minutes]."""
    ut = np.atleast_1d(np.asarray(moments, dtype=np.float64))
    ascension, _, _, sidereal = _apparent(ut, delta_t)
    mean_noon = 360.0 * ((ut + 0.5) % 1.0)  # how far mean time has come since mean midnight
    behind = sidereal - np.degrees(ascension) + 180.0 - mean_noon
    return 4.0 * ((behind + 180.0) % 360.0 - 180.0)


def rise_noon_set(
    midnight: float, latitude: float, longitude: float
) -> tuple[float | None, float, float | None]:
    """Sunrise, true noon and sunset as Julian days, in the day from `midnight` (universal time of the place's midnight).

    None where the sun does not cross a flat horizon between midnight and noon, or noon and the next midnight.
    """
    mean_noon = math.ceil(midnight + longitude / 360.0) - longitude / 360.0  # Julian days begin at noon
    noon = mean_noon
    for _ in range(3):
        noon = mean_noon - float(equation_of_time(noon)[0]) / 1440.0
    return (
        _crossing(noon - 0.5, noon, latitude, longitude),
        noon,
        _crossing(noon, noon + 0.5, latitude, longitude),
    )


def _crossing(low: float, high: float, latitude: float, longitude: float) -> float | None:
    """The moment between two at which the sun's edge crosses the horizon, by halving; None where it does not."""

    def above(moment: float) -> float:
        return float(position(moment, latitude, longitude).elevation[0]) - RISING

    at_low = above(low)
    if at_low * above(high) > 0:
        return None
    for _ in range(28):
        middle = (low + high) / 2
        if above(middle) * at_low > 0:
            low = middle
        else:
            high = middle
    return (low + high) / 2


def _apparent(ut: Floats, delta_t: float) -> tuple[Floats, Floats, Floats, Floats]:
    """Right ascension, declination [rad], distance [au], and Greenwich apparent sidereal time [deg]."""
    longitude, distance, T = _true_longitude(ut + delta_t / DAY)
    node = np.radians(259.183275 - 1934.142008 * T)
    sun, moon = np.radians(279.6967 + 36000.7689 * T), np.radians(270.4342 + 481267.8831 * T)
    nod = (
        -17.20 * np.sin(node) - 1.32 * np.sin(2 * sun) - 0.23 * np.sin(2 * moon) + 0.21 * np.sin(2 * node)
    ) / 3600
    lean = (
        9.20 * np.cos(node) + 0.57 * np.cos(2 * sun) + 0.10 * np.cos(2 * moon) - 0.09 * np.cos(2 * node)
    ) / 3600
    obliquity = np.radians(23.452294 - 0.0130125 * T + lean)
    apparent = np.radians(longitude + nod - 20.4898 / 3600 / distance)  # less the aberration of light
    ascension = np.arctan2(np.cos(obliquity) * np.sin(apparent), np.cos(apparent))
    declination = np.arcsin(np.sin(obliquity) * np.sin(apparent))
    days = ut - J2000
    sidereal = (
        280.46061837 + 360.98564736629 * days + 0.000387933 * (days / 36525) ** 2 + nod * np.cos(obliquity)
    )
    return ascension, declination, distance, sidereal


def _true_longitude(tt: Floats) -> tuple[Floats, Floats, Floats]:
    """The sun's true longitude [deg] and distance [au]; T in centuries from noon of 31 December 1899."""
    T = (tt - 2415020.0) / 36525.0
    M = np.radians(358.47583 + T * (35999.04975 - T * (0.000150 + 0.0000033 * T)))
    centre = (
        (1.919460 - T * (0.004789 + 0.000014 * T)) * np.sin(M)
        + (0.020094 - 0.000100 * T) * np.sin(2 * M)
        + 0.000293 * np.sin(3 * M)
    )
    e = 0.01675104 - T * (0.0000418 + 0.000000126 * T)
    distance = 1.0000002 * (1 - e * e) / (1 + e * np.cos(M + np.radians(centre)))
    venus, venus2 = np.radians(153.23 + 22518.7541 * T), np.radians(216.57 + 45037.5082 * T)
    jupiter, moon = np.radians(312.69 + 32964.3577 * T), np.radians(350.74 + T * (445267.1142 - 0.00144 * T))
    slow = np.radians(231.19 + 20.20 * T)
    pulled = (
        0.00134 * np.cos(venus) + 0.00154 * np.cos(venus2) + 0.00200 * np.cos(jupiter)
        + 0.00179 * np.sin(moon) + 0.00178 * np.sin(slow)
    )  # fmt: skip
    return 279.69668 + T * (36000.76892 + 0.0003025 * T) + centre + pulled, distance, T


def _from_the_ground(
    hour: Floats, declination: Floats, distance: Floats, phi: float, altitude: float
) -> tuple[Floats, Floats]:
    """Hour angle and declination [rad] as seen from the ground instead of the earth's middle. NREL/TP-560-34302, 3.12."""
    parallax = np.radians(8.794 / 3600.0 / distance)
    u = np.arctan(0.99664719 * np.tan(phi))
    x = np.cos(u) + altitude / 6378140.0 * np.cos(phi)
    y = 0.99664719 * np.sin(u) + altitude / 6378140.0 * np.sin(phi)
    below = np.cos(declination) - x * np.sin(parallax) * np.cos(hour)
    shift = np.arctan2(-x * np.sin(parallax) * np.sin(hour), below)
    return hour - shift, np.arctan2((np.sin(declination) - y * np.sin(parallax)) * np.cos(shift), below)
