"""The finished elevation: what stands on the wall, with its levels and its chained dimensions."""

from __future__ import annotations

from collections.abc import Iterable
from typing import TYPE_CHECKING

from wallwright.carcass.panel_lines import edge, face_lines
from wallwright.core.drawing import (
    TEXT_LABEL,
    TEXT_SMALL,
    Drawing,
    Hatch,
    Leader,
    Line,
    Mark,
    Text,
    rectangle,
)
from wallwright.core.shape import Box
from wallwright.core.units import show_mm
from wallwright.job.face import obstacle_box
from wallwright.sheets.beside import column
from wallwright.sheets.elevation_words import words_beside
from wallwright.sheets.figures import bare_wall, dimensions, levels
from wallwright.sheets.fronts import bay_marks, foot, hinged_right, label_at, leaves, unit_marks
from wallwright.sheets.grounds import grounded
from wallwright.sheets.ink import extent_of
from wallwright.sheets.lettering import text_width
from wallwright.sheets.long_table import beside_and_after, stands
from wallwright.sheets.paper import Fields, Sheet, centred, raised
from wallwright.sheets.place import settle
from wallwright.sheets.room import about, layout
from wallwright.sheets.words import obstacle_words

if TYPE_CHECKING:
    from wallwright.carcass.record import BayBox, PanelZone, Part, UnitBox
    from wallwright.derive import Wall
    from wallwright.job.survey import Obstacle


def drawing(wall: Wall, scale: float) -> Drawing:
    """The elevation at 1:`scale`, its marks in real mm."""
    still = (
        *bare_wall(wall, scale),
        *_panels(wall, scale),
        *_units(wall, scale),
        *_screen(wall, scale),
        *_lights(wall),
        *_obstacles(wall, scale),
        *_let_in(wall),
    )
    cut = section_marks(wall, scale)
    still = (*still, *(mark for mark in cut if not isinstance(mark, Text)))
    letters = tuple(mark for mark in cut if isinstance(mark, Text))
    labels = (
        *letters,
        *_labels(wall, scale),
        *levels(wall),
        *dimensions(wall, wall.setout.units, wall.setout.zones),
    )
    marks = grounded(still, settle(labels, scale, about(wall.face.box, scale), lines=_lined(still)), scale)
    return Drawing("elevation", "Elevation, finished", scale, marks, extent_of(marks, scale))


LETTER = 3.5
"""Height of a section's letter: the figures' times the root of two (ISO 128 practice), paper mm."""


def section_marks(wall: Wall, scale: float) -> tuple[Mark, ...]:
    """Where section A-A is cut: a wide stroke at head and foot of its line, an arrow the way one looks, and the letter."""
    x, face = wall.sight.screen.centre[0], wall.face.box
    out: list[Mark] = []
    for end, way in ((face.top, 1.0), (face.z, -1.0)):
        near, far = (
            end + way * 1.0 * scale,
            end + way * 4.0 * scale,
        )  # short of the figures of the first chain
        tip = x - 5.0 * scale
        out.append(Line(((x, near), (x, far)), "extra", layer="section", ref="A"))
        out.append(Line(((x, far), (tip, far)), "medium", layer="section", ref="A"))
        head = ((tip, far), (tip + 2.5 * scale, far + 0.7 * scale), (tip + 2.5 * scale, far - 0.7 * scale))
        out.append(Line(head, "thin", closed=True, fill="#000", layer="section", ref="A"))
        foot = end + (0.7 if way > 0 else -0.7 - LETTER) * scale
        out.append(Text((tip - 0.8 * scale, foot), "A", LETTER, "end", bold=True, layer="section", ref="A"))
    return tuple(out)


def _lined(marks: Iterable[Mark]) -> list[Mark]:
    """The lines that a label keeps clear of; not joints and flutes, much of which is hidden, nor the screen's centre lines."""
    return [mark for mark in marks if mark.layer not in ("panels", "screen")]


def sheet(wall: Wall) -> Sheet:
    """The elevation on its sheet."""
    return sheets(wall)[0]


