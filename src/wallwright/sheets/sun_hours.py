"""The sun in the screen: where it lies on the picture by hour on a day of each season, and by month and hour over the year.

Clear sky, blinds open, empty room. Made only where a window, the place and its bearing are known.
"""

from __future__ import annotations

from math import floor
from typing import TYPE_CHECKING

from wallwright.core.drawing import (
    TEXT_LABEL,
    TEXT_SMALL,
    Circle,
    Drawing,
    Hatch,
    Line,
    Mark,
    Pattern,
    Text,
    rectangle,
)
from wallwright.core.shape import Box, Point2
from wallwright.core.why import Why
from wallwright.sheets.beside import Legend, Notes, column
from wallwright.sheets.paper import Fields, Sheet, View
from wallwright.sheets.room import FULL
from wallwright.sight.mirrored import glass_of
from wallwright.sight.reflect import area
from wallwright.sight.season import MONTHS, STEP, SunQuestion, SunYear, ask, sampled
from wallwright.sight.sun_patch import sun_patch, to_sun

if TYPE_CHECKING:
    from wallwright.derive import Wall

DAYS = tuple((month, 23) for month in (3, 6, 9, 12))
"""A day in each season, month and day."""
DAYS_OF_MONTH = (31, 28, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31)
GRID: tuple[Pattern, ...] = ("light", "cut", "board")
"""Hatch of a cell with the sun on the picture for up to a third, two thirds, and more of the hour, as a mean of the month."""
_CELL = (6.6, 4.6)  # paper mm of one hour and one month
_COLUMNS = 8
_GAP = 5.0


def sheets(wall: Wall) -> tuple[Sheet, ...]:
    """The sheet, where the sun ever lies on the picture or is mirrored into an eye; else none."""
    asked = sun_year(wall)
    if asked is None or isinstance(asked, Why):
        return ()
    question, answer = asked
    return (_sheet(wall, question, answer),) if answer.on().total > 0 or answer.mirrored else ()


def sun_year(wall: Wall) -> tuple[SunQuestion, SunYear] | Why | None:
    """The sun's year in this room, by every day; the reason why it cannot be known; None without seats."""
    if not wall.sight.seats:
        return None
    question = ask(wall.job.survey, wall.face, glass_of(wall.sight.screen), wall.sight.seats, STEP)
    if isinstance(question, Why):
        return question
    from wallwright.sight.year import year  # numpy, only where there is a window to ask about

    return question, year(question)


Lit = tuple[float, tuple[tuple[str, tuple[Point2, ...]], ...]]
"""An hour of the day, and by window the outline of the sun in the picture's own axes."""


def patches(question: SunQuestion, month: int, day: int) -> list[Lit]:
    """The moments of a day at which the sun lies on the picture: those of the year's own answer, in the middle of each step."""
    import numpy as np  # only where there is a sun to draw

    from wallwright.sight.sun import julian_day, position

    offset = question.longitude / 15 if question.utc_offset is None else question.utc_offset
    a_day = round(1440 / question.step)
    hours = (np.arange(a_day) + 0.5) * 24 / a_day
    sun = position(
        julian_day(question.year, month, day) + (hours - offset) / 24, question.latitude, question.longitude
    )
    found: list[Lit] = []
    for hour, azimuth, up in zip(hours, sun.azimuth, sun.seen, strict=True):
        if up <= 0:
            continue
        way = to_sun(float(azimuth), float(up), question.bearing)
        lit = [(pane.ref, sun_patch(question.glass, pane, way, float(up))) for pane in question.panes]
        lit = [(ref, shape) for ref, shape in lit if len(shape) > 2]
        if lit:
            found.append((float(hour), tuple(lit)))
    return found


def _sheet(wall: Wall, question: SunQuestion, answer: SunYear) -> Sheet:
    view, words = _by_hour(question, days_drawn(answer))
    grid = month_grid(answer)
    wide = 24 * _CELL[0] + 14.0
    at = (FULL.x + 4.0 + 12.0, FULL.z + 8.0)
    marks: list[Mark] = [
        Text(
            (FULL.x + 4.0, at[1] + 12 * _CELL[1] + 6.5),
            "The year: months down, hours across",
            TEXT_LABEL,
            bold=True,
            layer="notes",
        )
    ]
    marks += [_shifted(mark, at) for mark in grid]
    rest = FULL.width - wide - 18.0
    room = Box(FULL.x + wide + 12.0, FULL.z, rest, 12 * _CELL[1] + 20.0)
    half = (room.width - 6.0) / 2
    rooms = (Box(room.x, room.z, half, room.height), Box(room.x + half + 6.0, room.z, half, room.height))
    marks += column((_legend(),), rooms[:1])
    marks += column((Notes("The sun in a year", _facts(answer)), Notes("Notes", words)), rooms[1:])
    return Sheet(
        "sun",
        "Sun on the screen",
        "Elevation",
        (view,),
        tuple(marks),
        Fields.of(wall.job),
        ("Clear sky, blinds open, empty room: what may happen, not what will on a given day.",),
        job_title=wall.job.title,
    )


