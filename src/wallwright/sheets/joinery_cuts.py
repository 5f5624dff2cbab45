"""A unit cut through: from its side and in plan, its boards hatched, with depths from the wall and heights from FFL."""

from __future__ import annotations

from typing import TYPE_CHECKING

from wallwright.core.drawing import TEXT_LABEL, Drawing, Hatch, Leader, Level, Line, Mark, Text, rectangle
from wallwright.core.shape import Box
from wallwright.core.units import show_mm
from wallwright.sheets.beside import Legend, Notes, column
from wallwright.sheets.chains import chain, chains
from wallwright.sheets.figures import ROW
from wallwright.sheets.grounds import grounded
from wallwright.sheets.ink import extent, extent_of
from wallwright.sheets.paper import SCALES, Fields, Sheet, View
from wallwright.sheets.place import settle
from wallwright.sheets.room import FULL, NARROW
from wallwright.sheets.words import unit_words

if TYPE_CHECKING:
    from wallwright.carcass.record import BayBox, Part, UnitBox
    from wallwright.derive import Wall

BOXES = frozenset({"drawer_side", "drawer_end", "drawer_bottom", "frame"})
"""Parts of what comes out: outlined thin where they are cut, not hatched, so that the case is read first."""
LOOSE = frozenset({"lining", "face"})
"""Their blocks are only the room they take."""
CAUTIONS = (
    "Finished sizes here; cut sizes only on the cut list. Parts ±1, assembly ±2, on site ±3. "
    "No part is set to unfinished plaster.",
    "Cutting boards: extraction and a mask. Fix to the wall as on the fixings sheet; towers near their top.",
)


def cut_sheet(wall: Wall, unit: UnitBox) -> Sheet:
    """The side cut and the plan cut of a unit on one sheet, the side at the left for what is tall, else the plan above it."""
    room = Box(FULL.x, FULL.z, FULL.width - NARROW, FULL.height)
    placed = _largest(wall, unit, room)
    held = "hangs" if unit.hung else "stands"
    notes = (
        f"{unit.ref} {held} with its underside {show_mm(unit.box.z)} above FFL, its left edge {show_mm(unit.box.x)} from the left corner.",
        "Depths from the wall's face, where a panel stands between included. Heights from the unit's lower edge; levels from FFL.",
        f"Plan cut {show_mm(_plan_height(wall, unit))} above FFL, looking down; side cut at x {show_mm(_side_at(wall, unit))}, looking left.",
    )
    legend = Legend(
        (
            ("hatch:board", "board: cut"),
            ("pen:thin", "drawer or pull-out box; board beyond"),
            ("pen:extra", "the wall's face"),
        ),
    )
    beside = (Box(room.right + 2.0, FULL.z, NARROW - 6.0, FULL.height),)
    return Sheet(
        f"cuts_{unit.ref}",
        f"Joinery cuts: {unit.ref} {unit_words(unit.kind)}",
        "Joinery",
        placed,
        column([Notes("Notes", notes), legend], beside),
        Fields.of(wall.job),
        CAUTIONS,
        job_title=wall.job.title,
    )


BESIDE = 24.0
"""Room that a cut's figures take at least, each way, paper mm: to tell early what goes on no sheet."""


def _largest(wall: Wall, unit: UnitBox, room: Box) -> tuple[View, ...]:
    """Both cuts at the largest scales at which they go on the sheet, the side's first. ValueError where none does."""
    box, depth = unit.box, unit.depth
    sides = [
        float(s)
        for s in SCALES[2:]
        if max(depth / s - room.width, box.height / s - room.height) + BESIDE <= 0
    ]
    plans = [
        float(s) for s in SCALES[2:] if max(box.width / s - room.width, depth / s - room.height) + BESIDE <= 0
    ]
    drawn: dict[tuple[bool, float], Drawing] = {}
    for side in sides:
        for plan in plans:
            if plan > side and plan > plans[0]:
                continue
            beside = box.width / plan + depth / side + 3 * BESIDE <= room.width
            below = box.height / side + depth / plan + 3 * BESIDE <= room.height
            if not beside and not below:
                continue
            for key, scale in ((True, side), (False, plan)):
                if (key, scale) not in drawn:
                    drawn[key, scale] = (side_cut if key else plan_cut)(wall, unit, scale)
            placed = _placed([drawn[False, plan], drawn[True, side]], room)
            if placed:
                return placed
    raise ValueError(f"unit {unit.ref} of {box.width:g} x {box.height:g} mm fits no sheet")


