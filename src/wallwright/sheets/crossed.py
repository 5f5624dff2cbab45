"""Which texts of a sheet a line, a hatch or a dark ground runs through, as it is printed: what is painted over does not count.

A text's own leader, dimension line or sign is not counted. Everything is measured in paper mm.
"""

from __future__ import annotations

import itertools
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from math import ceil, cos, hypot, radians, sin

from wallwright.core.drawing import HATCH, PEN_WIDTH, Circle, Dim, Hatch, Line, Mark, Text
from wallwright.core.shape import Box, Point2, around
from wallwright.sheets.ink import OVERSHOOT, figure, inked, text_box
from wallwright.sheets.paper import Sheet
from wallwright.sheets.tiles import cut_to

TOUCH = 0.1  # paper mm by which a line may run along a text's box
STEP = 0.3  # paper mm between the points at which is looked whether a line is seen


@dataclass(frozen=True, slots=True)
class Crossed:
    """A text and what runs through it: the layer and ref of a line, "hatch …" or "ground …"."""

    text: str
    by: str


@dataclass(frozen=True, slots=True)
class _Inked:
    """Points on paper, of which mark they are, and when they are painted."""

    when: int
    mark: int
    points: tuple[Point2, ...]
    box: Box
    name: str
    fill: str = ""


def crossed(sheet: Sheet) -> tuple[Crossed, ...]:
    """Every text of the sheet that is run through, with each thing that does so named once."""
    written, strokes, grounds, hatches = _sorted(sheet)
    found: list[Crossed] = []
    for when, mark, words, box in written:
        over = [ground for ground in grounds if ground.box.meets(box)]
        for stroke in strokes:
            if stroke.mark != mark and stroke.box.grown(0.01).meets(box) and _seen(stroke, box, over):
                found.append(Crossed(words, stroke.name))
        spots = _spots(box)
        for hatch in hatches:
            if hatch.box.meets(box) and any(_bare(hatch, spot, over, when) for spot in spots):
                found.append(Crossed(words, f"hatch {hatch.name}"))
        for ground in over:
            if ground.fill != "#fff" and any(_bare(ground, spot, over, when) for spot in spots):
                found.append(Crossed(words, f"ground {ground.name}"))
    return tuple(dict.fromkeys(found))


ROOM = 0.25
"""Paper mm that a figure stands clear of ticks and of the lines of dimensions, its own too."""


def pinched(sheet: Sheet) -> tuple[Crossed, ...]:
    """Figures of dimensions that stand on a tick, an extension line or another's line, though a white ground may hide that stroke:
    a line that breaks off at a figure, or a tick without its end, is read wrong. And those at the line of another part of their
    chain, which would be taken for that one's.
    """
    found: list[Crossed] = []
    for view in sheet.layers:
        s = view.drawing.scale
        figures: list[tuple[Box, str, int]] = []
        strokes: list[tuple[Point2, Point2, int, str]] = []
        for own, mark in enumerate(view.drawing.marks):
            if isinstance(mark, Dim):
                parts = inked(mark, s)
                line, *rest = [part for part in parts if isinstance(part, Line)]
                strokes.append((*_ends(line), own, "line"))
                strokes += [
                    (*_ends(part), -1, "tick" if part.pen == "medium" else "extension") for part in rest[:4]
                ]
                text = next(part for part in parts if isinstance(part, Text))
                figures.append((text_box(text, s).grown((ROOM - TOUCH) * s), text.text, own))
        for a, b, own, name in strokes:
            low, high = min(a[0], b[0]), max(a[0], b[0])
            for box, words, of in figures:
                if box.x < high + s and low - s < box.right and own != of and cut_to(a, b, box) is not None:
                    found.append(Crossed(words, name))
        found += _astray(view.drawing.marks, s)
    return tuple(dict.fromkeys(found))


def _astray(marks: Sequence[Mark], scale: float) -> Iterator[Crossed]:
    """Figures that stand along another dimension of the same line, no farther from it than the extension lines reach."""
    rows: dict[tuple[str, int], list[tuple[float, float, Dim]]] = {}
    for mark in marks:
        if isinstance(mark, Dim):
            axis = 1 if mark.along == "z" else 0
            low, high = sorted((mark.start[axis], mark.end[axis]))
            rows.setdefault((mark.along, round(mark.at + mark.offset * scale)), []).append((low, high, mark))
    for (along, line), row in rows.items():
        for own_low, own_high, dim in row:
            text = next(part for part in inked(dim, scale) if isinstance(part, Text))
            box = text_box(text, scale)
            a, b, near, far = (
                (box.z, box.top, box.x, box.right) if along == "z" else (box.x, box.right, box.z, box.top)
            )
            if near > line + OVERSHOOT * scale or far < line - OVERSHOOT * scale:
                continue
            for low, high, other in row:
                if (low, high) != (own_low, own_high) and a < high - 0.3 * scale and b > low + 0.3 * scale:
                    yield Crossed(text.text, f"beside {figure(other)}")


