"""1:1 templates for the wall: the mount's holes and the boxes behind the screen, tiled on A4; and the rods as tables of marks.

Tiles meet edge to edge on their corner crosses. Every tile carries a 100 mm check line: measure it before drilling.
"""

from __future__ import annotations

import itertools
from collections.abc import Iterable, Iterator
from dataclasses import replace
from math import ceil
from typing import TYPE_CHECKING

from wallwright.core.drawing import TEXT_LABEL, TEXT_SMALL, Circle, Drawing, Line, Mark, Text, rectangle
from wallwright.core.shape import Box, Point2
from wallwright.core.table import Column, Table
from wallwright.core.units import show_level, show_mm
from wallwright.sheets.beside import Notes, column
from wallwright.sheets.figures import DATUM
from wallwright.sheets.ink import text_box
from wallwright.sheets.paper import A4, Fields, Sheet, View, numbered

if TYPE_CHECKING:
    from wallwright.derive import Wall
    from wallwright.services.record import ServicePoint

TILE = Box(15.0, 42.0, 180.0, 240.0)  # the part of an A4 page that joins to its neighbours
_CAUTIONS = ("Print at 100 %. Detect cables and pipes, isolate and prove dead before drilling.",)


def templates(wall: Wall) -> tuple[Sheet, ...]:
    """The rods and the drilling template, numbered."""
    return numbered((*_rods(wall), *_tiles(wall)))


def template_marks(wall: Wall) -> tuple[Mark, ...]:
    """What is marked through on to the wall, in wall axes: plate, holes, boxes, centre and level lines."""
    screen = wall.sight.screen
    x, z = screen.centre
    area = template_area(wall)
    marks: list[Mark] = [
        Line(((area.x, z), (area.right, z)), "chain", layer="levels", ref="level"),
        Line(((x, area.z), (x, area.top)), "chain", layer="levels", ref="plumb"),
        Text(
            (x + 4, z + 3), f"screen centre: FFL {show_level(z)}, x = {show_mm(x)}", TEXT_LABEL, layer="text"
        ),
        Text((x + 4, z - 7), "level", TEXT_SMALL, layer="text"),
        Text((x - 2, z + 12), "plumb", TEXT_SMALL, turn=90, layer="text"),
        rectangle(screen.plate, "medium", layer="screen", ref="plate"),
    ]
    marks.append(Text((screen.plate.x + 3, screen.plate.top - 6), "mount plate", TEXT_SMALL, layer="text"))
    for hole, diameter, words in _holes(wall):
        marks += _hole(hole, diameter, words)
    for point in _hidden(wall):
        marks += [
            rectangle(point.box, "wide", layer="points", ref=point.ref),
            *_cross((point.x, point.z), 12),
        ]
        size = f"{show_mm(point.box.width)} × {show_mm(point.box.height)}"
        words = f"{point.ref} {point.kind.replace('_', ' ')} {size}, {show_mm(point.box_depth)} deep"
        lines = (
            [words]
            if point.box.width > 120
            else [point.ref, f"{show_mm(point.box.width)} × {show_mm(point.box.height)}"]
        )
        for i, line in enumerate(lines):
            marks.append(
                Text(
                    (point.box.x + 2, point.box.top - 5 - 4.2 * i),
                    line,
                    TEXT_SMALL,
                    layer="text",
                    ref=point.ref,
                )
            )
    return tuple(marks)


def _hidden(wall: Wall) -> list[ServicePoint]:
    """The points whose boxes the screen hides."""
    return [point for point in wall.services.points if wall.sight.screen.frame.holds(point.box)]


def _holes(wall: Wall) -> Iterator[tuple[Point2, float, str]]:
    """The mount's wall holes as the structure stage set them out; the corners of its hole group where it set none."""
    screen = wall.sight.screen
    own = [
        check
        for check in wall.structure.fixings
        if screen.plate.grown(60).holds(_round(check.holes)) and check.holes
    ]
    if own:
        for hole in own[0].holes:
            yield hole, own[0].hole_diameter, f"Ø{own[0].hole_diameter:g} × {own[0].hole_depth:g}"
    else:
        for hole in screen.holes.corners:
            yield hole, 8.0, "mount hole: diameter by the anchor"


