"""How each mark is inked: dimensions, signs, levels and leaders as plain lines, circles and texts at a scale.

The SVG writer draws these; the placement routine measures their texts; the DXF writer uses them for all but dimensions,
which it keeps as true ones.
"""

from __future__ import annotations

from collections.abc import Iterator
from math import cos, floor, hypot, radians, sin

from wallwright.core.drawing import (
    TEXT_SMALL,
    Circle,
    Dim,
    Drawing,
    Hatch,
    Leader,
    Level,
    Line,
    Mark,
    Symbol,
    SymbolKind,
    Text,
)
from wallwright.core.shape import Box, Point2
from wallwright.core.units import show_level
from wallwright.sheets.lettering import anchored, text_depth, text_rise, text_width

Plain = Line | Circle | Text | Hatch
TICK = 1.1  # half the oblique stroke of a dimension, paper mm
OVERSHOOT = 1.8  # extension line past the dimension line (8 line widths, ISO 129-1 practice)
GAP = 1.0  # between outline and extension line


def inked(mark: Mark, scale: float) -> tuple[Plain, ...]:
    """A mark as plain lines, circles, texts and hatches in real mm."""
    match mark:
        case Dim():
            return _dim(mark, scale)
        case Symbol():
            return _symbol(mark, scale)
        case Level():
            return _level(mark, scale)
        case Leader():
            return _leader(mark, scale)
        case _:
            return (mark,)


def _dim(dim: Dim, scale: float) -> tuple[Plain, ...]:
    """Extension lines from the outline, the line with oblique strokes, and the figure read from below or from the right."""
    upright = dim.along == "z"
    line = dim.at + dim.offset * scale
    sign = 1.0 if dim.offset >= 0 else -1.0

    def point(along: float, across: float) -> Point2:
        return (across, along) if upright else (along, across)

    low, high = sorted((dim.start[1], dim.end[1]) if upright else (dim.start[0], dim.end[0]))
    first, last = dim.at + sign * GAP * scale, line + sign * OVERSHOOT * scale
    t = TICK * scale
    out: list[Plain] = [Line((point(low, line), point(high, line)), "thin", layer="dims", ref=dim.ref)]
    for end in (low, high):
        out.append(Line((point(end, first), point(end, last)), "thin", layer="dims"))
        stroke = (
            ((line - t, end - t), (line + t, end + t))
            if upright
            else ((end - t, line - t), (end + t, line + t))
        )
        out.append(Line(stroke, "medium", layer="dims"))
    middle = (low + high) / 2
    # read from the right: the figure stands left of an upright line, and "up" is towards smaller x
    at = (
        (line - dim.lift * scale, middle + dim.shift * scale)
        if upright
        else (middle + dim.shift * scale, line + dim.lift * scale)
    )
    out.append(
        Text(at, figure(dim), TEXT_SMALL, "middle", 90.0 if upright else 0.0, layer="dims", ref=dim.ref)
    )
    if not _within_ends(dim, scale) or not -5.0 < dim.lift < 2.5:
        out.append(_pointer(dim, point(middle, line), at, scale))
    return tuple(out)


def _within_ends(dim: Dim, scale: float) -> bool:
    """Whether the figure stands between the ends of its dimension, or in the middle of a shorter one: it needs no pointer."""
    if abs(dim.shift) <= 0.1:
        return True
    return abs(dim.shift) + text_width(figure(dim), TEXT_SMALL) / 2 < dim.value / scale / 2


def _pointer(dim: Dim, middle: Point2, at: Point2, scale: float) -> Line:
    """A thin line from the middle of a dimension to the near end of its figure, where that had to move away."""
    half = text_width(figure(dim), TEXT_SMALL) / 2
    along = -max(-half, min(half, dim.shift)) if abs(dim.shift) > 0.1 else 0.0
    across = TEXT_SMALL + 0.3 if dim.lift < 0 else -0.3
    if dim.along == "z":
        end = (at[0] - across * scale, at[1] + along * scale)
    else:
        end = (at[0] + along * scale, at[1] + across * scale)
    return Line((middle, end), "thin", layer="dims")


def figure(dim: Dim) -> str:
    """The figure of a dimension: whole mm, those of a chain rounded together."""
    return str(rounded(dim.value) if dim.shown is None else dim.shown)


def rounded(value: float) -> int:
    """The nearest whole number, a half upwards: what one writes on a site."""
    return floor(value + 0.5)


