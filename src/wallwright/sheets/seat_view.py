"""The wall as each seat sees it: a line drawing in one-point perspective, the screen black and the screen on.

What lies in the wall's face is to scale; what stands before it is larger, as the eye has it. Hidden lines are hidden.
"""

from __future__ import annotations

import itertools
from collections.abc import Iterable, Iterator, Sequence
from math import cos, hypot, pi, radians, sin
from typing import TYPE_CHECKING

from wallwright.core.drawing import TEXT_SMALL, Drawing, Hatch, Line, Mark, Pattern, Pen, Text, rectangle
from wallwright.core.shape import Block, Box, Point2
from wallwright.core.units import show_mm
from wallwright.job.face import obstacle_box
from wallwright.sheets.beside import Legend, Notes, column
from wallwright.sheets.fronts import leaves
from wallwright.sheets.paper import Fields, Sheet, centred
from wallwright.sheets.perspective import NEAR, Thing, faces, outline, painted, project, segment
from wallwright.sheets.place import settle
from wallwright.sheets.room import FULL
from wallwright.sheets.templates import cut_to
from wallwright.sight.eyes import CROWN
from wallwright.sight.mirrored import glass_of, window_corners
from wallwright.sight.reflect import Glass, Point3

if TYPE_CHECKING:
    from wallwright.carcass.record import UnitBox
    from wallwright.derive import Wall
    from wallwright.sight.record import SeatView

CONES = (30.0, 40.0)
"""Full angles of the picture cones that are marked [deg]."""
SCALES = (10, 15, 20, 25, 40, 50, 75, 100, 150, 200)
GUTTER = 6.0  # paper mm between the two views
STRIP = 66.0  # paper mm for notes below them
ASIDE = 0.9
"""How far beside eye and screen a view reaches, of the eye's distance: the tangent of 42 degrees."""
BLACK = "#222"


def seat_view(wall: Wall, seat_ref: str, *, on: bool = False, scale: float = 25.0) -> Drawing:
    """The wall from the eye of one seat, to scale in the wall's face.

    on : with a picture and the LED lines lit; else the screen is black and shows what it mirrors for this seat ·
    scale : for the letters and line widths. KeyError names the seats there are.
    """
    seat = next((seat for seat in wall.sight.seats if seat.ref == seat_ref), None)
    if seat is None:
        raise KeyError(
            f"no seat {seat_ref!r}; there are {', '.join(s.ref for s in wall.sight.seats) or 'none'}"
        )
    window = view_window(wall, seat)
    marks: list[Mark] = [*_room(wall, seat.eye, window)]
    for thing in painted(list(_things(wall, seat, window, on=on)), seat.eye):
        marks += thing.marks
    cones, labels = _cones(wall, seat, window)
    marks += cones
    marks.append(rectangle(window, "medium", layer="frame"))
    labels += _names(wall, seat, window)
    marks += settle(labels, scale, window)
    title = f"Seat {seat.ref}, screen {'on' if on else 'black'}"
    return Drawing(f"view {seat.ref} {'on' if on else 'black'}", title, scale, tuple(marks), window)


def view_window(wall: Wall, seat: SeatView) -> Box:
    """What the view shows of the wall's plane: the wall, and a margin about it that grows with the distance.

    What lies farther than `ASIDE` beside eye and screen is left out: a long wall would make the rest too small to read.
    """
    away, frame = -seat.eye[1], wall.sight.screen.frame
    side, low, high = 0.07 * away, 0.2 * away, 0.04 * away
    left = max(-side, min(frame.x, seat.eye[0]) - ASIDE * away)
    right = min(wall.face.width + side, max(frame.right, seat.eye[0]) + ASIDE * away)
    return Box(left, -low, right - left, wall.face.height + low + high)


def sheets(wall: Wall) -> tuple[Sheet, ...]:
    """One sheet a seat."""
    return tuple(_sheet(wall, seat) for seat in wall.sight.seats if seat.distance > 2 * NEAR)


