"""The room in plan: seats with their hours and angles, the screen with its swivel, windows, lamps, north and the sun.

Across: x of the wall; upwards: y of the wall, so that the wall is at the top and the room below it.
"""

from __future__ import annotations

from dataclasses import replace
from math import atan2, cos, degrees, hypot, radians, sin
from typing import TYPE_CHECKING

from wallwright.core.drawing import (
    TEXT_SMALL,
    Circle,
    Drawing,
    Hatch,
    Leader,
    Line,
    Mark,
    Symbol,
    Text,
    rectangle,
)
from wallwright.core.shape import Box, Point2
from wallwright.core.table import Column, Table
from wallwright.core.units import show_mm
from wallwright.rules.screen_room import reach as arm_reach
from wallwright.rules.screen_room import turning
from wallwright.sheets.beside import Legend, Notes, column
from wallwright.sheets.figures import ROW
from wallwright.sheets.ink import extent, extent_of
from wallwright.sheets.paper import Fields, Sheet, centred
from wallwright.sheets.place import chain, settle
from wallwright.sheets.room import FULL
from wallwright.sheets.section import leaf
from wallwright.sheets.sun_clock import DAYS, PENS, sun_clock
from wallwright.sight.plan import swivel_body
from wallwright.sight.season import MONTHS

if TYPE_CHECKING:
    from wallwright.derive import Wall
    from wallwright.job.survey import Window
    from wallwright.sight.record import SeatView

_SIDE = 150.0  # paper mm for the column at the right
_SCALES = (20.0, 25.0, 40.0, 50.0, 75.0, 100.0, 200.0)


def sheet(wall: Wall) -> Sheet:
    """The plan, the sun's clock where the place is known, and the angles as a table."""
    depth = _depth(wall)
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


def _depth(wall: Wall) -> float:
    """How much of the room is drawn [mm]: to the opposite wall, else a little beyond the farthest eye."""
    given = wall.job.survey.room.depth
    eyes = [-seat.eye[1] for seat in wall.sight.seats]
    return given.mm if given is not None else max([*eyes, 2000.0]) + 700.0


def drawing(wall: Wall, scale: float) -> Drawing:
    """The plan at 1:`scale`."""
    depth = _depth(wall)
    still = (*_room(wall, depth), *_windows(wall, depth), *_units(wall), *_screen(wall))
    lines, labels = _seats(wall, scale)
    labels += [*_lamps(wall), *_names(wall, depth, scale), *_dimensions(wall, depth)]
    t = leaf(wall)
    within = Box(
        -t - 18 * scale, -depth - 24 * scale, wall.face.width + 2 * t + 36 * scale, depth + t + 44 * scale
    )
    marks = (*still, *lines, *settle(labels, scale, within))
    return Drawing("plan", "Plan with angles", scale, marks, extent_of(marks, scale))


def _room(wall: Wall, depth: float) -> list[Mark]:
    """The television wall, cut; the other walls, dashed at the end where nobody measured how deep the room is."""
    t, width = leaf(wall), wall.face.width
    box = Box(-t, 0.0, width + 2 * t, t)
    known = wall.job.survey.room.depth is not None
    marks: list[Mark] = [Hatch(box.corners, "masonry", layer="hatch", ref="wall")]
    marks.append(Line(((0.0, 0.0), (width, 0.0)), "extra", layer="wall", ref="wall"))
    for x in (0.0, width):
        marks.append(Line(((x, 0.0), (x, -depth)), "wide", layer="wall"))
    marks.append(Line(((0.0, -depth), (width, -depth)), "wide" if known else "dashed", layer="wall"))
    return marks


def _ends(window: Window, depth: float, width: float) -> tuple[Point2, Point2, Point2]:
    """The two ends of a window on the plan, and the way out of the room there."""
    near, far = window.along.mm, window.along.mm + window.width.mm
    if window.wall == "opposite":
        return (near, -depth), (far, -depth), (0.0, -1.0)
    x, out = (0.0, -1.0) if window.wall == "left" else (width, 1.0)
    return (x, -near), (x, -far), (out, 0.0)


def _windows(wall: Wall, depth: float) -> list[Mark]:
    """Windows as openings with two panes' lines, as deep as their reveal."""
    marks: list[Mark] = []
    for window in wall.job.survey.windows:
        a, b, out = _ends(window, depth, wall.face.width)
        deep = max(window.reveal.mm, 90.0)
        c, d = (b[0] + out[0] * deep, b[1] + out[1] * deep), (a[0] + out[0] * deep, a[1] + out[1] * deep)
        marks.append(Line((a, b, c, d), "medium", closed=True, fill="#fff", layer="windows", ref=window.ref))
        middle = [((p[0] + q[0]) / 2, (p[1] + q[1]) / 2) for p, q in ((a, d), (b, c))]
        marks.append(Line(tuple(middle), "thin", layer="windows", ref=window.ref))
    return marks


