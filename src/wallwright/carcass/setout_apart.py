"""Automatic units and panels kept out of one another: what finds its usual place taken goes where there is room.

Where there is none it stays where it was, and the rules say so. Nothing pinned is moved.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from wallwright.carcass import room
from wallwright.carcass.ground import Ground, Sized, floor
from wallwright.carcass.record import PanelZone, UnitBox
from wallwright.core.shape import Box
from wallwright.core.units import Length
from wallwright.core.why import Why
from wallwright.job.design import Panel, Unit

NARROWEST = {
    "tower": "tower_width_low", "open_shelves": "tower_width_low", "console": "console_least", "loft": "loft_height",
    "shelf": "shelf_width_low", "ledge": "shelf_width_low",
}  # fmt: skip
"""The limit below which no bay of such a unit is made narrower to go in; the others keep their width."""
LEAST_PANEL = 200.0
"""A panel in a narrower stretch beside another is a strip that nobody asked for [mm]."""


def overlap(one: Box, other: Box) -> bool:
    """Whether two outlines share more than a touch."""
    across = min(one.x + one.width, other.x + other.width) - max(one.x, other.x)
    return across >= 0.5 and min(one.z + one.height, other.z + other.height) - max(one.z, other.z) >= 0.5


def apart(unit: Unit, sized: Sized, made: Sequence[UnitBox], ground: Ground) -> Sized:
    """The unit clear of those set out before it: aside at its level, else a shelf's pitch higher or lower, else narrower."""
    box = sized.box
    met = [item.ref for item in made if overlap(box, item.box)]
    if not met or unit.x is not None or (unit.kind == "niche" and unit.side == "centre"):
        return sized
    place = _place(unit, box, made, ground)
    if place is None:
        return sized
    what = f"{' and '.join(met)} stand{'s' if len(met) == 1 else ''}"
    says = sized.says | {"x": f"Where there is room for it: {what} where it would usually be."}
    if place.z != box.z:
        says["z"] = f"Higher or lower than usual, where there is room: {what} there."
    if place.width != box.width:
        says["width"] = f"As wide as the room that is left for it: {what} where it would usually be."
    return Sized(place, sized.depth, says)


def _place(unit: Unit, box: Box, made: Sequence[UnitBox], ground: Ground) -> Box | None:
    """Where there is room for a unit that cannot stand where it should; None where there is none."""
    levels = [box.z]
    if unit.z is None and unit.kind in ("shelf", "ledge"):
        pitch = ground.limit("shelf_pitch")
        levels += [box.z + step * pitch for k in range(1, 8) for step in (k, -k)]
    rows = [replace(box, z=z) for z in levels if z >= 0 and z + box.height <= ground.face.height]
    places = [
        replace(row, x=x)
        for row in rows
        if (x := room.nearest(row.x, row.width, _free(row, made, ground))) is not None
    ]
    if places:  # over or under what took its place, before far from it
        return next((place for place in places if abs(place.x - box.x) < box.width / 2), places[0])
    least = box.width
    if unit.width is None and unit.kind in NARROWEST:
        least = max(ground.limit(NARROWEST[unit.kind]) * max(1, len(unit.bays)), box.width / 2)
    for row in rows:
        low, high = max(_free(row, made, ground), key=lambda free: free[1] - free[0], default=(0.0, 0.0))
        if low < high and floor(high - low) >= least:
            return replace(row, x=low, width=floor(high - low))
    return None


def _free(row: Box, made: Sequence[UnitBox], ground: Ground) -> list[tuple[float, float]]:
    """The stretches at a unit's level clear of units, of what is on the wall, and of the screen."""
    gap, clear, beside = (
        ground.limit("unit_gap"),
        ground.limit("obstacle_gap"),
        ground.limit("tower_to_screen"),
    )
    things = [wider(item.box, gap) for item in made]
    things += [wider(box, clear) for box in (*ground.stands, *ground.hangs)]
    things.append(wider(ground.frame, beside))
    return room.stretches(ground.scribe, ground.face.width - ground.scribe, row.z, row.top, things)


def wider(box: Box, by: float) -> Box:
    """A box with a clear space at its left and right."""
    return Box(box.x - by, box.z, box.width + 2 * by, box.height)


def panel_aside(
    panel: Panel, zone: PanelZone, placed: Sequence[PanelZone], towers: Sequence[Box], ground: Ground
) -> Panel | None:
    """The panel as it goes beside those set out before it, as if its place were pinned; None where it stays.

    It keeps what is free of its usual place where that is half of it or more; where more than half is taken it goes to the widest
    free stretch, or to the nearest that takes the width it was given. Else it stays, and the rules say so.
    """
    box = zone.box
    low = box.z if panel.z is not None else 0.0
    level = Box(box.x, low, box.width, box.top - low)
    met = [other.box for other in placed if overlap(box, other.box)]
    if not met or (panel.x and panel.width):
        return None
    clear = ground.limit("obstacle_gap")
    things = [*(other.box for other in placed), *towers, *(wider(thing, clear) for thing in ground.stands)]
    free = room.stretches(0.0, ground.face.width, level.z, level.top, things)
    taken = sum(level.shared_span(other) for other in met)
    if panel.width:
        x = room.nearest(box.x, panel.width.mm, free)
        return None if x is None or taken < box.width / 2 else replace(panel, x=Length(x))
    own = [(max(left, box.x), min(right, box.right)) for left, right in free]
    left, right = max(own, key=lambda stretch: stretch[1] - stretch[0], default=(0.0, 0.0))
    if right - left < box.width / 2 and taken >= box.width / 2 and not panel.x:
        left, right = max(free, key=lambda stretch: stretch[1] - stretch[0], default=(0.0, 0.0))
    elif right - left < box.width / 2:
        return None
    if right - left < LEAST_PANEL or (panel.x and left != panel.x.mm):
        return None
    return replace(panel, x=Length(left), width=Length(floor(right - left)))


def aside_whys(whys: Sequence[Why], panel: Panel, met: str) -> list[Why]:
    """The working of a panel that went aside: what was derived of its place says so, and is not called pinned."""
    says = {"x": f"Where {met} leaves room.", "width": f"What {met} leaves free there."}
    out: list[Why] = []
    for why in whys:
        name = why.name.removeprefix(f"panel {panel.ref}.")
        if name in says and getattr(panel, name) is None:
            source = "plane geometry of panels, units and wall"
            why = replace(why, says=says[name], source=source, pinned=False)
        out.append(why)
    return out
