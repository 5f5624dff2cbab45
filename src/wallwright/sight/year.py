"""The sun over a year in one room: the hours in which it falls on the picture or is mirrored by it into an eye.

All moments at once: the lit part of each opening (reveal and overhang cut it down) is thrown along the sun's rays onto the
picture's plane and clipped to the picture; the sun's mirror image for an eye is where a ray comes from straight through
the picture, and it must have come by a lit part of an opening. Clear sky, geometric, empty room; blinds open.
"""

from __future__ import annotations

import calendar
from dataclasses import dataclass
from functools import lru_cache

import numpy as np
from numpy.typing import NDArray

from wallwright.core.study import study
from wallwright.sight.reflect import Axes, Point3
from wallwright.sight.season import MONTHS, Pane, SunHours, SunQuestion, SunYear
from wallwright.sight.sun import julian_day, position

Floats = NDArray[np.float64]
Marks = NDArray[np.bool_]
GRAZING = 1e-6


@dataclass(frozen=True, slots=True)
class Moments:
    """The moments with the sun up: month 0..11, day, hour of the clock, hours that each stands for, azimuth, elevation [deg]."""

    month: NDArray[np.int64]
    day: NDArray[np.int64]
    hour: Floats
    stands_for: Floats
    azimuth: Floats
    elevation: Floats


@study
def year(question: SunQuestion) -> SunYear:
    """The hours of the year, by window, seat, month and hour of the day."""
    offset = question.longitude / 15 if question.utc_offset is None else question.utc_offset
    moments = daylight(
        question.latitude, question.longitude, offset, question.year, question.step, question.days
    )
    sun = to_sun(moments, question.bearing)
    lit = [lit_share(question, pane, moments, sun) for pane in question.panes]
    on_screen = [
        _hours(pane.ref, "", moments, share > 0, share)
        for pane, share in zip(question.panes, lit, strict=True)
    ]
    together = np.sum(lit, axis=0) if lit else np.zeros(len(moments.hour))
    on_screen.append(_hours("all", "", moments, together > 0, np.minimum(together, 1.0)))
    mirrored = [
        _hours(pane.ref, ref, moments, _mirrored(question, pane, eye, moments, sun), None)
        for ref, eye in question.seats
        for pane in question.panes
    ]
    clock = (
        "mean time of the place"
        if question.utc_offset is None
        else f"UTC{question.utc_offset:+g} h, no summer time"
    )
    return SunYear(tuple(on_screen), tuple(hours for hours in mirrored if hours.total > 0), clock)


@lru_cache(maxsize=16)
def daylight(
    latitude: float, longitude: float, offset: float, year: int, step: float, days: tuple[int, ...]
) -> Moments:
    """The moments of the year, every `step` minutes, at which the sun is up."""
    a_day = round(1440 / step)
    length = [calendar.monthrange(year, month)[1] for month in range(1, 13)]
    dates = [
        (month, day, length[month] / len(looked))
        for month in range(12)
        for looked in [days or range(1, length[month] + 1)]
        for day in looked
    ]
    hour = np.tile((np.arange(a_day) + 0.5) * 24 / a_day, len(dates))
    month, day, share = (np.repeat(np.array(column), a_day) for column in zip(*dates, strict=True))
    start = np.repeat(np.array([julian_day(year, m + 1, d) for m, d, _ in dates]), a_day)
    sun = position(start + (hour - offset) / 24, latitude, longitude)
    up = sun.seen > 0
    return Moments(
        month[up].astype(np.int64),
        day[up].astype(np.int64),
        hour[up],
        share[up] * 24 / a_day,
        sun.azimuth[up],
        sun.seen[up],
    )


def to_sun(moments: Moments, bearing: float) -> Floats:
    """The unit vectors to the sun in the wall's axes, one a row."""
    turned, up = np.radians(moments.azimuth - bearing), np.radians(moments.elevation)
    return np.stack((np.cos(up) * np.sin(turned), np.cos(up) * np.cos(turned), np.sin(up)), axis=1)


def _opening(pane: Pane, sun: Floats, elevation: Floats) -> tuple[Marks, Floats, Floats, Floats, Floats]:
    """Where the sun shines in, and the part of the opening by which it does: from and to along it, from and to above its sill.

    Through a reveal t deep the lit part is narrower by t |tan(az − facing)| and lower by t tan Ω, the profile angle.
    """
    outward = sun @ np.array(pane.out)
    ahead = (outward > GRAZING) & (elevation > pane.horizon)
    depth = np.where(ahead, outward, 1.0)
    aside, rising = sun @ np.array(pane.along) / depth, sun[:, 2] / depth
    left = np.maximum(0.0, -pane.reveal * aside)
    right = np.minimum(pane.width, pane.width - pane.reveal * aside)
    top = pane.height - (pane.reveal + pane.overhang) * rising
    return ahead & (right > left) & (top > 0), left, right, np.zeros_like(top), top


def lit_share(question: SunQuestion, pane: Pane, moments: Moments, sun: Floats) -> Floats:
    """The share of the picture that the sun lights through this opening, at each moment."""
    glass = question.glass
    axes = glass.axes()
    towards = sun @ np.array(axes).T  # the sun in the picture's own axes
    ahead, left, right, low, top = _opening(pane, sun, moments.elevation)
    look = np.flatnonzero(ahead & (towards[:, 2] > GRAZING))
    share = np.zeros(len(sun))
    if not len(look):
        return share
    towards, left, right, low, top = towards[look], left[look], right[look], low[look], top[look]
    corner, along, up = (
        _into(axes, v) for v in (_less(pane.corner, glass.middle), pane.along, (0.0, 0.0, 1.0))
    )
    u, v = np.stack((left, right, right, left), axis=1), np.stack((low, low, top, top), axis=1)
    place = [corner[k] + along[k] * u + up[k] * v for k in range(3)]
    if (
        float(np.min(place[2])) < 0
    ):  # part of the opening lies behind the picture's plane: its light comes from behind
        place = _before(pane, axes, corner, along, up, u, v)
    x = place[0] - towards[:, None, 0] / towards[:, None, 2] * place[2]
    z = place[1] - towards[:, None, 1] / towards[:, None, 2] * place[2]
    share[look] = clipped_area(x, z, glass.width / 2, glass.height / 2) / (glass.width * glass.height)
    return share


