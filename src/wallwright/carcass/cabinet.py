"""A cabinet made: its boxes, what stands in its bays, fronts, fittings, and what it is built round on the wall."""

from __future__ import annotations

from dataclasses import replace

from wallwright.carcass import bays as bay_of
from wallwright.carcass import (
    build,
    drawers,
    fitted,
    fronts,
    hardware,
    movers,
    panels,
    pull_out,
    room,
    run_on,
    stock,
)
from wallwright.carcass.made import Made, Site, load_of
from wallwright.carcass.record import BayBox, Behind, Carried, Hardware, Part, Shelf, UnitBox
from wallwright.carcass.stock import Stock
from wallwright.core.limit import Limits
from wallwright.core.shape import Block, Box
from wallwright.core.why import Given, Why
from wallwright.job.design import Opening, Unit
from wallwright.job.document import Job
from wallwright.job.face import Face, obstacle_box
from wallwright.library import load
from wallwright.library.fittings import of_kind


def cabinet(  # noqa: PLR0913
    unit: UnitBox, asked: Unit, job: Job, face: Face, site: Site, made: Made, limits: Limits
) -> None:  # fmt: skip
    """A box with bays: boards, shelves, drawers, fronts, and what it stands on and closes up to."""
    of = stock.stock(unit.board, bay_of.carcass_finish(unit.board))
    whole = bay_of.bodies(unit, asked, job, site.console_top, limits, site.passes)
    opening = asked.opening or "push"
    thickest = max(
        (
            fronts.front_stock(unit, cell.front).thickness
            for body in whole
            for cell in body.cells
            if cell.front != "open"
        ),
        default=0.0,
    )
    keep = _kept(unit, job, face, site.behind, thickest, made, limits)
    at = panels.depths(unit, site.behind, thickest, limits)
    carries, inside = load_of(unit, asked, limits), dict[int, float]()
    for body in whole:
        around = tuple(thing for thing in keep if thing.face.meets(body.box))
        here = panels.depths(unit, site.behind, thickest, limits, around) if around else at
        begun = len(made.parts)
        made.parts.extend(panels.box_parts(unit, body, of, here, limits))
        for cell in body.cells:
            inside[cell.number] = here.inside
            _inside(unit, body, cell, of, here, opening, made, limits)
            _bay(unit, cell, here, made)
        _carrying(unit, body, here, carries, made, limits, made.parts[begun:])
        made.parts.extend(fronts.gap_rails(unit, body, of, opening, here, limits))
        _carried(unit, body, site, made, limits)
    made.parts.extend(panels.plinth(unit, of, replace(at, keep=keep) if keep else at, limits))
    closing = fronts.front_stock(unit, "shutter")
    above = site.ceiling, site.under
    made.parts.extend(panels.fillers(unit, whole, site.ends, above, closing, at, limits, site.taper))
    _fronts(unit, whole, at, inside, opening, made, limits)
    _fittings(unit, whole, made, limits)
    if unit.kind == "desk":
        made.whys.extend(_desk_whys(unit, of.thickness, limits))


def _kept(  # noqa: PLR0913
    unit: UnitBox, job: Job, face: Face, behind: float, front: float, made: Made, limits: Limits
) -> tuple[Block, ...]:  # fmt: skip
    """What stands on the wall behind a unit and is built round, with the clearance that joinery keeps.

    What leaves no room for an inside is not built round: the rules say that the unit stands on it.
    """
    clear = limits.value("carcass.keep_clear")
    out: list[Block] = []
    for thing in face.obstacles:
        box, proud = obstacle_box(thing), thing.projection.mm
        common = box.shared(unit.box)
        notched = thing.kind == "skirting" and not unit.hung and skirting_notched(unit, job)
        if common is None or proud <= 0 or not (thing.kind in room.BUILT_ROUND or notched):
            continue
        if min(common.width, common.height) < 0.5:
            continue
        kept = Block(
            box.x - clear,
            -proud - clear,
            box.z - clear,
            box.width + 2 * clear,
            proud + clear + 1000,
            box.height + 2 * clear,
        )
        left = panels.clear_inside(unit, behind, front, limits, (kept,))
        if left < 50:
            continue
        out.append(kept)
        if not notched:
            made.behind.append(Behind(unit.ref, thing.ref, proud, left, common))
            made.whys.append(
                Why(f"unit {unit.ref}.before_{thing.ref}", round(left, 1), "mm",
                    f"Built round the {thing.kind} {thing.ref}: its boards stop in front of it and its back passes before it.",
                    "depth − what stands proud and its clearance − back − fronts",
                    (Given("depth", unit.depth, "mm"), Given("proud", proud, "mm"), Given("clearance", clear, "mm"),
                     Given("fronts", front, "mm")),
                    limits["carcass.keep_clear"].source, limits["carcass.keep_clear"].certainty)
            )  # fmt: skip
    return tuple(out)