def _sheet(wall: Wall, seat: SeatView) -> Sheet:
    window = view_window(wall, seat)
    half, high = (FULL.width - 8.0 - GUTTER) / 2, FULL.height - STRIP - 9.0
    scale = float(
        next((s for s in SCALES if window.width / s <= half and window.height / s <= high), SCALES[-1])
    )
    views = [
        centred(seat_view(wall, seat.ref, on=on, scale=scale), Box(x, FULL.z + STRIP, half, high))
        for on, x in ((False, FULL.x + 4.0), (True, FULL.x + 4.0 + half + GUTTER))
    ]
    marks: list[Mark] = [
        Text(
            (view.x + window.x / scale, view.y + window.top / scale + 2.0),
            words,
            3.5,
            bold=True,
            layer="notes",
        )
        for view, words in zip(views, ("Screen black, by day", "Screen on, LED lines lit"), strict=True)
    ]
    third = (FULL.width - 16.0) / 3
    rooms = tuple(Box(FULL.x + 3 + i * (third + 5), FULL.z, third, STRIP - 4) for i in range(3))
    for block, room in zip(_beside(wall, seat), rooms, strict=True):
        marks += column((block,), (room,))
    return Sheet(
        f"view_{seat.ref}",
        f"View from seat {seat.ref}",
        "Perspective",
        tuple(views),
        tuple(marks),
        Fields.of(wall.job),
        (
            "Perspective: only what lies in the wall's face is to scale. For the client's eye, not for the workshop.",
        ),
        job_title=wall.job.title,
    )


def _beside(wall: Wall, seat: SeatView) -> tuple[Notes, Legend, Notes]:
    screen = wall.sight.screen
    seen = [hit for hit in wall.sight.reflections if hit.seat == seat.ref]
    facts = (
        f"{seat.kind.replace('_', ' ').capitalize()}, {seat.posture}: eye {show_mm(seat.eye[2])} above FFL"
        f"{'' if seat.eye_measured else ' (computed)'}, {show_mm(-seat.eye[1])} from the wall, x = {show_mm(seat.eye[0])}.",
        f"Picture {seat.picture_angle:.1f}° wide, seen {seat.sideways:.1f}° from the side.",
        f"Screen centre {abs(seat.centre_up):.1f}° {'up' if seat.centre_up >= 0 else 'down'}, top edge {seat.top_up:.1f}°.",
    )
    legend = Legend(
        (
            ("pen:chain", "cone of 30° about the line of sight to the picture's middle"),
            ("pen:dashed", "cone of 40° about it"),
            ("hatch:light", "mirrored in the black screen"),
            ("pen:wide", "LED line, lit"),
            ("hatch:dark", "open bay"),
        )
    )
    said = [
        f"{hit.window} is mirrored in {hit.share:.0%} of the picture, at {hit.ratio:.2f} of its luminance: {hit.verdict}"
        for hit in seen
    ]
    notes = (
        f"The eye looks at the wall squarely; the {screen.diagonal:g} in screen hangs as designed, tilt {screen.tilt:g}°.",
        *(said or ["Nothing surveyed is mirrored in the screen from here."]),
        f"Left out: what is nearer to the eye than {show_mm(NEAR)}, and what nobody surveyed.",
    )
    return Notes(f"Seat {seat.ref}", facts), legend, Notes("Notes", notes)


# --- the room -----------------------------------------------------------------------------------------------------------
def _room(wall: Wall, eye: Point3, window: Box) -> Iterator[Mark]:
    """The wall's outline, the edges of floor, ceiling and side walls that run towards the eye, and the windows in those."""
    width, height = wall.face.width, wall.face.height
    depth = wall.job.survey.room.depth.mm if wall.job.survey.room.depth else None
    plane = outline(eye, _front(wall.face.box, 0.0), window)
    yield Line(plane, "medium", closed=True, fill="#fff", layer="wall", ref="wall")
    for x in (0.0, width):
        for z in (0.0, height):
            yield from _edges(
                eye, ((x, 0.0, z), (x, eye[1], z)), window, "wide" if z == 0 else "medium", "wall"
            )
    yield from _edges(eye, ((0.0, 0.0, 0.0), (width, 0.0, 0.0)), window, "wide", "wall", "ffl")
    for opening in wall.job.survey.windows:
        corners = window_corners(opening, depth, width)
        if corners is not None and opening.wall != "opposite":
            shape = outline(eye, corners, window)
            if shape:
                yield Line(shape, "medium", closed=True, layer="windows", ref=opening.ref)


def _edges(
    eye: Point3, points: Sequence[Point3], window: Box, pen: Pen, layer: str, ref: str = ""
) -> Iterator[Line]:
    for a, b in itertools.pairwise(points):
        seen = segment(eye, a, b)
        piece = cut_to(*seen, window) if seen else None
        if piece is not None:
            yield Line(piece, pen, layer=layer, ref=ref)


