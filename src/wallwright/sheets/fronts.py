"""Fronts as they are seen: each leaf on its own outline, and the side its hinges are on."""

from __future__ import annotations

from typing import TYPE_CHECKING

from wallwright.carcass import hardware, niche
from wallwright.core.drawing import Line, Mark, rectangle
from wallwright.core.shape import Box
from wallwright.sheets.front_signs import front_marks

if TYPE_CHECKING:
    from wallwright.carcass.record import BayBox, UnitBox
    from wallwright.derive import Wall


def front_box(bay: BayBox, unit: UnitBox, bays: list[BayBox]) -> Box:
    """The outline of a bay's field: to the unit's edge at its ends, to the middle of the board between two bays."""
    beside = [other.box for other in bays if other.ref != bay.ref]
    left = max((b.right for b in beside if b.right <= bay.box.x and _level_with(b, bay.box)), default=None)
    right = min((b.x for b in beside if b.x >= bay.box.right and _level_with(b, bay.box)), default=None)
    below = max((b.top for b in beside if b.top <= bay.box.z and _over(b, bay.box)), default=None)
    above = min((b.z for b in beside if b.z >= bay.box.top and _over(b, bay.box)), default=None)
    x = unit.box.x if left is None else (left + bay.box.x) / 2
    z = unit.box.z if below is None else (below + bay.box.z) / 2
    x1 = unit.box.right if right is None else (right + bay.box.right) / 2
    z1 = unit.box.top if above is None else (above + bay.box.top) / 2
    return Box(x, z, x1 - x, z1 - z)


def _level_with(a: Box, b: Box) -> bool:
    return a.z < b.top and b.z < a.top


def _over(a: Box, b: Box) -> bool:
    return a.x < b.right and b.x < a.right


def leaves(wall: Wall, bay: BayBox, unit: UnitBox, bays: list[BayBox]) -> list[Box]:
    """The outline of each front of a bay, from left to right and bottom to top; the bay's clear opening where it is open."""
    made = [
        part.block.face
        for part in wall.carcass.parts
        if part.role == "front" and part.id.startswith(f"{bay.ref}-F")
    ]
    if made:
        return sorted(made, key=lambda box: (box.z, box.x))
    if bay.front == "open":
        return [bay.box]
    field = front_box(bay, unit, bays)
    rows = max(1, bay.drawers) if bay.front == "drawers" else 1
    high = field.height / rows
    return [Box(field.x, field.z + i * high, field.width, high) for i in range(rows)]


def hinged_right(leaf: Box, beside: list[Box], unit: UnitBox, hinged: str = "") -> bool:
    """Of a pair the right leaf; a single door away from the screen: right in a right-hand tower and right of a unit's middle.

    hinged : the side that was decided for its bay, "" where that is automatic
    """
    pair = [box for box in beside if box != leaf and _level_with(box, leaf)]
    if pair:
        return leaf.x > pair[0].x
    if hinged:
        return hinged == "right"
    middle = unit.box.centre[0]
    if abs(leaf.centre[0] - middle) < 1.0:
        return unit.side == "right"
    return leaf.centre[0] > middle


def label_at(bay: BayBox, leaf: Box, right: bool, scale: float) -> tuple[float, float]:
    """Where a front's label begins: beside a door's lock, between its dashes; between the crossed lines of an open bay; else in
    the upper left corner.
    """
    if bay.front in ("shutter", "glass", "slatted") and leaf.width / scale > 16:
        return leaf.x + leaf.width * (0.08 if right else 0.45), leaf.centre[1] - 1.2 * scale
    if bay.front == "open" and leaf.width / scale > 16:
        return leaf.centre[0] - 3.5 * scale, leaf.top - 4.2 * scale
    return leaf.x + 1.5 * scale, leaf.top - 4.2 * scale


def foot(wall: Wall, unit: UnitBox) -> float:
    """How high a unit's case stands on legs [mm]; 0 where it has none."""
    return 0.0 if unit.base != "legs" or unit.hung or unit.box.z > 0 else wall.limits.value("carcass.legs")


def unit_marks(wall: Wall, unit: UnitBox, dx: float = 0.0, dz: float = 0.0) -> list[Mark]:
    """What a unit shows besides its boards and fronts: an arch, and legs. dx, dz : moved by so much [mm]."""
    if unit.rise:
        arch, clear = niche.arch_of(unit), niche.clear_of(unit)
        round_it = ((clear.x, clear.z), *arch.points(), (clear.right, clear.z), (clear.x, clear.z))
        return [Line(tuple((x + dx, z + dz) for x, z in round_it), "medium", layer="units", ref=unit.ref)]
    high = foot(wall, unit)
    if not high:
        return []
    value = wall.limits.value
    inset, wide = value("carcass.leg_inset"), 30.0
    count = hardware.leg_count(unit.box.width, inset, value("carcass.leg_pitch")) // 2
    step = (unit.box.width - 2 * inset) / (count - 1)
    return [
        rectangle(
            Box(unit.box.x + inset + k * step - wide / 2 + dx, unit.box.z + dz, wide, high),
            "thin",
            layer="units",
            ref=unit.ref,
        )
        for k in range(count)
    ]


def bay_marks(
    wall: Wall, bay: BayBox, unit: UnitBox, bays: list[BayBox], scale: float, dx: float = 0.0, dz: float = 0.0
) -> list[Mark]:
    """Every front of a bay with its sign, on its own outline. dx, dz : moved by so much [mm]."""
    boxes = leaves(wall, bay, unit, bays)
    lifts = any(mover.lifts for mover in wall.carcass.movers if mover.ref.startswith(f"{bay.ref}-F"))
    marks: list[Mark] = []
    for leaf in boxes:
        box = Box(leaf.x + dx, leaf.z + dz, leaf.width, leaf.height)
        if bay.front != "open":
            marks.append(rectangle(box, "medium", fill="#fff", layer="units", ref=bay.ref))
        right = hinged_right(leaf, boxes, unit, bay.hinged)
        marks += front_marks(bay.front, box, scale, right=right, lifts=lifts)
    return marks