def skirting_notched(unit: UnitBox, job: Job) -> bool:
    """Whether a standing unit is notched over the skirting: as decided, else in a rented home, where nothing is cut out."""
    asked = next((asked.skirting for asked in job.design.units if asked.ref == unit.ref), None)
    return asked == "notch" or (asked is None and job.brief.tenure == "rent")


def _inside(  # noqa: PLR0913
    unit: UnitBox, body: bay_of.Body, cell: bay_of.Cell, of: Stock, at: panels.Depths, opening: str, made: Made,
    limits: Limits,
) -> None:  # fmt: skip
    """What stands in a bay: loose shelves, drawers or the frame of a pull-out, clear of the rail behind a finger gap."""
    by = fronts.finger(unit, cell, opening, limits)
    rail = by.rail if by else 0.0
    taken = (rail, 0.0) if by and by.at_foot else (0.0, rail)
    if cell.front == "pull_out":
        made.parts.extend(pull_out.pull_out_parts(unit, cell, at, limits, taken))
    elif cell.drawers:
        made.parts.extend(drawers.drawer_parts(unit, cell, at, limits, rail))
    else:
        made.parts.extend(panels.loose_shelves(unit, body, cell, of, at, limits, taken))


def _carried(unit: UnitBox, body: bay_of.Body, site: Site, made: Made, limits: Limits) -> None:
    """Whether a box of the unit comes in by the surveyed way; nothing is said where nothing was surveyed."""
    if site.passes is None:
        return
    box, spare = body.box, limits.value("carcass.carry_spare")
    goes = site.passes(box.width + spare, box.height + spare, unit.depth + spare)
    made.carried.append(Carried(unit.ref, body.ref, box.width, box.height, unit.depth, goes))


def _desk_whys(unit: UnitBox, t: float, limits: Limits) -> tuple[Why, Why]:
    writing, knees = limits["carcass.writing_height"], limits["carcass.knee_room"]
    return (
        Why(f"desk {unit.ref}.writing_height", round(unit.box.z + t, 1), "mm", "The flap lies level with the bottom's upper face.",
            "underside + board", (Given("underside", unit.box.z, "mm"), Given("board", t, "mm")), writing.source, writing.certainty),
        Why(f"desk {unit.ref}.knee_room", round(unit.box.z, 1), "mm", "Clear height under the cabinet and its flap.", "",
            (Given("underside", unit.box.z, "mm"),), knees.source, knees.certainty),
    )  # fmt: skip


def _bay(unit: UnitBox, cell: bay_of.Cell, at: panels.Depths, made: Made) -> None:
    ref = f"{unit.ref}.{cell.number}"
    through = fronts.ir_open(unit, cell.front)
    made.bays.append(
        BayBox(
            ref, unit.ref, cell.clear, at.inside, cell.front, cell.drawers, cell.shelves, through, cell.hinged
        )
    )
    along = cell.clear.height if unit.kind == "tower" else cell.clear.width
    made.whys.append(
        Why(f"bay {ref}.clear", round(along, 1), "mm", "Its share of what the boards leave.",
            "", (Given("board", unit.board), Given("front", cell.front)), "plane geometry", "computed")
    )  # fmt: skip


def _carrying(  # noqa: PLR0913
    unit: UnitBox, body: bay_of.Body, at: panels.Depths, carries: float, made: Made, limits: Limits, own: list[Part]
) -> None:  # fmt: skip
    """The boards of a box that carry: loose and fixed shelves, bottoms that things stand on, a console's top."""
    board = load.boards()[unit.board]
    for k, cell in enumerate(body.cells):
        clear, ref = cell.clear, f"{unit.ref}.{cell.number}"
        base = Box(clear.x, clear.z - board.thickness, clear.width, board.thickness)
        if not cell.drawers and cell.front != "pull_out":
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
    strip = build.strip(unit, stock.stock(unit.board, bay_of.carcass_finish(unit.board)), limits)
    lip = strip[1] if unit.build == "lipped" else 0.0
    made.shelves.extend(
        Shelf(
            part.id, unit.ref, part.length, part.width + lip, build.board_thickness(unit, board.thickness), part.board, carries,
            part.block.face, unit.build, *strip,
        )
        for part in own
        if part.role == "shelf" and part.id[-1].isdigit()
    )  # fmt: skip


