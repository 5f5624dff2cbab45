"""What cools a bay: each way is reckoned on the wall first, with the boxes where they would stand then, and the first that does it
and makes no other bay worse is what is said. A bay that is opened draws boxes out of the shut ones beside it.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping, Sequence, Set
from dataclasses import dataclass, field, replace
from typing import Literal

from wallwright.carcass.record import BayBox
from wallwright.cooling import plan as cooling
from wallwright.cooling.record import BayHeat
from wallwright.cooling.stand import FAN, levels, stand
from wallwright.core.finding import EditCall, edit_call
from wallwright.derive import Wall
from wallwright.library import load
from wallwright.rules.bays import bare_edit, bays_of, front_edit, vents_edit
from wallwright.rules.box_added import brings
from wallwright.rules.registry import tries
from wallwright.services.record import PlacedDevice

Asked = Literal["hot", "air"]
Grades = dict[tuple[str, str], int]
"""What is wrong with which bay, and how much: ("hot", "C1.2") → 2."""
FANS = 4
"""More fans than this in one unit are heard from the seats: it is another cure that is wanted (common practice)."""


@dataclass(frozen=True, slots=True)
class Way:
    """One way to cool a bay, and the bays and boxes as they are then."""

    says: str
    edits: tuple[EditCall, ...]
    bays: Sequence[BayBox]
    devices: Sequence[PlacedDevice]


@dataclass(slots=True)
class _Tried:
    """What was reckoned on one wall: how its bays are now, after each way, and what else it brings, by what the way says."""

    wall: Wall
    now: Grades
    after: dict[str, Grades] = field(default_factory=dict[str, Grades])
    trouble: dict[str, str] = field(default_factory=dict[str, str])


_last: _Tried | None = None
"""Of the wall asked of last: bays of one unit, and the two rules of heat, try the same ways."""


def _tried(wall: Wall) -> _Tried:
    """What was reckoned on this very wall; nothing before the first of its bays is told."""
    global _last
    kept = _last
    if kept is None or kept.wall is not wall:
        now = _grades(wall, wall.cooling.bays, wall.carcass.bays, wall.services.devices)
        _last = kept = _Tried(wall, now)
    return kept


def cooler(wall: Wall, bay: BayHeat, asked: Asked) -> tuple[str, tuple[EditCall, ...]]:
    """What to do about a bay that is too warm (hot), or too warm for a box in it (air); the words alone where nothing tried does it."""
    if not tries():
        return "", ()
    if _vents_refused(wall, bay.bay):
        return (
            f"cut the air openings of {bay.bay}: {bay.opening_needed:.0f} cm² free low in front, the same high at the back",
            (vents_edit(wall, bay.bay, True),),
        )
    fan = f", or a fan of {bay.fan_m3h:.0f} m³/h" if bay.fan_m3h else ""
    tried = _tried(wall)
    now = tried.now
    key, better, spoiled = (asked, bay.bay), None, ""
    for way in _ways(wall, bay):
        into = {d.unit for d in way.devices if d not in wall.services.devices}
        if way.says not in tried.after:
            tried.after[way.says] = _after(wall, way, {bay.unit} | into)
        then = tried.after[way.says]
        helps = key not in then or (then[key] < now[key] and better is None)
        if not helps or any(grade > now.get(place, 0) for place, grade in then.items()):
            continue
        if trouble := _trouble(tried, way):
            spoiled = spoiled or f"; {way.says} would do it, and would bring this: {trouble}"
            continue
        if key not in then:
            return way.says + ("" if " fan" in way.says else fan), way.edits
        better = way
    if better is not None:
        return (
            f"{better.says}: that helps, and is not enough{fan if ' fan' not in better.says else '; give it fewer boxes too'}{spoiled}",
            better.edits,
        )
    through = f", or draw {bay.fan_m3h:.0f} m³/h of air through {bay.bay} itself" if bay.fan_m3h else ""
    nothing = f"; an open front, a box elsewhere and up to {FANS} quiet fans were tried and are not enough"
    return f"put fewer boxes into {bay.unit}, or make it larger{through}{spoiled or nothing}", ()


def _trouble(tried: _Tried, way: Way) -> str:
    """What a box more or a box elsewhere brings that must be mended; "" where nothing, or where no box is touched."""
    if not any(call.edit in ("add_device", "set_device") for call in way.edits):
        return ""
    if way.says not in tried.trouble:
        said = brings(tried.wall, way.edits)
        tried.trouble[way.says] = "it cannot be built" if said is None else said
    return tried.trouble[way.says]


def _vents_refused(wall: Wall, ref: str) -> bool:
    unit = next(unit for unit in wall.job.design.units if unit.ref == ref.rpartition(".")[0])
    return bool(unit.bays) and unit.bays[int(ref.rpartition(".")[2]) - 1].vents is False


def _ways(wall: Wall, bay: BayHeat) -> Iterator[Way]:
    """From the least change to the greatest: its front or its shelves, all fronts with boxes behind them, fans, a box elsewhere."""
    box = next(item for item in wall.carcass.bays if item.ref == bay.bay)
    boxes = wall.services.devices
    if box.front == "open" and box.shelves:
        says = f"take the shelves out of {bay.bay}: the taller its compartment, the more air passes"
        yield Way(says, (bare_edit(wall, bay.bay),), _changed(wall, {bay.bay}), boxes)
    elif box.front != "open":
        says = f"leave {bay.bay} open at the front"
        yield Way(says, (front_edit(wall, bay.bay, "open"),), _changed(wall, {bay.bay}), boxes)
    warm = {one.bay for one in wall.cooling.bays if one.unit == bay.unit and one.devices}
    if len(warm) > 1:
        bays = bays_of(wall, bay.unit)
        for ref in warm:
            bays[int(ref.rpartition(".")[2]) - 1] |= {"front": "open", "shelves": 0}
        edit = edit_call("set_unit_bays", ref=bay.unit, bays=bays)
        names = sorted(warm)
        yield Way(
            f"leave {', '.join(names[:-1])} and {names[-1]} open at the front",
            (edit,),
            _changed(wall, warm),
            boxes,
        )
    yield from _fans(wall, bay)
    yield from _moves(wall, bay)


def _changed(wall: Wall, opened: set[str]) -> list[BayBox]:
    """The bays with those left open and without shelves."""
    return [
        replace(bay, front="open", shelves=0, drawers=0, ir_open=True) if bay.ref in opened else bay
        for bay in wall.carcass.bays
    ]


def _fans(wall: Wall, bay: BayHeat) -> Iterator[Way]:
    """One quiet fan of the usual size, then as many as move the air that is wanted."""
    first = next((d for d in wall.services.devices if d.ref in bay.devices), None)
    if first is None:
        return
    kind, flow = load.devices()[FAN], wall.limits.value("cooling.fan_flow")
    taken = {device.ref for device in wall.job.brief.devices}
    free = [name for n in range(1, 100) if (name := f"fan{n}") not in taken]
    for count in sorted({1, min(FANS, max(1, math.ceil(bay.fan_m3h / flow)))}):
        fans = [
            PlacedDevice(ref, FAN, kind.name, first.place, bay.unit, kind.watts, kind.standby_watts, kind.control,
                         kind.width, kind.depth, kind.height)
            for ref in free[:count]
        ]  # fmt: skip
        edits = tuple(edit_call("add_device", ref=fan.ref, kind=FAN, place=first.place) for fan in fans)
        each = f" ({flow:g} m³/h each)" if count > 1 else f" ({flow:g} m³/h)"
        says = f"{count} {'fans' if count > 1 else 'fan'} in {bay.unit}{each}, behind a grille"
        yield Way(says, edits, wall.carcass.bays, (*wall.services.devices, *fans))


def _moves(wall: Wall, bay: BayHeat) -> Iterator[Way]:
    """Its hottest box in a unit of the other sort, where there is one."""
    inside = [d for d in wall.services.devices if d.ref in bay.devices and d.kind != FAN]
    if not inside:
        return
    hottest = max(inside, key=lambda d: d.watts)
    here = wall.setout.unit(bay.unit).kind
    place, sort = ("cabinet", "console") if here != "console" else ("tower", "tower")
    back = wall.limits.value("services.device_back_clear")
    unit = next((u for u in wall.setout.units if u.kind == sort and u.depth >= hottest.depth + back), None)
    if unit is not None:
        moved = [replace(d, place=place, unit=unit.ref) if d is hottest else d for d in wall.services.devices]
        edit = edit_call("set_device", ref=hottest.ref, place=place)
        yield Way(f"stand {hottest.ref} in the {sort}", (edit,), wall.carcass.bays, moved)


def _after(wall: Wall, way: Way, units: Set[str]) -> Grades:
    """What is wrong with the bays of those units then."""
    bays, boxes = _of(units, way.bays, way.devices)
    found = cooling.plan(
        wall.job, bays, boxes, wall.limits, units=wall.setout.units, parts=wall.carcass.parts,
        ceiling=wall.face.height, width=wall.face.width, strips=wall.light.runs, points=wall.services.points,
    )  # fmt: skip
    return _grades(wall, found.bays, bays, boxes)


def _of(
    units: Set[str], bays: Sequence[BayBox], devices: Sequence[PlacedDevice]
) -> tuple[list[BayBox], list[PlacedDevice]]:
    """The bays of those units and the boxes in them: no other is changed."""
    return [bay for bay in bays if bay.unit in units], [box for box in devices if box.unit in units]


def _grades(
    wall: Wall, heats: Sequence[BayHeat], bays: Sequence[BayBox], devices: Sequence[PlacedDevice]
) -> Grades:
    """How bad each bay is: hot over the room, too warm for a box in it, too narrow for its boxes."""
    v, kinds = wall.limits.value, load.devices()
    consider, fix, room = v("rule.rise_consider"), v("rule.rise_fix"), v("cooling.room_temperature")
    of: Mapping[str, PlacedDevice] = {device.ref: device for device in devices}
    out: Grades = {}
    for heat in heats:
        if heat.rise > consider + 0.05:
            out["hot", heat.bay] = 2 if heat.rise > fix else 1
        least = min((kinds[of[ref].kind].air_most for ref in heat.devices), default=float("inf"))
        if room + heat.rise > least + 0.05:
            out["air", heat.bay] = 1
    for bay, inside in stand(bays, devices, wall.limits):
        side = v("services.device_side_clear")
        if sum(d.width + side for d in inside if d.kind != FAN) > bay.box.width * levels(bay) + 0.5:
            out["wide", bay.ref] = 1
    return out