def _round(points: Iterable[Point2]) -> Box:
    xs, zs = zip(*points, strict=True) if points else ((0.0,), (0.0,))
    return Box(min(xs), min(zs), max(xs) - min(xs), max(zs) - min(zs))


def _hole(at: Point2, diameter: float, words: str) -> list[Mark]:
    return [
        Circle(at, diameter / 2, "medium", layer="fixings"),
        *_cross(at, 10),
        Text((at[0] + 7, at[1] + 4), words, TEXT_SMALL, layer="text"),
    ]


def _cross(at: Point2, arm: float) -> list[Mark]:
    x, z = at
    return [
        Line(((x - arm, z), (x + arm, z)), "thin", layer="fixings"),
        Line(((x, z - arm), (x, z + arm)), "thin", layer="fixings"),
    ]


def template_area(wall: Wall) -> Box:
    """What the template covers, in whole tiles from the top left corner of plate, holes and hidden boxes."""
    screen = wall.sight.screen
    boxes = [
        screen.plate,
        *(point.box for point in _hidden(wall)),
        *(Box(x, z, 0, 0) for (x, z), _, _ in _holes(wall)),
    ]
    left, right = min(b.x for b in boxes) - 8, max(b.right for b in boxes) + 8
    low, high = min(b.z for b in boxes) - 8, max(b.top for b in boxes) + 8
    across, up = ceil((right - left) / TILE.width), ceil((high - low) / TILE.height)
    return Box(left, high - up * TILE.height, across * TILE.width, up * TILE.height)


def _tiles(wall: Wall) -> list[Sheet]:
    """The template cut into tiles; tiles with nothing to mark on them are left out."""
    area, marks = template_area(wall), template_marks(wall)
    across, up = round(area.width / TILE.width), round(area.height / TILE.height)
    out: list[Sheet] = []
    for row in range(up):
        for col in range(across):
            window = Box(
                area.x + col * TILE.width, area.top - (row + 1) * TILE.height, TILE.width, TILE.height
            )
            inside = tuple(clipped(marks, window))
            if any(mark.layer in ("fixings", "points") for mark in inside):
                name = f"{chr(65 + row)}{col + 1}"
                out.append(_tile(wall, window, inside, name, (row, col, up, across)))
    return out


def _tile(
    wall: Wall, window: Box, inside: tuple[Mark, ...], name: str, where: tuple[int, int, int, int]
) -> Sheet:
    row, col, up, across = where
    view = View(Drawing(f"tile {name}", name, 1.0, inside), TILE.x - window.x, TILE.z - window.z)
    marks: list[Mark] = []
    for corner in TILE.corners:
        marks += [replace(line, layer="frame") for line in _cross(corner, 5) if isinstance(line, Line)]
    beside = [f"left: {chr(65 + row)}{col}"] * (col > 0) + [f"right: {chr(65 + row)}{col + 2}"] * (
        col < across - 1
    )
    beside += [f"above: {chr(64 + row)}{col + 1}"] * (row > 0) + [f"below: {chr(66 + row)}{col + 1}"] * (
        row < up - 1
    )
    words = (
        f"Tile {name} of {up} rows × {across}. Joins on the corner crosses: {', '.join(beside) or 'alone'}"
    )
    marks.append(Text((TILE.x + 7, TILE.top + 3), words, TEXT_SMALL, layer="frame"))
    return Sheet(
        f"template_{name}",
        f"Drilling template 1:1, tile {name}",
        "Template 1:1",
        (view,),
        tuple(marks),
        Fields.of(wall.job),
        _CAUTIONS,
        size=A4,
        job_title=wall.job.title,
    )


def clipped(marks: Iterable[Mark], window: Box) -> Iterator[Mark]:
    """What of the marks lies in the window: lines cut at its edge, circles by their centre, texts only when whole."""
    for mark in marks:
        match mark:
            case Line():
                points = (*mark.points, mark.points[0]) if mark.closed else mark.points
                for a, b in itertools.pairwise(points):
                    piece = cut_to(a, b, window)
                    if piece is not None:
                        yield replace(mark, points=piece, closed=False, fill="")
            case Circle():
                if window.holds(Box(*mark.centre, 0, 0)):
                    yield mark
            case Text():
                if window.holds(text_box(mark, 1.0)):
                    yield mark
            case _:
                yield mark