def _placed(views: list[Drawing], room: Box) -> tuple[View, ...]:
    """Side by side where that goes, else one below the other; nothing where neither does."""
    boxes = [(extent(view), view.scale) for view in views]
    sizes = [(box.width / s, box.height / s) for box, s in boxes]
    gap = 10.0
    across = sum(w for w, _ in sizes) + gap <= room.width and max(h for _, h in sizes) <= room.height
    down = sum(h for _, h in sizes) + gap <= room.height and max(w for w, _ in sizes) <= room.width
    if not across and not down:
        return ()
    out: list[View] = []
    x, top = room.x + 5.0, room.top - 6.0  # clear of the centring marks
    for view, (box, s), (wide, high) in zip(views, boxes, sizes, strict=True):
        out.append(View(view, round(x - box.x / s, 3), round(top - box.top / s, 3)))
        if across:
            x += wide + gap
        else:
            top -= high + gap
    return tuple(out)


def _bay(wall: Wall, unit: UnitBox) -> BayBox | None:
    """The bay that the cuts go through: the first with something before it, else the first."""
    own = [bay for bay in wall.carcass.bays if bay.unit == unit.ref]
    return next((bay for bay in own if bay.front != "open"), own[0] if own else None)


def _plan_height(wall: Wall, unit: UnitBox) -> float:
    """Where the plan is cut: through a bay, clear of its shelves and fixed boards."""
    bay = _bay(wall, unit)
    box = bay.box if bay else unit.box
    level = [
        p.block
        for p in wall.carcass.parts
        if p.unit == unit.ref and p.block.dz < 60 and p.block.dx > p.block.dz
    ]
    for share in (0.5, 0.55, 0.45, 0.62, 0.38, 0.7, 0.3):
        z = box.z + box.height * share
        if not any(b.z - 3 <= z <= b.z + b.dz + 3 for b in level):
            return z
    return box.z + box.height / 2


def _side_at(wall: Wall, unit: UnitBox) -> float:
    """Where the side is cut: a third into the bay, so that neither its middle division nor the gap of a pair of doors is met."""
    bay = _bay(wall, unit)
    box = bay.box if bay else unit.box
    return box.x + box.width * 0.36


def _own(wall: Wall, unit: UnitBox) -> list[Part]:
    return [part for part in wall.carcass.parts if part.unit == unit.ref and part.role not in LOOSE]


def side_cut(wall: Wall, unit: UnitBox, scale: float) -> Drawing:
    """Cut up and down: the room left, the wall right; z from the unit's lower edge."""
    at, low, high, depth = _side_at(wall, unit), unit.box.z, unit.box.height, unit.depth
    still: list[Mark] = [rectangle(Box(-depth, 0.0, depth, high), "thin", layer="units", ref=unit.ref)]
    cut = [part for part in _own(wall, unit) if part.block.x < at < part.block.x + part.block.dx]
    for part in sorted(cut, key=lambda p: p.role not in BOXES):
        b = part.block
        still += _board(part, Box(b.y, b.z - low, b.dy, b.dz))
    if unit.base == "legs" and not unit.hung:
        inset, legs = wall.limits.value("carcass.leg_inset"), wall.limits.value("carcass.legs")
        body = min((part.block.y for part in cut if part.role == "bottom"), default=-depth)
        still += [
            rectangle(Box(y - 15.0, 0.0, 30.0, legs), "medium", fill="#fff", layer="units", ref="leg")
            for y in (body + inset, -inset)
        ]
    still.append(Line(((0.0, -6 * scale), (0.0, high + 6 * scale)), "extra", layer="wall", ref="wall"))
    if low < 6 * scale:
        still.append(Line(((-depth - 8 * scale, -low), (4 * scale, -low)), "extra", layer="wall", ref="ffl"))
    rise = [
        e
        for p in cut
        if p.role in ("top", "bottom", "plinth", "division")
        for e in (p.block.z - low, p.block.z + p.block.dz - low)
    ]
    hung = [
        e for p in cut if p.role in ("rail", "cleat") for e in (p.block.z - low, p.block.z + p.block.dz - low)
    ]
    front = [e for p in cut if p.role == "front" for e in (p.block.z - low, p.block.z + p.block.dz - low)]
    labels: list[Mark] = [
        Text(
            (-depth, high + 11 * scale),
            f"Side, cut at x {show_mm(at)} 1:{scale:g}",
            TEXT_LABEL,
            bold=True,
            layer="text",
        ),
        *chains(_depths(unit, cut), "x", 0.0, -ROW, ref="depths"),
        *chains([0.0, *rise, high], "z", -depth, -ROW, 8.0 if not front else 16.0, ref="heights"),
    ]
    if front:
        labels += chain([0.0, *front, high], "z", -depth, -2 * ROW, "fronts")
    if hung:
        labels += chain([0.0, *hung, high], "z", 0.0, ROW, "cleat")
    reach = ROW + 6.0 if hung else 4.0
    labels += [
        Level((0.0, z - low), z, words, layer="levels", ref=words, reach=reach)
        for z, words in ((low, "under"), (low + high, "top"))
    ]
    labels += _tags(cut, low, scale, side=True, unit=unit)
    marks = grounded(still, settle(labels, scale, lines=still), scale)
    return Drawing(f"{unit.ref} side cut", "Side cut", scale, marks, extent_of(marks, scale))


