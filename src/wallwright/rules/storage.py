"""Rules of storage: everything has a place or it is said why not, there is room for more, and the units suit the need."""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import replace

from wallwright.core.finding import EditCall, Finding, edit_call, finding
from wallwright.derive import Wall
from wallwright.rules.registry import rule
from wallwright.storage.cures import cure, roomier
from wallwright.storage.demand import CLASS_ASKS
from wallwright.storage.fit import failing, terms_of
from wallwright.storage.record import Demand


@rule("storage.left_over")
def left_over(wall: Wall) -> Iterator[Finding]:
    """Everything the household wants to keep here has a place, or it is said plainly what has none, and what would give it one."""
    names = {demand.kind: demand.name for demand in wall.storage.demands}
    places = {level.ref: level.box for level in wall.storage.levels}
    for one in wall.storage.missing:
        best = cure(wall.job, wall.storage, one, wall.limits)
        yield Finding(
            "storage.left_over",
            "consider",
            one.kind,
            f"no place for {one.count} × {names[one.kind].lower()}: {one.says}{_on_top(wall, one.kind)}",
            one.count,
            0,
            "things",
            "sizes, reach, loads and heat of the levels",
            "computed",
            best.says,
            best.edits,
            at=places.get(one.spot),
        )


def _on_top(wall: Wall, kind: str) -> str:
    """Where they could stand for want of a bay: on top of a tower, by a step, where that is high enough and they are light."""
    demand = next(item for item in wall.storage.demands if item.kind == kind)
    terms = terms_of(wall.storage.reach, wall.limits)
    if demand.use == "daily" or demand.low or demand.one > terms.step_mass or demand.shown:
        return ""
    least = min(demand.height, demand.thickness + terms.pile_clear if demand.flat else demand.height)
    tops = [
        unit.ref
        for unit in wall.setout.units
        if unit.kind == "tower"
        and unit.depth >= demand.depth
        and wall.face.height - unit.box.top >= least
        and unit.box.top <= wall.storage.reach.step + wall.limits.value("storage.step")
    ]
    return f"; by steps they could stand on top of {' or '.join(tops)}" if tops else ""


@rule("storage.pinned_load")
def pinned_load(wall: Wall) -> Iterator[Finding]:
    """A load that was decided does not keep out what the household wants to keep there."""
    for unit in sorted(wall.storage.room.pinned):
        kept_out = _kept_out(wall, unit)
        if kept_out is None:
            continue
        count, demand = kept_out
        per_metre = wall.storage.room.loads.get(unit, 0.0)
        yield Finding(
            "storage.pinned_load",
            "fix",
            unit,
            f"{unit} is set to carry {per_metre:g} kg/m: {count} × {demand.name.lower()} would go in by size, not by weight",
            round(demand.one / demand.each * 1000, 1),
            per_metre,
            "kg/m",
            "the storage plan against the design's own load",
            "computed",
            f"let the program load {unit} by what is kept in it, or keep less there",
            (edit_call("release", field=f"design.units.{unit}.load"),),
            at=wall.setout.unit(unit).box,
        )


def _kept_out(wall: Wall, unit: str) -> tuple[int, Demand] | None:
    """The first thing without a place that a level of the unit has the room for, were it not for the weight."""
    store = wall.storage
    terms = terms_of(store.reach, wall.limits)
    for one in store.missing:
        demand = next(item for item in store.demands if item.kind == one.kind)
        for level in store.levels:
            if level.unit != unit or store.free_on(level) < demand.each:
                continue
            if not failing(demand, replace(level, load=math.inf), terms):
                return one.count, demand
    return None


@rule("storage.growth")
def growth(wall: Wall) -> Iterator[Finding]:
    """Some of the shelf run is kept free for what is still to come."""
    limit = wall.limits["storage.growth"]
    store = wall.storage
    if not store.demands or store.missing or store.free >= limit.value:
        return
    more = roomier(wall.job, store, wall.limits, limit.value)
    yield finding(
        "storage.growth",
        "consider",
        "storage",
        f"{store.free:.0%} of the shelf run is free ({(store.capacity - store.used) / 1000:.1f} m): next year's things have no place",
        measured=round(store.free, 3),
        limit=limit,
        cure=more.says,
        edits=more.edits,
    )


@rule("storage.class_units")
def class_units(wall: Wall) -> Iterator[Finding]:
    """The units suit how much is to be kept: a shelf, a unit with drawers, or towers beside the screen."""
    store = wall.storage
    if not store.demands:
        return
    kinds = {unit.kind for unit in wall.setout.units}
    drawers = any(bay.front == "drawers" for bay in wall.carcass.bays)
    have = "much" if "tower" in kinds else "moderate" if drawers else "little" if kinds else "none"
    order = ("none", "little", "moderate", "much")
    if order.index(have) >= order.index(store.storage_class):
        return
    why = wall.limits["storage.class_much" if store.storage_class == "much" else "storage.class_moderate"]
    yield Finding(
        "storage.class_units",
        "consider",
        "storage",
        f"{store.storage_class} storage ({store.needed / 1000:.1f} m of shelf run) asks for {CLASS_ASKS[store.storage_class]}; "
        f"the wall has {'no unit' if have == 'none' else CLASS_ASKS[have]}",
        have,
        store.storage_class,
        "",
        "common practice: a shelf for little, drawers for moderate, towers for much",
        why.certainty,
        f"add {CLASS_ASKS[store.storage_class]}",
        tuple(_units_for(wall, store.storage_class)),
        at=wall.face.box,
    )


def _units_for(wall: Wall, kind: str) -> Iterator[EditCall]:
    """The units that a class asks for, with names that are free."""
    taken = {unit.ref for unit in wall.job.design.units}
    names = (
        f"{letter}{n}"
        for letter in ("T" if kind == "much" else "C" if kind == "moderate" else "S",)
        for n in range(1, 50)
    )
    free = (name for name in names if name not in taken)
    if kind == "much":
        for side in ("left", "right"):
            yield edit_call("add_unit", ref=next(free), kind="tower", side=side)
    elif kind == "moderate":
        console = next((unit for unit in wall.job.design.units if unit.kind == "console"), None)
        if console is None:
            yield edit_call("add_unit", ref=next(free), kind="console")
        else:
            yield edit_call("set_unit_bays", ref=console.ref, bays=[])
    else:
        yield edit_call("add_unit", ref=next(free), kind="shelf")
