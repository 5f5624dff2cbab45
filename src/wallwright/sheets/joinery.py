"""Joinery sheets: each unit from the front, opened and in side view, with its parts by reference."""

from __future__ import annotations

from typing import TYPE_CHECKING

from wallwright.core.drawing import TEXT_LABEL, Drawing, Hatch, Leader, Line, Mark, Text, rectangle
from wallwright.core.shape import Box
from wallwright.core.units import show_mm
from wallwright.library import load
from wallwright.sheets.beside import FRONT_WORDS, Block, Legend, Notes, column, front_marks
from wallwright.sheets.elevation import front_box
from wallwright.sheets.figures import ROW
from wallwright.sheets.ink import extent, extent_of
from wallwright.sheets.paper import SCALES, Fields, Sheet, View
from wallwright.sheets.parts_table import parts_table
from wallwright.sheets.place import chain, chains, settle
from wallwright.sheets.room import column_right

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
    """One sheet for each unit made of several parts."""
    return tuple(unit_sheet(wall, unit) for unit in built(wall))


def unit_sheet(wall: Wall, unit: UnitBox) -> Sheet:
    """A console or tower: front, inside and side view."""
    room, beside = column_right(COLUMN)
    flat = unit.box.width > unit.box.height
    for scale in (float(s) for s in SCALES[3:]):
        views = [front(wall, unit, scale), inside(wall, unit, scale), side(wall, unit, scale)]
        placed = _stacked(views, room) if flat else in_row(views, room)
        if placed:
            break
    else:
        raise ValueError(f"unit {unit.ref} of {unit.box.width:g} x {unit.box.height:g} mm fits no sheet")
    parts = _parts(wall, unit.ref)
    fronts = list(dict.fromkeys(bay.front for bay in wall.carcass.bays if bay.unit == unit.ref))
    legend = Legend(
        (
            *((f"front:{f}", FRONT_WORDS.get(f, f)) for f in fronts),
            ("hatch:board", "board: cut"),
            ("pen:dashed", "hidden edge"),
        )
    )
    blocks: list[Block] = [parts_table(parts), Notes("Notes", _notes(unit, parts, wall)), legend]
    return Sheet(
        f"joinery_{unit.ref}",
        f"Joinery: {unit.ref} {unit.kind}",
        "Joinery",
        placed,
        column(blocks, beside),
        Fields.of(wall.job),
        CAUTIONS,
        job_title=wall.job.title,
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
    """The unit closed: its fronts with their kinds and references."""
    box = _at_home(unit)
    still: list[Mark] = [rectangle(box, "wide", layer="units", ref=unit.ref)]
    labels: list[Mark] = [_title("Front", box, scale)]
    bays = [bay for bay in wall.carcass.bays if bay.unit == unit.ref]
    fronts = [part for part in _parts(wall, unit.ref) if part.role == "front"]
    for part in fronts:
        face = _home(part.block.face, unit)
        still.append(rectangle(face, "medium", layer="units", ref=part.id))
        labels.append(
            Text(
                (face.x + 1.5 * scale, face.z + 1.5 * scale), _tag(part), bold=True, layer="text", ref=part.id
            )
        )
    for bay in bays:
        where = _home(front_box(bay, unit, bays), unit)
        still += front_marks(bay.front, where, scale)
        labels.append(
            Text((where.x + 1.5 * scale, where.top - 4.2 * scale), bay.ref, layer="text", ref=bay.ref)
        )
    labels += [
        *chain([box.x, box.right], "x", 0.0, -ROW, "overall"),
        *chain([0.0, box.top], "z", 0.0, -ROW, "overall"),
    ]
    marks = (*still, *settle(labels, scale))
    return Drawing(f"{unit.ref} front", "Front", scale, marks, extent_of(marks, scale))


def inside(wall: Wall, unit: UnitBox, scale: float) -> Drawing:
    """The unit with its fronts off: sides, top, bottom, divisions, shelves, with clear sizes between them."""
    box = _at_home(unit)
    still: list[Mark] = []
    labels: list[Mark] = [_title("Inside, fronts off", box, scale)]
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
    upright = [e for p in shown if p.role in ("side", "division") for e in _span(p, unit)]
    level = [e for p in shown if p.role in ("top", "bottom", "shelf", "plinth") for e in _rise(p, unit)]
    labels += [
        *chains([box.x, *upright, box.right], "x", 0.0, -ROW),
        *chains([0.0, *level, box.top], "z", 0.0, -ROW),
    ]
    marks = (*still, *settle(labels, scale))
    return Drawing(f"{unit.ref} inside", "Inside", scale, marks, extent_of(marks, scale))


def side(wall: Wall, unit: UnitBox, scale: float) -> Drawing:
    """The unit from its right: the wall at the right, its boards cut."""
    depth, box = unit.depth, _at_home(unit)
    still: list[Mark] = [rectangle(Box(-depth, 0, depth, box.height), "thin", layer="units", ref=unit.ref)]
    middle = unit.box.centre[0]
    for part in _parts(wall, unit.ref):
        if part.role not in INSIDE | {"front"} or part.role in ("side", "division"):
            continue
        if not part.block.x <= middle <= part.block.x + part.block.dx:
            continue
        cut = Box(part.block.y, part.block.z - unit.box.z, part.block.dy, part.block.dz)
        still += [
            rectangle(cut, "medium", layer="units", ref=part.id),
            Hatch(cut.corners, "board", layer="hatch", ref=part.id),
        ]
    still.append(Line(((0, -4 * scale), (0, box.height + 4 * scale)), "extra", layer="wall", ref="wall"))
    view = Box(-depth, 0, depth, box.height)
    faces = [p.thickness for p in _parts(wall, unit.ref) if p.role == "front"]
    stops = [-depth, *([-depth + max(faces)] if faces else []), 0.0]
    labels = [_title("Side, cut in the middle", view, scale), *chains(stops, "x", 0.0, -ROW)]
    marks = (*still, *settle(labels, scale))
    return Drawing(f"{unit.ref} side", "Side", scale, marks, extent_of(marks, scale))


def _title(words: str, box: Box, scale: float) -> Text:
    return Text((box.x, box.top + 6.0 * scale), f"{words} 1:{scale:g}", TEXT_LABEL, bold=True, layer="text")


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
    hardware = [h for h in wall.carcass.hardware if h.unit == unit.ref]
    notes = [
        f"{unit.ref} {'hangs' if unit.hung else 'stands'} with its underside {show_mm(unit.box.z)} above FFL, "
        f"left edge {show_mm(unit.box.x)} from the left corner.",
        f"Mass of its boards {sum(part.mass for part in parts):.0f} kg.",
    ]
    if bands:
        notes.append(f"Edges: {', '.join(bands)}. L = long edge, S = short edge.")
    notes += [f"{h.quantity} × {h.name}" for h in hardware]
    notes += [
        f"Board {key}: {load.boards()[key].name}"
        for key in sorted({part.board for part in parts})
        if key in load.boards()
    ]
    return tuple(notes)
