"""How high the screen hangs: one vertical section with all eyes, and beside it, at the same heights, how far each seat is off.

The graph shares the section's scale upwards: what a height costs each seat is read straight across from the wall.
"""

from __future__ import annotations

from itertools import pairwise
from math import sqrt
from typing import TYPE_CHECKING

from wallwright.core.drawing import (
    TEXT_SMALL,
    Circle,
    Drawing,
    Hatch,
    Leader,
    Level,
    Line,
    Mark,
    Pen,
    Symbol,
    Text,
    rectangle,
)
from wallwright.core.shape import Box, Point2
from wallwright.core.table import Column, Table
from wallwright.core.units import show_mm
from wallwright.rules.screen_room import feet, furniture, people, sight_lines, soundbar
from wallwright.sheets.beside import Legend, Notes, column
from wallwright.sheets.ink import extent_of
from wallwright.sheets.paper import Fields, Sheet, View
from wallwright.sheets.place import settle
from wallwright.sheets.room import FULL
from wallwright.sheets.section import SLAB, leaf, screen_section
from wallwright.sight.eyes import CROWN
from wallwright.sight.heights import Penalty, Watcher, curve, good_for_all
from wallwright.sight.plan import eyes_of, shares_of, watchers_of
from wallwright.sight.sightlines import Ahead, Eyes, SightLine

if TYPE_CHECKING:
    from wallwright.derive import Wall

LINES: tuple[Pen, ...] = ("medium", "dashed", "chain", "phantom", "thin")
"""The line of each seat's curve, in the order of the seats."""
MOST = 15.0
"""The graph ends at this many degrees off."""
STEP = 25.0
_BANDS = 58.0  # paper mm right of the wall for the bands and their levels
_GRAPH = 104.0  # paper mm of the graph
_BELOW = 74.0  # paper mm for tables below
_SCALES = (20.0, 25.0, 50.0, 75.0, 100.0)


def watchers(wall: Wall) -> list[Watcher]:
    """The seats as the screen's height sees them."""
    eyes = eyes_of(wall.job, wall.limits)
    screen = wall.sight.screen
    out = screen.stand_off + screen.depth
    return watchers_of(eyes, shares_of(eyes), screen.centre[0], out, wall.limits)


def curves(wall: Wall) -> tuple[Penalty, ...]:
    """What each height of the graph costs every seat; the recommended height is one of them. () without seats."""
    seats = watchers(wall)
    if not seats:
        return ()
    low, high = 400.0, max(wall.face.height - 300.0, 1200.0)
    best = wall.sight.heights.best
    if not low < best < high:
        return curve(seats, low, high, STEP)
    return (*curve(seats, low, best, STEP), *curve(seats, best, high, STEP)[1:])


def sheet(wall: Wall) -> Sheet:
    """The strip, the graph and the tables on one sheet."""
    reach = max([-seat.eye[1] for seat in wall.sight.seats], default=2000.0) + 200.0
    high = FULL.height - _BELOW - 16.0
    scale = next(
        (
            s
            for s in _SCALES
            if (reach + leaf(wall)) / s + _BANDS + _GRAPH + 14.0 <= FULL.width
            and (wall.face.height + 2 * SLAB) / s <= high
        ),
        _SCALES[-1],
    )
    strip, graph = drawing(wall, scale, reach), graph_drawing(wall, scale)
    spare = FULL.width - (reach + leaf(wall)) / scale - _BANDS - _GRAPH
    left = FULL.x + max(spare, 12.0) / 2 + reach / scale
    foot = FULL.z + _BELOW + 8.0 + max(0.0, high - wall.face.height / scale) / 2
    views = (
        View(strip, round(left, 3), foot),
        View(graph, round(left + leaf(wall) / scale + _BANDS, 3), foot),
    )
    half = (FULL.width - 16.0) / 3
    rooms = tuple(Box(FULL.x + 3 + i * (half + 5), FULL.z, half, _BELOW - 4) for i in range(3))
    marks: list[Mark] = []
    for blocks, room in zip(_beside(wall), rooms, strict=True):
        marks += column(blocks, (room,))
    return Sheet(
        "heights",
        "Heights: eyes and screen",
        "Section",
        views,
        tuple(marks),
        Fields.of(wall.job),
        (
            "Eyes marked computed stand for a mean adult: measure the real seat with the real person before drilling.",
        ),
        job_title=wall.job.title,
    )


