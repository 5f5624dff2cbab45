"""Joinery sheets: each unit from the front and opened, with its parts by reference; then cut through."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

from wallwright.core.drawing import TEXT_LABEL, TEXT_SMALL, Circle, Drawing, Leader, Mark, Text, rectangle
from wallwright.core.shape import Box
from wallwright.core.units import show_mm
from wallwright.sheets.beside import Block, Legend, Notes, column
from wallwright.sheets.boring import boring_notes, cups, vent_notes
from wallwright.sheets.chains import chain, chains
from wallwright.sheets.cutouts import cut_out_dims, cut_out_marks, cut_out_table, cut_outs
from wallwright.sheets.elevation import SEEN
from wallwright.sheets.elevation_words import filler_notes
from wallwright.sheets.figures import ROW
from wallwright.sheets.front_signs import FRONT_WORDS
from wallwright.sheets.fronts import bay_marks, foot, hinged_right, label_at, leaves, unit_marks
from wallwright.sheets.grounds import grounded
from wallwright.sheets.ink import extent, extent_of
from wallwright.sheets.joinery_cuts import cut_sheet
from wallwright.sheets.lettering import text_width
from wallwright.sheets.long_table import stands
from wallwright.sheets.paper import SCALES, Fields, Sheet, View
from wallwright.sheets.parts_table import parts_table
from wallwright.sheets.place import settle
from wallwright.sheets.room import column_right
from wallwright.sheets.vents import vent_marks
from wallwright.sheets.words import board_name, unit_words

if TYPE_CHECKING:
    from wallwright.carcass.record import Part, UnitBox
    from wallwright.derive import Wall

COLUMN = 132.0  # paper mm for the parts table
# Parts of drawer boxes stand in the table only: they would hide one another in the view.
INSIDE = {
    "side",
    "top",
    "bottom",
    "division",
    "shelf",
    "back",
    "rail",
    "cleat",
    "plinth",
    "filler",
    "wall_shelf",
    "lip",
    "rib",
    "lining",
    "gap_rail",
}
HIDDEN = {"back", "rail", "cleat"}
CAUTIONS = (
    "Finished sizes here; cut sizes only on the cut list. Parts ±1, assembly ±2, on site ±3. "
    "No part is set to unfinished plaster.",
    "Cutting boards: extraction and a mask. Fix to the wall as on the fixing schedule; towers near their top.",
)


def built(wall: Wall) -> tuple[UnitBox, ...]:
    """The units made of several parts: those that have a sheet of their own."""
    return tuple(unit for unit in wall.setout.units if len(_parts(wall, unit.ref)) > 2)


def sheets(wall: Wall) -> tuple[Sheet, ...]:
    """For each unit made of several parts its front and inside, then its cuts from the side and in plan."""
    return tuple(sheet for unit in built(wall) for sheet in (unit_sheet(wall, unit), cut_sheet(wall, unit)))


def unit_sheet(wall: Wall, unit: UnitBox) -> Sheet:
    """A unit: front and inside, as large as they go on the sheet with all that is written beside them."""
    room, beside = column_right(COLUMN)
    blocks = _beside(wall, unit)
    made: tuple[tuple[View, ...], tuple[Box, ...]] | None = None
    for scale in (float(s) for s in SCALES[2:]):
        placed = _views(wall, unit, scale, room)
        if not placed:
            continue
        views, free = _free(placed, room)
        made = made or (views, free)
        rooms = (*beside, *free)
        if stands(column(blocks, rooms), rooms):
            made = views, free
            break
    if made is None:
        raise ValueError(f"unit {unit.ref} of {unit.box.width:g} x {unit.box.height:g} mm fits no sheet")
    placed, free = made
    return Sheet(
        f"joinery_{unit.ref}",
        f"Joinery: {unit.ref} {unit_words(unit.kind)}",
        "Joinery",
        placed,
        column(blocks, (*beside, *free)),
        Fields.of(wall.job),
        CAUTIONS,
        job_title=wall.job.title,
    )


def _views(wall: Wall, unit: UnitBox, scale: float, room: Box) -> tuple[View, ...]:
    """Front and inside, one above the other where the unit is flat; nothing where they do not fit."""
    flat = unit.box.width > unit.box.height
    tall = unit.box.height * (2 if flat else 1)
    if unit.box.width / scale > room.width - 20 or tall / scale > room.height - 40:
        return ()  # its figures will not go on the sheet either
    views = [front(wall, unit, scale), inside(wall, unit, scale)]
    return _stacked(views, room) if flat else in_row(views, room)


def _beside(wall: Wall, unit: UnitBox) -> list[Block]:
    parts = _parts(wall, unit.ref)
    fronts = list(dict.fromkeys(bay.front for bay in wall.carcass.bays if bay.unit == unit.ref))
    legend = Legend(
        (
            *((f"front:{f}", FRONT_WORDS.get(f, f)) for f in fronts),
            ("pen:dashed", "hidden edge; cut-out"),
        )
    )
    openings = cut_outs(wall, parts)
    return [
        legend,
        *([cut_out_table(openings)] if openings else []),
        parts_table(parts),
        Notes("Notes", _notes(unit, parts, wall)),
    ]


def _free(placed: tuple[View, ...], room: Box) -> tuple[tuple[View, ...], tuple[Box, ...]]:
    """Room for notes below the views, which are moved up for it, those of a stack close together."""
    boxes = [
        Box(
            v.x + b.x / v.drawing.scale,
            v.y + b.z / v.drawing.scale,
            b.width / v.drawing.scale,
            b.height / v.drawing.scale,
        )
        for v, b in ((view, extent(view.drawing)) for view in placed)
    ]
    top = room.top - 5.0  # below the centring mark
    rise = top - max(box.top for box in boxes)
    moved: list[View] = []
    low = top
    for view, box in zip(placed, boxes, strict=True):
        stacked = any(other.z > box.top for other in boxes)
        up = low - 6.0 - box.top if stacked else rise
        moved.append(replace(view, y=round(view.y + up, 3)))
        low = min(low, box.z + up)
    below = low - 6.0 - room.z
    if below < 30:
        return placed, ()
    half = (room.width - 10.0) / 2
    return tuple(moved), tuple(
        Box(room.x + 5.0 + i * (half + 2.0), room.z, half - 2.0, below) for i in range(2)
    )


def _parts(wall: Wall, ref: str) -> list[Part]:
    return [part for part in wall.carcass.parts if part.unit == ref]


def in_row(views: list[Drawing], room: Box) -> tuple[View, ...]:
    """Side by side, their floors level; nothing where they do not fit."""
    boxes = [(extent(v), v.scale) for v in views]
    gap = 8.0
    wide = sum(b.width / s for b, s in boxes) + gap * (len(views) - 1)
    if wide > room.width or any(b.height / s > room.height for b, s in boxes):
        return ()
    spare = (room.width - wide) / (len(views) + 1)
    x = room.x + spare
    high = max(b.top / s for b, s in boxes)
    low = min(b.z / s for b, s in boxes)
    y = room.z + (room.height - (high - low)) / 2 - low
    out: list[View] = []
    for view, (box, s) in zip(views, boxes, strict=True):
        out.append(View(view, round(x - box.x / s, 3), round(y, 3)))
        x += box.width / s + gap + spare
    return tuple(out)


def _stacked(views: list[Drawing], room: Box) -> tuple[View, ...]:
    """One above the other, their left edges in line; nothing where they do not fit."""
    boxes = [(extent(v), v.scale) for v in views]
    tall = sum(b.height / s for b, s in boxes) + 6.0 * (len(views) - 1)
    wide = max(b.width / s for b, s in boxes)
    if tall > room.height or wide > room.width:
        return ()
    spare = (room.height - tall) / (len(views) + 1)
    y = room.top - spare
    x = room.x + (room.width - wide) / 2
    out: list[View] = []
    for view, (box, s) in zip(views, boxes, strict=True):
        out.append(View(view, round(x - box.x / s, 3), round(y - box.top / s, 3)))
        y -= box.height / s + 6.0 + spare
    return tuple(out)


def front(wall: Wall, unit: UnitBox, scale: float) -> Drawing:
    """The unit closed: each front on its own outline, hinged at its own side, with the cups that are bored into it."""
    box = _at_home(unit)
    dx, dz = -unit.box.x, -unit.box.z
    low = foot(wall, unit)
    outline = Box(box.x, low, box.width, box.height - low)
    still: list[Mark] = [rectangle(outline, "wide", layer="units", ref=unit.ref)]
    labels: list[Mark] = [_title("Front", box, scale)]
    bays = [bay for bay in wall.carcass.bays if bay.unit == unit.ref]
    parts = _parts(wall, unit.ref)
    still += [
        rectangle(_home(part.block.face, unit), "thin", layer="units", ref=part.id)
        for part in parts
        if part.role in SEEN
    ]
    still += unit_marks(wall, unit, dx, dz)
    still += vent_marks(wall, unit, scale, dx, dz)
    for bay in bays:
        if not unit.rise:
            still += bay_marks(wall, bay, unit, bays, scale, dx, dz)
        own = leaves(wall, bay, unit, bays)
        x, z = label_at(
            bay,
            own[-1] if bay.front == "drawers" else own[0],
            hinged_right(own[0], own, unit, bay.hinged),
            scale,
        )
        labels.append(Text((x + dx, z + dz + 1.8 * scale), bay.ref, layer="text", ref=bay.ref))
        doors = bay.front in ("shutter", "glass")
        for part in parts:
            if part.role == "front" and part.id.startswith(f"{bay.ref}-F"):
                face = part.block.face
                at = (face.x + 1.5 * scale, face.z + 1.5 * scale)
                if doors:
                    x, z = label_at(bay, face, hinged_right(face, own, unit, bay.hinged), scale)
                    fits = face.right - (text_width(_tag(part), TEXT_SMALL, True) + 1.5) * scale
                    at = (max(min(x, fits), face.x + 1.5 * scale), z - 1.8 * scale)
                labels.append(
                    Text((at[0] + dx, at[1] + dz), _tag(part), bold=True, layer="text", ref=part.id)
                )
    labels += [
        *chain([box.x, box.right], "x", 0.0, -ROW, "overall"),
        *chain([0.0, box.top], "z", 0.0, -ROW, "overall"),
    ]
    bored = cups(wall, unit)
    radius = wall.limits.value("joinery.cup") / 2
    still += [
        Circle((cup.at[0] + dx, cup.at[1] + dz), radius, "thin", layer="fittings", ref=cup.door)
        for cup in bored
    ]
    if bored:
        doors = [p.block.face for p in parts if p.id in {cup.door for cup in bored}]
        stops = [*(cup.at[1] + dz for cup in bored), *(e + dz for d in doors for e in (d.z, d.top))]
        labels += chain(stops, "z", box.right, ROW, "cups")
    marks = grounded(still, settle(labels, scale, lines=still), scale)
    return Drawing(f"{unit.ref} front", "Front", scale, marks, extent_of(marks, scale))


def inside(wall: Wall, unit: UnitBox, scale: float) -> Drawing:
    """The unit with its fronts off: sides, top, bottom, divisions, shelves, with clear sizes between them."""
    box = _at_home(unit)
    still: list[Mark] = []
    openings = cut_outs(wall, _parts(wall, unit.ref))
    level_cuts, upright_cuts = cut_out_dims(
        openings, (box.top, 0.0), (ROW, -2 * ROW), scale, -unit.box.x, -unit.box.z
    )
    up = 14.0 if level_cuts else 6.0
    fillers = [part for part in _parts(wall, unit.ref) if part.role == "filler"]
    over = max([box.top, *(_home(part.block.face, unit).top for part in fillers)])
    labels: list[Mark] = [
        _title(
            "Inside, fronts off",
            Box(box.x, box.z, box.width, over),
            scale,
            up if over == box.top else up + 4.0,
        )
    ]
    shown = [part for part in _parts(wall, unit.ref) if part.role in INSIDE]
    for part in sorted(shown, key=lambda p: -p.block.y):  # the farthest from the room first
        face = _home(part.block.face, unit)
        still.append(
            rectangle(
                face,
                "dashed" if part.role in HIDDEN else "medium",
                fill="" if part.role in HIDDEN else "#fff",
                layer="units",
                ref=part.id,
            )
        )
        labels.append(_pointed(part, face, box, scale))
    if unit.base == "legs":
        still += unit_marks(wall, unit, -unit.box.x, -unit.box.z)
    upright = [
        e for p in shown if p.role in ("side", "division") and not _fixed_shelf(p) for e in _span(p, unit)
    ]
    level = [
        e for p in shown if p.role in ("top", "bottom", "plinth") or _fixed_shelf(p) for e in _rise(p, unit)
    ]
    still += vent_marks(wall, unit, scale, -unit.box.x, -unit.box.z, inside=True)
    lines, names = cut_out_marks(openings, -unit.box.x, -unit.box.z)
    still += lines
    labels += names
    labels += [
        *level_cuts,
        *upright_cuts,
        *chains([box.x, *upright, box.right], "x", 0.0, -ROW),
        *chains([0.0, *level, box.top], "z", 0.0, -ROW, 2 * ROW if upright_cuts else ROW),
    ]
    marks = grounded(still, settle(labels, scale, lines=still), scale)
    return Drawing(f"{unit.ref} inside", "Inside", scale, marks, extent_of(marks, scale))


def _fixed_shelf(part: Part) -> bool:
    """A division that lies level: its height is dimensioned; loose shelves are not."""
    return part.role == "division" and part.block.dx > part.block.dz


def _title(words: str, box: Box, scale: float, up: float = 6.0) -> Text:
    return Text((box.x, box.top + up * scale), f"{words} 1:{scale:g}", TEXT_LABEL, bold=True, layer="text")


def _at_home(unit: UnitBox) -> Box:
    """The unit's outline with its lower left corner at nought."""
    return Box(0.0, 0.0, unit.box.width, unit.box.height)


