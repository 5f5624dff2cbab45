"""What each height of the screen costs every seat, as a graph that stands beside the section at the section's own heights."""

from __future__ import annotations

from itertools import pairwise
from math import sqrt
from typing import TYPE_CHECKING

from wallwright.core.drawing import TEXT_SMALL, Drawing, Line, Mark, Pen, Text
from wallwright.core.shape import Box, Point2
from wallwright.sheets.grounds import grounded
from wallwright.sheets.ink import extent_of
from wallwright.sheets.place import settle
from wallwright.sight.heights import Penalty, Watcher, curve
from wallwright.sight.plan import HEIGHT_STEP, eyes_of, shares_of, watchers_of

if TYPE_CHECKING:
    from wallwright.derive import Wall

LINES: tuple[Pen, ...] = ("medium", "dashed", "chain", "phantom", "thin")
"""The line of each seat's curve, in the order of the seats."""
MOST = 15.0
"""The graph ends at this many degrees off."""
STEP = 25.0
WIDE = 104.0
"""Paper mm of the graph, with its letters."""


def watchers(wall: Wall) -> list[Watcher]:
    """The seats as the screen's height sees them."""
    eyes = eyes_of(wall.job, wall.limits)
    return watchers_of(eyes, shares_of(eyes), *wall.sight.screen.middle, wall.limits)


def curves(wall: Wall) -> tuple[Penalty, ...]:
    """What each height of the graph costs every seat; the least of them, by the seats' hours, is one of them. () without seats."""
    seats = watchers(wall)
    if not seats:
        return ()
    low, high = 400.0, max(wall.face.height - 300.0, 1200.0)
    best = wall.sight.heights.best
    if not low < best < high:
        return curve(seats, low, high, STEP)
    return (*curve(seats, low, best, STEP), *curve(seats, best, high, STEP)[1:])


def graph_drawing(wall: Wall, scale: float) -> Drawing:
    """Degrees off to the right, height up at the section's scale; one line a seat, the hours-weighted mean of all wide."""
    degree = (WIDE - 14.0) / MOST * scale
    marks: list[Mark] = []
    points = curves(wall)
    low, high = (points[0].height, points[-1].height) if points else (400.0, wall.face.height)
    good = wall.limits.value("sight.centre_good")
    for off in range(0, int(MOST) + 1, 5):
        if off != good:
            marks.append(Line(((off * degree, low), (off * degree, high)), "thin", layer="graph"))
        marks.append(Text((off * degree, low - 4.0 * scale), f"{off}°", TEXT_SMALL, "middle", layer="graph"))
    marks.append(Line(((0.0, low), (MOST * degree, low)), "thin", layer="graph"))
    words = "off the angle that suits the seat"
    marks.append(Text((MOST * degree / 2, low - 8.4 * scale), words, TEXT_SMALL, "middle", layer="graph"))
    heights = wall.sight.heights
    marks.append(Line(((good * degree, low), (good * degree, high)), "dashed", layer="graph", ref="good"))
    labels: list[Mark] = [
        Text((good * degree + scale, high + 1.2 * scale), f"good to {good:g}°", TEXT_SMALL, layer="graph"),
    ]
    near = abs(heights.recommended - heights.used) <= HEIGHT_STEP
    for z in (heights.used,) if near else (heights.recommended, heights.used):
        if low <= z <= high:
            marks.append(Line(((0.0, z), (MOST * degree, z)), "chain", layer="graph", ref="height"))
    marks += _curve_lines(wall, points, degree)
    labels += _ends(wall, points, degree, scale)
    room = Box(-4 * scale, low - 12 * scale, MOST * degree + 14 * scale, high - low + 24 * scale)
    made = grounded(marks, settle(labels, scale, room, lines=marks), scale)
    return Drawing("penalty", "Off by height", scale, made, extent_of(made, scale))


def _curve_lines(wall: Wall, points: tuple[Penalty, ...], degree: float) -> list[Mark]:
    marks: list[Mark] = []
    for i, seat in enumerate(wall.sight.seats):
        pen = LINES[i % len(LINES)]
        marks += [
            Line(piece, pen, layer="graph", ref=f"curve {seat.ref}")
            for piece in within([(abs(p.offs[i]), p.height) for p in points], degree)
        ]
    marks += [
        Line(piece, "extra", layer="graph", ref="curve all")
        for piece in within([(sqrt(p.regret), p.height) for p in points], degree)
    ]
    return marks


def within(points: list[Point2], degree: float) -> list[tuple[Point2, ...]]:
    """The pieces of a curve (degrees off, height) that the graph holds, in its millimetres: cut where they pass its edge."""
    pieces: list[list[Point2]] = []
    for a, b in pairwise(points):
        if a[0] > MOST and b[0] > MOST:
            continue
        ends = [a, b]
        for k, (here, other) in enumerate(((a, b), (b, a))):
            if here[0] > MOST:
                t = (MOST - other[0]) / (here[0] - other[0])
                ends[k] = (MOST, other[1] + t * (here[1] - other[1]))
        placed = [(x * degree, z) for x, z in ends]
        if pieces and pieces[-1][-1] == placed[0]:
            pieces[-1].append(placed[1])
        else:
            pieces.append(placed)
    return [tuple(piece) for piece in pieces]


def _ends(wall: Wall, points: tuple[Penalty, ...], degree: float, scale: float) -> list[Mark]:
    """Each curve's seat, written where it leaves the graph at the top."""
    marks: list[Mark] = []
    for i, seat in enumerate(wall.sight.seats):
        held = [(abs(p.offs[i]) * degree, p.height) for p in points if abs(p.offs[i]) <= MOST]
        if held:
            x, z = held[-1]
            marks.append(
                Text(
                    (x + 1.2 * scale, z + 0.6 * scale),
                    seat.ref,
                    TEXT_SMALL,
                    bold=True,
                    layer="graph",
                    ref=seat.ref,
                )
            )
    return marks