def cut_to(a: Point2, b: Point2, window: Box) -> tuple[Point2, Point2] | None:
    """The piece of the line from a to b inside the window; None where there is none (Liang and Barsky 1984)."""
    dx, dz = b[0] - a[0], b[1] - a[1]
    low, high = 0.0, 1.0
    for p, q in (
        (-dx, a[0] - window.x),
        (dx, window.right - a[0]),
        (-dz, a[1] - window.z),
        (dz, window.top - a[1]),
    ):
        if p == 0:
            if q < 0:
                return None
        elif p < 0:
            low = max(low, q / p)
        else:
            high = min(high, q / p)
    if low >= high:
        return None
    return (a[0] + low * dx, a[1] + low * dz), (a[0] + high * dx, a[1] + high * dz)


ROWS = 38  # rows of a rod's table on one page


def _rods(wall: Wall) -> tuple[Sheet, ...]:
    """Height rod and width rod as tables: every mark with its distance, for a lath marked on site."""
    room = Box(22.0, 48.0, 174.0, 232.0)
    notes = Notes(
        "How to use it",
        (
            "Strike the marks on a straight lath, all from one end: FFL for the height rod, the left corner for the width rod.",
            "Never add one size to the next. Set the datum line first; work up and down from it.",
        ),
    )
    out: list[Sheet] = []
    for title, table in (("Height rod", height_rod(wall)), ("Width rod", width_rod(wall))):
        for i in range(0, len(table.rows), ROWS):
            page = replace(table, rows=table.rows[i : i + ROWS])
            marks = column((notes, page), (room,))
            name = f"{table.name}_{i // ROWS + 1}"
            out.append(
                Sheet(
                    name,
                    title,
                    "Setting-out",
                    (),
                    marks,
                    Fields.of(wall.job),
                    _CAUTIONS,
                    size=A4,
                    job_title=wall.job.title,
                )
            )
    return tuple(out)


def height_rod(wall: Wall) -> Table:
    """Every height to strike, from the top down."""
    screen = wall.sight.screen
    marks = [(0.0, "FFL: end of the rod"), (DATUM, "datum line"), (wall.face.height, "ceiling")]
    marks += [
        (screen.frame.z, "screen, lower edge"),
        (screen.centre[1], "screen, centre"),
        (screen.frame.top, "screen, upper edge"),
    ]
    marks += [(z, "mount hole") for (_, z), _, _ in _holes(wall)]
    for unit in wall.setout.units:
        marks += [
            (unit.box.z, f"{unit.ref} {unit.kind}, underside"),
            (unit.box.top, f"{unit.ref} {unit.kind}, top"),
        ]
    marks += [
        (point.z, f"{point.ref} {point.kind.replace('_', ' ')}, centre of box")
        for point in wall.services.points
    ]
    return _rod("height_rod", "Height rod: above FFL", marks, up=True)


def width_rod(wall: Wall) -> Table:
    """Every place across, from the left corner."""
    screen = wall.sight.screen
    marks = [
        (0.0, "left corner: end of the rod"),
        (wall.face.width, "right corner"),
        (screen.centre[0], "screen, centre"),
    ]
    marks += [(screen.frame.x, "screen, left edge"), (screen.frame.right, "screen, right edge")]
    for unit in wall.setout.units:
        marks += [
            (unit.box.x, f"{unit.ref} {unit.kind}, left"),
            (unit.box.right, f"{unit.ref} {unit.kind}, right"),
        ]
    marks += [
        (point.x, f"{point.ref} {point.kind.replace('_', ' ')}, centre of box")
        for point in wall.services.points
    ]
    return _rod("width_rod", "Width rod: from the left corner", marks, up=False)


def _rod(name: str, title: str, marks: list[tuple[float, str]], *, up: bool) -> Table:
    by: dict[float, list[str]] = {}
    for at, words in sorted(marks, key=lambda mark: mark[0]):
        by.setdefault(round(at, 1), []).append(words)
    rows = [
        (show_mm(at, 0 if at == round(at) else 1), "; ".join(dict.fromkeys(words)))
        for at, words in by.items()
    ]
    return Table(
        name, title, (Column("Mark", "mm", 0, "right"), Column("What")), tuple(reversed(rows) if up else rows)
    )
