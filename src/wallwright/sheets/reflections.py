"""What is mirrored in the screen: the outlines of windows and lamps for each seat, how much each takes, and the ways out."""

from __future__ import annotations

from typing import TYPE_CHECKING

from wallwright.core.drawing import TEXT_SMALL, Drawing, Hatch, Leader, Line, Mark, Pattern, rectangle
from wallwright.core.shape import Box, Point2
from wallwright.core.table import Column, Table
from wallwright.core.units import show_mm
from wallwright.core.why import Why
from wallwright.sheets.beside import Legend, Notes, column
from wallwright.sheets.ink import extent_of
from wallwright.sheets.paper import Fields, Sheet, centred
from wallwright.sheets.place import chain, settle
from wallwright.sheets.room import FULL
from wallwright.sheets.sun_hours import sun_year
from wallwright.sight.cures import Cure, cures, setting_of
from wallwright.sight.lamp_cure import lamp_cures
from wallwright.sight.mirrored import glass_of

if TYPE_CHECKING:
    from wallwright.derive import Wall
    from wallwright.sight.record import Reflection

HATCHES: tuple[Pattern, ...] = ("cut", "assumed", "fluted", "allowed", "light", "no_drill")
"""The hatch of each seat, in the order of the seats."""
WAYS = 4
"""Ways out that are listed for each window or lamp."""
_SIDE = 156.0  # paper mm for tables and cures
_SCALES = (5.0, 10.0, 20.0, 25.0, 50.0)
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
        *column((_legend(wall), Notes("Notes", _notes(wall))), _halves(under)),
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
        rectangle(screen.picture, "medium", layer="screen", ref="picture"),
    ]
    labels: list[Mark] = []
    x, z = screen.centre
    for dx, dz in ((6.0 * scale, 0.0), (0.0, 6.0 * scale)):
        marks.append(Line(((x - dx, z - dz), (x + dx, z + dz)), "chain", layer="screen"))
    for hit in wall.sight.reflections:
        ref = f"{hit.seat} {hit.window}"
        marks.append(Hatch(hit.polygon, seat_hatch(wall, hit.seat), layer="mirrored", ref=ref))
        marks.append(Line(hit.polygon, "medium", closed=True, layer="mirrored", ref=ref))
        labels.append(_label(hit, screen.frame, scale))
    frame = screen.frame
    labels += chain([frame.x, frame.right], "x", frame.z, -8.0, "frame")
    labels += chain([frame.z, frame.top], "z", frame.x, -8.0, "frame")
    within = Box(
        frame.x - 16 * scale, frame.z - 16 * scale, frame.width + 36 * scale, frame.height + 34 * scale
    )
    marks += settle(labels, scale, within)
    return Drawing(
        "reflections", "Screen with what it mirrors", scale, tuple(marks), extent_of(tuple(marks), scale)
    )


def _label(hit: Reflection, frame: Box, scale: float) -> Leader:
    """A leader from the middle of an outline to above or below the screen, whichever is nearer."""
    n = len(hit.polygon)
    middle: Point2 = sum(p[0] for p in hit.polygon) / n, sum(p[1] for p in hit.polygon) / n
    up = middle[1] >= frame.centre[1]
    end = middle[0] + 5 * scale, frame.top + 6 * scale if up else frame.z - 14 * scale
    return Leader((middle, end), f"{hit.window}, seat {hit.seat}", TEXT_SMALL, layer="text", ref=hit.seat)


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
    """The ranked cures of every window and lamp that any seat sees mirrored; the best first."""
    setting = setting_of(wall.job, wall.face, wall.sight.screen, wall.sight.seats, wall.limits)
    seen = {hit.window for hit in wall.sight.reflections}
    found: list[tuple[str, tuple[Cure, ...]]] = []
    for window in wall.job.survey.windows:
        source = next((s for s in setting.others if s.ref == window.ref), None)
        if window.ref in seen and source is not None:
            found.append((window.ref, cures(source, window.blind, setting, wall.limits)))
    depth = wall.job.survey.room.depth
    glass, eyes = glass_of(wall.sight.screen), [seat.eye for seat in wall.sight.seats]
    for lamp in wall.job.survey.lamps:
        if lamp.ref in seen:
            ratio = max(hit.ratio for hit in wall.sight.reflections if hit.window == lamp.ref)
            ways = lamp_cures(
                lamp, glass, eyes, depth.mm if depth else None, wall.face.width, ratio, wall.limits
            )
            found.append((lamp.ref, ways))
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
        ("pen:medium", "picture; outline of what is mirrored"),
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