# --- what stands before the wall ----------------------------------------------------------------------------------------
def _things(wall: Wall, seat: SeatView, window: Box, *, on: bool) -> Iterator[Thing]:
    eye = seat.eye
    for zone in wall.setout.zones:
        block = _standing(zone.box, zone.build_up)
        more: list[Mark] = []
        if zone.kind in ("fluted", "stone_veneer"):
            front = outline(eye, _front(zone.box, -zone.build_up), window)
            more += _tinted(front, "fluted" if zone.kind == "fluted" else "stone", zone.ref)
        y = -zone.build_up
        for x in zone.joints:
            ends = (x, y, zone.box.z), (x, y, zone.box.top)
            more += _edges(eye, ends, window, "thin", "panels", zone.ref)
        yield Thing(block, (*_box(block, eye, window, "panels", zone.ref), *more))
    for unit in wall.setout.units:
        block = _standing(unit.box, unit.depth)
        marks = (*_box(block, eye, window, "units", unit.ref), *_fronts(wall, unit, eye, window))
        yield Thing(block, marks)
    for obstacle in wall.face.obstacles:
        block = _standing(obstacle_box(obstacle), max(obstacle.projection.mm, 1.0))
        yield Thing(block, tuple(_box(block, eye, window, "obstacles", obstacle.ref, "thin")))
    yield _screen(wall, seat, window, on=on)
    if on:
        yield from _strips(wall, eye, window)
    yield from _before(wall, seat, window)


def _standing(box: Box, out: float) -> Block:
    """What stands that far out from the wall's face."""
    return Block(box.x, -out, box.z, box.width, out, box.height)


def _front(box: Box, y: float) -> tuple[Point3, ...]:
    return tuple((x, y, z) for x, z in box.corners)


def _box(block: Block, eye: Point3, window: Box, layer: str, ref: str, pen: Pen = "medium") -> Iterator[Mark]:
    """The faces of a box that are seen, white, so that they hide what lies behind."""
    for face in faces(block, eye):
        shape = outline(eye, face, window)
        if shape:
            yield Line(shape, pen, closed=True, fill="#fff", layer=layer, ref=ref)


def _closed(shape: tuple[Point2, ...], fill: str, layer: str, ref: str) -> Iterator[Mark]:
    if shape:
        yield Line(shape, "thin", closed=True, fill=fill, layer=layer, ref=ref)


def _tinted(shape: tuple[Point2, ...], pattern: Pattern, ref: str) -> Iterator[Mark]:
    if shape:
        yield Hatch(shape, pattern, layer="hatch", ref=ref)


def _fronts(wall: Wall, unit: UnitBox, eye: Point3, window: Box) -> Iterator[Mark]:
    """The fronts of a unit in the plane of its face: an open bay dark, with its shelves."""
    y = -unit.depth

    def flat(points: Iterable[Point2]) -> tuple[Point2, ...]:
        return outline(eye, [(x, y, z) for x, z in points], window)

    bays = [bay for bay in wall.carcass.bays if bay.unit == unit.ref]
    for bay in bays:
        for leaf in leaves(wall, bay, unit, bays):
            yield from _closed(flat(leaf.corners), "", "units", bay.ref)
        if bay.front == "open":
            yield from _tinted(flat(bay.box.corners), "dark", bay.ref)
            for shelf in wall.carcass.shelves:
                if shelf.unit == unit.ref and bay.box.meets(shelf.box):
                    yield from _closed(flat(shelf.box.corners), "#fff", "units", shelf.ref)
        elif bay.front == "cloth":
            for leaf in leaves(wall, bay, unit, bays):
                yield from _tinted(flat(leaf.corners), "light", bay.ref)


def _screen(wall: Wall, seat: SeatView, window: Box, *, on: bool) -> Thing:
    """The screen with its tilt and swivel; black with what it mirrors for this seat, or with a picture."""
    screen, eye = wall.sight.screen, seat.eye
    glass = glass_of(screen)
    w, h = screen.frame.width / 2, screen.frame.height / 2
    rim = [(-w, -h), (w, -h), (w, h), (-w, h)]
    front = [glass.in_room((x, z, 0.0)) for x, z in rim]
    back = [glass.in_room((x, z, -screen.depth)) for x, z in rim]
    marks: list[Mark] = []
    for i in range(4):
        shape = outline(eye, (back[i - 1], back[i], front[i], front[i - 1]), window)
        if shape:
            marks.append(Line(shape, "thin", closed=True, fill="#fff", layer="screen", ref="screen"))
    face = outline(eye, front, window)
    if face:
        marks.append(Line(face, "wide", closed=True, fill=BLACK, layer="screen", ref="screen"))
    marks += _picture(glass, eye, window) if on else _mirrored(wall, seat, glass, window)
    points = (*front, *back)
    lows = [min(p[i] for p in points) for i in range(3)]
    sizes = [max(p[i] for p in points) - lows[i] for i in range(3)]
    return Thing(Block(lows[0], lows[1], lows[2], sizes[0], sizes[1], sizes[2]), tuple(marks))


