"""The room in plan: seats with their hours and angles, the screen with its swivel, windows, lamps, north and the sun.

Across: x of the wall; upwards: y of the wall, so that the wall is at the top and the room below it.
"""

from __future__ import annotations

from dataclasses import replace
from math import cos, radians, sin
from typing import TYPE_CHECKING

from wallwright.core.drawing import TEXT_SMALL, Circle, Drawing, Leader, Line, Mark, Symbol, Text
from wallwright.core.shape import Box
from wallwright.core.table import Column, Table
from wallwright.core.units import show_mm
from wallwright.rules.screen_room import reach as arm_reach
from wallwright.rules.screen_room import turning
from wallwright.sheets.beside import Legend, Notes, column
from wallwright.sheets.chains import chain
from wallwright.sheets.figures import ROW
from wallwright.sheets.grounds import grounded
from wallwright.sheets.ink import extent, extent_of
from wallwright.sheets.paper import SCALES, Fields, Sheet, centred
from wallwright.sheets.place import settle
from wallwright.sheets.room import FULL
from wallwright.sheets.room_plan import ARC, aim, room_depth, room_plan, screen_outline, wedge, window_ends
from wallwright.sheets.section_cut import leaf
from wallwright.sheets.sun_clock import DAYS, PENS, sun_clock
from wallwright.sight.season import MONTHS

if TYPE_CHECKING:
    from wallwright.derive import Wall

PATIENCE = 400
"""So many places are tried for a label that no line crosses: sight lines run everywhere in this drawing."""
_SIDE = 150.0  # paper mm for the column at the right
_SCALES = tuple(float(s) for s in SCALES[4:])


def sheet(wall: Wall) -> Sheet:
    """The plan, the sun's clock where the place is known, and the angles as a table."""
    depth = room_depth(wall)
    wide, high = FULL.width - _SIDE - 26.0, FULL.height - 42.0
    scale = next(
        (
            s
            for s in _SCALES
            if (wall.face.width + 2 * leaf(wall)) / s <= wide and (depth + leaf(wall)) / s <= high
        ),
        _SCALES[-1],
    )
    room = Box(FULL.x, FULL.z, FULL.width - _SIDE, FULL.height)
    side = Box(room.right + 2, FULL.z, _SIDE - 6, FULL.height)
    marks = column(_beside(wall), (side,))
    views = (centred(drawing(wall, scale), room),)
    clock = sun_clock(wall)
    low = extent_of(marks, 1.0).z
    if clock is not None and extent(clock).height + 4.0 <= low - side.z:
        at = centred(clock, Box(side.x, side.z, side.width, low - side.z - 2.0))
        marks = (*marks, *(_moved(mark, at.x, at.y) for mark in clock.marks))
    return Sheet(
        "seat_plan",
        "Plan with angles",
        "Plan",
        views,
        marks,
        Fields.of(wall.job),
        ("Seats are drawn as outlines of usual size about the eyes; windows and lamps as surveyed.",),
        job_title=wall.job.title,
    )


def _moved(mark: Mark, dx: float, dy: float) -> Mark:
    """A mark of the sun's clock where the clock stands on the paper."""
    match mark:
        case Line():
            return replace(mark, points=tuple((x + dx, y + dy) for x, y in mark.points))
        case Circle():
            return replace(mark, centre=(mark.centre[0] + dx, mark.centre[1] + dy))
        case Text():
            return replace(mark, at=(mark.at[0] + dx, mark.at[1] + dy))
        case _:
            return mark


def drawing(wall: Wall, scale: float) -> Drawing:
    """The plan at 1:`scale`."""
    depth = room_depth(wall)
    still = room_plan(wall, scale)
    labels = [*_seats(wall, scale), *_names(wall, depth, scale), *_dimensions(wall, depth)]
    t = leaf(wall)
    within = Box(
        -t - 18 * scale, -depth - 24 * scale, wall.face.width + 2 * t + 36 * scale, depth + t + 44 * scale
    )
    brick = Box(-t, 0.0, wall.face.width + 2 * t, t)
    marks = grounded(still, settle(labels, scale, within, (brick,), still, PATIENCE), scale)
    return Drawing("plan", "Plan with angles", scale, marks, extent_of(marks, scale))


def _seats(wall: Wall, scale: float) -> list[Mark]:
    """Each seat's eye with its name, and the figure of its picture angle with a leader from the arc."""
    labels: list[Mark] = []
    for seat in wall.sight.seats:
        eye = (seat.eye[0], seat.eye[1])
        labels.append(Symbol("eye", eye, seat.ref, layer="sight", ref=seat.ref, aside=(0.0, -4.4)))
        low, high = wedge(wall, seat)
        left = seat.eye[0] < aim(wall)[0]
        a = radians(high - 0.15 * (high - low) if left else low + 0.15 * (high - low))
        on_arc = (eye[0] + ARC * scale * cos(a), eye[1] + ARC * scale * sin(a))
        beyond = (on_arc[0] + (-6.0 if left else 6.0) * scale, on_arc[1] + 0.5 * scale)
        labels.append(
            Leader((on_arc, beyond), f"{seat.picture_angle:.1f}°", layer="sight", ref=f"angle {seat.ref}")
        )
    return labels


