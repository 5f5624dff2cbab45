"""Structure: do the shelves stay straight, do the fixings hold, does anything tip, does the wall carry its cladding."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import replace
from functools import partial
from itertools import chain
from typing import TYPE_CHECKING

from wallwright.core.limit import Limits
from wallwright.core.shape import Box
from wallwright.core.why import Later, Why
from wallwright.job.document import Job
from wallwright.job.face import Face
from wallwright.structure import battens, box_beam, cladding, fixings, panel_rows, shelves, tip, whys
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
    from wallwright.carcass.record import BayBox, Carcass, Part, SetOut, Shelf, UnitBox
    from wallwright.sight.record import Screen
    from wallwright.storage.record import Storage


def plan(  # noqa: PLR0913
    job: Job, face: Face, screen: Screen, setout: SetOut, carcass: Carcass, storage: Storage, limits: Limits,
    keep_clear: tuple[Box, ...] = (),
) -> Structure:  # fmt: skip
    """All checks of strength, with their working. keep_clear : boxes on the wall where no hole's edge may come (cables)."""
    said: list[Iterable[Why]] = []
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
    own = _by_unit(carcass)
    for unit in setout.units:
        mine = own.get(unit.ref, carcass)
        if not unit.hung and unit.cabinet:
            stands.append(tip.standing(unit, mine, limits))
        held = _held(unit, setout, mine, stored, pinned, wall, limits, stands[-1:])
        if held:
            fixed.append(held)
            if wall.substrate == "metal_stud" and unit.hung:
                said.append(Later(partial(_line, held, unit, job.survey.wall.boarding_layers, limits)))
            if unit.hung and unit.cabinet and (beam := box_beam.hung_beam(unit, held, limits, humid=humid)):
                beams.append(beam)
        if unit.tall and not unit.hung:
            towers.append(tip.tower(unit, mine, limits))
    finish = job.survey.wall.finish
    clad = tuple(cladding.check(zone, finish, wall, limits) for zone in setout.zones)

    def told() -> Iterator[Why]:
        yield from chain.from_iterable(said)
        for fixing in fixed:
            yield from whys.fixing(fixing, fixing.base or wall.substrate, limits)
        yield whys.screws(screen)
        yield from (whys.hung_box(beam, limits) for beam in beams)
        for tower in towers:
            yield from whys.tower(tower, setout.unit(tower.ref), face)
        yield from (whys.standing(check, limits) for check in stands)
        yield from (whys.clad(check) for check in clad)

    backers = joined([check.backer for check in fixed if check.backer])
    return Structure(
        checks, tuple(fixed), tuple(towers), clad, Later(told), backers, tuple(beams), tuple(stands),
        battens.rows(carcass.parts, wall, limits), panel_rows.rows(carcass.parts, wall, limits),
    )  # fmt: skip


def _line(held: FixingCheck, unit: UnitBox, layers: int | None, limits: Limits) -> tuple[Why]:
    return (whys.line(held, unit, layers, limits),)


def _by_unit(carcass: Carcass) -> dict[str, Carcass]:
    """What each unit has of the carcass, so that nobody looks for it among all boards of the wall."""
    parts: dict[str, list[Part]] = defaultdict(list)
    shelves_of: dict[str, list[Shelf]] = defaultdict(list)
    bays: dict[str, list[BayBox]] = defaultdict(list)
    for part in carcass.parts:
        parts[part.unit].append(part)
    for shelf in carcass.shelves:
        shelves_of[shelf.unit].append(shelf)
    for bay in carcass.bays:
        bays[bay.unit].append(bay)
    return {
        ref: replace(
            carcass,
            parts=tuple(parts[ref]),
            shelves=tuple(shelves_of[ref]),
            bays=tuple(bays[ref]),
            unit_mass=((ref, mass),),
        )
        for ref, mass in carcass.unit_mass
    }


def stored_by_bay(storage: Storage) -> Mapping[str, float]:
    """Mass allotted to each bay [kg]."""
    each = {demand.kind: demand.mass / demand.count for demand in storage.demands if demand.count}
    mass: dict[str, float] = defaultdict(float)
    for allotted in storage.allotted:
        mass[allotted.bay] += allotted.count * each.get(allotted.kind, 0.0)
    return mass


def _shelves(  # noqa: PLR0913
    setout: SetOut, carcass: Carcass, stored: Mapping[str, float], pinned: Mapping[str, float], limits: Limits,
    said: list[Iterable[Why]], *, humid: bool,
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
        check = shelves.kept(shelf, load, held_to, point)
        out.append(check)
        said.append(Later(partial(shelves.why, check, shelf, load, limits, held_to)))
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