def _units(wall: Wall) -> list[Mark]:
    """Units and panels as they stand out from the wall; what hangs above the screen's foot is dashed."""
    marks: list[Mark] = []
    for zone in wall.setout.zones:
        marks.append(
            rectangle(
                Box(zone.box.x, -zone.build_up, zone.box.width, zone.build_up),
                "thin",
                fill="#fff",
                layer="panels",
                ref=zone.ref,
            )
        )
    for unit in sorted(wall.setout.units, key=lambda unit: unit.kind == "shelf"):
        box = Box(unit.box.x, -unit.depth, unit.box.width, unit.depth)
        if unit.kind == "shelf":
            marks.append(rectangle(box, "dashed", layer="units", ref=unit.ref))
        else:
            marks.append(rectangle(box, "wide", fill="#fff", layer="units", ref=unit.ref))
    return marks


def screen_outline(wall: Wall, swivel: float, out: float) -> tuple[Point2, ...]:
    """The screen's outline on the plan, turned by `swivel`, its unturned back `out` from the wall's face."""
    body = swivel_body(wall.job, wall.sight.screen, wall.limits)
    pivot = wall.sight.screen.centre[0] + body.axis, out - body.head
    return tuple((x, -away) for x, away in body.corners(pivot, swivel))


def _screen(wall: Wall) -> list[Mark]:
    """The screen as it hangs, what it sweeps as its arm turns it, and what its panel's class bears to either side."""
    screen = wall.sight.screen
    marks: list[Mark] = []
    for angle, _ in turning(wall):
        outline = screen_outline(wall, angle, arm_reach(wall))
        marks.append(Line(outline, "phantom", closed=True, layer="screen", ref=f"swivel {angle:g}"))
        marks += _swept(wall, angle)
    hung = screen_outline(wall, screen.swivel, arm_reach(wall) if screen.swivel else screen.stand_off)
    marks.append(Line(hung, "wide", closed=True, fill="#444", layer="screen", ref="screen"))
    aim = _aim(wall)
    limit = wall.limits.value(f"rule.sideways_{screen.panel}")
    for side in (-limit, limit):
        a = radians(side + screen.swivel)
        far = min(_depth(wall) * 0.92, 2600.0)
        room = (wall.face.width - aim[0]) / sin(a) if a > 0 else -aim[0] / sin(a) if a < 0 else far
        far = min(far, 0.98 * room)
        end = (aim[0] + far * sin(a), aim[1] - far * cos(a))
        marks.append(Line((aim, end), "dashed", layer="limit", ref=f"limit {side:g}"))
    return marks


def _swept(wall: Wall, swivel: float) -> list[Mark]:
    """The arcs in which the two front corners of the frame move."""
    body = swivel_body(wall.job, wall.sight.screen, wall.limits)
    pivot = wall.sight.screen.centre[0] + body.axis, -(arm_reach(wall) - body.head)
    marks: list[Mark] = []
    for corner in (2, 3):
        before, after = (screen_outline(wall, angle, arm_reach(wall))[corner] for angle in (0.0, swivel))
        angles = sorted(degrees(atan2(p[1] - pivot[1], p[0] - pivot[0])) for p in (before, after))
        if angles[1] - angles[0] > 180.0:
            angles = [angles[1], angles[0] + 360.0]
        radius = hypot(before[0] - pivot[0], before[1] - pivot[1])
        marks.append(Circle(pivot, radius, "thin", angles[0], angles[1], layer="screen", ref="swept"))
    return marks


def _aim(wall: Wall) -> Point2:
    """The picture's middle on the plan."""
    screen = wall.sight.screen
    return screen.picture.centre[0], -(screen.stand_off + screen.depth)


def _picture_ends(wall: Wall) -> tuple[Point2, Point2]:
    """The picture's left and right end on the plan, as it is turned about its middle."""
    (x, y), s = _aim(wall), radians(wall.sight.screen.swivel)
    half = wall.sight.screen.picture.width / 2
    return (x - half * cos(s), y - half * sin(s)), (x + half * cos(s), y + half * sin(s))


def _seats(wall: Wall, scale: float) -> tuple[list[Mark], list[Mark]]:
    """Each seat: its outline, its eye, the wedge of its picture angle, the line to the picture's middle, and the figures."""
    lines: list[Mark] = []
    labels: list[Mark] = []
    left, right = _picture_ends(wall)
    for seat in wall.sight.seats:
        eye = (seat.eye[0], seat.eye[1])
        lines += _furniture(wall, seat)
        for end in (left, right):
            lines.append(Line((eye, end), "thin", layer="sight", ref=f"wedge {seat.ref}"))
        lines.append(Line((eye, _aim(wall)), "chain", layer="sight", ref=f"axis {seat.ref}"))
        ways = sorted(degrees(atan2(p[1] - eye[1], p[0] - eye[0])) for p in (left, right))
        lines.append(
            Circle(eye, 11.0 * scale, "thin", ways[0], ways[1], layer="sight", ref=f"wedge {seat.ref}")
        )
        a = radians(sum(ways) / 2)
        at = (eye[0] + 15.5 * scale * cos(a), eye[1] + 15.5 * scale * sin(a) - scale)
        labels.append(
            Text(at, f"{seat.picture_angle:.1f}°", TEXT_SMALL, "middle", layer="sight", ref=seat.ref)
        )
        words = f"{seat.ref}: {seat.hours:g} h, {seat.sideways:.1f}° aside"
        labels.append(Symbol("eye", eye, words, layer="sight", ref=seat.ref, aside=(0.0, -5.4)))
    for thing in wall.job.survey.between:
        box = Box(thing.x.mm, -thing.distance.mm - thing.depth.mm, thing.width.mm, thing.depth.mm)
        lines.append(rectangle(box, "thin", layer="between", ref=thing.ref))
    return lines, labels


