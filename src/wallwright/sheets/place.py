"""Sets figures and labels so that none is over another: each mark's text tries its usual place first, then the next best (`ways`)."""

from __future__ import annotations

import itertools
from collections.abc import Iterable, Sequence

from wallwright.core.drawing import Dim, Leader, Level, Mark, Symbol, Text
from wallwright.core.shape import Box, Point2
from wallwright.sheets.ink import OVERSHOOT, text_box, texts
from wallwright.sheets.taken import SIGN, Taken, extensions, leader_strokes, new_strokes, strokes, ticks
from wallwright.sheets.ways import near_ways, outer_ways, span_of, ways

CLEAR = 0.4  # paper mm between two texts


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
    ends = Taken(scale, (box for dim in dims for box in extensions(dim, scale)))
    rows: dict[tuple[str, int], list[Point2]] = {}
    for dim in dims:
        rows.setdefault(_row(dim, scale), []).append(span_of(dim))
        for box in (*ticks(dim, scale), *new_strokes(dim, scale)):
            ends.add(box)
    if drawn is not None:
        for dim in dims:
            for box in (*new_strokes(dim, scale), *extensions(dim, scale)):
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
                for box in leader_strokes(out[i], scale):
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
            and not (isinstance(tried, Leader) and not all(map(used.free, leader_strokes(tried, scale))))
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
    for tried in itertools.chain(near_ways(dim, scale), outer_ways(dim, scale, row), ways(dim, scale)):
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


def _row(dim: Dim, scale: float) -> tuple[str, int]:
    """Which line it stands on."""
    return dim.along, round(dim.at + dim.offset * scale)


def _misread(dim: Mark, box: Box, row: Sequence[Point2], scale: float) -> bool:
    """Whether the figure stands beside another dimension of its line rather than its own: within the length of the extension lines."""
    if not isinstance(dim, Dim) or not -5.0 < dim.lift < OVERSHOOT + 0.5:
        return False
    own = span_of(dim)
    a, b = (box.z, box.top) if dim.along == "z" else (box.x, box.right)
    return any((low, high) != own and a < high - 0.1 * scale and low + 0.1 * scale < b for low, high in row)


ROOM = 0.3
"""Paper mm between a figure and ticks and lines of dimensions."""


_RANK: dict[type, int] = {Text: 0, Dim: 1, Level: 2, Symbol: 3, Leader: 4}