def drawing(wall: Wall, scale: float, reach: float) -> Drawing:
    """The section: wall, screen with its tilt, console, soundbar, what stands before it, all eyes, and the bands of heights."""
    marks: list[Mark] = [
        *_shell(wall, reach),
        *_bands(wall, scale),
        *_before(wall),
        *_units(wall),
        *_screen(wall),
    ]
    lines, labels = _seats(wall)
    marks += lines
    labels += [*_levels(wall), *_names(wall, scale)]
    t = leaf(wall)
    wide, high = reach + t + (_BANDS + 4) * scale, wall.face.height + 2 * SLAB + 12 * scale
    within = Box(-reach - 6 * scale, -SLAB - 6 * scale, wide, high)
    marks += settle(labels, scale, within)
    return Drawing("heights", "Heights strip", scale, tuple(marks), extent_of(tuple(marks), scale))


def _shell(wall: Wall, reach: float) -> list[Mark]:
    t, high = leaf(wall), wall.face.height
    cut = (Box(0, 0, t, high), Box(-reach, -SLAB, reach + t, SLAB), Box(-reach, high, reach + t, SLAB))
    marks: list[Mark] = [
        Hatch(box.corners, "masonry" if i == 0 else "cut", layer="hatch") for i, box in enumerate(cut)
    ]
    marks.append(Line(((-reach, 0), (0, 0), (0, high), (-reach, high)), "extra", layer="wall", ref="wall"))
    return marks


def _bands(wall: Wall, scale: float) -> list[Mark]:
    """Right of the wall: the heights good for all seats, and the trade's usual ones."""
    heights, t, wide = wall.sight.heights, leaf(wall), 6.0 * scale
    marks: list[Mark] = []
    for low, high, x, pattern, ref in (
        (heights.low, heights.high, t + 2 * scale, "allowed", "good for all"),
        (heights.rule_low, heights.rule_high, t + 2 * scale + wide, "light", "usual"),
    ):
        box = Box(x, low, wide, max(high - low, 1.0))
        marks.append(rectangle(box, "medium", layer="bands", ref=ref))
        marks.append(
            Hatch(box.corners, "allowed" if pattern == "allowed" else "light", layer="bands", ref=ref)
        )
    return marks


def _units(wall: Wall) -> list[Mark]:
    """The consoles, their soundbar, and whatever else the section through the screen meets."""
    at = wall.sight.screen.centre[0]
    marks: list[Mark] = []
    for unit in wall.setout.units:
        if unit.box.x <= at <= unit.box.right:
            box = Box(-unit.depth, unit.box.z, unit.depth, unit.box.height)
            marks.append(rectangle(box, "wide", fill="#fff", layer="units", ref=unit.ref))
    bar = soundbar(wall)
    if bar is not None:
        box, near, far = bar
        marks.append(
            rectangle(
                Box(-far, box.z, far - near, box.height), "medium", fill="#fff", layer="units", ref="soundbar"
            )
        )
    return marks


def _screen(wall: Wall) -> list[Mark]:
    corners = screen_section(wall)
    return [
        Hatch(corners, "screen", layer="screen", ref="screen"),
        Line(corners, "wide", closed=True, layer="screen", ref="screen"),
    ]


def ahead(wall: Wall) -> list[Ahead]:
    """What stands before the screen: furniture, bed feet, heads and backs, each once."""
    found: dict[tuple[str, float], Ahead] = {}
    for seat in wall.sight.seats:
        eye = Eyes(seat.ref, seat.eye[0], -seat.eye[1], seat.eye[2])
        for thing in people(wall, eye):
            found.setdefault((thing.name, thing.near), thing)
    consoles = {unit.ref for unit in wall.setout.units}
    for thing in furniture(wall):
        if thing.name not in consoles and thing.name != "the soundbar":
            found.setdefault((thing.name, thing.near), thing)
    return list(found.values())


