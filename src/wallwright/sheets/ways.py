"""Where the text of a mark may stand, the usual place first, and then the next best.

Common drawing practice: a figure that does not fit its dimension goes below the line, then beyond it with a pointer; a label
moves to another side of its sign; a leader's text is turned to where there is room.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace
from math import cos, pi, sin

from wallwright.core.drawing import TEXT_SMALL, Dim, Leader, Level, Mark, Symbol, Text
from wallwright.core.shape import Point2
from wallwright.sheets.ink import OVERSHOOT, TICK, figure
from wallwright.sheets.lettering import text_width


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


SLIDE = 1.6
"""Steps by which a figure is moved along its dimension, paper mm."""


def near_ways(dim: Dim, scale: float) -> Iterator[Mark]:
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


def outer_ways(dim: Dim, scale: float, row: Sequence[Point2]) -> Iterator[Mark]:
    """On the dimension's line drawn on, outside an end where its chain ends: common practice where a part is too short for its
    figure. Beside the next part of the chain it would be taken for that one's.

    row : from where to where each dimension on this line runs
    """
    low, high = span_of(dim)
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


def span_of(dim: Dim) -> Point2:
    """From where to where it runs, along its own way [real mm]."""
    axis = 1 if dim.along == "z" else 0
    return min(dim.start[axis], dim.end[axis]), max(dim.start[axis], dim.end[axis])
