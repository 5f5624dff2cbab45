"""The room in plan, as marks: walls, windows, units, the screen with what it sweeps, seats with the wedges they look in.

Across: x of the wall; upwards: y of the wall, so that the wall is at the top and the room below it.
"""

from __future__ import annotations

from math import atan2, cos, degrees, hypot, radians, sin
from typing import TYPE_CHECKING

from wallwright.core.drawing import Circle, Hatch, Line, Mark, rectangle
from wallwright.core.shape import Box, Point2
from wallwright.rules.screen_room import reach as arm_reach
from wallwright.rules.screen_room import turning
from wallwright.sheets.section_cut import leaf
from wallwright.sight.plan import swivel_body

if TYPE_CHECKING:
    from wallwright.derive import Wall
    from wallwright.job.survey import Window
    from wallwright.sight.record import SeatView

ARC = 11.0
"""Radius of the arc that marks a picture angle, paper mm."""


def room_plan(wall: Wall, scale: float) -> tuple[Mark, ...]:
    """Everything that is drawn of the room, without words."""
    depth = room_depth(wall)
    return (
        *_room(wall, depth),
        *_windows(wall, depth),
        *_units(wall),
        *_screen(wall),
        *_seats(wall, scale),
        *_between(wall),
        *_lamps(wall),
    )


def room_depth(wall: Wall) -> float:
    """How much of the room is drawn [mm]: to the opposite wall, else a little beyond the farthest eye."""
    given = wall.job.survey.room.depth
    eyes = [-seat.eye[1] for seat in wall.sight.seats]
    return given.mm if given is not None else max([*eyes, 2000.0]) + 700.0


def _room(wall: Wall, depth: float) -> list[Mark]:
    """The television wall, cut; the other walls, broken off by a zigzag where nobody measured how deep the room is."""
    t, width = leaf(wall), wall.face.width
    box = Box(-t, 0.0, width + 2 * t, t)
    known = wall.job.survey.room.depth is not None
    marks: list[Mark] = [Hatch(box.corners, "masonry", layer="hatch", ref="wall")]
    marks.append(Line(((0.0, 0.0), (width, 0.0)), "extra", layer="wall", ref="wall"))
    for x in (0.0, width):
        marks.append(Line(((x, 0.0), (x, -depth)), "wide", layer="wall"))
    end = ((0.0, -depth), (width, -depth)) if known else _zigzag(-60.0, width + 60.0, -depth)
    marks.append(
        Line(end, "wide" if known else "thin", layer="wall", ref="opposite" if known else "broken off")
    )
    return marks


def _zigzag(left: float, right: float, y: float) -> tuple[Point2, ...]:
    """A break line: straight but for one stroke to and fro in its middle."""
    middle, high = (left + right) / 2, 110.0
    return (
        (left, y), (middle - 60.0, y), (middle - 30.0, y + high), (middle + 30.0, y - high), (middle + 60.0, y),
        (right, y),
    )  # fmt: skip


def window_ends(window: Window, depth: float, width: float) -> tuple[Point2, Point2, Point2]:
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
        a, b, out = window_ends(window, depth, wall.face.width)
        deep = max(window.reveal.mm, 90.0)
        c, d = (b[0] + out[0] * deep, b[1] + out[1] * deep), (a[0] + out[0] * deep, a[1] + out[1] * deep)
        marks.append(Line((a, b, c, d), "medium", closed=True, fill="#fff", layer="windows", ref=window.ref))
        middle = [((p[0] + q[0]) / 2, (p[1] + q[1]) / 2) for p, q in ((a, d), (b, c))]
        marks.append(Line(tuple(middle), "thin", layer="windows", ref=window.ref))
    return marks