def _before(wall: Wall) -> list[Mark]:
    """What the eyes look over: outlined, from near to far, up to its top."""
    marks: list[Mark] = []
    for thing in ahead(wall):
        if "head" in thing.name:
            marks.append(
                Circle((-thing.near, thing.top - CROWN), CROWN, "thin", layer="before", ref=thing.name)
            )
        elif thing.far - thing.near > 1.0:
            box = Box(-thing.far, 0.0, thing.far - thing.near, thing.top)
            marks.append(rectangle(box, "thin", fill="#fff", layer="before", ref=thing.name))
        else:
            marks.append(
                Line(((-thing.near, 0.0), (-thing.near, thing.top)), "medium", layer="before", ref=thing.name)
            )
    return marks


def _seats(wall: Wall) -> tuple[list[Mark], list[Mark]]:
    """Each eye with its lines to the screen's middle and to the picture's lower edge, over whatever stands before it."""
    corners = screen_section(wall)
    middle = ((corners[2][0] + corners[3][0]) / 2, (corners[2][1] + corners[3][1]) / 2)
    foot = feet(wall)[0]
    lines: list[Mark] = []
    labels: list[Mark] = []
    for seat in wall.sight.seats:
        eye = (seat.eye[1], seat.eye[2])
        lines.append(Line((eye, middle), "chain", layer="sight", ref=seat.ref))
        lines.append(Line((eye, (-foot.out, foot.z)), "thin", layer="sight", ref=seat.ref))
    for eye, refs in _together(wall).items():
        labels.append(Symbol("eye", eye, f"{', '.join(refs)}", layer="sight", ref=refs[0], aside=(0.0, 4.8)))
    return lines, labels


def _together(wall: Wall) -> dict[Point2, list[str]]:
    """Eyes at one place of the section share one sign."""
    found: dict[Point2, list[str]] = {}
    for seat in wall.sight.seats:
        at = (seat.eye[1], seat.eye[2])
        near = next((p for p in found if abs(p[0] - at[0]) < 5 and abs(p[1] - at[1]) < 5), at)
        found.setdefault(near, []).append(seat.ref)
    return found


def _levels(wall: Wall) -> list[Mark]:
    heights, frame = wall.sight.heights, wall.sight.screen.frame
    named = [(0.0, "FFL"), (wall.face.height, "ceiling"), (frame.top, "screen top"), (frame.z, "screen foot")]
    named.append((heights.used, "centre used"))
    if wall.sight.seats and abs(heights.best - heights.used) > 10.0:
        named.append((heights.best, "recommended"))
    x = leaf(wall)
    return [Level((x, z), z, name, layer="levels", ref=name, reach=16.0) for z, name in named]


def _names(wall: Wall, scale: float) -> list[Mark]:
    """What the eyes look over, by leaders; the tightest clearance over each with its figure."""
    marks: list[Mark] = []
    tight: dict[str, SightLine] = {}
    for seen in sight_lines(wall):
        tight.setdefault(seen.over, seen)
    for thing in ahead(wall):
        seen = tight.get(thing.name)
        words = thing.name.removeprefix("the ")
        if seen is not None:
            words += (
                f": {show_mm(seen.clear)} clear" if seen.clear >= 0 else f": hides {show_mm(seen.hidden)}"
            )
        high = thing.top - 0.6 * CROWN if "head" in thing.name else thing.top * 0.55
        at = (-(thing.near + thing.far) / 2, high)
        marks.append(
            Leader((at, (at[0] + 6 * scale, at[1] - 5 * scale)), words, layer="text", ref=thing.name)
        )
    bar = soundbar(wall)
    if bar is not None:
        box, near, far = bar
        seen = tight.get("the soundbar")
        words = "soundbar" + (f": {show_mm(seen.clear)} clear" if seen else "")
        marks.append(
            Leader(
                ((-(near + far) / 2, box.centre[1]), (-far - 10 * scale, box.centre[1] - 4 * scale)),
                words,
                layer="text",
            )
        )
    for unit in wall.setout.units:
        seen = tight.get(unit.ref)
        if seen is not None:
            at = (-unit.depth * 0.7, unit.box.centre[1])
            words = f"{unit.ref}: {show_mm(seen.clear)} clear"
            marks.append(
                Leader((at, (-unit.depth - 10 * scale, at[1] - 3 * scale)), words, layer="text", ref=unit.ref)
            )
    return marks