# --- by hour ------------------------------------------------------------------------------------------------------------
def days_drawn(answer: SunYear) -> tuple[tuple[int, int], ...]:
    """A day in each season, and the day on which the most of the picture is lit at once."""
    worst = answer.on().at
    return DAYS if worst is None else tuple(sorted({*DAYS, worst[:2]}))


def _by_hour(question: SunQuestion, looked: tuple[tuple[int, int], ...]) -> tuple[View, tuple[str, ...]]:
    """Small screens, a row a day, a quarter of an hour apart; the days on which no sun lies on it are said instead."""
    days = [(month, day, patches(question, month, day)) for month, day in looked]
    shown = [(month, day, chosen(found)) for month, day, found in days if found]
    never = [f"{day} {MONTHS[month - 1]}" for month, day, found in days if not found]
    words = [f"No sun lies on the picture on {', '.join(never)}."] if never else []
    if any(len(found) > _COLUMNS for _, _, found in days):
        words.append(
            f"Of a longer spell {_COLUMNS} moments are drawn, evenly chosen, the fullest among them."
        )
    room = Box(FULL.x + 3, FULL.z + 12 * _CELL[1] + 24.0, FULL.width - 6, FULL.height - 12 * _CELL[1] - 26.0)
    glass = question.glass
    columns = max([len(found) for _, _, found in shown], default=1)
    rows = max(len(shown), 1)
    scale = next(
        s
        for s in (20.0, 25.0, 40.0, 50.0, 75.0, 100.0, 200.0)
        if columns * (glass.width / s + _GAP) + 22.0 <= room.width
        and rows * (glass.height / s + 10.0) + 8.0 <= room.height
    )
    marks: list[Mark] = []
    for i, (month, day, found) in enumerate(shown):
        low = -(i + 1) * (glass.height + 10.0 * scale)
        name = f"{day} {MONTHS[month - 1]}"
        marks.append(Text((0.0, low + glass.height / 2), name, TEXT_LABEL, bold=True, layer="sun"))
        for k, moment in enumerate(found):
            middle = (
                20.0 * scale + k * (glass.width + _GAP * scale) + glass.width / 2,
                low + glass.height / 2,
            )
            marks += _small(question, middle, moment, scale)
    if not shown:
        box = Box(20.0 * scale, -glass.height, glass.width, glass.height)
        marks.append(rectangle(box, "medium", layer="screen", ref="picture"))
        marks.append(
            Text(
                (0.0, 2.0 * scale),
                "No sun lies on the picture on the days looked at",
                TEXT_LABEL,
                layer="sun",
            )
        )
    view = View(Drawing("sun", "Sun on the picture by hour", scale, tuple(marks)), room.x, room.top - 6.0)
    return view, tuple(words)


def chosen(found: list[Lit]) -> list[Lit]:
    """At most as many moments as there are columns, evenly taken, the first, the last and the fullest among them."""
    if len(found) <= _COLUMNS:
        return found
    taken = [round(i * (len(found) - 1) / (_COLUMNS - 1)) for i in range(_COLUMNS)]
    fullest = max(range(len(found)), key=lambda i: lit_area(found[i]))
    if fullest not in taken:
        inner = min(range(1, _COLUMNS - 1), key=lambda k: abs(taken[k] - fullest))
        taken[inner] = fullest
    return [found[i] for i in taken]


def lit_area(moment: Lit) -> float:
    """How much of the picture the sun lies on at that moment [mm²]."""
    return sum(area(shape) for _, shape in moment[1])


