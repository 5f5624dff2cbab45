"""How long the sun lies on a spot in a year: the share of the spot that is lit, summed over a grid of moments that is staggered from
day to day, so that a short patch of sun, which comes at nearly the same time each day, is met as often as it is due.

Only the moments at which a ray from the spot to the sun passes at or near the opening are looked at closely.
"""

from __future__ import annotations

from functools import lru_cache

import numpy as np
from numpy.typing import NDArray

from wallwright.sight.season import Pane, SunQuestion
from wallwright.sight.sun import julian_day, position
from wallwright.sight.year import Floats, Marks, Moments, lit_share, to_sun

GOLDEN = 0.6180339887498949
"""Each day's first moment comes so much of a step later than the day before: the steps are filled evenly, whatever the season."""


def hours_lit(question: SunQuestion, step: float, every: int) -> float:
    """Hours a year in which the sun lies on the spot through all its openings, a moment at which half of it is lit counting half.

    step : minutes between moments · every : days between the days looked at
    """
    offset = question.longitude / 15 if question.utc_offset is None else question.utc_offset
    moments, sun = _sky(
        question.latitude, question.longitude, offset, question.year, step, every, question.bearing
    )
    lit = np.zeros(len(sun))
    for pane in question.panes:
        near = np.flatnonzero(_near(question, pane, moments, sun))
        if len(near):
            lit[near] += lit_share(question, pane, _of(moments, near), sun[near])
    return float(np.sum(np.minimum(lit, 1.0) * moments.stands_for))


def _of(moments: Moments, few: NDArray[np.intp]) -> Moments:
    m = moments
    return Moments(m.month[few], m.day[few], m.hour[few], m.stands_for[few], m.azimuth[few], m.elevation[few])


@lru_cache(maxsize=8)
def _sky(  # noqa: PLR0913
    latitude: float, longitude: float, offset: float, year: int, step: float, every: int, bearing: float
) -> tuple[Moments, Floats]:  # fmt: skip
    """The moments of the year at which the sun stands before the wall, and the directions to it in the wall's axes."""
    a_day, count = round(1440 / step), 365 // every
    day = np.floor((np.arange(count) + 0.5) * 365 / count)
    first = np.arange(count) * GOLDEN % 1
    hour = ((np.arange(a_day)[None, :] + first[:, None]) * 24 / a_day).ravel()
    sun = position(julian_day(year, 1, 1) + np.repeat(day, a_day) + (hour - offset) / 24, latitude, longitude)
    up = sun.seen > 0
    number = np.repeat(day, a_day)[up].astype(np.int64)
    stands_for = np.full(int(up.sum()), 365 / count * 24 / a_day)
    moments = Moments(number * 12 // 365, number, hour[up], stands_for, sun.azimuth[up], sun.seen[up])
    towards = to_sun(moments, bearing)
    before = np.flatnonzero(towards[:, 1] < 0)
    return _of(moments, before), np.ascontiguousarray(towards[before])


def _near(question: SunQuestion, pane: Pane, moments: Moments, sun: Floats) -> Marks:
    """The moments at which the ray from the middle of the spot to the sun passes the opening, or near enough that a part of the spot
    may be lit: half its diagonal aside, thrown along the ray on to the opening's plane.
    """
    glass = question.glass
    corner = np.array(pane.corner) - np.array(glass.middle)
    out = np.array(pane.out)
    outward = sun @ out
    ahead = (outward > 1e-6) & (moments.elevation > pane.horizon)
    slant = np.where(ahead, outward, 1.0)
    met = sun * (corner @ out / slant)[:, None] - corner
    across, high = met @ np.array(pane.along), met[:, 2]
    spare = float(np.hypot(glass.width, glass.height)) / 2 * (1 + 1 / slant)
    beside = (across > -spare) & (across < pane.width + spare)
    return ahead & beside & (high > -spare) & (high < pane.height + spare)
