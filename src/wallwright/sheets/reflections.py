"""What is mirrored in the screen: the outlines of windows and lamps for each seat, how much each takes, and the ways out."""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING

from wallwright.core.drawing import Drawing, Hatch, Line, Mark, Pattern, rectangle
from wallwright.core.shape import Box, Point2, around
from wallwright.core.table import Column, Table
from wallwright.core.units import show_mm
from wallwright.core.why import Why
from wallwright.rules.reflections import lamp_ways, lamps_that_trouble
from wallwright.rules.sight import window_ways, windows_that_trouble
from wallwright.sheets.beside import Legend, Notes, column
from wallwright.sheets.chains import chain
from wallwright.sheets.crossed import inside
from wallwright.sheets.ink import extent_of
from wallwright.sheets.label_row import Named, label_row
from wallwright.sheets.paper import SCALES, Fields, Sheet, centred
from wallwright.sheets.room import FULL
from wallwright.sheets.sun_hours import sun_year
from wallwright.sight.cures import Cure

if TYPE_CHECKING:
    from wallwright.derive import Wall
    from wallwright.sight.record import Reflection

HATCHES: tuple[Pattern, ...] = ("cut", "assumed", "fluted", "allowed", "light", "no_drill")
"""The hatch of each seat, in the order of the seats."""
WAYS = 4
"""Ways out that are listed for each window or lamp."""
_SIDE = 156.0  # paper mm for tables and cures
_SCALES = tuple(float(s) for s in SCALES[2:])
_LINE = 4.1


def sheets(wall: Wall) -> tuple[Sheet, ...]:
    """The map, where there are seats and anything that may be mirrored; else none."""
    survey = wall.job.survey
    return (
        (sheet(wall),)
        if wall.sight.seats and (survey.windows or survey.lamps or wall.sight.reflections)
        else ()
    )


def sheet(wall: Wall) -> Sheet:
    """The screen enlarged with every outline, the table, and the cures ranked."""
    frame = wall.sight.screen.frame
    room = Box(FULL.x, FULL.z, FULL.width - _SIDE, FULL.height)
    scale = next(
        (
            s
            for s in _SCALES
            if frame.width / s + 38.0 <= room.width and frame.height / s + 44.0 <= room.height - 62.0
        ),
        _SCALES[-1],
    )
    view = centred(drawing(wall, scale), Box(room.x, room.z + 62.0, room.width, room.height - 62.0))
    side = Box(room.right + 2, FULL.z, _SIDE - 6, FULL.height)
    under = Box(FULL.x + 3, FULL.z, room.width - 8, 58.0)
    marks = (
        *column(_beside(wall), (side,)),
        *column((_legend(wall),), _halves(under)[:1]),
        *column((Notes("Notes", _notes(wall)),), _halves(under)[1:]),
    )
    return Sheet(
        "reflections",
        "Reflections in the screen",
        "Elevation",
        (view,),
        marks,
        Fields.of(wall.job),
        (
            "Outlines are those of an empty room: people and furniture in between are left out. Look at the real screen at dusk.",
        ),
        job_title=wall.job.title,
    )


def _halves(box: Box) -> tuple[Box, Box]:
    half = (box.width - 6.0) / 2
    return Box(box.x, box.z, half, box.height), Box(box.x + half + 6.0, box.z, half, box.height)


def seat_hatch(wall: Wall, seat: str) -> Pattern:
    """The hatch of a seat."""
    return HATCHES[[s.ref for s in wall.sight.seats].index(seat) % len(HATCHES)]


def drawing(wall: Wall, scale: float) -> Drawing:
    """The screen as the elevation shows it, with what every seat sees mirrored in it."""
    screen = wall.sight.screen
    marks: list[Mark] = [
        rectangle(screen.frame, "wide", layer="screen", ref="screen"),
        rectangle(screen.picture, "thin", layer="screen", ref="picture"),
    ]
    x, z = screen.centre
    for dx, dz in ((6.0 * scale, 0.0), (0.0, 6.0 * scale)):
        marks.append(Line(((x - dx, z - dz), (x + dx, z + dz)), "chain", layer="screen"))
    for hit in wall.sight.reflections:
        ref = f"{hit.seat} {hit.window}"
        marks.append(Hatch(hit.polygon, seat_hatch(wall, hit.seat), layer="mirrored", ref=ref))
        marks.append(Line(hit.polygon, "medium", closed=True, layer="mirrored", ref=ref))
    frame = screen.frame
    marks += chain([frame.x, frame.right], "x", frame.z, -8.0, "frame")
    marks += chain([frame.z, frame.top], "z", frame.x, -8.0, "frame")
    left, right = frame.x - 12 * scale, frame.right + 12 * scale
    marks += label_row(sources(wall), frame.top + 5.0 * scale, scale, up=True, low=left, high=right)
    return Drawing(
        "reflections", "Screen with what it mirrors", scale, tuple(marks), extent_of(tuple(marks), scale)
    )


