"""The vertical section through the screen: wall, panel, mount, screen, console, floor and ceiling, and the eyes that
look at it.
"""

from __future__ import annotations

from math import cos, radians, sin
from typing import TYPE_CHECKING

from wallwright.core.drawing import Drawing, Hatch, Leader, Level, Line, Mark, Pattern, Pen, Symbol, rectangle
from wallwright.core.shape import Box, Point2
from wallwright.core.units import show_mm
from wallwright.job.face import obstacle_box
from wallwright.sheets import detail
from wallwright.sheets.beside import column
from wallwright.sheets.chains import chain, chains
from wallwright.sheets.figures import DATUM, ROW
from wallwright.sheets.grounds import grounded
from wallwright.sheets.ink import extent, extent_of
from wallwright.sheets.paper import Fields, Sheet, centred, scale_for
from wallwright.sheets.place import settle
from wallwright.sheets.room import MARGIN, column_right
from wallwright.sheets.section_cut import (
    beams_over,
    leaf,
    screen_section,
    turned,
    turned_reach,
    watched_section,
)
from wallwright.sheets.section_words import words_beside
from wallwright.sheets.words import unit_words

if TYPE_CHECKING:
    from wallwright.carcass.record import PanelZone
    from wallwright.derive import Wall

SLAB = 100.0  # how much of floor and ceiling is drawn [mm]
# Seen beyond the cut rather than cut: drawn as outlines.
BEYOND = {"side", "division", "drawer_side"}


def drawing(wall: Wall, scale: float, reach: float | None = None) -> Drawing:
    """The section at the screen's centre x. Across: y of the wall (the room left, negative); up: z from FFL.

    reach : how far into the room it goes [mm]; absent = to the farthest eye
    """
    at = wall.sight.screen.centre[0]
    reach = _reach(wall) if reach is None else reach
    still = (
        *_shell(wall, reach, scale),
        *_panels(wall, at),
        *_units(wall, at),
        *_screen(wall),
        *_obstacles(wall, at),
    )
    eyes, eye_labels = _seats(wall, reach)
    labels = (*eye_labels, *_labels(wall, scale), *_levels(wall), *_dimensions(wall, reach))
    marks = grounded((*still, *eyes), settle(labels, scale, lines=(*still, *eyes)), scale)
    return Drawing("section", "Vertical section A-A", scale, marks, extent_of(marks, scale))


def sheet(wall: Wall) -> Sheet:
    """The section on its sheet at the scale that the room's height allows; eyes beyond the paper are left to the notes."""
    room, beside = column_right()
    scale = max(20.0, scale_for(600.0, wall.face.height + 2 * SLAB, room, MARGIN))
    reach = min(_reach(wall), (room.width - _RIGHT) * scale - leaf(wall))
    notes = column(words_beside(wall), beside)
    views = [centred(drawing(wall, scale, reach), room)]
    corner = Box(beside[0].x, beside[0].z, beside[0].width, extent_of(notes, 1.0).z - beside[0].z - 4.0)
    build_up = detail.drawing(wall)
    size = extent(build_up)
    if size.width / detail.SCALE <= corner.width and size.height / detail.SCALE <= corner.height:
        views.append(centred(build_up, corner))
    return Sheet(
        "section",
        "Vertical section through the screen",
        "Section",
        tuple(views),
        notes,
        Fields.of(wall.job),
        _CAUTIONS,
        job_title=wall.job.title,
    )


_RIGHT = 64.0  # paper mm for levels and dimensions behind the wall
_CAUTIONS = (
    "Screen over 20 kg: two people. Anchors to suit the wall found on site; test one before hanging. Unknown wall: stop and ask.",
    "Isolate and prove dead before drilling. Cutting boards and stone: dust extraction and a mask.",
)


def _reach(wall: Wall) -> float:
    """How far into the room the farthest eye is [mm], with some floor behind it."""
    eyes = [-seat.eye[1] for seat in wall.sight.seats]
    units = [unit.depth for unit in wall.setout.units]
    return max([*eyes, *units, 600.0]) + 250.0


def _shell(wall: Wall, reach: float, scale: float) -> list[Mark]:
    """Floor, wall and ceiling, cut."""
    t, high = leaf(wall), wall.face.height
    cut: list[tuple[Box, Pattern, str]] = [
        (Box(0, 0, t, high), "masonry", "wall"),
        (Box(-reach, -SLAB, reach + t, SLAB), "cut", "floor"),
        (Box(-reach, high, reach + t, SLAB), "cut", "ceiling"),
    ]
    marks: list[Mark] = []
    for box, pattern, ref in cut:
        marks.append(Hatch(box.corners, pattern, layer="hatch", ref=ref))
    marks.append(Line(((-reach, 0), (0, 0), (0, high), (-reach, high)), "extra", layer="wall", ref="wall"))
    marks.append(Line(((t, -SLAB), (t, high + SLAB)), "wide", layer="wall"))
    marks.append(Line(((-reach, DATUM), (t + 5 * scale, DATUM)), "chain", layer="levels", ref="datum"))
    return marks


