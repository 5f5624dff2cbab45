"""The sun's place: the published example, rise and set, and another program over seventy years."""

from __future__ import annotations

import math
import runpy
from pathlib import Path
from typing import Any

import numpy as np
import pytest

from wallwright.sight.sun import equation_of_time, incidence, julian_day, position, refraction, rise_noon_set

NREL: dict[str, Any] = runpy.run_path(str(Path(__file__).parents[1] / "published" / "nrel_spa.py"))
EXAMPLE = julian_day(*NREL["MOMENT"])


def test_julian_day() -> None:
    assert julian_day(2000, 1, 1.5) == 2451545.0  # J2000, by its definition
    assert julian_day(1957, 10, 4.81) == pytest.approx(
        2436116.31
    )  # Meeus, Astronomical Algorithms, example 7.a (from memory)
    assert pytest.approx(2452930.312847, abs=1e-6) == EXAMPLE  # NREL/TP-560-34302, appendix A.5


def test_the_published_example() -> None:
    """To 0.001°: the paper is good to 0.0003°, which a sun half a degree wide does not need; ours is an abridged theory."""
    sun = position(EXAMPLE, *NREL["PLACE"])
    assert 90 - sun.seen[0] == pytest.approx(NREL["ZENITH"], abs=1e-3)
    assert sun.azimuth[0] == pytest.approx(NREL["AZIMUTH"], abs=1e-3)
    assert sun.elevation[0] == pytest.approx(NREL["ELEVATION"], abs=1e-3)
    assert sun.seen[0] == pytest.approx(NREL["SEEN"], abs=1e-3)
    assert incidence(sun, 30, 170)[0] == pytest.approx(NREL["INCIDENCE"], abs=1e-3)
    assert equation_of_time(EXAMPLE, 67)[0] == pytest.approx(
        NREL["EOT"], abs=0.005
    )  # minutes: a third of a second


@pytest.mark.parametrize(("day", "latitude", "longitude", "clock", "times"), NREL["DAYS"])
def test_rise_noon_and_set(
    day: Any, latitude: float, longitude: float, clock: int, times: tuple[str | None, ...]
) -> None:
    """To two seconds: the sun moves 0.004° in one, the size of our error."""
    for moment, text in zip(
        rise_noon_set(julian_day(*day) - clock / 24, latitude, longitude), times, strict=True
    ):
        assert moment is not None
        if text is not None:
            h, m, s = map(int, text.split(":"))
            seconds = ((moment + 0.5 + clock / 24) % 1) * 86400
            assert seconds == pytest.approx(3600 * h + 60 * m + s, abs=2)


def test_no_rise_in_the_polar_night() -> None:
    rise, noon, sets = rise_noon_set(julian_day(2025, 12, 21), 69.6, 18.9)
    assert rise is None
    assert sets is None
    assert 0 <= noon - julian_day(2025, 12, 21) < 1


@pytest.mark.parametrize(
    ("day", "minutes", "elevation"), [((2025, 6, 21), 722, 61.959), ((2025, 12, 21), 718, 15.082)]
)  # computed (pvlib 0.16.1), geometric elevation at 51.4779° N, 0°
def test_solstices_at_greenwich(day: tuple[int, int, int], minutes: float, elevation: float) -> None:
    moment = julian_day(*day) + minutes / 1440
    assert position(moment, 51.4779, 0.0).elevation[0] == pytest.approx(elevation, abs=0.005)


def along(azimuth: Any, elevation: Any) -> Any:
    a, e = np.radians(azimuth), np.radians(elevation)
    return np.array([np.cos(e) * np.sin(a), np.cos(e) * np.cos(a), np.sin(e)])


@pytest.mark.parametrize(
    ("latitude", "longitude"), [(51.5, -0.1), (28.6, 77.2), (-35, 0), (0, 100), (68, 20), (-55, -70)]
)
def test_against_another_program(latitude: float, longitude: float) -> None:
    """pvlib's NREL algorithm at 1500 moments of 1990 to 2060: never further than 0.006° from it."""
    pd, pvlib = pytest.importorskip("pandas"), pytest.importorskip("pvlib")
    times = pd.date_range("1990-01-01", "2060-01-01", periods=1500, tz="UTC")
    theirs = pvlib.solarposition.get_solarposition(
        times, latitude, longitude, 0, 101000, temperature=10, method="nrel_numpy", delta_t=69.2
    )
    ours = position(times.to_julian_date().to_numpy(), latitude, longitude)
    apart = along(ours.azimuth, ours.elevation) - along(theirs.azimuth.values, theirs.elevation.values)
    assert math.degrees(float(np.max(np.linalg.norm(apart, axis=0)))) < 0.006
    day = theirs.elevation.values > 0
    assert float(np.max(np.abs(ours.seen - theirs.apparent_elevation.values)[day])) < 0.006


def test_refraction() -> None:
    """34′ at the horizon by definition of sunrise, near nothing overhead, nothing below."""
    lift = refraction(np.array([-5.0, -0.56, 0.0, 10.0, 89.0])) * 60
    assert lift[0] == 0
    assert lift[1] == pytest.approx(34.0, abs=1.0)  # the almanac's 34′, for a sun that is seen on the horizon
    assert 28 < lift[2] < 30  # Meeus, chapter 16: 28.7′ (from memory)
    assert lift[3] == pytest.approx(5.4, abs=0.1)  # Meeus, chapter 16 (from memory)
    assert lift[4] < 0.1