def _level(level: Level, scale: float) -> tuple[Plain, ...]:
    """A short line from the outline, a triangle standing on it, and the height in metres; cranked where levels crowd."""
    x, z = level.at
    reach, step = level.reach * scale, level.step * scale
    foot = z + step
    text = f"{level.text} {show_level(level.mm)}" if level.text else show_level(level.mm)
    wide = text_width(text, TEXT_SMALL)
    start = x + reach
    line: tuple[Point2, ...] = (
        ((x + GAP * scale, z), (start, foot)) if step else ((x + GAP * scale, z), (start, z))
    )
    side = 1.3 * scale
    tip = start + 1.6 * scale
    return (
        Line((*line, (start + (wide + 4.4) * scale, foot)), "thin", layer="dims", ref=level.ref),
        Line(
            ((tip, foot), (tip - side, foot + side), (tip + side, foot + side)),
            "thin",
            closed=True,
            fill="#000",
            layer="dims",
        ),
        Text((tip + 2.0 * scale, foot + 0.7 * scale), text, TEXT_SMALL, layer="dims", ref=level.ref),
    )


def _leader(leader: Leader, scale: float) -> tuple[Plain, ...]:
    """A dot on the thing, a line to the text, and the text on the far side of the line's end."""
    if not leader.text:
        return (Line(leader.points, "thin", layer=leader.layer, ref=leader.ref),)
    start, end = leader.points[0], leader.points[-1]
    before = leader.points[-2]
    up = abs(end[0] - before[0]) < 0.35 * abs(end[1] - before[1])
    if up:
        foot = 0.5 * scale if end[1] >= before[1] else -(leader.height + 0.6) * scale
        text = Text(
            (end[0], end[1] + foot), leader.text, leader.height, "middle", layer=leader.layer, ref=leader.ref
        )
    else:
        right = end[0] >= before[0]
        at = (end[0] + (0.7 if right else -0.7) * scale, end[1] - leader.height / 2 * scale)
        text = Text(
            at, leader.text, leader.height, "start" if right else "end", layer=leader.layer, ref=leader.ref
        )
    return (
        Line(leader.points, "thin", layer=leader.layer, ref=leader.ref),
        Circle(start, 0.5 * scale, "medium", layer=leader.layer, ref=leader.ref),
        text,
    )


def _arc(at: Point2, radius: float, start: float, end: float) -> Circle:
    return Circle(at, radius, "medium", start, end)


def _symbol(symbol: Symbol, scale: float) -> tuple[Plain, ...]:
    """The sign at paper size, then its label. Shapes: a half circle on a stem for a socket, doubled for a twin."""
    sign = [_dressed(part, symbol, scale) for part in _SIGNS[symbol.kind]]
    if symbol.label:
        dx, dz = symbol.aside
        at = (symbol.at[0] + dx * scale, symbol.at[1] + (dz - TEXT_SMALL / 2) * scale)
        sign.append(
            Text(at, symbol.label, TEXT_SMALL, "middle", bold=True, layer=symbol.layer, ref=symbol.ref)
        )
        if hypot(dx, dz) > 6.0:
            reach = 2.2 / hypot(dx, dz)
            near = (symbol.at[0] + dx * reach * scale, symbol.at[1] + dz * reach * scale)
            far_z = (dz - (2.0 if dz > 0.5 else -2.0 if dz < -0.5 else 0.0)) * scale
            half = text_width(symbol.label, TEXT_SMALL, True) / 2 + 0.5
            far_x = (dx - (half if dx > half else -half if dx < -half else 0.0)) * scale
            sign.append(
                Line((near, (symbol.at[0] + far_x, symbol.at[1] + far_z)), "thin", layer=symbol.layer)
            )
    return tuple(sign)


def _dressed(part: Plain, symbol: Symbol, scale: float) -> Plain:
    """A part of a sign moved to its place and brought to the paper's scale."""
    x, z = symbol.at
    if isinstance(part, Line):
        points = tuple((x + px * scale, z + pz * scale) for px, pz in part.points)
        return Line(points, part.pen, part.closed, part.fill, symbol.layer, symbol.ref)
    if isinstance(part, Circle):
        centre = (x + part.centre[0] * scale, z + part.centre[1] * scale)
        return Circle(centre, part.radius * scale, part.pen, part.start, part.end, symbol.layer, symbol.ref)
    assert isinstance(part, Text)
    at = (x + part.at[0] * scale, z + part.at[1] * scale)
    return Text(at, part.text, part.height, part.anchor, part.turn, part.bold, symbol.layer, symbol.ref)


def _seg(*points: Point2) -> Line:
    return Line(points, "medium")