def sheets(wall: Wall) -> tuple[Sheet, ...]:
    """The elevation at the largest scale, and where that leaves too little room for the words, a sheet with the rest of them."""
    on = layout(wall.face.width, wall.face.height, alone=True)
    made, blocks = drawing(wall, on.scale), words_beside(wall)
    view, rooms = centred(made, on.view), on.beside
    if not stands(column(blocks, rooms), rooms):
        view, rooms = raised(made, on.view, on.beside)
    first = Sheet(
        "elevation", "Elevation, finished", "Elevation", (view,), (), Fields.of(wall.job), _CAUTIONS,
        job_title=wall.job.title,
    )  # fmt: skip
    return beside_and_after(first, blocks, rooms)


_CAUTIONS = (
    "Fix towers and hung units to the wall: children climb. Hidden cables and pipes: detect before drilling.",
    "Glass: toughened or laminated only, to local rules.",
)


def _panels(wall: Wall, scale: float) -> list[Mark]:
    """Each panelled field with its joints and, where the scale lets them be told apart, its flutes."""
    marks: list[Mark] = []
    for zone in wall.setout.zones:
        marks.append(Line(edge(zone), "medium", closed=True, fill="#fff", layer="panels", ref=zone.ref))
        marks += _face_of(zone, scale)
    return marks


def _face_of(zone: PanelZone, scale: float) -> list[Mark]:
    close = zone.flute_pitch / scale < 0.9 or zone.flutes > 400
    marks: list[Mark] = []
    if zone.kind in ("stone_veneer", "slab"):
        marks.append(Hatch(edge(zone), "stone", layer="hatch", ref=zone.ref))
    elif zone.flutes and close:
        marks.append(Hatch(edge(zone), "fluted", layer="hatch", ref=zone.ref))
    marks += [
        Line((line.a, line.b), line.weight, layer="panels", ref=zone.ref)
        for line in face_lines(zone, flutes=not close)
    ]
    return marks


def _units(wall: Wall, scale: float) -> list[Mark]:
    """Each unit's outline, its bay lines, and on each bay the sign of its front."""
    marks: list[Mark] = []
    for unit in wall.setout.units:
        low = foot(wall, unit)
        case = Box(unit.box.x, unit.box.z + low, unit.box.width, unit.box.height - low)
        marks.append(rectangle(case, "wide", fill="#fff", layer="units", ref=unit.ref))
        bays = [bay for bay in wall.carcass.bays if bay.unit == unit.ref]
        marks += [
            rectangle(part.block.face, "thin", layer="units", ref=part.id)
            for part in wall.carcass.parts
            if part.unit == unit.ref and part.role in SEEN
        ]
        marks += unit_marks(wall, unit)
        for bay in bays:
            if not unit.rise:
                marks += bay_marks(wall, bay, unit, bays, scale)
            marks += _shelves(bay, wall)
    return marks


SEEN = ("side", "top", "bottom", "division", "filler", "plinth", "gap_rail", "lip")
"""Parts of a unit whose edges one sees between and round its fronts."""


def _shelves(bay: BayBox, wall: Wall) -> list[Mark]:
    """The shelves one sees: in an open bay, and behind glass (dashed)."""
    if bay.front not in ("open", "glass"):
        return []
    seen = [
        shelf.box for shelf in wall.carcass.shelves if shelf.unit == bay.unit and bay.box.meets(shelf.box)
    ]
    return [
        rectangle(box, "thin" if bay.front == "open" else "dashed", fill="#fff", layer="units", ref=bay.ref)
        for box in seen
    ]


def _screen(wall: Wall, scale: float) -> list[Mark]:
    """The screen as something that comes later: a double-dashed outline, its centre marked."""
    screen = wall.sight.screen
    x, z = screen.centre
    arm = 6.0 * scale
    return [
        Hatch(screen.frame.corners, "screen", layer="screen", ref="screen"),
        Line(screen.frame.corners, "phantom", closed=True, layer="screen", ref="screen"),
        Line(((x - arm, z), (x + arm, z)), "chain", layer="screen"),
        Line(((x, z - arm), (x, z + arm)), "chain", layer="screen"),
    ]