def _before(
    pane: Pane, axes: Axes, corner: Point3, along: Point3, up: Point3, u: Floats, v: Floats
) -> list[Floats]:
    """The corners with the part behind the picture's plane cut off along the opening (side windows beside the screen)."""
    out_at = corner[2] + up[2] * v
    if abs(along[2]) > GRAZING:
        edge = -out_at / along[2]
        u = np.maximum(u, edge) if along[2] > 0 else np.minimum(u, edge)
    return [corner[k] + along[k] * u + up[k] * v for k in range(3)]


def clipped_area(x: Floats, z: Floats, half_width: float, half_height: float) -> Floats:
    """The areas of convex polygons (one a row) inside the rectangle about the origin.

    Each edge is cut where it crosses the two lines of a direction, and what lies beyond is moved onto the line: the outline then
    runs along the line instead of outside it and encloses the same area as the clipped polygon.
    """
    for half, first in ((half_width, True), (half_height, False)):
        a, b = (x, z) if first else (z, x)
        to_a, to_b = np.roll(a, -1, axis=1), np.roll(b, -1, axis=1)
        run = np.where(np.abs(to_a - a) < 1e-12, 1.0, to_a - a)
        ends = np.stack(((-half - a) / run, (half - a) / run), axis=2)
        cuts = np.sort(np.clip(ends, 0.0, 1.0), axis=2)
        part = np.concatenate((np.zeros((*a.shape, 1)), cuts), axis=2)
        cut_a = np.clip((a[..., None] + part * (to_a - a)[..., None]), -half, half).reshape(len(a), -1)
        cut_b = (b[..., None] + part * (to_b - b)[..., None]).reshape(len(a), -1)
        x, z = (cut_a, cut_b) if first else (cut_b, cut_a)
    area = np.sum(x * np.roll(z, -1, axis=1) - z * np.roll(x, -1, axis=1), axis=1) / 2
    area = np.abs(area)
    return np.where(area > 1e-3, area, 0.0)  # mm²: what is left of rounding


def _mirrored(question: SunQuestion, pane: Pane, eye: Point3, moments: Moments, sun: Floats) -> Marks:
    """When the eye sees the sun's image in the picture, by light that came through this opening: P = e + s · e_out/s_out."""
    glass = question.glass
    axes = glass.axes()
    e = _into(axes, _less(eye, glass.middle))
    towards = sun @ np.array(axes).T
    ahead, left, right, low, top = _opening(pane, sun, moments.elevation)
    seen = ahead & (towards[:, 2] > GRAZING) & (e[2] > 0)
    out = np.where(seen, towards[:, 2], 1.0)
    x = e[0] + towards[:, 0] * (e[2] / out)
    z = e[1] + towards[:, 1] * (e[2] / out)
    seen &= (np.abs(x) <= glass.width / 2) & (np.abs(z) <= glass.height / 2)
    look = np.flatnonzero(seen)
    if not len(look):
        return seen
    right_axis, up_axis = np.array(axes[0]), np.array(axes[1])
    on_picture = np.array(glass.middle) + x[look, None] * right_axis + z[look, None] * up_axis
    to_corner = np.array(pane.corner) - on_picture
    way = (to_corner @ np.array(pane.out)) / (sun[look] @ np.array(pane.out))
    met = on_picture + way[:, None] * sun[look] - np.array(pane.corner)
    u, v = met @ np.array(pane.along), met[:, 2]
    inside = (way > 0) & (u >= left[look]) & (u <= right[look]) & (v >= low[look]) & (v <= top[look])
    seen[look] = inside
    return seen


def _hours(window: str, seat: str, moments: Moments, happens: Marks, share: Floats | None) -> SunHours:
    """The hours in which it happens, by month and hour of the day."""
    table = np.zeros((12, 24))
    np.add.at(
        table, (moments.month[happens], moments.hour[happens].astype(np.int64)), moments.stands_for[happens]
    )
    most, when, at = 0.0, "", None
    if share is not None and bool(np.any(happens)):
        i = int(np.argmax(share))
        minutes = int(float(moments.hour[i]) * 60 + 1e-6)
        most = float(share[i])
        at = int(moments.month[i]) + 1, int(moments.day[i]), float(moments.hour[i])
        when = f"{int(moments.day[i])} {MONTHS[int(moments.month[i])]} {minutes // 60:02d}:{minutes % 60:02d}"
    rows = tuple(tuple(float(hours) for hours in row) for row in table)
    return SunHours(window, seat, float(table.sum()), rows, most, when, at)


def _less(a: Point3, b: Point3) -> Point3:
    return a[0] - b[0], a[1] - b[1], a[2] - b[2]


def _into(axes: Axes, v: Point3) -> Point3:
    """A direction of the room in the picture's own axes."""
    right, up, out = axes
    return (
        v[0] * right[0] + v[1] * right[1] + v[2] * right[2],
        v[0] * up[0] + v[1] * up[1] + v[2] * up[2],
        v[0] * out[0] + v[1] * out[1] + v[2] * out[2],
    )
