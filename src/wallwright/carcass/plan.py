"""Every unit and panel made of board: bays, parts, shelves, hardware, and what moves."""

from __future__ import annotations

import math
from collections import defaultdict
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field, replace

from wallwright.carcass import bays as bay_of
from wallwright.carcass import cladding, drawers, fronts, hardware, movers, panels, room, shelf, stock
from wallwright.carcass.hardware import flap_torque, hinge_count
from wallwright.carcass.piece import piece
from wallwright.carcass.record import (
    BayBox,
    Carcass,
    Drawn,
    Hardware,
    PanelZone,
    Part,
    SetOut,
    Shelf,
    UnitBox,
)
from wallwright.core.limit import Limits
from wallwright.core.shape import Block, Box
from wallwright.core.why import Given, Why
from wallwright.job.design import Opening, Unit
from wallwright.job.document import Job
from wallwright.job.face import Face, obstacle_box
from wallwright.library import load

ACCESSORIES = frozenset({"socket", "switch", "data_point"})
"""What is in the wall already and has a box."""
WALL = "wall"
"""What parts let into the wall belong to."""


@dataclass(slots=True)
class Made:
    """What is gathered while units are made."""

    bays: list[BayBox] = field(default_factory=list[BayBox])
    parts: list[Part] = field(default_factory=list[Part])
    shelves: list[Shelf] = field(default_factory=list[Shelf])
    movers: list[Drawn] = field(default_factory=list[Drawn])
    hardware: list[Hardware] = field(default_factory=list[Hardware])
    whys: list[Why] = field(default_factory=list[Why])


def plan(  # noqa: PLR0913
    job: Job, face: Face, setout: SetOut, limits: Limits, boxes: Sequence[Box] = (), plate: Box | None = None
) -> Carcass:
    """All that is made of board. boxes : outlet boxes that battens stop at · plate : the mount's, that bears on packing.

    Raises:
        ValueError: a unit that cannot be built (no inside, bays that do not go in), naming the field.
    """
    made = Made()
    asked = {unit.ref: unit for unit in job.design.units}
    top = max((unit.box.top for unit in setout.units if unit.kind == "console"), default=0.0)
    there = [*boxes, *(obstacle_box(thing) for thing in face.obstacles if thing.kind in ACCESSORIES)]
    for unit in setout.units:
        behind = max((zone.build_up for zone in setout.zones if zone.box.meets(unit.box)), default=0.0)
        if unit.kind == "shelf":
            _shelf(unit, asked[unit.ref], behind, made, limits)
        else:
            ceiling = room.closing(face, unit.box.x, unit.box.right, unit.box.top, limits)
            _cabinet(unit, asked[unit.ref], job, (behind, top, face.width, ceiling), made, limits)
    for zone in setout.zones:
        _zone(zone, job, there, plate, made, limits)
    made.hardware.extend(_skirting_cuts(setout, face))
    mass: dict[str, float] = defaultdict(float)
    for part in made.parts:
        mass[part.unit] += part.mass
    made.whys.extend(
        Why(f"unit {ref}.mass", round(kg, 2), "kg", "All its boards with their facings.", "Σ length × width × mass a m²",
            (), "board densities of the library", "computed")
        for ref, kg in mass.items()
    )  # fmt: skip
    return Carcass(
        tuple(made.bays), tuple(made.parts), tuple(made.shelves), tuple(made.hardware), tuple(made.movers),
        tuple(mass.items()), tuple(made.whys),
    )  # fmt: skip


def _cabinet(
    unit: UnitBox,
    asked: Unit,
    job: Job,
    about: tuple[float, float, float, float | None],
    made: Made,
    limits: Limits,
) -> None:
    """A console or tower. about : panel behind it, the console's top, wall width, what a filler above it closes up to [mm]."""
    behind, console_top, wall, ceiling = about
    of = stock.stock(unit.board, bay_of.carcass_finish(unit.board))
    whole = bay_of.bodies(unit, asked, job, console_top, limits)
    cells = [cell for body in whole for cell in body.cells]
    thickest = max(
        (fronts.front_stock(unit, cell.front).thickness for cell in cells if cell.front != "open"),
        default=0.0,
    )
    at = panels.depths(unit, behind, thickest, limits)
    carries = _load(unit, asked, limits)
    for body in whole:
        made.parts.extend(panels.box_parts(unit, body, of, at, limits))
        for cell in body.cells:
            made.parts.extend(panels.loose_shelves(unit, body, cell, of, at, limits))
            if cell.drawers:
                made.parts.extend(drawers.drawer_parts(unit, cell, at, limits))
            _bay(unit, cell, at, made)
        _carrying(unit, body, at, carries, made, limits)
    made.parts.extend(panels.plinth(unit, of, at, limits))
    made.parts.extend(
        panels.fillers(unit, whole, wall, ceiling, fronts.front_stock(unit, "shutter"), at, limits)
    )
    _fronts(unit, whole, at, asked.opening or "push", made, limits)
    _fittings(unit, whole, made)