def _lights(wall: Wall) -> list[Mark]:
    return [
        Line(run.path, "dashed", layer="lights", ref=run.ref) for run in wall.light.runs if len(run.path) > 1
    ]


def _obstacles(wall: Wall, scale: float) -> list[Mark]:
    """What is there already or comes: outlined; what nobody measured is hatched as assumed."""
    marks: list[Mark] = []
    for thing in wall.face.obstacles:
        box = obstacle_box(thing)
        if thing.kind == "skirting":
            marks += _skirting(box, wall)
            continue
        marks += assumed_hatch(thing, box, STRIP * scale)
        marks.append(rectangle(box, "medium", layer="obstacles", ref=thing.ref))
    return marks


def _let_in(wall: Wall) -> list[Mark]:
    """The opening of what is let into the wall, and dashed round it what its maker keeps clear."""
    marks: list[Mark] = []
    for device in wall.services.devices:
        if device.opening is not None and device.clear is not None:
            marks.append(rectangle(device.opening, "medium", layer="obstacles", ref=device.ref))
            marks.append(rectangle(device.clear, "dashed", layer="obstacles", ref=device.ref))
    return marks


STRIP = 1.8
"""Breadth of the hatch along an edge that nobody measured, paper mm."""


def assumed_hatch(thing: Obstacle, box: Box, strip: float) -> list[Mark]:
    """A hatched strip along each edge whose place is assumed; over all of it where all four are. strip : its breadth [mm]."""
    x, z, wide, high = (not length.taped for length in (thing.x, thing.z, thing.width, thing.height))
    if x and z and wide and high:
        return [Hatch(box.corners, "assumed", layer="hatch", ref=thing.ref)]
    across, up = min(strip, box.width / 3), min(strip, box.height / 3)
    strips = (
        (x, Box(box.x, box.z, across, box.height)),
        (x or wide, Box(box.right - across, box.z, across, box.height)),
        (z, Box(box.x, box.z, box.width, up)),
        (z or high, Box(box.x, box.top - up, box.width, up)),
    )
    return [Hatch(edge.corners, "assumed", layer="hatch", ref=thing.ref) for told, edge in strips if told]


def _skirting(box: Box, wall: Wall) -> list[Mark]:
    """The skirting's top edge, only where it is seen: not behind units and panels that reach below it."""
    hides = sorted(
        (b.x, b.right)
        for b in (*(u.box for u in wall.setout.units), *(z.box for z in wall.setout.zones))
        if b.z < box.top
    )
    marks: list[Mark] = []
    at = box.x
    for left, right in (*hides, (box.right, box.right)):
        if left > at:
            marks.append(
                Line(
                    ((at, box.top), (min(left, box.right), box.top)),
                    "thin",
                    layer="obstacles",
                    ref="skirting",
                )
            )
        at = max(at, right)
    return marks


