"""Sets figures and labels so that none is over another: each mark's text tries its usual place first, then the next best.

Common drawing practice: a figure that does not fit its dimension goes below the line, then beyond it with a pointer; a label
moves to another side of its sign; a leader's text is turned to where there is room.
"""

from __future__ import annotations

import itertools
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import replace
from math import ceil, cos, floor, hypot, pi, sin
from typing import Literal

from wallwright.core.drawing import (
    PEN_WIDTH,
    TEXT_SMALL,
    Circle,
    Dim,
    Leader,
    Level,
    Line,
    Mark,
    Symbol,
    Text,
)
from wallwright.core.shape import Box, Point2
from wallwright.sheets.ink import OVERSHOOT, TICK, figure, rounded, text_box, texts
from wallwright.sheets.lettering import text_width

CLEAR = 0.4  # paper mm between two texts
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


def settle(
    marks: Iterable[Mark],
    scale: float,
    within: Box | None = None,
    taken: Iterable[Box] = (),
    lines: Iterable[Mark] | None = None,
    patience: int | None = None,
) -> tuple[Mark, ...]:
    """The marks with their texts moved where they would lie over one another. Texts that stand still go first.

    within : real-mm box that no text may leave · taken : real-mm boxes to keep clear of · lines : what is drawn already: labels
    stand clear of its lines, and of one another's leaders, where there is such a place · patience : how many places are tried for
    one that no line crosses, once one free of other texts is found; None: `PATIENCE`
    """
    patience = PATIENCE if patience is None else patience
    marks = tuple(marks)
    used = Taken(scale, taken)
    drawn = None if lines is None else Taken(scale, strokes(lines, scale))
    dims = [mark for mark in marks if isinstance(mark, Dim)]
    ends = Taken(scale, (box for dim in dims for box in _extensions(dim, scale)))
    rows: dict[tuple[str, int], list[Point2]] = {}
    for dim in dims:
        rows.setdefault(_row(dim, scale), []).append(_span(dim))
        for box in (*_ticks(dim, scale), *_new_strokes(dim, scale)):
            ends.add(box)
    if drawn is not None:
        for dim in dims:
            for box in (*_new_strokes(dim, scale), *_extensions(dim, scale)):
                drawn.add(box)
    for mark in marks:
        if isinstance(mark, Symbol):
            x, z = mark.at
            used.add(Box(x - SIGN * scale, z - SIGN * scale, 2 * SIGN * scale, 2 * SIGN * scale))
    order = sorted(range(len(marks)), key=lambda i: (_RANK.get(type(marks[i]), 9), i))
    out = list(marks)
    for i in order:
        mark = marks[i]
        if isinstance(mark, Dim):
            out[i] = _settled_dim(mark, scale, within, used, ends, rows[_row(mark, scale)])
        elif type(mark) in _RANK:
            out[i] = _settled(mark, scale, within, used, drawn, patience)
            if drawn is not None:
                for box in _leader_strokes(out[i], scale):
                    drawn.add(box)
    return tuple(out)


PATIENCE = 48
"""So many places are tried for one that no line crosses, where a drawing does not ask for more."""


def _settled(
    mark: Mark, scale: float, within: Box | None, used: Taken, drawn: Taken | None, patience: int
) -> Mark:
    """The first way of setting this mark's text that is free, best of lines too; its usual one where there is none (a test finds
    those).
    """
    usual: list[Box] | None = None
    second: tuple[Mark, list[Box]] | None = None
    after, lined = 0, False
    for tried in ways(mark, scale):
        boxes = [text_box(text, scale).grown(CLEAR / 2 * scale) for text in texts(tried, scale)]
        usual = boxes if usual is None else usual
        after += second is not None
        if after > patience:
            break
        if not all(used.free(box) and (within is None or within.holds(box)) for box in boxes):
            continue
        over_line = drawn is not None and not all(drawn.free(box) for box in boxes)
        if drawn is None or (
            not over_line
            and not (isinstance(tried, Leader) and not all(map(used.free, _leader_strokes(tried, scale))))
        ):
            second = tried, boxes
            break
        if second is None or (
            lined and not over_line
        ):  # a leader over a box is better than a text over a line
            second, lined = (tried, boxes), over_line
    chosen, boxes = second or (mark, usual or [])
    for box in boxes:
        used.add(box)
    return chosen