def _furniture(wall: Wall, seat: SeatView) -> list[Mark]:
    """A seat as an outline of usual size: a place behind and before the eye; a bed long, towards the wall."""
    half = wall.limits.value("sight.seat_width") / 2
    x, y = seat.eye[0], seat.eye[1]
    if seat.kind == "standing":
        return []
    before = wall.limits.value("sight.bed_foot") if seat.kind == "bed" else 500.0
    behind = wall.limits.value("sight.back_behind") + 100.0
    low = max(y - behind, -_depth(wall))
    return [rectangle(Box(x - half, low, 2 * half, y + before - low), "phantom", layer="seats", ref=seat.ref)]


def _lamps(wall: Wall) -> list[Mark]:
    marks: list[Mark] = []
    for lamp in wall.job.survey.lamps:
        size = lamp.width or lamp.diameter
        across = size.mm if size else wall.limits.value(f"sight.lamp_{lamp.kind}")
        at = (lamp.x.mm, -lamp.distance.mm)
        marks.append(Circle(at, across / 2, "medium", layer="lamps", ref=lamp.ref))
        marks.append(
            Text(
                (at[0], at[1] + across / 2 + 30.0),
                lamp.ref,
                TEXT_SMALL,
                "middle",
                layer="lamps",
                ref=lamp.ref,
            )
        )
    return marks


def _names(wall: Wall, depth: float, scale: float) -> list[Mark]:
    """Refs of units and windows; the screen; how near it comes as it turns."""
    marks: list[Mark] = []
    for unit in wall.setout.units:
        if unit.kind != "shelf":
            at = (unit.box.x + 1.5 * scale, -unit.depth + 1.0 * scale)
            marks.append(Text(at, unit.ref, TEXT_SMALL, layer="text", ref=unit.ref))
    for window in wall.job.survey.windows:
        a, b, out = _ends(window, depth, wall.face.width)
        deep = max(window.reveal.mm, 90.0)
        x, y = (
            (a[0] + b[0]) / 2 + out[0] * (deep + 2 * scale),
            (a[1] + b[1]) / 2 + out[1] * (deep + 3.6 * scale),
        )
        anchor = "middle" if out[1] else "end" if out[0] < 0 else "start"
        marks.append(Text((x, y), window.ref, TEXT_SMALL, anchor, layer="text", ref=window.ref))
    screen = wall.sight.screen
    outline = screen_outline(wall, screen.swivel, screen.stand_off)
    tip = outline[2]
    words = f"screen {screen.diagonal:g} in"
    marks.append(Leader((tip, (tip[0] + 8 * scale, tip[1] - 8 * scale)), words, layer="text", ref="screen"))
    for angle, swept in turning(wall):
        corner = min(screen_outline(wall, angle, arm_reach(wall)), key=lambda p: p[1])
        words = f"turned {angle:+g}°: {show_mm(swept.clear)} to {swept.near}"
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
        marks += chain([0.0, *ys, -depth], "z", -t, -ROW, "distances")
    return marks


# --- beside it ----------------------------------------------------------------------------------------------------------
_SEATS = (
    Column("Seat"), Column("Hours", "", 1, "right"), Column("Distance", "mm", 0, "right"),
    Column("Picture", "°", 1, "right"), Column("Aside", "°", 1, "right"), Column("Bears", "°", 0, "right"),
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
    blocks += [Notes("Notes", _notes(wall)), _legend(wall)]
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
        lines.append("Room depth not surveyed: the wall opposite is drawn where it may be.")
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


def _legend(wall: Wall) -> Legend:
    rows = [
        ("pen:thin", "picture angle of a seat"),
        ("pen:chain", "line to the picture's middle: how far aside"),
        ("pen:dashed", "as far aside as the panel's class bears; shelf above"),
        ("pen:phantom", "seat, usual size; screen turned on its arm"),
        ("sign:eye", "eyes of a seat, its hours a week"),
    ]
    place = wall.job.survey.place
    if place.bearing is not None and place.latitude is not None and place.longitude is not None:
        rows += [
            (f"pen:{pen}", f"sun on {day} {MONTHS[month - 1]}")
            for pen, (month, day) in zip(PENS, DAYS, strict=True)
        ]
    return Legend(tuple(rows))