def _labels(wall: Wall, scale: float) -> list[Mark]:
    """What each thing is: refs in units and bays, the screen's size, obstacles and lights by leader."""
    screen = wall.sight.screen
    x, z = screen.centre
    size = f"frame {show_mm(screen.frame.width)} × {show_mm(screen.frame.height)}"
    marks: list[Mark] = [
        Text(
            (x, z + screen.frame.height * 0.22),
            f"Screen {screen.diagonal:g} in",
            TEXT_LABEL,
            "middle",
            bold=True,
            layer="text",
            ref="screen",
        ),
        Text(
            (x, z + screen.frame.height * 0.22 - 5 * scale),
            size,
            TEXT_SMALL,
            "middle",
            layer="text",
            ref="screen",
        ),
    ]
    for unit in wall.setout.units:
        marks += _unit_labels(unit, wall, scale)
    for zone in wall.setout.zones:
        marks.append(
            Text(
                (zone.box.x + 2.0 * scale, zone.box.top - 5.5 * scale),
                zone.ref,
                TEXT_LABEL,
                bold=True,
                layer="text",
                ref=zone.ref,
            )
        )
    for thing in wall.face.obstacles:
        if thing.kind == "skirting":
            continue
        marks.append(_obstacle_label(thing, scale))
    for device in wall.services.devices:
        if device.opening is not None:
            at = (device.opening.x + 2.0 * scale, device.opening.z + 2.0 * scale)
            size = f"{show_mm(device.opening.width)} × {show_mm(device.opening.height)}, {show_mm(device.opening.x)} from left, "
            words = f"{device.name}: opening {size}{show_mm(device.opening.z)} above FFL"
            marks.append(Text(at, words, TEXT_SMALL, layer="text", ref=device.ref))
    marks += [_filler_label(part, wall, scale) for part in wall.carcass.parts if part.role == "filler"]
    for run in wall.light.runs:
        if len(run.path) > 1:
            (x0, z0), (x1, z1) = run.path[0], run.path[1]
            at = (x0 * 0.8 + x1 * 0.2, z0 * 0.8 + z1 * 0.2)
            marks.append(
                Leader((at, (at[0] - 5 * scale, at[1] - 5 * scale)), run.ref, layer="text", ref=run.ref)
            )
    return marks


def _filler_label(part: Part, wall: Wall, scale: float) -> Mark:
    """A filler's reference and its breadth in place, led towards the middle of the wall."""
    face = part.block.face
    way = 1 if face.centre[0] < wall.face.width / 2 else -1
    at = (face.centre[0], face.top - min(60.0, face.height / 2))
    end = (at[0] + way * 5 * scale, face.top + 4 * scale)
    return Leader(
        (at, end), f"{part.id} filler {show_mm(min(face.width, face.height))}", layer="text", ref=part.id
    )


def _obstacle_label(thing: Obstacle, scale: float) -> Mark:
    """The obstacle's name inside it where there is room, else led out of it; a beam with its drop and projection."""
    box = obstacle_box(thing)
    words = f"{thing.ref} {obstacle_words(thing.kind)}"
    if thing.kind == "beam":
        words += f", drop {show_mm(box.height)}, projection {show_mm(thing.projection.mm)}"
    wide = text_width(words, TEXT_SMALL)
    if box.width / scale > wide + 2 * STRIP + 2 and box.height / scale > 4:
        at = (box.x + (STRIP + 1) * scale, box.centre[1] - 1.2 * scale)
        return Text(at, words, TEXT_SMALL, layer="text", ref=thing.ref)
    end = (box.centre[0] - 7 * scale, box.centre[1] + 6 * scale)
    return Leader((box.centre, end), words, layer="text", ref=thing.ref)


def _unit_labels(unit: UnitBox, wall: Wall, scale: float) -> list[Mark]:
    bays = [bay for bay in wall.carcass.bays if bay.unit == unit.ref]
    if unit.box.height / scale < 5 or not bays:
        return [
            Leader(
                (
                    (unit.box.centre[0], unit.box.top),
                    (unit.box.centre[0] + 4 * scale, unit.box.top + 5 * scale),
                ),
                unit.ref,
                TEXT_LABEL,
                layer="text",
                ref=unit.ref,
            )
        ]
    if len(bays) == 1:
        at = (unit.box.centre[0], unit.box.top - 6.0 * scale)
        return [Text(at, unit.ref, TEXT_LABEL, "middle", bold=True, layer="text", ref=unit.ref)]
    marks: list[Mark] = []
    for bay in bays:
        own = leaves(wall, bay, unit, bays)
        at = label_at(
            bay,
            own[-1] if bay.front == "drawers" else own[0],
            hinged_right(own[0], own, unit, bay.hinged),
            scale,
        )
        marks.append(
            Text(
                at,
                bay.ref,
                TEXT_SMALL,
                bold=True,
                layer="text",
                ref=bay.ref,
            )
        )
    return marks
