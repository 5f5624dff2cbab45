"""What a seat sees, as marks: the room's edges, and all that stands before the wall, each thing with the box that holds it."""

from __future__ import annotations

import itertools
from collections.abc import Iterable, Iterator, Sequence
from math import cos, pi, sin
from typing import TYPE_CHECKING

from wallwright.core.drawing import Hatch, Line, Mark, Pattern, Pen
from wallwright.core.shape import Block, Box, Point2
from wallwright.job.face import obstacle_box
from wallwright.sheets.fronts import leaves
from wallwright.sheets.perspective import NEAR, Thing, faces, outline, segment
from wallwright.sheets.tiles import cut_to
from wallwright.sight.eyes import CROWN
from wallwright.sight.mirrored import glass_of, window_corners
from wallwright.sight.reflect import Glass, Point3

if TYPE_CHECKING:
    from wallwright.carcass.record import UnitBox
    from wallwright.derive import Wall
    from wallwright.sight.record import SeatView

BLACK = "#222"
"""The screen without a picture."""


def room(wall: Wall, eye: Point3, window: Box) -> Iterator[Mark]:
    """The wall's outline, the edges of floor, ceiling and side walls that run towards the eye, and the windows in those."""
    width, height = wall.face.width, wall.face.height
    depth = wall.job.survey.room.depth.mm if wall.job.survey.room.depth else None
    plane = outline(eye, front(wall.face.box, 0.0), window)
    yield Line(plane, "medium", closed=True, fill="#fff", layer="wall", ref="wall")
    for x in (0.0, width):
        for z in (0.0, height):
            yield from edges(
                eye, ((x, 0.0, z), (x, eye[1], z)), window, "wide" if z == 0 else "medium", "wall"
            )
    yield from edges(eye, ((0.0, 0.0, 0.0), (width, 0.0, 0.0)), window, "wide", "wall", "ffl")
    for opening in wall.job.survey.windows:
        corners = window_corners(opening, depth, width)
        if corners is not None and opening.wall != "opposite":
            shape = outline(eye, corners, window)
            if shape:
                yield Line(shape, "medium", closed=True, layer="windows", ref=opening.ref)


def edges(
    eye: Point3, points: Sequence[Point3], window: Box, pen: Pen, layer: str, ref: str = ""
) -> Iterator[Line]:
    """A line of straight edges as the eye sees it, cut at the window."""
    for a, b in itertools.pairwise(points):
        seen = segment(eye, a, b)
        piece = cut_to(*seen, window) if seen else None
        if piece is not None:
            yield Line(piece, pen, layer=layer, ref=ref)


def things(wall: Wall, seat: SeatView, window: Box, *, on: bool) -> Iterator[Thing]:
    """Everything that stands before the wall, each with its marks, in no order: `painted` puts the nearest last."""
    eye = seat.eye
    for zone in wall.setout.zones:
        block = _standing(zone.box, zone.build_up)
        more: list[Mark] = []
        if zone.kind in ("fluted", "stone_veneer"):
            face = outline(eye, front(zone.box, -zone.build_up), window)
            more += _tinted(face, "fluted" if zone.kind == "fluted" else "stone", zone.ref)
        y = -zone.build_up
        for x in zone.joints:
            ends = (x, y, zone.box.z), (x, y, zone.box.top)
            more += edges(eye, ends, window, "thin", "panels", zone.ref)
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


def front(box: Box, y: float) -> tuple[Point3, ...]:
    """The corners of a box of the elevation, y before the wall's face."""
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
    yield from edges(eye, hills, window, "thin", "screen")
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
            yield Hatch(shape, "allowed", layer="mirrored", ref=hit.window)


def _strips(wall: Wall, eye: Point3, window: Box) -> Iterator[Thing]:
    """The LED lines where they lie. They hide nothing, and what stands before them hides them."""
    for run in wall.light.runs:
        if len(run.path) < 2:
            continue
        xs, zs = [x for x, _ in run.path], [z for _, z in run.path]
        block = Block(min(xs), run.y, min(zs), max(xs) - min(xs), 1.0, max(zs) - min(zs))
        points = [(x, run.y, z) for x, z in run.path]
        yield Thing(block, tuple(edges(eye, points, window, "extra", "lights", run.ref)))


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
