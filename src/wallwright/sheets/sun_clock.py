"""North and the sun's way over the room, turned so that up is the way one faces the wall: it stands beside the plan."""

from __future__ import annotations

from collections.abc import Sequence
from math import cos, dist, pi, radians, sin
from typing import TYPE_CHECKING

from wallwright.core.drawing import TEXT_SMALL, Circle, Drawing, Line, Mark, Pen, Text, rectangle
from wallwright.core.shape import Point2
from wallwright.sheets.ink import extent_of, text_box
from wallwright.sheets.taken import Taken, strokes
from wallwright.sight.season import MONTHS

if TYPE_CHECKING:
    from wallwright.derive import Wall

DAYS = ((6, 21), (3, 21), (12, 21))
"""The longest day, the equinox, the shortest: month and day."""
HOURS = tuple(range(5, 21))
CLOCK = 26.0
"""Radius of the sun's clock, paper mm."""
FIGURE_OFF = (2.6, 3.0, 3.5, 4.0, 4.5, 5.0)
"""How far an hour's figure may stand from its dot, paper mm from middle to middle."""
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
    marks += [*_north(place.bearing), *_wall(place.bearing)]
    dots: list[tuple[int, Point2]] = []
    if place.latitude is not None and place.longitude is not None:
        for pen, (month, day) in zip(PENS, DAYS, strict=True):
            path = sun_path(wall, month, day)
            if len(path) > 1:
                marks.append(
                    Line(tuple(at for _, at in path), pen, layer="sun", ref=f"{day} {MONTHS[month - 1]}")
                )
            marks += [Circle(at, 0.5, "medium", layer="sun") for _, at in path]
            dots += path
    lines = Taken(1.0, strokes(marks, 1.0))
    for hour in _figures(dots, marks):
        box = text_box(hour, 1.0)
        if not lines.free(box):  # its ground breaks the line
            marks.append(rectangle(box.grown(0.15), "none", fill="#fff", layer="sun"))
        marks.append(hour)
    return Drawing("sun clock", "North and sun", 1.0, tuple(marks), extent_of(tuple(marks), 1.0))


def on_clock(azimuth: float, elevation: float, bearing: float) -> Point2:
    """A direction of the sky on the clock: turned so that up is the way one faces the wall."""
    r, turned = CLOCK * (90 - elevation) / 90, radians(azimuth - bearing)
    return r * sin(turned), r * cos(turned)


def _north(bearing: float) -> list[Mark]:
    x, y = on_clock(0.0, 0.0, bearing)
    tip, tail = (x * 1.16, y * 1.16), (x * 0.75, y * 0.75)
    side = (-y / CLOCK * 2.0, x / CLOCK * 2.0)
    neck = (x * 1.02, y * 1.02)
    head = ((neck[0] + side[0], neck[1] + side[1]), tip, (neck[0] - side[0], neck[1] - side[1]))
    return [
        Line((tail, neck), "wide", layer="sun", ref="north"),
        Line(head, "medium", closed=True, fill="#000", layer="sun", ref="north"),
        Text((x * 1.26, y * 1.26 - 1.2), "N", TEXT_SMALL, "middle", bold=True, layer="sun", ref="north"),
    ]


def _wall(bearing: float) -> list[Mark]:
    """The wall that one faces, over the rim; farther off where the north arrow points that way."""
    off = 10.0 if cos(radians(bearing)) > cos(radians(30)) else 6.0
    return [
        Line(((-6.0, CLOCK + off), (6.0, CLOCK + off)), "extra", layer="sun", ref="wall"),
        Text((0.0, CLOCK + off + 1.5), "facing the wall", TEXT_SMALL, "middle", layer="sun", ref="wall"),
    ]


def _figures(dots: Sequence[tuple[int, Point2]], drawn: Sequence[Mark]) -> list[Text]:
    """Every third hour beside its dot: nearer to it than to any other, over no other text, clear of lines where it can be. A
    figure without such a place is left out: the dots between its neighbours tell it.
    """
    used = Taken(1.0, (text_box(mark, 1.0) for mark in drawn if isinstance(mark, Text)))
    lines = Taken(1.0, strokes(drawn, 1.0))
    figures: list[Text] = []
    for hour, at in dots:
        if hour % 3:
            continue
        found: list[tuple[bool, float, float, Text]] = []
        for far in FIGURE_OFF:
            for k in range(24):
                middle = at[0] + far * 1.15 * cos(k * pi / 12), at[1] + far * sin(k * pi / 12)
                others = min(dist(middle, other) for _, other in dots if other != at)
                if others < dist(middle, at):
                    continue
                text = Text(
                    (middle[0], middle[1] - TEXT_SMALL / 2), f"{hour}", TEXT_SMALL, "middle", layer="sun"
                )
                box = text_box(text, 1.0).grown(0.2)
                if used.free(box):
                    found.append((not lines.free(box), far, -others, text))
        if found:
            best = min(found, key=lambda way: way[:3])[3]
            used.add(text_box(best, 1.0).grown(0.2))
            figures.append(best)
    return figures


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
