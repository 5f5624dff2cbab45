"""What of the paper is taken: boxes that are written on, and thin boxes along lines, leaders and dimensions."""

from __future__ import annotations

import itertools
from collections.abc import Iterable, Iterator
from math import ceil, cos, hypot, pi, sin

from wallwright.core.drawing import PEN_WIDTH, Circle, Dim, Leader, Line, Mark, Symbol
from wallwright.core.shape import Box, Point2
from wallwright.sheets.ink import OVERSHOOT, TICK

SIGN = 1.7  # half the size of a sign on paper


class Taken:
    """The boxes already written on, in real mm, sorted into coarse cells so that a question costs little."""

    def __init__(self, scale: float, boxes: Iterable[Box] = ()) -> None:
        self._cell = 15.0 * scale
        # left, bottom, right and top: a sheet asks this some hundred thousand times, and plain numbers are answered soonest
        self._cells: dict[tuple[int, int], list[tuple[float, float, float, float]]] = {}
        for box in boxes:
            self.add(box)

    def add(self, box: Box) -> None:
        """Write there."""
        cell, cells = self._cell, self._cells
        x, z = box.x, box.z
        edges = x, z, x + box.width, z + box.height
        rows = range(int(z // cell), int(edges[3] // cell) + 1)
        for i in range(int(x // cell), int(edges[2] // cell) + 1):
            for j in rows:
                if (i, j) in cells:
                    cells[i, j].append(edges)
                else:
                    cells[i, j] = [edges]

    def free(self, box: Box) -> bool:
        """Whether nothing is written there yet."""
        cell, cells = self._cell, self._cells
        x, z = box.x, box.z
        right, top = x + box.width, z + box.height
        rows = range(int(z // cell), int(top // cell) + 1)
        for i in range(int(x // cell), int(right // cell) + 1):
            for j in rows:
                for left, low, end, high in cells.get((i, j), ()):
                    if x < end and left < right and z < high and low < top:
                        return False
        return True


def ticks(dim: Dim, scale: float) -> Iterator[Box]:
    """Its two oblique strokes, each as the box round it."""
    line = dim.at + dim.offset * scale
    for end in (dim.start[1], dim.end[1]) if dim.along == "z" else (dim.start[0], dim.end[0]):
        x, z = (line, end) if dim.along == "z" else (end, line)
        yield from _along((x - TICK * scale, z - TICK * scale), (x + TICK * scale, z + TICK * scale), scale)


def extensions(dim: Dim, scale: float) -> Iterator[Box]:
    """Its two extension lines, from the outline to past its line."""
    upright = dim.along == "z"
    far = dim.at + (dim.offset + (OVERSHOOT if dim.offset >= 0 else -OVERSHOOT)) * scale
    for end in (dim.start[1], dim.end[1]) if upright else (dim.start[0], dim.end[0]):
        yield from (
            _along((dim.at, end), (far, end), scale) if upright else _along((end, dim.at), (end, far), scale)
        )


def strokes(marks: Iterable[Mark], scale: float) -> Iterator[Box]:
    """Thin boxes along the lines of these marks, and boxes round their signs [real mm], for labels to keep clear of."""
    for mark in marks:
        if isinstance(mark, Line):
            points = (*mark.points, mark.points[0]) if mark.closed else mark.points
            for a, b in itertools.pairwise(points):
                yield from _along(a, b, scale, PEN_WIDTH[mark.pen] / 2)
        elif isinstance(mark, Circle):
            for a, b in itertools.pairwise(_round(mark)):
                yield from _along(a, b, scale, PEN_WIDTH[mark.pen] / 2)
        elif isinstance(mark, Symbol):
            yield Box(*mark.at, 0.0, 0.0).grown(SIGN * scale)


def _round(circle: Circle) -> list[Point2]:
    """Points along a circle or an arc, 10 degrees apart or less."""
    n = max(1, ceil((circle.end - circle.start) / 10))
    ways = [(circle.start + (circle.end - circle.start) * i / n) * pi / 180 for i in range(n + 1)]
    return [
        (circle.centre[0] + circle.radius * cos(a), circle.centre[1] + circle.radius * sin(a)) for a in ways
    ]


def new_strokes(mark: Mark, scale: float) -> Iterable[Box]:
    """What a settled mark draws that later labels keep clear of: a leader, a dimension line."""
    if isinstance(mark, Dim):
        line = mark.at + mark.offset * scale
        low, high = (mark.start[0], mark.end[0]) if mark.along == "x" else (mark.start[1], mark.end[1])
        ends = ((low, line), (high, line)) if mark.along == "x" else ((line, low), (line, high))
        return _along(*ends, scale)
    return leader_strokes(mark, scale)


def leader_strokes(leader: Mark, scale: float) -> list[Box]:
    """Boxes along a leader, but for its end, where its text is."""
    if not isinstance(leader, Leader) or not leader.text:
        return []
    (x0, z0), (x1, z1) = leader.points[0], leader.points[-1]
    share = max(0.0, 1.0 - 1.5 * scale / max(hypot(x1 - x0, z1 - z0), 1e-6))
    return list(_along((x0, z0), (x0 + share * (x1 - x0), z0 + share * (z1 - z0)), scale))


def _along(a: Point2, b: Point2, scale: float, half: float = 0.1) -> Iterator[Box]:
    """A line as thin boxes: one where it is level or upright, else one for each 2 paper mm."""
    (ax, az), (bx, bz) = a, b
    dx, dz = bx - ax, bz - az
    thin, both = half * scale, 2 * (half * scale)
    if abs(dx) < 0.5 or abs(dz) < 0.5:
        yield Box(
            (ax if dx > 0 else bx) - thin, (az if dz > 0 else bz) - thin, abs(dx) + both, abs(dz) + both
        )
        return
    n = max(1, ceil(hypot(dx, dz) / (2 * scale)))
    for i in range(n):
        x0, z0 = ax + dx * i / n, az + dz * i / n
        x1, z1 = ax + dx * (i + 1) / n, az + dz * (i + 1) / n
        yield Box(
            (x0 if x0 < x1 else x1) - thin, (z0 if z0 < z1 else z1) - thin, abs(x1 - x0) + both, abs(z1 - z0) + both
        )  # fmt: skip