# Signs in paper mm about their middle. Own drawings in the manner of architectural wiring plans.
_SIGNS: dict[SymbolKind, tuple[Plain, ...]] = {
    "socket": (_arc((0, -0.6), 1.5, 0, 180), _seg((-1.5, -0.6), (1.5, -0.6)), _seg((0, 0.9), (0, 1.9))),
    "twin_socket": (
        _arc((0, -0.6), 1.5, 0, 180),
        _arc((0, -0.6), 0.9, 0, 180),
        _seg((-1.5, -0.6), (1.5, -0.6)),
        _seg((-0.5, 0.9), (-0.5, 1.8)),
        _seg((0.5, 0.9), (0.5, 1.8)),
    ),
    "switched_spur": (
        Line(((-1.5, -1.1), (1.5, -1.1), (1.5, 1.1), (-1.5, 1.1)), "medium", closed=True),
        _seg((-1.5, -1.1), (1.5, 1.1)),
        Circle((1.2, 1.6), 0.3, "medium"),
    ),
    "data": (Line(((-1.6, -1.3), (1.6, -1.3), (0, 1.6)), "medium", closed=True), _seg((0, -1.3), (0, 0.2))),
    "rf": (_seg((-1.5, -1.2), (-1.5, 1.2), (1.5, 1.2), (1.5, -1.2)), _seg((0, 1.2), (0, -0.6))),
    "conduit": (Circle((0, 0), 1.6, "medium"), Circle((0, 0), 0.9, "medium")),
    "led_feed": (
        Circle((0, 0), 1.5, "medium"),
        _seg((-1.06, -1.06), (1.06, 1.06)),
        _seg((-1.06, 1.06), (1.06, -1.06)),
    ),
    "driver": (
        Line(((-2.0, -1.1), (2.0, -1.1), (2.0, 1.1), (-2.0, 1.1)), "medium", closed=True),
        _seg((-2.0, 0), (-2.8, 0)),
        _seg((2, 0), (2.8, 0)),
    ),
    "switch": (Circle((0, -0.8), 0.6, "medium"), _seg((0.4, -0.3), (1.6, 1.4), (0.9, 1.9))),
    "anchor": (Circle((0, 0), 0.8, "medium"), _seg((-1.5, 0), (1.5, 0)), _seg((0, -1.5), (0, 1.5))),
    "eye": (_arc((0, -1.2), 2.0, 37, 143), _arc((0, 1.2), 2.0, 217, 323), Circle((0, 0), 0.6, "medium")),
    "datum": (Circle((0, 0), 1.5, "medium"), _seg((-2.2, 0), (2.2, 0)), _seg((0, -2.2), (0, 2.2))),
}


def text_box(text: Text, scale: float) -> Box:
    """The upright box round a text, in real mm of its drawing."""
    wide = text_width(text.text, text.height, text.bold)
    left = anchored(text.anchor, wide)
    low, high = -text_depth(text.text, text.height), text_rise(text.text, text.height)
    turn = round(text.turn) % 360
    x, z = text.at
    if turn == 0:
        return Box(x + left * scale, z + low * scale, wide * scale, (high - low) * scale)
    if turn == 90:
        return Box(x - high * scale, z + left * scale, (high - low) * scale, wide * scale)
    c, s = cos(radians(turn)), sin(radians(turn))
    corners = [(a * c - b * s, a * s + b * c) for a in (left, left + wide) for b in (low, high)]
    xs, zs = [p[0] for p in corners], [p[1] for p in corners]
    return Box(
        x + min(xs) * scale, z + min(zs) * scale, (max(xs) - min(xs)) * scale, (max(zs) - min(zs)) * scale
    )


def texts(mark: Mark, scale: float) -> Iterator[Text]:
    """The texts of a mark as inked."""
    if isinstance(mark, Text):
        yield mark
    elif isinstance(mark, (Dim, Symbol, Level, Leader)):
        yield from (part for part in inked(mark, scale) if isinstance(part, Text))


def extent(drawing: Drawing) -> Box:
    """The box round everything inked, in real mm."""
    return extent_of(drawing.marks, drawing.scale)


def extent_of(marks: tuple[Mark, ...], scale: float) -> Box:
    """The box round everything that these marks ink, in real mm; nothing at all is a box of no size."""
    global _known
    for known, at, box in _known:
        if known is marks and at == scale:
            return box
    box = _extent_of(marks, scale)
    _known = (*_known[-7:], (marks, scale, box))
    return box


_known: tuple[tuple[tuple[Mark, ...], float, Box], ...] = ()
"""The last few that were asked for: a sheet asks for each of its drawings again when it places it."""


def _extent_of(marks: tuple[Mark, ...], scale: float) -> Box:
    xs: list[float] = []
    zs: list[float] = []
    for mark in marks:
        for part in inked(mark, scale):
            match part:
                case Text():
                    box = text_box(part, scale)
                    xs += (box.x, box.right)
                    zs += (box.z, box.top)
                case Circle():
                    xs += (part.centre[0] - part.radius, part.centre[0] + part.radius)
                    zs += (part.centre[1] - part.radius, part.centre[1] + part.radius)
                case _:
                    xs += [p[0] for p in part.points]
                    zs += [p[1] for p in part.points]
    if not xs:
        return Box(0, 0, 0, 0)
    return Box(min(xs), min(zs), max(xs) - min(xs), max(zs) - min(zs))
