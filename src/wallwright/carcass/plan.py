"""Every unit and panel made of board: bays, parts, shelves, hardware, and what moves."""

from __future__ import annotations

from collections import defaultdict
from dataclasses import dataclass, field

from wallwright.carcass import bays as bay_of
from wallwright.carcass import cladding, drawers, fronts, movers, panels, room, shelf, stock
from wallwright.carcass.hardware import flap_torque, hinge_count
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
from wallwright.core.shape import Box
from wallwright.core.why import Given, Why
from wallwright.job.design import Unit
from wallwright.job.document import Job
from wallwright.job.face import Face
from wallwright.library import load


@dataclass(slots=True)
class Made:
    """What is gathered while units are made."""

    bays: list[BayBox] = field(default_factory=list[BayBox])
    parts: list[Part] = field(default_factory=list[Part])
    shelves: list[Shelf] = field(default_factory=list[Shelf])
    movers: list[Drawn] = field(default_factory=list[Drawn])
    hardware: list[Hardware] = field(default_factory=list[Hardware])
    whys: list[Why] = field(default_factory=list[Why])


def plan(job: Job, face: Face, setout: SetOut, limits: Limits) -> Carcass:
    """All that is made of board.

    Raises:
        ValueError: a unit that cannot be built (no inside, bays that do not go in), naming the field.
    """
    made = Made()
    asked = {unit.ref: unit for unit in job.design.units}
    top = max((unit.box.top for unit in setout.units if unit.kind == "console"), default=0.0)
    hangs = room.hanging(face)
    for unit in setout.units:
        behind = max((zone.build_up for zone in setout.zones if zone.box.meets(unit.box)), default=0.0)
        if unit.kind == "shelf":
            _shelf(unit, asked[unit.ref], behind, made, limits)
        else:
            ceiling = room.underside(face.height, unit.box.x, unit.box.right, hangs)
            _cabinet(unit, asked[unit.ref], job, (behind, top, face.width, ceiling), made, limits)
    for zone in setout.zones:
        _zone(zone, job, made, limits)
    mass: dict[str, float] = defaultdict(float)
    for part in made.parts:
        mass[part.unit] += part.mass
    made.whys.extend(
        Why(f"unit {ref}.mass", round(kg, 2), "kg", "All its boards with their facings.", "Σ length × width × mass a m²",
            source="board densities of the library", certainty="computed")
        for ref, kg in mass.items()
    )  # fmt: skip
    return Carcass(
        tuple(made.bays), tuple(made.parts), tuple(made.shelves), tuple(made.hardware), tuple(made.movers),
        tuple(mass.items()), tuple(made.whys),
    )  # fmt: skip


def _cabinet(
    unit: UnitBox, asked: Unit, job: Job, about: tuple[float, float, float, float], made: Made, limits: Limits
) -> None:
    """A console or tower. about : panel behind it, the console's top, wall width, ceiling over it [mm]."""
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
    _fronts(unit, whole, at, made, limits)
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
            inputs=(Given("board", unit.board), Given("front", cell.front)))
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


def _fronts(
    unit: UnitBox, whole: tuple[bay_of.Body, ...], at: panels.Depths, made: Made, limits: Limits
) -> None:
    run = drawers.runner_length(
        at.inside, limits.value("carcass.runner_step"), limits.value("carcass.runner_spare")
    )
    hinges: dict[str, int] = defaultdict(int)
    runners = stays = 0
    torque = 0.0
    leaves = fronts.fronts(unit, whole, limits)
    for front in leaves:
        part = fronts.front_part(unit, front, at)
        made.parts.append(part)
        made.movers.append(movers.mover(unit, front, at.face, run))
        if front.kind == "door":
            kind = "glass_hinge" if front.cell.front == "glass" else "hinge"
            hinges[kind] += hinge_count(part.mass, front.box.height, front.box.width)
        elif front.kind == "flap":
            stays, torque = stays + 2, max(torque, flap_torque(part.mass, front.box.height))
            hinges["hinge"] += hinge_count(part.mass, front.box.width, 0.0)
        else:
            runners += 1
    add = made.hardware.append
    for kind, count in hinges.items():
        name = "Hinge for glass, soft-close" if kind == "glass_hinge" else "Concealed hinge Ø35, soft-close"
        add(Hardware(kind, name, unit.ref, count, "by weight and height of each door"))
    if runners:
        add(
            Hardware(
                "runner",
                f"Drawer runners {run:.0f} mm, full extension, pair",
                unit.ref,
                runners,
                "side-mounted, soft-close",
            )
        )
    if stays:
        add(Hardware("lift", "Flap stay, damped", unit.ref, stays, f"for {torque:.1f} N·m, two a flap"))
    if leaves:
        add(
            Hardware(
                "push_latch",
                "Push latch",
                unit.ref,
                len(leaves),
                "one a front; a handle where the client prefers",
            )
        )


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
    count = shelf.rod_count(unit.box.width - 100.0, limits.value("structure.rod_pitch"))
    made.shelves.append(
        Shelf(f"{unit.ref}-S", unit.ref, shelf.rod_spacing(unit.box.width, limits), unit.depth - behind,
              board.thickness, unit.board, _load(unit, asked, limits), unit.box)
    )  # fmt: skip
    note = "rods half the shelf's depth or more into the board; not in aerated block or plasterboard"
    made.hardware.append(Hardware("bracket", "Hidden shelf bracket with rods", unit.ref, count, note))


def _zone(zone: PanelZone, job: Job, made: Made, limits: Limits) -> None:
    parts = list(cladding.zone_parts(zone, job.design.saw.trim.mm, limits))
    made.parts.extend(parts)
    battens = sum(part.role == "batten" for part in parts)
    if battens:
        a_row = int(zone.box.width // limits.value("structure.batten_screw_pitch")) + 1
        made.hardware.append(
            Hardware(
                "batten_screw",
                "Screw and plug for battens",
                zone.ref,
                battens * a_row,
                "every 400 mm along each batten",
            )
        )