def _panels(wall: Wall, at: float) -> list[Mark]:
    """The panel that the section cuts: its face and its void."""
    marks: list[Mark] = []
    for zone in _cut_zones(wall, at):
        face = Box(-zone.build_up, zone.box.z, zone.thickness, zone.box.height)
        void = Box(-zone.void, zone.box.z, zone.void, zone.box.height)
        marks += [
            rectangle(void, "thin", layer="panels", ref=zone.ref),
            rectangle(face, "medium", fill="#fff", layer="panels", ref=zone.ref),
        ]
        marks.append(
            Hatch(
                face.corners, "stone" if zone.kind == "stone_veneer" else "board", layer="hatch", ref=zone.ref
            )
        )
    return marks


def _cut_zones(wall: Wall, at: float) -> list[PanelZone]:
    """The panels across the section; where two meet there, the first."""
    return [zone for zone in wall.setout.zones if zone.box.x <= at < zone.box.right][:1]


def _units(wall: Wall, at: float) -> list[Mark]:
    """Every board that the section cuts, hatched; behind them the outline of the unit."""
    marks: list[Mark] = []
    for unit in wall.setout.units:
        if not unit.box.x <= at <= unit.box.right:
            continue
        marks.append(
            rectangle(
                Box(-unit.depth, unit.box.z, unit.depth, unit.box.height),
                "wide",
                fill="#fff",
                layer="units",
                ref=unit.ref,
            )
        )
        for part in wall.carcass.parts:
            block = part.block
            cut = block.x <= at <= block.x + block.dx
            if part.unit != unit.ref or not cut:
                continue
            box = Box(block.y, block.z, block.dy, block.dz)
            marks.append(
                rectangle(box, "medium" if part.role not in BEYOND else "thin", layer="units", ref=part.id)
            )
            if part.role not in BEYOND:
                marks.append(Hatch(box.corners, "board", layer="hatch", ref=part.id))
    return marks


def _beyond_turned(wall: Wall) -> Box:
    """What one sees of the turned screen from the side: from its near edge to its far edge's back."""
    screen = wall.sight.screen
    half, turn = screen.frame.width / 2, radians(abs(screen.swivel))
    far = screen.middle[1] - half * sin(turn) - screen.depth * cos(turn)
    return Box(-turned_reach(wall), screen.frame.z, turned_reach(wall) - far, screen.frame.height)


def _screen(wall: Wall) -> list[Mark]:
    """The screen (fitted later) and its mount between the plate and the screen's back; on a turned arm, where it is watched, with
    the folded one double-dashed.
    """
    screen = wall.sight.screen
    at = screen.centre[0]
    face = -max([zone.build_up for zone in _cut_zones(wall, at)], default=0.0)
    plate = screen.plate
    corners = watched_section(wall)
    back = (corners[0][0] + corners[1][0]) / 2
    marks: list[Mark] = [
        rectangle(
            Box(face - 6.0, plate.z, 6.0, plate.height), "medium", fill="#000", layer="screen", ref="plate"
        )
    ]
    if turned(wall):
        folded = screen_section(wall)
        marks += [
            rectangle(_beyond_turned(wall), "thin", fill="#fff", layer="screen", ref="screen beyond"),
            Line(folded, "phantom", closed=True, layer="screen", ref="screen folded"),
        ]
    if back < face - 6.0:
        for z in (plate.z + plate.height * 0.25, plate.z + plate.height * 0.75):
            marks.append(Line(((face - 6.0, z), (back, z)), "medium", layer="screen", ref="mount"))
    return [
        *marks,
        Hatch(corners, "screen", layer="screen", ref="screen"),
        Line(corners, "medium" if turned(wall) else "phantom", closed=True, layer="screen", ref="screen"),
    ]


def _obstacles(wall: Wall, at: float) -> list[Mark]:
    """Obstacles in the section (cut) and skirtings: how far they stand out."""
    marks: list[Mark] = []
    for thing in wall.face.obstacles:
        box = obstacle_box(thing)
        if not thing.projection.mm or not box.x <= at <= box.right:
            continue
        if thing.kind == "skirting" and any(zone.box.z < box.top for zone in _cut_zones(wall, at)):
            continue
        cut = Box(-thing.projection.mm, box.z, thing.projection.mm, box.height)
        marks.append(rectangle(cut, "wide", fill="#fff", layer="obstacles", ref=thing.ref))
        marks.append(
            Hatch(cut.corners, "board" if thing.kind == "skirting" else "cut", layer="hatch", ref=thing.ref)
        )
    return marks