def sources(wall: Wall) -> list[Named]:
    """Every mirrored window and lamp once, with the seats that see it, and a point in each of its outlines."""
    hits = wall.sight.reflections
    found: list[Named] = []
    for ref in dict.fromkeys(hit.window for hit in hits):
        own = [hit for hit in hits if hit.window == ref]
        seats = list(dict.fromkeys(hit.seat for hit in own))
        words = f"{ref}: seat{'s' if len(seats) > 1 else ''} {', '.join(seats)}"
        points = [_plain_spot(hit, [other for other in hits if other is not hit]) for hit in own]
        middle = sorted(points)[len(points) // 2]
        points.sort(key=lambda point: point != middle)
        found.append(Named(words, tuple(points), ref))
    return found


def _plain_spot(hit: Reflection, others: Sequence[Reflection]) -> Point2:
    """A point of an outline that lies in as few of the others as can be, high up and near its middle."""
    box = around(hit.polygon)
    spots = [
        (box.x + box.width * (i + 0.5) / 9, box.z + box.height * (j + 0.5) / 9)
        for i in range(9)
        for j in range(9)
    ]
    spots = [spot for spot in spots if inside(spot, hit.polygon)] or [box.centre]
    return min(
        spots,
        key=lambda spot: (
            sum(inside(spot, other.polygon) for other in others),
            round(box.top - spot[1], 3),
            abs(spot[0] - box.centre[0]),
        ),
    )


# --- tables and words ---------------------------------------------------------------------------------------------------
_HITS = (
    Column("Seat"), Column("Mirrors"), Column("When"), Column("Share", "%", 0, "right"), Column("Over picture", "", 2, "right"),
    Column("Contrast", "", 0, "right"), Column("Verdict"),
)  # fmt: skip


def hits_table(wall: Wall) -> Table:
    """Every mirrored window and lamp: its share of the picture and the veiling ratio."""
    rows = tuple(
        (h.seat, h.window, "dark" if h.night else "day", 100 * h.share, h.ratio, h.contrast, h.verdict)
        for h in wall.sight.reflections
    )
    notes = (
        "Over picture: luminance of what is mirrored over the picture's own mean. Contrast: white to black that is left.",
    )
    return Table("mirrored", "Mirrored, for each seat", _HITS, rows, notes)


def ways_out(wall: Wall) -> list[tuple[str, tuple[Cure, ...]]]:
    """The ranked cures of every window and lamp that troubles a seat; the best first. What is too faint to matter needs none."""
    found = [
        (ref, window_ways(wall, ref))
        for ref in dict.fromkeys(hit.window for hit in windows_that_trouble(wall))
    ]
    found += [
        (lamp.ref, lamp_ways(wall, lamp, max(hit.ratio for hit in hits)))
        for lamp, hits in lamps_that_trouble(wall)
    ]
    return found


def _beside(wall: Wall) -> list[Notes | Table]:
    blocks: list[Notes | Table] = []
    table = hits_table(wall)
    if table.rows:
        blocks.append(table)
    for ref, ways in ways_out(wall):
        lines = tuple(
            f"{way.says}{'' if way.solves else ' (does not do alone)'}"
            + (f"; {'; '.join(way.effects)}" if way.effects else "")
            for way in ways[:WAYS]
        )
        blocks.append(Notes(f"Ways out for {ref}, the best first", lines or ("none found",)))
    return blocks


def _legend(wall: Wall) -> Legend:
    seats = [hit.seat for hit in wall.sight.reflections]
    rows = [
        (f"hatch:{seat_hatch(wall, s.ref)}", f"seen by seat {s.ref}")
        for s in wall.sight.seats
        if s.ref in seats
    ]
    rows += [
        ("pen:wide", "frame"),
        ("pen:thin", "picture"),
        *([("pen:medium", "outline of what is mirrored")] if seats else []),
        ("pen:chain", "screen centre"),
    ]
    return Legend(tuple(rows))


def _notes(wall: Wall) -> tuple[str, ...]:
    screen, survey = wall.sight.screen, wall.job.survey
    lines = [
        f"Screen {screen.diagonal:g} in, centre {show_mm(screen.centre[1])} above FFL, "
        f"tilt {screen.tilt:g}°, swivel {screen.swivel:g}°."
    ]
    if not wall.sight.reflections:
        lines.append("No seat sees a surveyed window or lamp mirrored in it.")
    if survey.room.depth is None and any(window.wall == "opposite" for window in survey.windows):
        lines.append("Room depth not surveyed: windows in the wall opposite cannot be placed.")
    lines.append(sun_says(wall))
    return tuple(lines)


def sun_says(wall: Wall) -> str:
    """Whether the sun gets on to the picture or into an eye by it, in a sentence; or what is missing to know."""
    asked = sun_year(wall)
    if asked is None:
        return "The sun: no seats are surveyed."
    if isinstance(asked, Why):
        return f"The sun: {asked.says}."
    _, answer = asked
    hours = answer.on()
    if not hours.total and not answer.mirrored:
        return "The sun never lies on the picture, nor is it mirrored into an eye."
    return f"The sun lies on the picture about {hours.total:.0f} hours a year (clear sky, blinds open): see its own sheet."
