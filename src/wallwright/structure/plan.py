"""Structure: do the shelves stay straight, do the fixings hold, does anything tip, does the wall carry its cladding."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Mapping
from dataclasses import replace
from typing import TYPE_CHECKING

from wallwright.core.limit import Limits
from wallwright.core.shape import Box
from wallwright.core.why import Why
from wallwright.job.document import Job
from wallwright.job.face import Face
from wallwright.structure import battens, box_beam, cladding, fixings, shelves, tip, whys
from wallwright.structure.record import (
    FixingCheck,
    HungBeam,
    ShelfCheck,
    StandCheck,
    Structure,
    TipCheck,
)
from wallwright.structure.wall import Wall, joined, wall_of

if TYPE_CHECKING:
    from wallwright.carcass.record import Carcass, SetOut, Shelf, UnitBox
    from wallwright.sight.record import Screen
    from wallwright.storage.record import Storage


def plan(  # noqa: PLR0913
    job: Job, face: Face, screen: Screen, setout: SetOut, carcass: Carcass, storage: Storage, limits: Limits,
    keep_clear: tuple[Box, ...] = (),
) -> Structure:  # fmt: skip
    """All checks of strength, with their working. keep_clear : boxes on the wall where no hole's edge may come (cables)."""
    said: list[Why] = []
    humid = job.survey.place.hot_humid
    stored = stored_by_bay(storage)
    pinned = {unit.ref: unit.load for unit in job.design.units if unit.load is not None}
    checks = _shelves(setout, carcass, stored, pinned, limits, said, humid=humid)
    wall = wall_of(job, limits, keep_clear)
    packing, pack = fixings.packed([screen.plate], setout.zones, limits)
    screwed = fixings.screen_plate(screen, job, wall, limits, packing)
    fixed = [replace(screwed, pack=pack)]
    beams: list[HungBeam] = []
    stands: list[StandCheck] = []
    towers: list[TipCheck] = []
    for unit in setout.units:
        if not unit.hung and unit.cabinet:
            stands.append(tip.standing(unit, carcass, limits))
        held = _held(unit, setout, carcass, stored, pinned, wall, limits, stands[-1:])
        if held:
            fixed.append(held)
            if wall.substrate == "metal_stud" and unit.hung:
                said.append(whys.line(held, unit, limits))
            if unit.hung and unit.cabinet and (beam := box_beam.hung_beam(unit, held, limits, humid=humid)):
                beams.append(beam)
        if unit.tall and not unit.hung:
            towers.append(tip.tower(unit, carcass, limits))
    finish = job.survey.wall.finish
    clad = tuple(cladding.check(zone, finish, wall, limits) for zone in setout.zones)
    said.extend(why for check in fixed for why in whys.fixing(check, wall.substrate, limits))
    said.append(whys.screws(screen))
    said.extend(whys.hung_box(beam, limits) for beam in beams)
    said.extend(why for check in towers for why in whys.tower(check, setout.unit(check.ref), face))
    said.extend(whys.standing(check, limits) for check in stands)
    said.extend(whys.clad(check) for check in clad)
    backers = joined([check.backer for check in fixed if check.backer])
    return Structure(
        checks, tuple(fixed), tuple(towers), clad, tuple(said), backers, tuple(beams), tuple(stands),
        battens.rows(carcass.parts, wall, limits),
    )  # fmt: skip


def stored_by_bay(storage: Storage) -> Mapping[str, float]:
    """Mass allotted to each bay [kg]."""
    each = {demand.kind: demand.mass / demand.count for demand in storage.demands if demand.count}
    mass: dict[str, float] = defaultdict(float)
    for allotted in storage.allotted:
        mass[allotted.bay] += allotted.count * each.get(allotted.kind, 0.0)
    return mass


def _shelves(  # noqa: PLR0913
    setout: SetOut, carcass: Carcass, stored: Mapping[str, float], pinned: Mapping[str, float], limits: Limits,
    said: list[Why], *, humid: bool,
) -> tuple[ShelfCheck, ...]:  # fmt: skip
    """Every shelf under what it carries, and under a person or a device in its middle."""
    held_to = shelves.sag_limits(limits, humid=humid)
    leaned = {unit.ref: fixings.lean_on(unit, limits) for unit in setout.units}
    usual = limits.value("structure.point_shelf")
    carrying: dict[str, float] = defaultdict(float)
    for shelf in carcass.shelves:
        if not shelf.ref.endswith("-top"):
            carrying[_bay(shelf)] += shelf.span / 1000
    out: list[ShelfCheck] = []
    for shelf in carcass.shelves:
        load = shelf.load_kg_per_m
        run = carrying.get(_bay(shelf), 0.0)
        if shelf.unit not in pinned and run and not shelf.ref.endswith("-top"):
            load = max(load, stored.get(_bay(shelf), 0.0) / run)
        point = leaned.get(shelf.unit, usual) if shelf.ref.endswith("-top") else usual
        check = shelves.check(shelf, load, held_to, point)
        out.append(check)
        said.extend(shelves.why(check, shelf, load, limits, held_to))
    return tuple(out)


def _bay(shelf: Shelf) -> str:
    """The bay a shelf stands in, from its reference: C1.2-top stands in C1.2."""
    return shelf.ref.rpartition("-")[0]


def _held(  # noqa: PLR0913
    unit: UnitBox, setout: SetOut, carcass: Carcass, stored: Mapping[str, float], pinned: Mapping[str, float],
    wall: Wall, limits: Limits, stands: list[StandCheck],
) -> FixingCheck | None:  # fmt: skip
    """The fixings of a unit: of its cleat or rods if it hangs, near its top if it is anchored and tall or would tip, else none."""
    if unit.hung:
        contents = _contents(unit, carcass, stored, pinned, limits)
        fix = fixings.wall_shelf if unit.board_only else fixings.hung_unit
        return fix(unit, carcass, contents, setout.zones, wall, limits)
    if not unit.anchored or not stands:
        return None
    stand = stands[0]
    tall = unit.tall and unit.box.top > limits.value("structure.tower_anchor_from")
    if tall or stand.climbed < 1:
        return fixings.held_top(unit, carcass, stand.force, setout.zones, wall, limits)
    return None


def _contents(
    unit: UnitBox, carcass: Carcass, stored: Mapping[str, float], pinned: Mapping[str, float], limits: Limits
) -> float:
    """Expected mass in and on a hung unit [kg]: its load a metre times its shelves' run, or what is stored there if more; on a
    console what its top is expected to carry besides.
    """
    if unit.tall:
        run = sum(shelf.span for shelf in carcass.shelves if shelf.unit == unit.ref) / 1000
    else:
        run = unit.box.width / 1000
    usual = limits.value(unit.usual_load) * run
    top = (
        limits.value("carcass.load_top") * unit.box.width * unit.depth / 1e6
        if unit.kind in ("console", "desk")
        else 0.0
    )
    if unit.ref in pinned:
        return pinned[unit.ref] * run + top
    return max(usual, sum(stored.get(bay.ref, 0.0) for bay in carcass.bays if bay.unit == unit.ref)) + top