def _home(box: Box, unit: UnitBox) -> Box:
    return Box(box.x - unit.box.x, box.z - unit.box.z, box.width, box.height)


def _span(part: Part, unit: UnitBox) -> tuple[float, float]:
    left = part.block.x - unit.box.x
    return left, left + part.block.dx


def _rise(part: Part, unit: UnitBox) -> tuple[float, float]:
    low = part.block.z - unit.box.z
    return low, low + part.block.dz


def _tag(part: Part) -> str:
    """The part's own tag, without its unit's."""
    return part.id.removeprefix(f"{part.unit}-")


def _pointed(part: Part, face: Box, unit: Box, scale: float) -> Leader:
    """The part's tag, led to its right (the left is for dimensions): out of a narrow unit, into a bay of a wide one."""
    narrow = unit.width / scale < 60
    if part.role == "back":
        at = (face.x + face.width * 0.25, face.z + face.height * 0.25)
        end = (at[0] + 6 * scale, at[1] + 6 * scale)
    elif face.height > 3 * face.width:
        at = (face.centre[0], face.top - min(14 * scale, face.height * 0.5))
        outside = narrow and at[0] > unit.centre[0]
        end = (
            unit.right + 5 * scale if outside else at[0] + 5 * scale,
            at[1] + (5 if outside else 3) * scale,
        )
    else:
        at = (face.right - 3 * scale if narrow else face.x + face.width * 0.7, face.centre[1])
        end = (
            (unit.right + 5 * scale, at[1] + 3 * scale) if narrow else (at[0] + 6 * scale, at[1] + 6 * scale)
        )
    return Leader((at, end), _tag(part), layer="text", ref=part.id)


def _notes(unit: UnitBox, parts: list[Part], wall: Wall) -> tuple[str, ...]:
    bands = sorted({edge for part in parts for edge in part.edges if edge})
    hardware = any(h.unit == unit.ref for h in wall.carcass.hardware)
    boards = sorted({board_name(part.board) for part in parts})
    notes = [
        f"{unit.ref} {'hangs' if unit.hung else 'stands'} with its underside {show_mm(unit.box.z)} above FFL, "
        f"left edge {show_mm(unit.box.x)} from the left corner. Mass of its boards {sum(part.mass for part in parts):.0f} kg.",
        "Figures in the views are whole mm, rounded so that each chain closes; exact sizes: parts and cut list.",
        *boring_notes(wall, unit, parts),
        *filler_notes(wall, unit.ref),
        *vent_notes(wall, unit),
        f"Boards: {'; '.join(boards)}.",
    ]
    if bands:
        notes.append(f"Edge bands {', '.join(bands)} mm. L = long edge, S = short edge.")
    if hardware:
        notes.append("Fittings, counted, and the order of assembly: exploded sheet.")
    return tuple(notes)