def _names(wall: Wall, depth: float, scale: float) -> list[Mark]:
    """Refs of units, windows, lamps and furniture; the screen; how near it comes as it turns."""
    marks: list[Mark] = []
    for unit in wall.setout.units:
        if unit.cabinet:
            at = (unit.box.x + 1.5 * scale, -unit.depth + 1.0 * scale)
            marks.append(Text(at, unit.ref, TEXT_SMALL, layer="text", ref=unit.ref))
    for window in wall.job.survey.windows:
        a, b, out = window_ends(window, depth, wall.face.width)
        deep = max(window.reveal.mm, 90.0)
        x, y = (
            (a[0] + b[0]) / 2 + out[0] * (deep + 2 * scale),
            (a[1] + b[1]) / 2 + out[1] * (deep + 3.6 * scale),
        )
        anchor = "middle" if out[1] else "end" if out[0] < 0 else "start"
        marks.append(Text((x, y), window.ref, TEXT_SMALL, anchor, layer="text", ref=window.ref))
    screen = wall.sight.screen
    outline = screen_outline(wall, screen.swivel, screen.stand_off + screen.pulled)
    tip = outline[2]
    words = f"screen {screen.diagonal:g} in"
    marks.append(Leader((tip, (tip[0] + 8 * scale, tip[1] - 8 * scale)), words, layer="text", ref="screen"))
    for angle, swept in turning(wall):
        corner = min(screen_outline(wall, angle, arm_reach(wall)), key=lambda p: p[1])
        words = f"{angle:+g}°: {show_mm(swept.clear)} to {swept.near}"
        side = -1 if corner[0] < screen.centre[0] else 1
        marks.append(
            Leader((corner, (corner[0] + side * 6 * scale, corner[1] - 6 * scale)), words, layer="text")
        )
    return marks


def _dimensions(wall: Wall, depth: float) -> list[Mark]:
    """The seats across, and the eyes' distances up the left side."""
    width, t = wall.face.width, leaf(wall)
    xs = [seat.eye[0] for seat in wall.sight.seats]
    ys = [seat.eye[1] for seat in wall.sight.seats]
    marks: list[Mark] = [
        *chain([0.0, *[x for x in xs if 0 < x < width], width], "x", -depth, -2 * ROW, "seats")
    ]
    marks += chain([0.0, wall.sight.screen.centre[0], width], "x", t, ROW, "screen")
    if ys:
        back = [-depth] if wall.job.survey.room.depth is not None else []
        marks += chain([0.0, *ys, *back], "z", -t, -ROW, "distances")
    return marks


# --- beside it ----------------------------------------------------------------------------------------------------------
_SEATS = (
    Column("Seat"), Column("Hours", "", 1, "right"), Column("Distance", "mm", 0, "right"),
    Column("Picture", "°", 1, "right"), Column("Aside", "°", 1, "right"), Column("Panel good to", "°", 0, "right"),
    Column("Turn to face", "°", 0, "right"),
)  # fmt: skip


def _beside(wall: Wall) -> list[Notes | Legend | Table]:
    screen, swivel = wall.sight.screen, wall.sight.swivel
    limit = wall.limits.value(f"rule.sideways_{screen.panel}")
    turns = {turn.seat: turn.swivel for turn in swivel.turns} if swivel else {}
    rows = tuple(
        (s.ref, s.hours, s.distance, s.picture_angle, s.sideways, limit, turns.get(s.ref, 0.0))
        for s in wall.sight.seats
    )
    blocks: list[Notes | Legend | Table] = []
    if rows:
        blocks.append(Table("angles", "Seats and angles", _SEATS, rows))
    blocks += [Notes("Notes", _notes(wall)), *_legends(wall)]
    return blocks


def _notes(wall: Wall) -> tuple[str, ...]:
    swivel, place = wall.sight.swivel, wall.job.survey.place
    lines: list[str] = []
    if swivel is not None:
        lines.append(
            f"Unturned, the worst seat sees the picture {swivel.unturned:.0f}° from the side; "
            f"its panel bears {swivel.limit:.0f}°. Turned {swivel.fair:+.0f}° it is {swivel.worst:.0f}°, "
            f"which needs {show_mm(swivel.reach)} from the wall to its back."
        )
    if wall.sight.screen.mount == "arm" and not turning(wall):
        lines.append("The arm's furthest swivel is not entered: what it sweeps is not drawn.")
    if wall.job.survey.room.depth is None:
        lines.append("Room depth not surveyed: the room is broken off behind the seats (zigzag line).")
    if place.bearing is None:
        lines.append("Bearing not surveyed: north and the sun are not known.")
    elif place.latitude is None or place.longitude is None:
        lines.append("Latitude and longitude not surveyed: the sun is not drawn.")
    else:
        clock = (
            "mean time of the place"
            if place.utc_offset is None
            else f"UTC{place.utc_offset:+g} h, no summer time"
        )
        lines.append(
            f"The sun's clock: rim = horizon, middle = overhead, rings each 30°; figures are hours ({clock})."
        )
    if not wall.sight.seats:
        lines.append("No seats surveyed.")
    return tuple(lines)


def _legends(wall: Wall) -> list[Legend]:
    """The plan's own, and that of the sun's clock, which has lines of its own."""
    rows = [
        ("sign:eye", "eyes of a seat"),
        ("pen:thin", "picture angle of a seat; its figure at the arc"),
        ("pen:chain", "line to the picture's middle: how far aside"),
        ("pen:long", "as far aside as the panel's class bears"),
        ("pen:phantom", "seat, usual size"),
    ]
    if any(unit.kind == "shelf" for unit in wall.setout.units):
        rows.append(("pen:dashed", "shelf"))
    if turning(wall):
        rows.append(
            ("pen:dotted", "screen turned on its arm, what it sweeps, and how near it then comes to what")
        )
    legends = [Legend(tuple(rows))]
    place = wall.job.survey.place
    if place.bearing is not None and place.latitude is not None and place.longitude is not None:
        days = zip(PENS, DAYS, strict=True)
        sun = tuple((f"pen:{pen}", f"sun on {day} {MONTHS[month - 1]}") for pen, (month, day) in days)
        legends.append(Legend(sun, "In the sun's clock"))
    return legends