def _settled_dim(  # noqa: PLR0913
    dim: Dim, scale: float, within: Box | None, used: Taken, ends: Taken, row: Sequence[Point2]
) -> Mark:
    """A dimension with its figure where no text and no extension line is: of another chain's too, which runs through on its way
    outwards. Where there is no such place between its ends, the first that is free of texts.

    ends : the lines, ticks and extension lines of all dimensions · row : from where to where each dimension on its line runs
    """
    free: tuple[Mark, Box] | None = None
    for tried in itertools.chain(_near_ways(dim, scale), _outer_ways(dim, scale, row), ways(dim, scale)):
        bare = next(text_box(text, scale) for text in texts(tried, scale))
        box = bare.grown(CLEAR / 2 * scale)
        if used.free(box) and (within is None or within.holds(box)):
            free = free or (tried, box)
            if ends.free(bare.grown(ROOM * scale)) and not _misread(tried, bare, row, scale):
                used.add(box)
                return tried
    chosen, box = free or (dim, next(text_box(text, scale) for text in texts(dim, scale)))
    used.add(box)
    return chosen


SLIDE = 1.6
"""Steps by which a figure is moved along its dimension, paper mm."""


def _near_ways(dim: Dim, scale: float) -> Iterator[Mark]:
    """Where a figure may stand without a pointer: beyond the ends where it is too wide for them, else along the line, over it first."""
    room = dim.value / scale / 2 - text_width(figure(dim), TEXT_SMALL) / 2
    for lift, least in ((dim.lift, TICK + 0.4), (-3.4, TICK + 0.4), (OVER, 0.4), (UNDER, 0.4)):
        for step in range(int(min(room - least, 30.0) / SLIDE) + 1) if room >= least else ():
            for shift in (step * SLIDE, -step * SLIDE)[: 2 if step else 1]:
                yield replace(dim, lift=lift, shift=shift)
    if room < 0.4:
        beyond = _clear_of_ends(dim)
        for step in range(7):
            for shift in (0.7 * step, -0.7 * step)[: 2 if step else 1]:
                yield replace(dim, lift=beyond, shift=shift)


OVER, UNDER = TICK + 0.6, -(TICK + 0.8 + TEXT_SMALL)
"""Lifts at which a figure that nearly fills its dimension stands above or below the ticks at its ends, paper mm."""


def _outer_ways(dim: Dim, scale: float, row: Sequence[Point2]) -> Iterator[Mark]:
    """On the dimension's line drawn on, outside an end where its chain ends: common practice where a part is too short for its
    figure. Beside the next part of the chain it would be taken for that one's.

    row : from where to where each dimension on this line runs
    """
    low, high = _span(dim)
    beyond = dim.value / scale / 2 + text_width(figure(dim), TEXT_SMALL) / 2
    signs = [
        sign
        for sign, end in ((1.0, high), (-1.0, low))
        if not any((b if sign > 0 else a) * sign > end * sign + 0.5 for a, b in row)
    ]
    for more in (TICK + 0.4, TICK + 0.4 + SLIDE, TICK + 0.4 + 2 * SLIDE, TICK + 0.4 + 4 * SLIDE):
        for lift in (dim.lift, -3.4):
            for sign in signs:
                yield replace(dim, lift=lift, shift=sign * (beyond + more))


def _span(dim: Dim) -> Point2:
    """From where to where it runs, along its own way [real mm]."""
    axis = 1 if dim.along == "z" else 0
    return min(dim.start[axis], dim.end[axis]), max(dim.start[axis], dim.end[axis])


def _row(dim: Dim, scale: float) -> tuple[str, int]:
    """Which line it stands on."""
    return dim.along, round(dim.at + dim.offset * scale)


def _misread(dim: Mark, box: Box, row: Sequence[Point2], scale: float) -> bool:
    """Whether the figure stands beside another dimension of its line rather than its own: within the length of the extension lines."""
    if not isinstance(dim, Dim) or not -5.0 < dim.lift < OVERSHOOT + 0.5:
        return False
    own = _span(dim)
    a, b = (box.z, box.top) if dim.along == "z" else (box.x, box.right)
    return any((low, high) != own and a < high - 0.1 * scale and low + 0.1 * scale < b for low, high in row)