def _picture(glass: Glass, eye: Point3, window: Box) -> Iterator[Mark]:
    """The lit picture: white, with hills, a sun and two lines of captions, so that one sees that it is on."""
    w, h = glass.width / 2, glass.height / 2

    def at(x: float, z: float) -> Point3:
        return glass.in_room((x * w, z * h, 0.0))

    def shape(points: Iterable[Point2]) -> tuple[Point2, ...]:
        return outline(eye, [at(x, z) for x, z in points], window)

    yield from _closed(shape(((-1, -1), (1, -1), (1, 1), (-1, 1))), "#fff", "screen", "picture")
    hills = [at(*p) for p in ((-1, -0.1), (-0.55, 0.45), (-0.15, 0.0), (0.3, 0.6), (1, -0.2))]
    yield from _edges(eye, hills, window, "thin", "screen")
    sun = [(0.68 + 0.09 * cos(k * pi / 8), 0.62 + 0.16 * sin(k * pi / 8)) for k in range(16)]
    yield from _closed(shape(sun), "", "screen", "")
    for z, half in ((-0.66, 0.42), (-0.80, 0.34)):
        bar = ((-half, z), (half, z), (half, z + 0.07), (-half, z + 0.07))
        yield from _closed(shape(bar), "#555", "screen", "")


def _mirrored(wall: Wall, seat: SeatView, glass: Glass, window: Box) -> Iterator[Mark]:
    """The polygons in which this seat sees windows and lamps, light on the black screen."""
    out = glass.axes()[2]
    for hit in wall.sight.reflections:
        if hit.seat != seat.ref or len(hit.polygon) < 3:
            continue
        points: list[Point3] = []
        for x, z in hit.polygon:  # the record has them as on the elevation: back into the picture's plane
            aside, up = x - glass.middle[0], z - glass.middle[2]
            points.append((x, glass.middle[1] - (out[0] * aside + out[2] * up) / out[1], z))
        shape = outline(seat.eye, points, window)
        if shape:
            yield Line(shape, "thin", closed=True, fill="#fff", layer="mirrored", ref=hit.window)
            yield Hatch(shape, "light", layer="mirrored", ref=hit.window)


def _strips(wall: Wall, eye: Point3, window: Box) -> Iterator[Thing]:
    """The LED lines where they lie. They hide nothing, and what stands before them hides them."""
    for run in wall.light.runs:
        if len(run.path) < 2:
            continue
        xs, zs = [x for x, _ in run.path], [z for _, z in run.path]
        block = Block(min(xs), run.y, min(zs), max(xs) - min(xs), 1.0, max(zs) - min(zs))
        points = [(x, run.y, z) for x, z in run.path]
        yield Thing(block, tuple(_edges(eye, points, window, "wide", "lights", run.ref)))


def _before(wall: Wall, seat: SeatView, window: Box) -> Iterator[Thing]:
    """Furniture between, the backs and heads of nearer seats, the foot of one's own bed, and lamps."""
    eye, value = seat.eye, wall.limits.value
    blocks = [
        (Block(t.x.mm, -t.distance.mm - t.depth.mm, 0.0, t.width.mm, t.depth.mm, t.height.mm), t.ref)
        for t in wall.job.survey.between
    ]
    half, behind, row = value("sight.seat_width") / 2, value("sight.back_behind"), value("sight.row_apart")
    for surveyed, other in zip(wall.job.survey.seats, wall.sight.seats, strict=False):
        x, out, z = other.eye[0], -other.eye[1], other.eye[2]
        if out > -eye[1] - max(row, NEAR + behind):
            continue
        if surveyed.back_height:
            blocks.append(
                (Block(x - half, -out - behind, 0.0, 2 * half, 120.0, surveyed.back_height.mm), other.ref)
            )
        yield _head(eye, (x, -out, z), value("sight.head_width") / 2, window, other.ref)
    for block, ref in blocks:
        yield Thing(block, tuple(_box(block, eye, window, "seats", ref)))
    for lamp in wall.job.survey.lamps:
        given = lamp.width or lamp.diameter
        size = given.mm if given else value(f"sight.lamp_{lamp.kind}")
        high = lamp.height.mm if lamp.height else 20.0 if lamp.kind in ("downlight", "strip") else size
        deep = min(size, 200.0)
        block = Block(
            lamp.x.mm - size / 2, -lamp.distance.mm - deep / 2, lamp.z.mm - high / 2, size, deep, high
        )
        yield Thing(block, tuple(_box(block, eye, window, "lamps", lamp.ref, "thin")))