# --- the graph ----------------------------------------------------------------------------------------------------------
def graph_drawing(wall: Wall, scale: float) -> Drawing:
    """Degrees off to the right, height up at the section's scale; one line a seat, the hours-weighted mean of all wide."""
    degree = (_GRAPH - 14.0) / MOST * scale
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
    for z in (heights.best, heights.used):
        if low <= z <= high:
            marks.append(Line(((0.0, z), (MOST * degree, z)), "chain", layer="graph", ref="height"))
    marks += _curve_lines(wall, points, degree)
    labels += _ends(wall, points, degree, scale)
    marks += settle(
        labels, scale, Box(-4 * scale, low - 12 * scale, MOST * degree + 14 * scale, high - low + 24 * scale)
    )
    return Drawing("penalty", "Off by height", scale, tuple(marks), extent_of(tuple(marks), scale))


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


# --- beside it ----------------------------------------------------------------------------------------------------------
_SEATS = (
    Column("Seat"), Column("Kind"), Column("Hours", "", 1, "right"), Column("Eye", "mm", 0, "right"),
    Column("Off", "°", 1, "right"), Column("Best", "mm", 0, "right"),
)  # fmt: skip
_OVER = (
    Column("Seat"), Column("Looks over"), Column("Clear", "mm", 0, "right"), Column("Wants", "mm", 0, "right"),
)  # fmt: skip


def _beside(wall: Wall) -> tuple[list[Notes | Legend | Table], ...]:
    rows = [
        (
            s.ref,
            f"{s.kind}, {s.posture}{'' if s.eye_measured else ' (computed)'}",
            s.hours,
            s.eye[2],
            s.off,
            s.best_height,
        )
        for s in wall.sight.seats
    ]
    seats = Table("seats", "Seats", _SEATS, tuple(rows))
    lines = [
        (
            seen.seat,
            seen.over.removeprefix("the ") + ("" if seen.what == "picture" else f", {seen.what}"),
            seen.clear,
            seen.wants,
        )
        for seen in sight_lines(wall)
    ]
    over = Table("over", "Sight lines over things, the tightest first", _OVER, tuple(lines))
    first: list[Notes | Legend | Table] = (
        [seats] if seats.rows else [Notes("Seats", ("No seats surveyed: the height is the trade's.",))]
    )
    second: list[Notes | Legend | Table] = [Notes("Heights", _heights(wall))]
    if over.rows:
        second.append(over)
    return first, second, [_legend(wall)]


def _heights(wall: Wall) -> tuple[str, ...]:
    h = wall.sight.heights
    held = (
        bool(wall.sight.seats)
        and good_for_all(watchers(wall), wall.limits.value("sight.centre_good")) is not None
    )
    band = (
        f"Good for all seats: {show_mm(h.low)} to {show_mm(h.high)}."
        if held
        else "No height is good for all seats."
    )
    lines = [
        f"Centre used {show_mm(h.used)} above FFL, {'decided by the designer' if h.pinned else 'automatic'}.",
        f"Recommended by hours {show_mm(h.best)}; smallest worst angle {show_mm(h.minimax)}.",
        band,
        f"The trade's usual band: {show_mm(h.rule_low)} to {show_mm(h.rule_high)}.",
    ]
    return tuple(lines if wall.sight.seats else [lines[0], lines[3]])


def _legend(wall: Wall) -> Legend:
    rows = [
        (f"pen:{LINES[i % len(LINES)]}", f"how far off seat {s.ref} is")
        for i, s in enumerate(wall.sight.seats)
    ]
    rows += [
        ("pen:extra", "all seats by their hours (root mean square)"),
        ("hatch:allowed", "centre heights good for all seats"),
        ("hatch:light", "the trade's usual band"),
        ("pen:chain", "eye to screen centre; heights used and recommended"),
        ("pen:thin", "eye to the picture's lower edge"),
        ("sign:eye", "eye of a person in that seat"),
    ]
    return Legend(tuple(rows[-11:]))