def _units(wall: Wall) -> list[Mark]:
    """Units and panels as they stand out from the wall; shelves are dashed."""
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
        marks.append(Line(outline, "dotted", closed=True, layer="screen", ref=f"swivel {angle:g}"))
        marks += _swept(wall, angle)
    hung = screen_outline(wall, screen.swivel, screen.stand_off + screen.pulled)
    marks.append(Line(hung, "wide", closed=True, fill="#444", layer="screen", ref="screen"))
    at = aim(wall)
    limit = wall.limits.value(f"rule.sideways_{screen.panel}")
    for side in (-limit, limit):
        a = radians(side + screen.swivel)
        far = min(room_depth(wall) * 0.92, 2600.0)
        room = (wall.face.width - at[0]) / sin(a) if a > 0 else -at[0] / sin(a) if a < 0 else far
        far = min(far, 0.98 * room)
        end = (at[0] + far * sin(a), at[1] - far * cos(a))
        marks.append(Line((at, end), "long", layer="limit", ref=f"limit {side:g}"))
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
        marks.append(Circle(pivot, radius, "dotted", angles[0], angles[1], layer="screen", ref="swept"))
    return marks


def aim(wall: Wall) -> Point2:
    """The picture's middle on the plan."""
    x, out = wall.sight.screen.middle
    return x, -out


def _picture_ends(wall: Wall) -> tuple[Point2, Point2]:
    """The picture's left and right end on the plan, as it is turned about its middle."""
    (x, y), s = aim(wall), radians(wall.sight.screen.swivel)
    half = wall.sight.screen.picture.width / 2
    return (x - half * cos(s), y - half * sin(s)), (x + half * cos(s), y + half * sin(s))


def wedge(wall: Wall, seat: SeatView) -> tuple[float, float]:
    """Between which directions a seat sees the picture [deg, anticlockwise from x]."""
    low, high = sorted(degrees(atan2(p[1] - seat.eye[1], p[0] - seat.eye[0])) for p in _picture_ends(wall))
    return low, high


def _seats(wall: Wall, scale: float) -> list[Mark]:
    """Each seat: its outline, the wedge of its picture angle, and the line to the picture's middle."""
    lines: list[Mark] = []
    for seat in wall.sight.seats:
        eye = (seat.eye[0], seat.eye[1])
        lines += _furniture(wall, seat)
        for end in _picture_ends(wall):
            lines.append(Line((eye, end), "thin", layer="sight", ref=f"wedge {seat.ref}"))
        lines.append(Line((eye, aim(wall)), "chain", layer="sight", ref=f"axis {seat.ref}"))
        low, high = wedge(wall, seat)
        lines.append(Circle(eye, ARC * scale, "thin", low, high, layer="sight", ref=f"wedge {seat.ref}"))
    return lines


def _furniture(wall: Wall, seat: SeatView) -> list[Mark]:
    """A seat as an outline of usual size: a place behind and before the eye; a bed long, towards the wall."""
    half = wall.limits.value("sight.seat_width") / 2
    x, y = seat.eye[0], seat.eye[1]
    if seat.kind == "standing":
        return []
    before = wall.limits.value("sight.bed_foot") if seat.kind == "bed" else 500.0
    behind = wall.limits.value("sight.back_behind") + 100.0
    low = max(y - behind, -room_depth(wall))
    return [rectangle(Box(x - half, low, 2 * half, y + before - low), "phantom", layer="seats", ref=seat.ref)]


def _between(wall: Wall) -> list[Mark]:
    """Furniture between the seats and the wall."""
    return [
        rectangle(
            Box(thing.x.mm, -thing.distance.mm - thing.depth.mm, thing.width.mm, thing.depth.mm),
            "thin",
            layer="between",
            ref=thing.ref,
        )
        for thing in wall.job.survey.between
    ]


def _lamps(wall: Wall) -> list[Mark]:
    """Lamps as circles of their size."""
    marks: list[Mark] = []
    for lamp in wall.job.survey.lamps:
        size = lamp.width or lamp.diameter
        across = size.mm if size else wall.limits.value(f"sight.lamp_{lamp.kind}")
        at = (lamp.x.mm, -lamp.distance.mm)
        marks.append(Circle(at, across / 2, "medium", layer="lamps", ref=lamp.ref))
    return marks
