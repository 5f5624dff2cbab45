"""How high the screen hangs: one vertical section with all eyes, and beside it, at the same heights, how far each seat is off.

The graph shares the section's scale upwards: what a height costs each seat is read straight across from the wall.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from wallwright.core.drawing import (
    Circle,
    Drawing,
    Hatch,
    Leader,
    Level,
    Line,
    Mark,
    Pattern,
    Symbol,
    rectangle,
)
from wallwright.core.shape import Box, Point2
from wallwright.core.table import Column, Table
from wallwright.core.units import show_mm
from wallwright.rules.screen_room import feet, furniture, people, sight_lines, soundbar
from wallwright.sheets.beside import Legend, Notes, column
from wallwright.sheets.grounds import grounded
from wallwright.sheets.heights_graph import LINES, WIDE, graph_drawing
from wallwright.sheets.ink import extent_of
from wallwright.sheets.long_table import stands
from wallwright.sheets.paper import SCALES, Fields, Sheet, View
from wallwright.sheets.place import settle
from wallwright.sheets.room import FULL
from wallwright.sheets.section import SLAB
from wallwright.sheets.section_cut import leaf, screen_section
from wallwright.sight.eyes import CROWN
from wallwright.sight.sightlines import Ahead, Eyes, SightLine

if TYPE_CHECKING:
    from wallwright.derive import Wall

_BANDS = 58.0  # paper mm right of the wall for the bands and their levels
_BELOW = (
    66.0,
    60.0,
    54.0,
    48.0,
)  # paper mm for tables below; less where they need no more and the strip gains a scale by it
_SCALES = tuple(float(s) for s in SCALES[4:])


def sheet(wall: Wall) -> Sheet:
    """The strip, the graph and the tables on one sheet."""
    reach = max([-seat.eye[1] for seat in wall.sight.seats], default=2000.0) + 200.0
    scale, below, marks = _laid_out(wall, reach)
    high = FULL.height - below - 16.0
    strip, graph = drawing(wall, scale, reach), graph_drawing(wall, scale)
    spare = FULL.width - (reach + leaf(wall)) / scale - _BANDS - WIDE
    left = FULL.x + max(spare, 12.0) / 2 + reach / scale
    foot = FULL.z + below + 8.0 + max(0.0, high - wall.face.height / scale) / 2
    views = (
        View(strip, round(left, 3), foot),
        View(graph, round(left + leaf(wall) / scale + _BANDS, 3), foot),
    )
    return Sheet(
        "heights",
        "Heights: eyes and screen",
        "Section",
        views if wall.sight.seats else views[:1],
        marks,
        Fields.of(wall.job),
        (
            "Eyes marked computed stand for a mean adult: measure the real seat with the real person before drilling.",
        ),
        job_title=wall.job.title,
    )


def _laid_out(wall: Wall, reach: float) -> tuple[float, float, tuple[Mark, ...]]:
    """The scale, the height kept for the tables below and the tables in it: the largest scale at which all tables stand there."""
    third = (FULL.width - 16.0) / 3
    said, legend = _beside(wall)
    best: tuple[float, float, tuple[Mark, ...]] | None = None
    for below in _BELOW:
        rooms = tuple(Box(FULL.x + 3 + i * (third + 5), FULL.z, third, below - 4) for i in range(3))
        marks = (*column(said, rooms[:2]), *column(legend, rooms[2:]))
        scale = _scale(wall, reach, FULL.height - below - 16.0)
        if best is None or (scale < best[0] and stands(marks, rooms)):
            best = scale, below, marks
    assert best is not None
    return best


def _scale(wall: Wall, reach: float, high: float) -> float:
    """The largest scale at which the section and its graph go into the height."""
    return next(
        (
            s
            for s in _SCALES
            if (reach + leaf(wall)) / s + _BANDS + WIDE + 14.0 <= FULL.width
            and (wall.face.height + 2 * SLAB) / s <= high
        ),
        _SCALES[-1],
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
    made = grounded(marks, settle(labels, scale, within, lines=marks), scale)
    return Drawing("heights", "Heights strip", scale, made, extent_of(made, scale))


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
    bands: list[tuple[float, float, float, Pattern, str]] = [
        (heights.rule_low, heights.rule_high, t + 2 * scale + wide, "light", "usual")
    ]
    if _serves_all(wall):
        bands.insert(0, (heights.low, heights.high, t + 2 * scale, "allowed", "good for all"))
    for low, high, x, pattern, ref in bands:
        box = Box(x, low, wide, max(high - low, 1.0))
        marks.append(rectangle(box, "medium", layer="bands", ref=ref))
        marks.append(Hatch(box.corners, pattern, layer="bands", ref=ref))
    return marks


def _serves_all(wall: Wall) -> bool:
    """Whether there are seats, and heights that are good for all of them."""
    return bool(wall.sight.seats) and wall.sight.heights.serves_all


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
    if wall.sight.seats and abs(heights.recommended - heights.used) > 10.0:
        named.append((heights.recommended, "recommended"))
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
    return [*first, *second], [_legend(wall)]


def _heights(wall: Wall) -> tuple[str, ...]:
    h = wall.sight.heights
    good = wall.limits.value("sight.centre_good")
    band = f"Good for all seats (to {good:g}°): {show_mm(h.low)} to {show_mm(h.high)}."
    if not h.serves_all:
        off = ", ".join(f"seat {s.ref} {abs(s.off):.1f}°" for s in wall.sight.seats if abs(s.off) > good)
        band = f"No height is good for all seats (to {good:g}°); off at the height used: {off or 'none'}."
    held = h.serves_all and abs(h.recommended - h.best) >= 0.5
    why = ", the nearest to the least squares that is good for all" if held else ""
    lines = [
        f"Centre used {show_mm(h.used)} above FFL, {'decided by the designer' if h.pinned else 'automatic'}.",
        f"Recommended {show_mm(h.recommended)}{why}.",
        f"Least squares by hours {show_mm(h.best)}; smallest worst angle {show_mm(h.minimax)}.",
        band,
        f"The trade's usual band: {show_mm(h.rule_low)} to {show_mm(h.rule_high)}.",
    ]
    return tuple(lines if wall.sight.seats else [lines[0], lines[-1]])


def _legend(wall: Wall) -> Legend:
    rows = [
        (f"pen:{LINES[i % len(LINES)]}", f"how far off seat {s.ref} is")
        for i, s in enumerate(wall.sight.seats)
    ]
    if not rows:
        return Legend((("hatch:light", "the trade's usual band"), ("pen:wide", "screen; units")))
    rows += [
        ("pen:extra", "all seats by their hours (root mean square)"),
        *([("hatch:allowed", "centre heights good for all seats")] if _serves_all(wall) else []),
        ("hatch:light", "the trade's usual band"),
        ("pen:chain", "eye to screen centre; heights used and recommended"),
        ("pen:thin", "eye to the picture's lower edge"),
        ("sign:eye", "eye of a person in that seat"),
    ]
    return Legend(tuple(rows[-11:]))