def plan_cut(wall: Wall, unit: UnitBox, scale: float) -> Drawing:
    """Cut level: the wall above, the room below; x from the unit's left edge."""
    at, left, wide, depth = _plan_height(wall, unit), unit.box.x, unit.box.width, unit.depth
    still: list[Mark] = [rectangle(Box(0.0, -depth, wide, depth), "thin", layer="units", ref=unit.ref)]
    cut = [part for part in _own(wall, unit) if part.block.z < at < part.block.z + part.block.dz]
    for part in sorted(cut, key=lambda p: p.role not in BOXES):
        b = part.block
        still += _board(part, Box(b.x - left, b.y, b.dx, b.dy))
    still.append(Line(((-8 * scale, 0.0), (wide + 8 * scale, 0.0)), "extra", layer="wall", ref="wall"))
    upright = [
        e
        for p in cut
        if p.role in ("side", "division")
        for e in (p.block.x - left, p.block.x + p.block.dx - left)
    ]
    front = [e for p in cut if p.role == "front" for e in (p.block.x - left, p.block.x + p.block.dx - left)]
    labels: list[Mark] = [
        Text(
            (0.0, 6 * scale),
            f"Plan, cut {show_mm(at)} above FFL 1:{scale:g}",
            TEXT_LABEL,
            bold=True,
            layer="text",
        ),
        *chains([0.0, *upright, wide], "x", -depth, -ROW, 16.0 if front else 8.0, ref="widths"),
        *chains(_depths(unit, cut), "z", 0.0, -ROW, ref="depths"),
    ]
    if front:
        labels += chain([0.0, *front, wide], "x", -depth, -2 * ROW, "fronts")
    labels += _tags(cut, left, scale, side=False, unit=unit)
    marks = grounded(still, settle(labels, scale, lines=still), scale)
    return Drawing(f"{unit.ref} plan cut", "Plan cut", scale, marks, extent_of(marks, scale))


def _depths(unit: UnitBox, cut: list[Part]) -> list[float]:
    """Front edge, the front's back, the case's front and rear, the back board, the wall's face."""
    stops = [-unit.depth, 0.0]
    for part in cut:
        b = part.block
        if part.role in ("front", "back") or part.role in ("side", "top", "bottom"):
            stops += [b.y, b.y + b.dy]
    return stops


def _board(part: Part, box: Box) -> list[Mark]:
    if part.role in BOXES:
        return [rectangle(box, "thin", layer="units", ref=part.id)]
    return [
        rectangle(box, "medium", fill="#fff", layer="units", ref=part.id),
        Hatch(box.corners, "board", layer="hatch", ref=part.id),
    ]


def _tags(cut: list[Part], start: float, scale: float, *, side: bool, unit: UnitBox) -> list[Mark]:
    """Each cut board's own tag by a leader into the room before the unit or into its clear inside."""
    out: list[Mark] = []
    for part in cut:
        if part.role in BOXES:
            continue
        b = part.block
        point = (b.y + b.dy / 2, b.z - start + b.dz / 2) if side else (b.x - start + b.dx / 2, b.y + b.dy / 2)
        end = (point[0] + 4 * scale, point[1] + 4 * scale)
        words = part.id.removeprefix(unit.ref).lstrip("-.")
        out.append(Leader((point, end), words, layer="text", ref=part.id))
    return out
