"""Structure: do the shelves stay straight, do the fixings hold, does anything tip, does the wall carry its cladding."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Mapping
from typing import TYPE_CHECKING

from wallwright.core.limit import Limits
from wallwright.core.shape import Box
from wallwright.core.why import Given, Why
from wallwright.job.document import Job
from wallwright.job.face import Face
from wallwright.structure import cladding, fixings, hung, shelves, tip
from wallwright.structure.record import (
    CladdingCheck,
    FixingCheck,
    LoadConflict,
    ShelfCheck,
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
    whys: list[Why] = []
    stored = stored_by_bay(storage)
    pinned = {unit.ref: unit.load for unit in job.design.units if unit.load is not None}
    checks = _shelves(carcass, stored, pinned, limits, whys)
    wall = wall_of(job, limits, keep_clear)
    packing = max((zone.build_up for zone in setout.zones if zone.box.meets(screen.plate)), default=0.0)
    fixed = [fixings.screen_plate(screen, job, wall, limits, packing)]
    towers: list[TipCheck] = []
    for unit in setout.units:
        held = _held(unit, carcass, stored, pinned, wall, limits)
        if held:
            fixed.append(held)
            if wall.substrate == "metal_stud" and unit.hung:
                whys.append(_line_why(held, unit, limits))
        if unit.kind == "tower" and not unit.hung:
            towers.append(_tower(unit, carcass))
    finish = job.survey.wall.finish
    clad = tuple(cladding.check(zone, finish, wall, limits) for zone in setout.zones)
    whys.extend(why for check in fixed for why in _fixing_whys(check, wall.substrate, limits))
    whys.extend(why for check in towers for why in _tower_whys(check, setout.unit(check.ref), face))
    whys.extend(_clad_why(check) for check in clad)
    backers = joined([check.backer for check in fixed if check.backer])
    conflicts = _conflicts(carcass, stored, pinned)
    return Structure(checks, tuple(fixed), tuple(towers), clad, tuple(whys), backers, conflicts)


def stored_by_bay(storage: Storage) -> Mapping[str, float]:
    """Mass allotted to each bay [kg]."""
    each = {demand.kind: demand.mass / demand.count for demand in storage.demands if demand.count}
    mass: dict[str, float] = defaultdict(float)
    for allotted in storage.allotted:
        mass[allotted.bay] += allotted.count * each.get(allotted.kind, 0.0)
    return mass


def _shelves(
    carcass: Carcass,
    stored: Mapping[str, float],
    pinned: Mapping[str, float],
    limits: Limits,
    whys: list[Why],
) -> tuple[ShelfCheck, ...]:
    held_to = shelves.sag_limits(limits)
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
        check = shelves.check(shelf, load, held_to)
        out.append(check)
        whys.extend(shelves.why(check, shelf, load, limits))
    return tuple(out)


def _conflicts(
    carcass: Carcass, stored: Mapping[str, float], pinned: Mapping[str, float]
) -> tuple[LoadConflict, ...]:
    """Units whose pinned load is less than what is stored in one of their bays: what was pinned stays, and the rules say so.

    In a bay of drawers the load goes by its width, else by the run of its boards.
    """
    runs: dict[str, float] = defaultdict(float)
    for shelf in carcass.shelves:
        if not shelf.ref.endswith("-top"):
            runs[_bay(shelf)] += shelf.span / 1000
    worst: dict[str, LoadConflict] = {}
    for bay in carcass.bays:
        most, mass = pinned.get(bay.unit), stored.get(bay.ref, 0.0)
        if most is None:
            continue
        each = mass / (runs.get(bay.ref, 0.0) or bay.box.width / 1000)
        if each > most + 0.05 and (bay.unit not in worst or each > worst[bay.unit].stored):
            worst[bay.unit] = LoadConflict(bay.unit, bay.ref, most, each)
    return tuple(worst.values())


def _bay(shelf: Shelf) -> str:
    """The bay a shelf stands in, from its reference: C1.2-top stands in C1.2."""
    return shelf.ref.rpartition("-")[0]


def _held(  # noqa: PLR0913
    unit: UnitBox, carcass: Carcass, stored: Mapping[str, float], pinned: Mapping[str, float],
    wall: Wall, limits: Limits,
) -> FixingCheck | None:  # fmt: skip
    """The fixings of a unit: of its cleat if it hangs, near its top if it is a tower and anchored, none otherwise."""
    if unit.hung:
        contents = _contents(unit, carcass, stored, pinned, limits)
        fix = fixings.wall_shelf if unit.kind == "shelf" else fixings.hung_unit
        return fix(unit, carcass, contents, wall, limits)
    tall = unit.box.top > limits.value("structure.tower_anchor_from")
    if unit.kind == "tower" and unit.anchored and tall:
        return fixings.tower_top(unit, carcass.mass_of(unit.ref), wall, limits)
    return None


def _contents(
    unit: UnitBox, carcass: Carcass, stored: Mapping[str, float], pinned: Mapping[str, float], limits: Limits
) -> float:
    """Expected mass in and on a hung unit [kg]: its load a metre times its shelves' run, or what is stored there if more; on a
    console what its top is expected to carry besides.
    """
    if unit.kind == "tower":
        run = sum(shelf.span for shelf in carcass.shelves if shelf.unit == unit.ref) / 1000
    else:
        run = unit.box.width / 1000
    kind = {"console": "load_console", "tower": "load_books", "shelf": "load_wall_shelf"}[unit.kind]
    usual = limits.value(f"carcass.{kind}") * run
    top = (
        limits.value("carcass.load_top") * unit.box.width * unit.depth / 1e6
        if unit.kind == "console"
        else 0.0
    )
    if unit.ref in pinned:
        return pinned[unit.ref] * run + top
    return max(usual, sum(stored.get(bay.ref, 0.0) for bay in carcass.bays if bay.unit == unit.ref)) + top


def _tower(unit: UnitBox, carcass: Carcass) -> TipCheck:
    """A standing tower, empty and loose: its own boards only. It is stood up box by box, so the tallest box counts."""
    mass = carcass.mass_of(unit.ref)
    boxes = [part.block for part in carcass.parts if part.unit == unit.ref and part.role == "side"]
    needs = max((tip.tilt_up(block.dz, block.dy) for block in boxes), default=0.0)
    return TipCheck(unit.ref, mass, tip.push_to_tip(mass, unit.depth, unit.box.top), unit.anchored, needs)


def _fixing_whys(check: FixingCheck, substrate: str, limits: Limits) -> list[Why]:
    where = f"fixing {check.ref}"
    if check.ref == "screen":
        factor = limits["structure.screen_factor"]
        says, formula = f"{factor.value:g} times the screen's weight at its furthest reach.", "T = 4·W·e / h"
        source, certainty = factor.source, factor.certainty
    else:
        says, formula = (
            "The moment of its weight and of a person's push, over the height of the box.",
            "T = M / h",
        )
        source, certainty = "statics of a hung box; lean: common practice", "computed"
    given = (
        Given("mass", round(check.mass, 1), "kg"),
        Given("push of a person", check.lean, "N"),
        Given("moment", round(check.moment / 1000, 1), "N·m"),
        Given("lever h", round(check.lever, 1), "mm"),
    )
    held = (
        Given("pull", round(check.pull), "N"),
        Given("shear", round(check.shear), "N"),
        Given("allowable pull of one", check.capacity_pull, "N"),
        Given("allowable shear of one", check.capacity_shear, "N"),
        Given("fixings", check.count),
        Given("share kept beside the others", round(check.group, 3)),
        Given("wall", substrate),
    )
    unknown = check.anchor in (fixings.UNKNOWN, fixings.UNFOUND)
    bent = limits["structure.bolt_bending"]
    out = [
        Why(f"{where}.pull", round(check.pull), "N", says, formula, given, source, certainty),
        Why(f"{where}.shear", round(check.shear), "N", "Weight and push, straight down.", "V = ΣW + P", given, source, certainty),
        Why(f"{where}.count", check.count, "fixings",
            "Nobody knows what this wall holds, or where: no fixing is offered." if unknown
            else f"{check.needed} needed; spread along the rail at most every 400 mm.",
            "T/(n·T_allow) + V/(n·V_allow) ≤ 1, the worst of three or more taking 1.25 × the mean", held,
            "fixings of the library", "common practice"),
        Why(f"{where}.used", round(check.used, 3), "share", check.anchor,
            "(pull share + shear share of the worst fixing) / share kept in the group", held,
            "fixings of the library; group: EN 1992-4, 7.2.1.4", "common practice"),
    ]  # fmt: skip
    if check.bending:
        out.append(
            Why(f"{where}.bending", round(check.bending), "N/mm²", f"At most {bent.value:g}: the bolts cross solid packing.",
                "V·(s + d/2) / 2 over πd³/32",
                (Given("build-up", round(check.packing, 1), "mm"), Given("shear of one", round(check.shear / check.count), "N")),
                bent.source, bent.certainty)
        )  # fmt: skip
    return out


def _line_why(check: FixingCheck, unit: UnitBox, limits: Limits) -> Why:
    """On a stud wall: the weight along the wall, and whether the boarding alone would have carried it."""
    most = limits["structure.stud_line_load"]
    load = hung.line_load(check.mass, unit.box.width)
    board = "the boarding alone would carry it" if load <= most.value else "only the backer carries it"
    return Why(
        f"fixing {check.ref}.line_load", round(load, 3), "kN/m", f"At most {most.value:g} on boarding: {board}.", "W / length",
        (Given("mass", round(check.mass, 1), "kg"), Given("length", unit.box.width, "mm")), most.source, most.certainty,
    )  # fmt: skip


def _tower_whys(check: TipCheck, unit: UnitBox, face: Face) -> tuple[Why, Why]:
    return (
        Why(f"tower {check.ref}.push_to_tip", round(check.push_to_tip, 1), "N", "A level push at its top, empty and loose.",
            "F = W·g·d / (2z)",
            (Given("mass", round(check.mass, 1), "kg"), Given("depth", unit.depth, "mm"), Given("height", unit.box.top, "mm")),
            "statics", "computed"),
        Why(f"tower {check.ref}.tilt_up", round(check.tilt_up, 1), "mm", "The diagonal of its tallest box while it is stood up.",
            "√(h² + d²)", (Given("lowest ceiling", face.height, "mm"),), "geometry", "computed"),
    )  # fmt: skip


def _clad_why(check: CladdingCheck) -> Why:
    return Why(
        f"panel {check.ref}.weight", round(check.mass_per_m2, 1), "kg/m²", f"Against what {check.layer} carries.",
        "board + facing + adhesive where it is glued", (Given("carries", round(check.carries, 1), "kg/m²"),),
        "masses of the board and finish library; layers: tile-trade tables after BS 5385-1; battens: screws a m² × shear",
        "computed",
    )  # fmt: skip