def _load(unit: UnitBox, asked: Unit, limits: Limits) -> float:
    """Expected load [kg a metre of shelf]: as pinned, else books in a tower and mixed things in a console."""
    if asked.load is not None:
        return asked.load
    kind = {"console": "load_console", "tower": "load_books", "shelf": "load_wall_shelf"}[unit.kind]
    return limits.value(f"carcass.{kind}")


def _bay(unit: UnitBox, cell: bay_of.Cell, at: panels.Depths, made: Made) -> None:
    ref = f"{unit.ref}.{cell.number}"
    through = fronts.ir_open(unit, cell.front)
    made.bays.append(
        BayBox(ref, unit.ref, cell.clear, at.inside, cell.front, cell.drawers, cell.shelves, through)
    )
    along = cell.clear.height if unit.kind == "tower" else cell.clear.width
    made.whys.append(
        Why(f"bay {ref}.clear", round(along, 1), "mm", "Its share of what the boards leave.",
            "", (Given("board", unit.board), Given("front", cell.front)), "plane geometry", "computed")
    )  # fmt: skip


def _carrying(
    unit: UnitBox, body: bay_of.Body, at: panels.Depths, carries: float, made: Made, limits: Limits
) -> None:
    """The boards of a box that carry: loose and fixed shelves, bottoms that things stand on, a console's top."""
    board = load.boards()[unit.board]
    for k, cell in enumerate(body.cells):
        clear, ref = cell.clear, f"{unit.ref}.{cell.number}"
        base = Box(clear.x, clear.z - board.thickness, clear.width, board.thickness)
        if not cell.drawers:
            name = f"{ref}-bottom" if k == 0 or unit.kind != "tower" else f"{ref}-fixed"
            made.shelves.append(
                Shelf(name, unit.ref, clear.width, at.inside, board.thickness, unit.board, carries, base)
            )
        if unit.kind == "console":
            top = Box(clear.x, clear.top, clear.width, board.thickness)
            on_top = limits.value("carcass.load_top") * at.body / 1000
            made.shelves.append(
                Shelf(f"{ref}-top", unit.ref, clear.width, at.body, board.thickness, unit.board, on_top, top)
            )
    made.shelves.extend(
        Shelf(
            part.id, unit.ref, part.length, part.width, board.thickness, unit.board, carries, part.block.face
        )
        for part in made.parts
        if part.role == "shelf" and part.unit == unit.ref and body.box.holds(part.block.face)
    )


def _fronts(  # noqa: PLR0913
    unit: UnitBox, whole: tuple[bay_of.Body, ...], at: panels.Depths, opening: Opening, made: Made, limits: Limits
) -> None:  # fmt: skip
    run = drawers.runner(at.inside, limits)
    count: dict[str, int] = defaultdict(int)
    torque = 0.0
    for front in fronts.fronts(unit, whole, limits):
        part = fronts.front_part(unit, front, at, limits)
        made.parts.append(part)
        made.movers.append(movers.mover(unit, front, at.face, run))
        if front.kind == "door":
            kind = "glass_hinge" if front.cell.front == "glass" else "hinge"
            count[kind] += hinge_count(part.mass, front.box.height, front.box.width, limits)
            count["leaf"] += 1
        elif front.kind == "flap":
            count["lift"], torque = count["lift"] + 2, max(torque, flap_torque(part.mass, front.box.height))
            count["hinge"] += hinge_count(part.mass, front.box.width, 0.0, limits)
            count["leaf"] += 1
        else:
            count["runner"] += 1
    made.hardware.extend(hardware.of_fronts(unit.ref, opening, count, run, torque))


def _fittings(unit: UnitBox, whole: tuple[bay_of.Body, ...], made: Made) -> None:
    add = made.hardware.append
    cells = [cell for body in whole for cell in body.cells]
    pins = sum(4 * cell.shelves for cell in cells)
    if pins:
        add(Hardware("shelf_pin", "Shelf pin Ø5", unit.ref, pins, "four a loose shelf"))
    joints = sum(8 + 4 * (len(body.cells) - 1) for body in whole)
    add(Hardware("confirmat", "Case screw 7 × 50", unit.ref, joints, "two at each end of every fixed board"))
    if len(whole) > 1:
        add(
            Hardware(
                "connector", "Connecting screw", unit.ref, 4 * (len(whole) - 1), "joins the boxes of the unit"
            )
        )
    if not unit.hung:
        add(Hardware("foot", "Adjustable foot", unit.ref, 4, "levels the plinth"))
    if unit.kind == "tower" and unit.anchored:
        add(Hardware("anti_tip", "Tipping restraint", unit.ref, 2, "near the top, into sound wall"))


