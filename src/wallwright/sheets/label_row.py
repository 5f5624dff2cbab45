"""Labels in one row above or below a drawing, clear of its lines, each with a leader to its thing."""

from __future__ import annotations

import itertools
from collections.abc import Sequence
from dataclasses import dataclass
from math import inf

from wallwright.core.drawing import TEXT_SMALL, Circle, Line, Mark, Text
from wallwright.core.shape import Point2
from wallwright.sheets.lettering import text_width

GAP = 2.0  # paper mm between two labels of a row
OFF = 0.4  # paper mm between a leader's end and its label


@dataclass(frozen=True, slots=True)
class Named:
    """What a label says, and the points of the drawing it belongs to [real mm]; the first is where it would stand."""

    words: str
    points: tuple[Point2, ...]
    ref: str = ""


def spread(
    wanted: Sequence[float], widths: Sequence[float], gap: float, low: float = -inf, high: float = inf
) -> list[float]:
    """Where the middles of things of these widths stand, in the order of `wanted` and at least `gap` apart, with the least sum of
    squared moves; all between `low` and `high` where they fit there, else from `low` on.

    Pool-adjacent-violators: what would overlap is moved as one block to its mean (Barlow and others 1972, from memory).
    """
    order = sorted(range(len(wanted)), key=lambda i: (wanted[i], i))
    needs = [0.0]
    for a, b in itertools.pairwise(order):
        needs.append(needs[-1] + (widths[a] + widths[b]) / 2 + gap)
    blocks: list[tuple[float, int]] = []
    for i, need in zip(order, needs, strict=True) if order else ():
        mean, count = wanted[i] - need, 1
        while blocks and blocks[-1][0] > mean:
            other, n = blocks.pop()
            mean, count = (mean * count + other * n) / (count + n), count + n
        blocks.append((mean, count))
    starts = [mean for mean, count in blocks for _ in range(count)]
    out = [0.0] * len(wanted)
    if order:
        first, last = low + widths[order[0]] / 2, high - widths[order[-1]] / 2 - needs[-1]
        for i, need, start in zip(order, needs, starts, strict=True):
            out[i] = max(first, min(start, last)) + need
    return out


def label_row(
    things: Sequence[Named],
    level: float,
    scale: float,
    *,
    up: bool,
    low: float = -inf,
    high: float = inf,
    dots: bool = True,
) -> list[Mark]:
    """The labels with their leaders' ends at `level` [real mm], the words beyond it: above where `up`, else below.

    low, high : real mm between which the labels stay · dots : whether a leader ends in a dot on its thing
    """
    wide = [text_width(thing.words, TEXT_SMALL) * scale for thing in things]
    xs = spread([thing.points[0][0] for thing in things], wide, GAP * scale, low, high)
    foot = level + (OFF + 0.3 * TEXT_SMALL if up else -OFF - 1.08 * TEXT_SMALL) * scale
    marks: list[Mark] = []
    for thing, x in zip(things, xs, strict=True):
        for point in thing.points:
            marks.append(Line((point, (x, level)), "thin", layer="text", ref=f"leader {thing.ref}"))
            if dots:
                marks.append(Circle(point, 0.5 * scale, "medium", layer="text", ref=thing.ref))
        marks.append(Text((x, foot), thing.words, TEXT_SMALL, "middle", layer="text", ref=thing.ref))
    return marks