def _seats(wall: Wall, reach: float) -> tuple[list[Mark], list[Mark]]:
    """Each eye with its lines to the top, centre and bottom of the screen; the angles as text."""
    front = watched_section(wall)
    top, bottom = front[2], front[3]
    middle = ((top[0] + bottom[0]) / 2, (top[1] + bottom[1]) / 2)
    lines: list[Mark] = []
    labels: list[Mark] = []
    for seat in wall.sight.seats:
        eye = (seat.eye[1], seat.eye[2])
        if -eye[0] > reach:
            continue
        rays: tuple[tuple[Point2, Pen], ...] = ((top, "thin"), (middle, "chain"), (bottom, "thin"))
        for end, pen in rays:
            lines.append(Line((eye, end), pen, layer="sight", ref=seat.ref))
        labels.append(Symbol("eye", eye, f"Seat {seat.ref}", layer="sight", ref=seat.ref, aside=(0.0, 4.8)))
    return lines, labels


def _labels(wall: Wall, scale: float) -> list[Mark]:
    """What the section cuts, by leaders into the room."""
    screen = wall.sight.screen
    at = screen.centre[0]
    marks: list[Mark] = []

    def lead(point: Point2, words: str, dx: float, dz: float) -> None:
        marks.append(Leader((point, (point[0] + dx * scale, point[1] + dz * scale)), words, layer="text"))

    corners = watched_section(wall)
    turn = f", turned {abs(screen.swivel):g}°" if turned(wall) else ""
    lead(
        ((corners[1][0] + corners[2][0]) / 2, (corners[1][1] + corners[2][1]) / 2 - 20),
        f"screen {screen.diagonal:g} in, tilt {screen.tilt:g}°{turn}",
        -14,
        9,
    )
    lead(
        (-(screen.stand_off) / 2 - 20, screen.plate.z + screen.plate.height * 0.25),
        f"{screen.mount} mount",
        -22,
        -30,
    )
    for zone in _cut_zones(wall, at):
        lead(
            (-zone.build_up + zone.thickness / 2, zone.box.top - 220),
            f"{zone.ref}: {show_mm(zone.thickness)} panel on {show_mm(zone.void)} void",
            -14,
            3,
        )
    for thing in beams_over(wall, at):
        lead(
            (-thing.projection.mm / 2, thing.z.mm + thing.height.mm / 2),
            f"{thing.ref} beam: drop {show_mm(thing.height.mm)}, projection {show_mm(thing.projection.mm)}",
            -16,
            -3,
        )
    for unit in wall.setout.units:
        if unit.box.x <= at <= unit.box.right:
            lead(
                (-unit.depth + 30, unit.box.z + unit.box.height * 0.5),
                f"{unit.ref} {unit_words(unit.kind)}, {'hung' if unit.hung else 'standing'}",
                -12,
                -4,
            )
    for run in wall.light.runs:
        xs = [x for x, _ in run.path]
        if xs and min(xs) <= at <= max(xs):
            z = run.path[0][1] if run.along != "behind_screen" else max(z for _, z in run.path)
            lead((run.y, z), f"{run.ref} LED strip", -14, -5)
    return marks


def _levels(wall: Wall) -> list[Mark]:
    screen = wall.sight.screen
    named = [(0.0, "FFL"), (DATUM, "datum"), (screen.centre[1], "screen mid"), (wall.face.height, "ceiling")]
    named += [(thing.z.mm, f"{thing.ref} soffit") for thing in beams_over(wall, screen.centre[0])]
    return [Level((leaf(wall), z), z, name, layer="levels", reach=3.0) for z, name in named]


def _dimensions(wall: Wall, reach: float) -> list[Mark]:
    """Heights that close along the wall's back; below, the console from the wall's face; the eyes' distances; a beam's projection.

    What the panel is built up of stands in the detail: beside the console's depth it would seem to lie behind it.
    """
    screen = wall.sight.screen
    at = screen.centre[0]
    units = [u for u in wall.setout.units if u.box.x <= at <= u.box.right]
    t = leaf(wall)
    ups = [
        0.0,
        *(e for u in units for e in (u.box.z, u.box.top)),
        screen.frame.z,
        screen.centre[1],
        screen.frame.top,
        *(thing.z.mm for thing in beams_over(wall, at)),
        wall.face.height,
    ]
    marks: list[Mark] = [*chains(ups, "z", t, 44.0)]
    low = -SLAB
    console = [-u.depth for u in units if u.kind == "console"]
    zones = _cut_zones(wall, at)
    build = [-zones[0].build_up, -zones[0].void] if zones else []
    marks += chain([*(console or build), 0.0, t], "x", low, -ROW, "depths")
    eyes = [seat.eye[1] for seat in wall.sight.seats if -seat.eye[1] <= reach]
    if eyes:
        marks += chain([*eyes, 0.0], "x", low, -2 * ROW, "eyes")
    front = min(x for x, _ in watched_section(wall))
    top = wall.face.height + SLAB
    stops = (
        [front, max(x for x, _ in watched_section(wall)), 0.0]
        if turned(wall)
        else [front, -screen.stand_off, 0.0]
    )
    marks += chain(stops, "x", top, ROW, "screen depths")
    beams = [-thing.projection.mm for thing in beams_over(wall, at) if thing.projection.mm]
    if beams:
        marks += chain([*beams, 0.0], "x", top, 2 * ROW, "projection")
    return marks