def _shelf(unit: UnitBox, asked: Unit, behind: float, made: Made, limits: Limits) -> None:
    made.parts.append(shelf.wall_shelf(unit, behind))
    board = load.boards()[unit.board]
    count = shelf.rod_count(shelf.rod_run(unit.box.width, limits), limits.value("structure.rod_pitch"))
    made.shelves.append(
        Shelf(f"{unit.ref}-S", unit.ref, shelf.rod_spacing(unit.box.width, limits), unit.depth - behind,
              board.thickness, unit.board, _load(unit, asked, limits), unit.box)
    )  # fmt: skip
    note = "rods half the shelf's depth or more into the board; not in aerated block or plasterboard"
    made.hardware.append(Hardware("bracket", "Hidden shelf bracket with rods", unit.ref, count, note))


def _zone(
    zone: PanelZone, job: Job, boxes: Sequence[Box], plate: Box | None, made: Made, limits: Limits
) -> None:  # fmt: skip
    parts = list(cladding.zone_parts(zone, job.design.saw.trim.mm, limits, boxes, plate))
    made.parts.extend(parts)
    pitch = limits.value("structure.batten_screw_pitch")
    screws = sum(int(part.length // pitch) + 1 for part in parts if part.role == "batten")
    if screws:
        note = f"every {pitch:g} mm along each batten"
        made.hardware.append(Hardware("batten_screw", "Screw and plug for battens", zone.ref, screws, note))
    packing = [part for part in parts if part.role == "backer"]
    if packing:
        rest = cladding.shimmed(zone.void)
        note = "solid behind the mount's plate" + (
            f", shimmed {rest:.0f} mm to the wall" if rest > 0.5 else ""
        )
        screws = _edge_screws(packing[0], limits)
        made.hardware.append(Hardware("screw", "Screw for the packing", zone.ref, screws, note))


def _edge_screws(part: Part, limits: Limits) -> int:
    """Screws round the edge of a backer or packing, one at each corner at least."""
    return max(4, math.ceil(2 * (part.length + part.width) / limits.value("carcass.backer_screws")))


def _skirting_cuts(setout: SetOut, face: Face) -> Iterator[Hardware]:
    """Work on site: the skirting is cut out where a standing unit goes to the wall."""
    for unit in setout.units:
        for thing in face.obstacles:
            shared = unit.box.shared(obstacle_box(thing)) if thing.kind == "skirting" else None
            if shared and min(shared.width, shared.height) >= 0.5:
                note = f"{thing.ref} from x {shared.x:.0f} to {shared.right:.0f}; ends made good"
                yield Hardware("skirting_cut", "Skirting cut out", unit.ref, 1, note)


def backed(carcass: Carcass, backers: Sequence[Box], job: Job, limits: Limits) -> Carcass:
    """The carcass with the plywood that is let into a framed wall behind its boarding.

    backers : outlines on the wall; one longer than a sheet is made of equal lengths. They belong to the wall, not to a unit.
    """
    if not backers:
        return carcass
    of, skin = stock.stock(stock.CLEAT), limits.value("carcass.boarding")
    longest = stock.sheet_size(stock.CLEAT, job.design.saw.trim.mm)[0]
    lengths = [
        replace(box, x=box.x + k * box.width / count, width=box.width / count)
        for box in backers
        for count in [math.ceil(box.width / longest)]
        for k in range(count)
    ]
    parts = tuple(
        piece(
            f"BK{k}", WALL, "backer", "backer let into the wall", of,
            Block(box.x, skin, box.z, box.width, of.thickness, box.height), "x", "z",
        )
        for k, box in enumerate(lengths, 1)
    )  # fmt: skip
    screws = sum(_edge_screws(part, limits) for part in parts)
    bought = (
        Hardware("backer", "Strip of boarding opened, closed and filled", WALL, len(parts),
                 "for the backer, screwed to the studs"),
        Hardware("screw", "Screw for the backers", WALL, screws, "round the edge of each backer"),
    )  # fmt: skip
    return replace(carcass, parts=(*carcass.parts, *parts), hardware=(*carcass.hardware, *bought))