def _ends(line: Line) -> tuple[Point2, Point2]:
    return line.points[0], line.points[-1]


def _sorted(
    sheet: Sheet,
) -> tuple[list[tuple[int, int, str, Box]], list[_Inked], list[_Inked], list[_Inked]]:
    """The texts, the strokes, the painted grounds and the hatches of a sheet, in the order in which they are painted."""
    written: list[tuple[int, int, str, Box]] = []
    strokes: list[_Inked] = []
    grounds: list[_Inked] = []
    hatches: list[_Inked] = []
    count = itertools.count()
    for view in sheet.layers:
        s = view.drawing.scale
        for mark in view.drawing.marks:
            own = next(count)
            for part in inked(mark, s):
                when = next(count)
                if isinstance(part, Text):
                    box = text_box(part, s)
                    x, z = view.on_paper((box.x, box.z))
                    on = Box(x, z, box.width / s, box.height / s).grown(-TOUCH)
                    written.append((when, own, part.text, on))
                    continue
                points = tuple(view.on_paper(point) for point in _path(part))
                if len(points) < 2:
                    continue
                made = _Inked(when, own, points, around(points), f"{part.layer} {part.ref}".strip())
                if isinstance(part, Hatch):
                    if HATCH[part.pattern]:
                        hatches.append(made)
                    continue
                if isinstance(part, Line) and part.closed and part.fill:
                    grounds.append(_Inked(when, own, points, made.box, made.name, part.fill))
                if PEN_WIDTH[part.pen]:
                    strokes.append(made)
    return written, strokes, grounds, hatches


def _path(part: Line | Circle | Hatch) -> tuple[Point2, ...]:
    match part:
        case Line():
            return (*part.points, part.points[0]) if part.closed else part.points
        case Hatch():
            return part.points
        case Circle():
            turns = max(1, ceil((part.end - part.start) / 7.5))
            ways = [radians(part.start + (part.end - part.start) * i / turns) for i in range(turns + 1)]
            x, z = part.centre
            return tuple((x + part.radius * cos(a), z + part.radius * sin(a)) for a in ways)


def _seen(stroke: _Inked, box: Box, grounds: list[_Inked]) -> bool:
    """Whether any piece of the stroke inside the box is still seen when the sheet is done."""
    later = [ground for ground in grounds if ground.when > stroke.when]
    for a, b in itertools.pairwise(stroke.points):
        piece = cut_to(a, b, box)
        if piece is not None and any(
            not any(inside(point, ground.points) for ground in later) for point in _along(*piece)
        ):
            return True
    return False


def _along(a: Point2, b: Point2) -> Iterator[Point2]:
    n = max(1, ceil(hypot(b[0] - a[0], b[1] - a[1]) / STEP))
    for i in range(n):
        t = (i + 0.5) / n
        yield a[0] + t * (b[0] - a[0]), a[1] + t * (b[1] - a[1])


def _spots(box: Box) -> list[Point2]:
    """Points spread over a text's box."""
    across = max(2, ceil(box.width))
    return [
        (box.x + box.width * (i + 0.5) / across, box.z + box.height * (j + 0.5) / 3)
        for i in range(across)
        for j in range(3)
    ]


def _bare(area: _Inked, spot: Point2, grounds: list[_Inked], before: int) -> bool:
    """Whether the area lies under the spot with nothing painted between it and what is written at `before`."""
    return (
        area.when < before
        and inside(spot, area.points)
        and not any(area.when < g.when < before and inside(spot, g.points) for g in grounds)
    )


def inside(point: Point2, outline: tuple[Point2, ...]) -> bool:
    """Whether a point lies inside a closed outline, by counting the edges that a level ray from it crosses."""
    x, z = point
    odd = False
    for (x0, z0), (x1, z1) in itertools.pairwise((*outline, outline[0])):
        if (z0 > z) != (z1 > z) and x < x0 + (z - z0) * (x1 - x0) / (z1 - z0):
            odd = not odd
    return odd