def _fronts(  # noqa: PLR0913
    unit: UnitBox, whole: tuple[bay_of.Body, ...], at: panels.Depths, inside: dict[int, float], opening: Opening, made: Made,
    limits: Limits,
) -> None:  # fmt: skip
    """The fronts, what they sweep and their fittings. inside : the clear depth of each bay by its number [mm]."""
    handle = limits.value("carcass.handle_proud") if opening == "handle" else 0.0
    boards = {part.id: part for part in made.parts if part.unit == unit.ref}
    fits: list[fitted.Fit] = []
    leaves = [
        (front, fronts.front_part(unit, front, at, limits))
        for front in fronts.fronts(unit, whole, limits, opening)
    ]
    marks = run_on.match_marks(unit, leaves)
    for front, bare in leaves:
        part = replace(bare, match=marks[bare.id]) if bare.id in marks else bare
        run = drawers.runner(inside[front.cell.number], limits)
        made.parts.append(part)
        made.movers.append(replace(movers.mover(unit, front, at.face, run, handle), thick=part.thickness))
        fits.extend(fitted.of_front(unit, front, part, opening, limits))
        if front.kind in ("drawer", "pull_out"):
            made.on_runners.append(fitted.on_runners(unit, front, part, run, opening, boards, limits))
            fits.append(fitted.runner(made.on_runners[-1]))
    made.hardware.extend(fitted.lines(unit.ref, fits))


def _fittings(unit: UnitBox, whole: tuple[bay_of.Body, ...], made: Made, limits: Limits) -> None:
    add = made.hardware.append
    cells = [cell for body in whole for cell in body.cells]
    pins = sum(4 * cell.shelves for cell in cells if cell.front != "pull_out")
    if pins:
        add(Hardware("shelf_pin", "Shelf pin Ø5", unit.ref, pins, "four a loose shelf"))
    own = [part for part in made.parts if part.unit == unit.ref]
    boards = sum(2 + len(body.cells) - 1 for body in whole)
    rails = sum(part.role == "rail" for part in own)
    cross = 2 if sum(part.role == "plinth" for part in own) >= 4 else 0
    add(
        Hardware(
            "confirmat",
            "Case screw 7 × 50",
            unit.ref,
            4 * (boards + rails + cross),
            "two at each end of every fixed board and rail",
        )
    )
    gaps = sum(2 * (2 if part.block.dz > 45 else 1) for part in own if part.role == "gap_rail")
    add(
        Hardware(
            "dowel",
            "Dowel 8 × 35",
            unit.ref,
            2 * boards + gaps,
            "one at each end of every fixed board, between its screws",
        )
    )
    boxes = sum(part.role == "drawer_bottom" for part in own)
    if boxes:
        add(
            Hardware(
                "screw",
                "Screw 4 × 35 for drawers",
                unit.ref,
                12 * boxes,
                "eight a drawer's box, four into its front",
            )
        )
    if len(whole) > 1:
        add(
            Hardware(
                "connector", "Connecting screw", unit.ref, 4 * (len(whole) - 1), "joins the boxes of the unit"
            )
        )
    value = limits.value
    if not unit.hung and unit.base == "legs" and unit.box.z <= 0:
        legs = hardware.leg_count(unit.box.width, value("carcass.leg_inset"), value("carcass.leg_pitch"))
        note = f"{value('carcass.legs'):g} mm high, {value('carcass.leg_inset'):g} mm in from the edges, adjustable"
        add(Hardware("leg", "Leg", unit.ref, *_standing(unit, made, "leg", legs, note)))
    elif not unit.hung:
        least = fitted.least_feet(sum(part.role == "plinth" for part in own))
        add(
            Hardware(
                "foot",
                "Adjustable foot",
                unit.ref,
                *_standing(unit, made, "foot", least, "levels the plinth"),
            )
        )
    if unit.tall and unit.anchored:
        add(Hardware("anti_tip", "Tipping restraint", unit.ref, 2, "near the top, into sound wall"))


def _standing(unit: UnitBox, made: Made, kind: str, least: int, note: str) -> tuple[int, str]:
    """How many feet or legs, and why: as many as stand there for its width, more where what it carries asks for them."""
    row = of_kind(kind)[0]
    boards = sum(part.mass for part in made.parts if part.unit == unit.ref)
    full = sum(shelf.span / 1000 * shelf.load_kg_per_m for shelf in made.shelves if shelf.unit == unit.ref)
    count = fitted.feet(boards + full, least, row.carries)
    return count, f"{note}; {boards:.0f} kg and {full:.0f} kg on its shelves, {row.carries:.0f} kg each"
