"""North and the sun's way over the room, turned so that up is the way one faces the wall: it stands beside the plan."""

from __future__ import annotations

from math import cos, radians, sin
from typing import TYPE_CHECKING

from wallwright.core.drawing import TEXT_SMALL, Circle, Drawing, Line, Mark, Pen, Text
from wallwright.core.shape import Box, Point2
from wallwright.sheets.ink import extent_of
from wallwright.sheets.place import settle
from wallwright.sight.season import MONTHS

if TYPE_CHECKING:
    from wallwright.derive import Wall

DAYS = ((6, 21), (3, 21), (12, 21))
"""The longest day, the equinox, the shortest: month and day."""
HOURS = tuple(range(5, 21))
CLOCK = 26.0
"""Radius of the sun's clock, paper mm."""
PENS: tuple[Pen, ...] = ("medium", "dashed", "chain")
"""The line of each of those days."""


def sun_clock(wall: Wall) -> Drawing | None:
    """North and the sun's way over the room on three days; up is the way one faces the wall. None where no bearing is known.

    Middle = overhead, rim = horizon; the sun is drawn where the place is known.
    """
    place = wall.job.survey.place
    if place.bearing is None:
        return None
    marks: list[Mark] = [Circle((0.0, 0.0), CLOCK, "medium", layer="sun")]
    marks += [Circle((0.0, 0.0), CLOCK * (90 - up) / 90, "thin", layer="sun") for up in (30, 60)]
    marks += _north(place.bearing)
    labels: list[Mark] = [
        Text((0.0, CLOCK + 7.5), "facing the wall", TEXT_SMALL, "middle", layer="sun"),
        Line(((-6.0, CLOCK + 6.0), (6.0, CLOCK + 6.0)), "extra", layer="sun", ref="wall"),
    ]
    if place.latitude is not None and place.longitude is not None:
        for pen, (month, day) in zip(PENS, DAYS, strict=True):
            path = sun_path(wall, month, day)
            if len(path) > 1:
                marks.append(
                    Line(tuple(at for _, at in path), pen, layer="sun", ref=f"{day} {MONTHS[month - 1]}")
                )
            for hour, at in path:
                marks.append(Circle(at, 0.5, "medium", layer="sun"))
                if hour % 3 == 0:
                    labels.append(Text((at[0] + 1.0, at[1] + 0.8), f"{hour}", TEXT_SMALL, layer="sun"))
    marks += settle(labels, 1.0, Box(-70.0, -40.0, 140.0, 80.0))
    return Drawing("sun clock", "North and sun", 1.0, tuple(marks), extent_of(tuple(marks), 1.0))


def on_clock(azimuth: float, elevation: float, bearing: float) -> Point2:
    """A direction of the sky on the clock: turned so that up is the way one faces the wall."""
    r, turned = CLOCK * (90 - elevation) / 90, radians(azimuth - bearing)
    return r * sin(turned), r * cos(turned)


def _north(bearing: float) -> list[Mark]:
    x, y = on_clock(0.0, 0.0, bearing)
    tip, tail = (x * 1.16, y * 1.16), (-x * 0.25, -y * 0.25)
    side = (-y / CLOCK * 2.0, x / CLOCK * 2.0)
    neck = (x * 1.02, y * 1.02)
    head = ((neck[0] + side[0], neck[1] + side[1]), tip, (neck[0] - side[0], neck[1] - side[1]))
    return [
        Line((tail, neck), "wide", layer="sun", ref="north"),
        Line(head, "medium", closed=True, fill="#000", layer="sun", ref="north"),
        Text((x * 1.26, y * 1.26 - 1.2), "N", TEXT_SMALL, "middle", bold=True, layer="sun", ref="north"),
    ]


def sun_path(wall: Wall, month: int, day: int) -> list[tuple[int, Point2]]:
    """The sun on the clock at each whole hour of a day while it is up; hours as the survey tells them."""
    import numpy as np  # only where there is a sun to draw

    from wallwright.sight.sun import julian_day, position

    place = wall.job.survey.place
    if place.latitude is None or place.longitude is None or place.bearing is None:
        return []
    offset = place.longitude / 15 if place.utc_offset is None else place.utc_offset
    moments = julian_day(2025, month, day) + (np.array(HOURS) - offset) / 24
    sun = position(moments, place.latitude, place.longitude)
    return [
        (hour, on_clock(float(azimuth), float(up), place.bearing))
        for hour, azimuth, up in zip(HOURS, sun.azimuth, sun.seen, strict=True)
        if up > 0
    ]
