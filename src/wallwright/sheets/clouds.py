"""Revision clouds: a line of bows round what changed and a triangle with the revision, in black line; no text is struck.

Common drawing practice: a cloud is drawn where nothing is written, and broken off where a text stands.
"""

from __future__ import annotations

from collections.abc import Iterator
from itertools import pairwise
from math import atan2, ceil, cos, pi, sin

from wallwright.core.drawing import TEXT_SMALL, Line, Mark, Text, rectangle
from wallwright.core.shape import Box, Point2, around
from wallwright.sheets.ink import inked, text_box
from wallwright.sheets.paper import A3, EDGE, LEFT, Sheet
from wallwright.sheets.taken import Taken

SCALLOP = 2.6
"""Radius of a cloud's bows [paper mm]."""
OUT = (0.0, 1.5, 3.0, 4.5, 6.0)
"""So far each side may be moved outwards for one that strikes fewer texts [paper mm]."""
AIR = 0.3
"""What a cloud leaves about a text [paper mm]."""
LAYER = "revisions"


def written_on(sheet: Sheet) -> Iterator[Box]:
    """The boxes of all texts of a sheet as printed [paper mm]."""
    for view in sheet.layers:
        s = view.drawing.scale
        for mark in view.drawing.marks:
            for part in inked(mark, s):
                if isinstance(part, Text):
                    box = text_box(part, s)
                    x, z = view.on_paper((box.x, box.z))
                    yield Box(x, z, box.width / s, box.height / s)


def cloud(area: Box, revision: str, written: Taken | None = None) -> list[Mark]:
    """A line of bows round an area, and the triangle at a corner of it.

    written : the texts of the sheet: each side goes where it strikes the fewest, is broken off at the others, and the triangle
    stands at the first corner where it covers none. Its own place is added.
    """
    written = written or Taken(1.0)
    edge = _placed(area.grown(SCALLOP * 0.8), written)
    points = [point for start, end in _sides(edge) for point in _bows(start, end)]
    points.append(points[0])
    name = f"cloud {revision}"
    clear = [_clear(a, b, written) for a, b in pairwise(points)]
    marks: list[Mark] = [Line(run, "medium", layer=LAYER, ref=name) for run in _runs(points, clear)]
    if all(clear):
        marks = [Line(tuple(points), "medium", closed=True, layer=LAYER, ref=name)]
    at = _corner(edge, written)
    written.add(_about(at))
    return [*marks, *triangle(at, revision)]


def _sides(edge: Box) -> Iterator[tuple[Point2, Point2]]:
    corners = edge.corners
    yield from zip(corners, (*corners[1:], corners[0]), strict=True)


def _placed(edge: Box, written: Taken) -> Box:
    """The box with each side moved outwards as far as it takes to strike the fewest texts."""
    left, low, right, top = edge.x, edge.z, edge.right, edge.top
    for side in range(4):
        ways: list[tuple[int, Box]] = []
        for out in OUT:
            moved = [left, low, right, top]
            moved[side] += out if side > 1 else -out
            box = Box(moved[0], moved[1], moved[2] - moved[0], moved[3] - moved[1])
            start, end = list(_sides(box))[(3, 0, 1, 2)[side]]
            struck = sum(not _clear(a, b, written) for a, b in pairwise(_bows(start, end)))
            ways.append((struck, box))
        edge = min(ways, key=lambda way: way[0])[1]
        left, low, right, top = edge.x, edge.z, edge.right, edge.top
    return edge


def _clear(a: Point2, b: Point2, written: Taken, air: float = AIR) -> bool:
    return written.free(around((a, b)).grown(air))


def _runs(points: list[Point2], clear: list[bool]) -> Iterator[tuple[Point2, ...]]:
    """The pieces of a line that are clear, end to end."""
    run: list[Point2] = []
    for (a, b), good in zip(pairwise(points), clear, strict=True):
        if good:
            run = [*run, b] if run else [a, b]
        elif run:
            yield tuple(run)
            run = []
    if run:
        yield tuple(run)


def _corner(edge: Box, written: Taken) -> Point2:
    """Where the triangle covers no text: at a corner, the upper right one first, or along a side; else there all the same."""
    frame = Box(LEFT, EDGE, A3[0] - LEFT - EDGE, A3[1] - 2 * EDGE)
    right, left, top, low = edge.right + 1.0, edge.x - 1.0, edge.top + 1.0, edge.z - 1.0
    x, z = edge.centre
    ways = ((right, top), (left, top), (right, low), (left, low), (x, top), (right, z), (left, z), (x, low))
    return next((at for at in ways if frame.holds(_about(at)) and written.free(_about(at))), ways[0])


def _about(at: Point2) -> Box:
    """What the triangle covers."""
    return Box(at[0] - 3.4, at[1] - 2.2, 6.8, 5.9)


CLOSE = (0.6, 0.4, 0.2)
"""So far off a side of a frame stands, the first at which it strikes no text beside it [paper mm]."""


def framed(area: Box, revision: str, written: Taken | None = None) -> list[Mark]:
    """Lines of text or cells that changed in a close frame: bows would run through the letters, and a triangle over what stands
    beside them. It is broken off where it would strike another text.
    """
    written = written or Taken(1.0)
    name = f"frame {revision}"
    ways = [rectangle(area.grown(by), "medium", layer=LAYER, ref=name) for by in CLOSE]
    whole = [all(_clear(a, b, written, 0.0) for a, b in _pieces(way)) for way in ways]
    if any(whole):
        return [ways[whole.index(True)]]
    points = [*(a for a, _ in _pieces(ways[1])), ways[1].points[0]]
    clear = [_clear(a, b, written, 0.0) for a, b in pairwise(points)]
    return [Line(run, "medium", layer=LAYER, ref=name) for run in _runs(points, clear)]


def _pieces(outline: Line) -> Iterator[tuple[Point2, Point2]]:
    """An outline in pieces of a millimetre."""
    for (ax, az), (bx, bz) in pairwise((*outline.points, outline.points[0])):
        n = max(1, ceil(abs(bx - ax) + abs(bz - az)))
        dx, dz = (bx - ax) / n, (bz - az) / n
        for k in range(n):
            yield (ax + dx * k, az + dz * k), (ax + dx * (k + 1), az + dz * (k + 1))


def _bows(start: Point2, end: Point2) -> list[Point2]:
    """Half circles along a side, bulging to its right as one walks it: outwards, for corners that run counter-clockwise."""
    dx, dz = end[0] - start[0], end[1] - start[1]
    length = (dx * dx + dz * dz) ** 0.5
    count = max(1, ceil(length / (2 * SCALLOP)))
    along, radius = atan2(dz, dx), length / count / 2
    out: list[Point2] = []
    for k in range(count):
        share = (k + 0.5) / count
        cx, cz = start[0] + dx * share, start[1] + dz * share
        for step in range(6):
            turn = along + pi + pi * step / 6  # from the bow's beginning, round its outer side
            out.append((cx + radius * cos(turn), cz + radius * sin(turn)))
    return out


def triangle(at: Point2, revision: str) -> list[Mark]:
    """A triangle with the revision in it; at : its middle [paper mm]."""
    x, z = at
    corners = ((x - 3.4, z - 2.2), (x + 3.4, z - 2.2), (x, z + 3.7))
    outline = Line(corners, "wide", closed=True, fill="#fff", layer=LAYER, ref=f"rev {revision}")
    letter = Text((x, z - 1.6), revision, TEXT_SMALL, "middle", bold=True, layer=LAYER, ref="rev")
    return [outline, letter]