def _ticks(dim: Dim, scale: float) -> Iterator[Box]:
    """Its two oblique strokes, each as the box round it."""
    line = dim.at + dim.offset * scale
    for end in (dim.start[1], dim.end[1]) if dim.along == "z" else (dim.start[0], dim.end[0]):
        x, z = (line, end) if dim.along == "z" else (end, line)
        yield from _along((x - TICK * scale, z - TICK * scale), (x + TICK * scale, z + TICK * scale), scale)


ROOM = 0.3
"""Paper mm between a figure and ticks and lines of dimensions."""


def _extensions(dim: Dim, scale: float) -> Iterator[Box]:
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


def _new_strokes(mark: Mark, scale: float) -> Iterable[Box]:
    """What a settled mark draws that later labels keep clear of: a leader, a dimension line."""
    if isinstance(mark, Dim):
        line = mark.at + mark.offset * scale
        low, high = (mark.start[0], mark.end[0]) if mark.along == "x" else (mark.start[1], mark.end[1])
        ends = ((low, line), (high, line)) if mark.along == "x" else ((line, low), (line, high))
        return _along(*ends, scale)
    return _leader_strokes(mark, scale)


def _leader_strokes(leader: Mark, scale: float) -> list[Box]:
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


_RANK: dict[type, int] = {Text: 0, Dim: 1, Level: 2, Symbol: 3, Leader: 4}


def ways(mark: Mark, scale: float) -> Iterator[Mark]:
    """The mark with its text in each place where it may stand, the usual one first."""
    if isinstance(mark, Dim) and text_width(figure(mark), TEXT_SMALL) + 1.0 > mark.value / scale:
        yield replace(mark, lift=_clear_of_ends(mark))
    yield mark
    match mark:
        case Dim():
            yield from _dim_ways(mark, scale)
        case Level():
            for step in (0, 3.6, -3.6, 7.2, -7.2, 10.8, -10.8, 14.4, -14.4):
                for reach in (mark.reach, mark.reach + 4):
                    yield replace(mark, step=float(step), reach=reach)
        case Symbol():
            yield from (replace(mark, aside=aside) for aside in _ASIDES)
        case Leader():
            yield from _leader_ways(mark, scale)
        case Text():
            yield from _text_ways(mark, scale)
        case _:
            return


def _clear_of_ends(dim: Dim) -> float:
    """The lift at which a figure wider than its dimension stands beyond the ends of the extension lines."""
    beyond_is_up = (dim.offset > 0) == (dim.along == "x")
    return OVERSHOOT + 0.6 if beyond_is_up else -(OVERSHOOT + 0.6 + TEXT_SMALL)


def _dim_ways(dim: Dim, scale: float) -> Iterator[Mark]:
    """In the dimension, below its line; then beyond its ends; then farther out with a pointer."""
    wide = text_width(figure(dim), TEXT_SMALL)
    beyond = dim.value / scale / 2 + wide / 2 + 1.0
    for lift in (0.8, -3.4):
        yield replace(dim, lift=lift, shift=0.0)
    for lift in (0.8, -3.4, 4.6, -7.0, 8.4, -10.6, 12.2, -14.2):
        for shift in (
            0.0,
            beyond,
            -beyond,
            wide + 1,
            -wide - 1,
            1.6 * wide,
            -1.6 * wide,
            2.4 * wide,
            -2.4 * wide,
        ):
            yield replace(dim, lift=lift, shift=shift)


_ASIDES: tuple[Point2, ...] = tuple(
    (round(r * 1.15 * cos(k * pi / 6), 3), round(r * sin(k * pi / 6), 3))
    for r in (4.6, 6.2, 8.2, 10.5, 13.0)
    for k in (3, 9, 0, 6, 1, 5, 7, 11, 2, 4, 8, 10)
)