def _head(eye: Point3, at: Point3, half: float, window: Box, ref: str) -> Thing:
    """A head, as an oval round its eyes as high as the crown."""
    ring = [(at[0] + half * cos(k * pi / 8), at[1], at[2] + CROWN * sin(k * pi / 8)) for k in range(16)]
    shape = outline(eye, ring, window)
    marks = (Line(shape, "medium", closed=True, fill="#fff", layer="seats", ref=ref),) if shape else ()
    return Thing(Block(at[0] - half, at[1], at[2] - CROWN, 2 * half, 1.0, 2 * CROWN), marks)


# --- what is written on it ----------------------------------------------------------------------------------------------
def cone(eye: Point3, aim: Point3, angle: float, count: int = 72) -> tuple[Point2, ...]:
    """Where a cone of that full angle [deg] about the line from the eye to `aim` cuts the wall's plane; () where it misses it."""
    dx, dy, dz = aim[0] - eye[0], aim[1] - eye[1], aim[2] - eye[2]
    far, level = hypot(dx, dy, dz), hypot(dx, dy)
    axis = (dx / far, dy / far, dz / far)
    side = (dy / level, -dx / level, 0.0)
    up = (-dz * dx / (far * level), -dz * dy / (far * level), level / far)
    a = radians(angle / 2)
    points: list[Point2] = []
    for k in range(count):
        c, s = cos(2 * pi * k / count), sin(2 * pi * k / count)
        ray = [axis[i] * cos(a) + (side[i] * c + up[i] * s) * sin(a) for i in range(3)]
        if ray[1] < 0.05:
            return ()
        t = -eye[1] / ray[1]
        points.append((eye[0] + t * ray[0], eye[2] + t * ray[2]))
    return tuple(points)


def _cones(wall: Wall, seat: SeatView, window: Box) -> tuple[list[Mark], list[Mark]]:
    lines: list[Mark] = []
    labels: list[Mark] = []
    aim = glass_of(wall.sight.screen).middle
    pens: tuple[Pen, ...] = ("chain", "dashed")
    for angle, pen in zip(CONES, pens, strict=True):
        ring = cone(seat.eye, aim, angle)
        lines += [Line(piece, pen, layer="sight", ref=f"cone {angle:g}") for piece in inside_of(ring, window)]
        inside = [p for p in ring if window.holds(Box(p[0], p[1], 0, 0).grown(80.0))]
        if inside:
            at = max(inside, key=lambda p: p[0] - 0.2 * abs(p[1] - aim[2]))
            labels.append(Text(at, f"{angle:g}°", TEXT_SMALL, "middle", layer="text", ref=f"cone {angle:g}"))
    return lines, labels


def inside_of(ring: Sequence[Point2], window: Box) -> list[tuple[Point2, ...]]:
    """The pieces of a closed curve inside the window, each as long as it can be, so that dashes run on."""
    pieces: list[list[Point2]] = []
    for a, b in itertools.pairwise((*ring, *ring[:1])):
        piece = cut_to(a, b, window)
        if piece is None:
            continue
        if pieces and pieces[-1][-1] == piece[0]:
            pieces[-1].append(piece[1])
        else:
            pieces.append(list(piece))
    if len(pieces) > 1 and pieces[-1][-1] == pieces[0][0]:
        pieces[0] = pieces.pop() + pieces[0][1:]
    return [tuple(piece) for piece in pieces]


def _names(wall: Wall, seat: SeatView, window: Box) -> list[Mark]:
    """Refs of units, panels and the room's windows where they are seen."""
    marks: list[Mark] = []
    for unit in wall.setout.units:
        if unit.depth < -seat.eye[1] - NEAR:
            x, z = project(seat.eye, (unit.box.centre[0], -unit.depth, unit.box.centre[1]))
            marks.append(Text((x, z), unit.ref, TEXT_SMALL, "middle", layer="text", ref=unit.ref))
    depth = wall.job.survey.room.depth.mm if wall.job.survey.room.depth else None
    for opening in wall.job.survey.windows:
        corners = window_corners(opening, depth, wall.face.width)
        shape = outline(seat.eye, corners, window) if corners and opening.wall != "opposite" else ()
        if shape:
            x, z = sum(p[0] for p in shape) / len(shape), sum(p[1] for p in shape) / len(shape)
            marks.append(Text((x, z), opening.ref, TEXT_SMALL, "middle", layer="text", ref=opening.ref))
    return [
        mark for mark in marks if isinstance(mark, Text) and window.holds(Box(*mark.at, 0, 0).grown(120.0))
    ]