def _small(question: SunQuestion, middle: Point2, moment: Lit, scale: float) -> list[Mark]:
    """One small screen: the sun's outlines hatched, the hour and the share of the picture above it."""
    glass, (hour, lit) = question.glass, moment
    clock = f"{int(hour)}:{int(hour % 1 * 60 + 1e-6):02d}"
    box = Box(middle[0] - glass.width / 2, middle[1] - glass.height / 2, glass.width, glass.height)
    marks: list[Mark] = [rectangle(box, "medium", layer="screen", ref="picture")]
    for ref, shape in lit:
        points = tuple((middle[0] + x, middle[1] + z) for x, z in shape)
        marks += [
            Hatch(points, "cut", layer="sun", ref=f"{ref} {clock}"),
            Line(points, "thin", closed=True, layer="sun", ref=f"{ref} {clock}"),
        ]
    share = min(1.0, lit_area(moment) / (glass.width * glass.height))
    words = f"{clock}: {100 * share:.0f} %"
    marks.append(Text((box.x, box.top + 1.2 * scale), words, TEXT_SMALL, layer="sun", ref=clock))
    return marks


# --- the year -----------------------------------------------------------------------------------------------------------
def month_grid(answer: SunYear) -> list[Mark]:
    """12 months of 24 hours in paper mm from its lower left corner: hatched by the sun on the picture, ringed where mirrored."""
    wide, high = _CELL
    table = answer.on().table
    marks: list[Mark] = []
    for month in range(12):
        z = (11 - month) * high
        marks.append(Text((-1.2, z + 1.1), MONTHS[month], TEXT_SMALL, "end", layer="grid"))
        for hour in range(24):
            box = Box(hour * wide, z, wide, high)
            share = table[month][hour] / DAYS_OF_MONTH[month]
            if share > 0:
                pattern = GRID[min(2, floor(3 * share))]
                marks.append(Hatch(box.corners, pattern, layer="grid", ref=f"sun {month + 1} {hour}"))
            if any(seen.table[month][hour] > 0 for seen in answer.mirrored):
                marks.append(Circle(box.centre, 1.3, "wide", layer="grid", ref=f"eye {month + 1} {hour}"))
    marks += [Line(((0.0, k * high), (24 * wide, k * high)), "thin", layer="grid") for k in range(13)]
    marks += [Line(((k * wide, 0.0), (k * wide, 12 * high)), "thin", layer="grid") for k in range(25)]
    marks += [Text((k * wide, -3.6), f"{k}", TEXT_SMALL, "middle", layer="grid") for k in range(0, 25, 3)]
    return marks


def _shifted(mark: Mark, by: Point2) -> Mark:
    """A mark of the grid where the grid stands on the paper."""
    dx, dy = by
    match mark:
        case Line() | Hatch():
            points = tuple((x + dx, y + dy) for x, y in mark.points)
            if isinstance(mark, Hatch):
                return Hatch(points, mark.pattern, mark.layer, mark.ref)
            return Line(points, mark.pen, mark.closed, mark.fill, mark.layer, mark.ref)
        case Circle():
            return Circle(
                (mark.centre[0] + dx, mark.centre[1] + dy),
                mark.radius,
                mark.pen,
                layer=mark.layer,
                ref=mark.ref,
            )
        case Text():
            return Text(
                (mark.at[0] + dx, mark.at[1] + dy), mark.text, mark.height, mark.anchor, layer=mark.layer
            )
        case _:
            return mark


def _facts(answer: SunYear) -> tuple[str, ...]:
    """Hours on the picture by window and mirrored into each seat's eyes, in words."""
    lines: list[str] = []
    together = answer.on()
    if together.total:
        lines.append(
            f"Most of the picture lit at once: {together.most:.0%}, {together.when}; that moment is drawn."
        )
    several = len(answer.on_screen) > 2  # two windows or more, and all of them together
    for hours in answer.on_screen:
        if hours.window != "all":
            worst = f"; most at once {hours.most:.0%}, {hours.when}" if hours.total and several else ""
            lines.append(f"On the picture through {hours.window}: {hours.total:.0f} h, {hours.says}{worst}.")
    for hours in answer.mirrored:
        lines.append(
            f"Mirrored into the eyes of seat {hours.seat} through {hours.window}: {hours.total:.0f} h, {hours.says}."
        )
    if not answer.mirrored:
        lines.append("Mirrored into no seat's eyes.")
    return (
        *lines,
        f"Hours are {answer.clock}; looked at {sampled(STEP, ())}.",
    )


def _legend() -> Legend:
    return Legend(
        (
            ("hatch:light", "sun on the picture for up to a third of that hour (mean of the month)"),
            ("hatch:cut", "up to two thirds; on the small screens: the sun's outline"),
            ("hatch:board", "more than that"),
            ("pen:wide", "ring in a cell: mirrored into the eyes of a seat"),
        )
    )