def _leader_ways(leader: Leader, scale: float) -> Iterator[Mark]:
    """Its text round its last point, then on growing rings round the thing itself."""
    start, end = leader.points[0], leader.points[-1]
    reach = ((end[0] - start[0]) ** 2 + (end[1] - start[1]) ** 2) ** 0.5
    for step in (1, -1, 2, -2, 3, -3, 4, -4, 5, -5):  # a ladder of texts beside the drawing
        yield replace(leader, points=(*leader.points[:-1], (end[0], end[1] + step * 3.6 * scale)))
    for far in (1.0, 1.4, 1.9, 2.5, 3.2, 4.0, 5.0, 6.0):
        for k in range(16):
            a = k * pi / 8 + 0.2
            yield replace(
                leader, points=(start, (start[0] + far * reach * cos(a), start[1] + far * reach * sin(a)))
            )


def _text_ways(text: Text, scale: float) -> Iterator[Mark]:
    """A little up, down or along; farther in small steps."""
    x, z = text.at
    for far in (1.5, 3.0, 4.5, 6.0, 8.0, 10.0, 13.0):
        for dx, dz in ((0, 1), (0, -1), (1, 0), (-1, 0), (1, 1), (-1, 1), (1, -1), (-1, -1)):
            yield replace(text, at=(x + dx * far * 1.5 * scale, z + dz * far * scale))


def chain(
    stops: Iterable[float], along: Literal["x", "z"], at: float, offset: float, ref: str = "chain"
) -> list[Dim]:
    """A running chain of dimensions through the stops (sorted, doubles within half a mm joined): its parts close by construction.

    at : the outline's coordinate across · offset : paper mm from there to the dimension line
    """
    points = joined(stops)
    ends = [(at, stop) if along == "z" else (stop, at) for stop in points]
    figures = closing([b - a for a, b in itertools.pairwise(points)])
    return [
        Dim(start, end, along, at, offset, layer="dims", ref=ref, shown=shown)
        for (start, end), shown in zip(itertools.pairwise(ends), figures, strict=True)
    ]


MOST_KINDS = 10
"""Up to so many different part sizes every way of rounding a chain is tried."""


def closing(parts: Sequence[float]) -> list[int]:
    """The parts of a chain in whole mm that add up to the whole rounded: none is off by 1 mm or more.

    Equal parts are shown equal wherever that closes, with the least error in all; else the largest remainders are rounded up.
    """
    left = rounded(sum(parts)) - sum(floor(part + 1e-6) for part in parts)
    kinds: dict[float, int] = {}
    for part in parts:
        if part + 1e-6 - floor(part + 1e-6) > 1e-3:
            kinds[round(part, 2)] = kinds.get(round(part, 2), 0) + 1
    best: tuple[float, frozenset[float]] | None = None
    if len(kinds) <= MOST_KINDS:
        for ups in itertools.chain.from_iterable(
            itertools.combinations(kinds, k) for k in range(len(kinds) + 1)
        ):
            if sum(kinds[kind] for kind in ups) == left:
                error = sum(
                    n * ((1 - kind % 1) if kind in ups else kind % 1) ** 2 for kind, n in kinds.items()
                )
                best = min(best or (error, frozenset(ups)), (error, frozenset(ups)), key=lambda way: way[0])
    if best is not None:
        return [floor(part + 1e-6) + (round(part, 2) in best[1]) for part in parts]
    order = sorted(range(len(parts)), key=lambda i: floor(parts[i] + 1e-6) - parts[i])
    up = set(order[: max(left, 0)])
    return [floor(part + 1e-6) + (i in up) for i, part in enumerate(parts)]


def chains(
    stops: Iterable[float],
    along: Literal["x", "z"],
    at: float,
    offset: float,
    beyond: float = 8.0,
    ref: str = "chain",
) -> list[Dim]:
    """A chain, and `beyond` paper mm outside it the overall size, where the chain has more than one part."""
    points = joined(stops)
    inner = chain(points, along, at, offset, ref)
    outer = offset + beyond if offset > 0 else offset - beyond
    return inner + (chain((points[0], points[-1]), along, at, outer, "overall") if len(points) > 2 else [])


def joined(stops: Iterable[float]) -> list[float]:
    """The stops in order, those within half a millimetre of one another taken as one."""
    out: list[float] = []
    for stop in sorted(stops):
        if not out or stop - out[-1] > 0.5:
            out.append(stop)
    return out
