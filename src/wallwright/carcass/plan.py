"""Every unit and panel made of board: bays, parts, shelves, hardware, and what moves."""

from __future__ import annotations

import math
from collections import defaultdict
from collections.abc import Iterator, Sequence

from wallwright.carcass import build, cladding, niche, packing, room, shelf, stock
from wallwright.carcass.bays import Passes
from wallwright.carcass.cabinet import skirting_notched
from wallwright.carcass.fronts import front_stock
from wallwright.carcass.kept import made_of, order
from wallwright.carcass.let_in import backed, edge_screws
from wallwright.carcass.loaded import loaded
from wallwright.carcass.made import Made, Site, load_of
from wallwright.carcass.record import (
    BayBox,
    Carcass,
    Carried,
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
from wallwright.job.face import Face, obstacle_box
from wallwright.library import load

__all__ = ["ACCESSORIES", "backed", "loaded", "plan"]

ACCESSORIES = frozenset({"socket", "switch", "data_point"})
"""What is in the wall already and has a box."""


def plan(  # noqa: PLR0913
    job: Job, face: Face, setout: SetOut, limits: Limits, boxes: Sequence[Box] = (), plate: Box | None = None,
    passes: Passes | None = None,
) -> Carcass:  # fmt: skip
    """All that is made of board. boxes : outlet boxes that battens stop at · plate : the mount's, that bears on packing · passes :
    whether a box of this width, height and depth can be carried in.

    Raises:
        ValueError: a unit that cannot be built (no inside, bays that do not go in), naming the field.
    """
    made = Made()
    asked = {unit.ref: unit for unit in job.design.units}
    top = max((unit.box.top for unit in setout.units if unit.kind == "console"), default=0.0)
    there = [*boxes, *(obstacle_box(thing) for thing in face.obstacles if thing.kind in ACCESSORIES)]
    for unit in setout.units:
        behind = max((zone.build_up for zone in setout.zones if zone.box.meets(unit.box)), default=0.0)
        ask = asked[unit.ref]
        if unit.board_only:
            _shelf(unit, ask, behind, made, limits)
        elif unit.cabinet:
            ceiling = room.closing(face, unit.box.x, unit.box.right, unit.box.top, limits)
            thick = front_stock(unit, "shutter").thickness
            under = room.soffit(face, unit.box, face.height if ceiling is None else ceiling, thick)
            taper = room.taper(job.survey, unit.box.z, unit.box.top)
            ends = room.ends(face, unit.box, unit.depth)
            site = Site(behind, top, ends, ceiling, under, taper, passes)
            made.take(made_of(order(unit, ask, job, face, site, limits)))
        else:
            _niche(unit, ask, job, behind, made, limits)
    for zone in setout.zones:
        held = [plate.grown(limits.value("carcass.packing_over"))] if plate else []
        strips = packing.strips(zone, setout.units, made.parts, [*there, *held], limits)
        _zone(zone, job, there, plate, strips, made, limits)
    made.hardware.extend(_skirting_cuts(job, setout, face))
    for unit in setout.units:
        _packed(unit, job, face, made, limits)
    if passes is not None:
        loose = [zone.ref for zone in setout.zones] + [unit.ref for unit in setout.units if not unit.cabinet]
        made.carried.extend(_largest(loose, made.parts, passes, limits))
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
        tuple(mass.items()), tuple(made.whys), tuple(made.behind), tuple(made.carried), tuple(made.on_runners),
    )  # fmt: skip


def _shelf(unit: UnitBox, asked: Unit, behind: float, made: Made, limits: Limits) -> None:
    """A wall shelf or a ledge on hidden rods."""
    ledge = unit.kind == "ledge"
    own = tuple(shelf.ledge(unit, behind) if ledge else shelf.wall_shelf(unit, behind, limits))
    made.parts.extend(own)
    board = load.boards()[unit.board]
    of = stock.stock(unit.board, unit.front_finish)
    count = shelf.rod_count(shelf.rod_run(unit.box.width, limits), limits.value("structure.rod_pitch"))
    strip = (unit.lip + of.thickness, of.thickness) if ledge else build.strip(unit, of, limits)
    made.shelves.append(
        Shelf(f"{unit.ref}-S", unit.ref, shelf.rod_spacing(unit.box.width, limits), unit.depth - behind,
              build.board_thickness(unit, board.thickness), build.board_of(unit), load_of(unit, asked, limits), unit.box,
              unit.build, *strip)
    )  # fmt: skip
    kg = load_of(unit, asked, limits) * unit.box.width / 1000 + sum(part.mass for part in own)
    note = (
        f"{kg:.0f} kg on {count}, the shelf's own boards with it; rods half the shelf's depth or more into the board; not in aerated "
        "block or plasterboard"
    )
    made.hardware.append(Hardware("bracket", "Hidden shelf rod, to be set with resin", unit.ref, count, note))


def _niche(unit: UnitBox, asked: Unit, job: Job, behind: float, made: Made, limits: Limits) -> None:
    """A niche: its boards, its clear inside, and what stands on its sill."""
    made.parts.extend(niche.niche_parts(unit, behind))
    made.hardware.extend(niche.niche_hardware(unit, job.design.saw.kerf.mm, limits))
    clear = niche.clear_of(unit)
    for name, size in (("width", clear.width), ("height", clear.height)):
        made.whys.append(
            Why(f"niche {unit.ref}.clear_{name}", round(size, 1), "mm", "Between the boards.", "outside − boards",
                (Given("outside", getattr(unit.box, name), "mm"),), "plane geometry", "computed")
        )  # fmt: skip
    if unit.back:  # something stands in it
        deep = niche.clear_depth(unit, behind)
        made.bays.append(BayBox(f"{unit.ref}.1", unit.ref, clear, deep, "open", 0, 0, ir_open=True))
        t = niche.of_niche(unit).thickness
        sill = Box(clear.x, clear.z - t, clear.width, t)
        made.shelves.append(
            Shelf(f"{unit.ref}.1-bottom", unit.ref, clear.width, deep, load.boards()[niche.of_niche(unit).board].thickness,
                  niche.of_niche(unit).board, load_of(unit, asked, limits), sill)
        )  # fmt: skip


def _largest(refs: Sequence[str], parts: Sequence[Part], passes: Passes, limits: Limits) -> Iterator[Carried]:
    """The largest board of each panel, shelf and niche, as it is carried in."""
    spare = limits.value("carcass.carry_spare")
    of_ref: dict[str, list[Part]] = {ref: [] for ref in refs}
    for part in parts:
        if part.unit in of_ref and part.role in ("panel", "wall_shelf", "side", "face", "top"):
            of_ref[part.unit].append(part)
    for ref in refs:
        own = of_ref[ref]
        if own:
            part = max(own, key=lambda part: (part.length * part.width, part.id))
            size = (part.length, part.width, part.thickness)
            yield Carried(ref, part.id, *size, passes(*(mm + spare for mm in size)))


def _packed(unit: UnitBox, job: Job, face: Face, made: Made, limits: Limits) -> None:
    """Where the wall stands in and out behind a unit: its cleat or rear is packed to one plane, its ends scribed to the wall."""
    least = limits["carcass.packed_from"]
    deep = room.unevenness(job.survey, face, unit.box)
    if deep < least.value or unit.board_only:
        return
    grid = job.survey.wall.relief
    given = (
        Given("relief readings", len(grid))
        if grid
        else Given("out of plumb", job.survey.wall.out_of_plumb.mm, "mm")
    )
    made.whys.append(
        Why(f"unit {unit.ref}.wall_relief", round(deep, 1), "mm", "The wall behind it stands in and out by so much.",
            "highest − lowest reading behind it" if grid else "lean over its height", (given,), least.source, least.certainty)
    )  # fmt: skip
    note = f"up to {deep:.0f} mm: set it plumb off the wall's highest spot; scribe what shows of its ends to the wall"
    made.hardware.append(Hardware("packer", "Packers behind the unit", unit.ref, 1, note))


def _zone(  # noqa: PLR0913
    zone: PanelZone, job: Job, boxes: Sequence[Box], plate: Box | None, strips: Sequence[Box], made: Made, limits: Limits
) -> None:  # fmt: skip
    """A panelled field; its battens stop at outlet boxes, at the mount's packing and at the strips behind what hangs on it."""
    stops = packing.stops(strips, limits)
    parts = list(cladding.zone_parts(zone, job.design.saw, limits, [*boxes, *stops], plate))
    made.parts.extend(parts)
    layers = list(packing.strip_parts(zone, strips))
    made.parts.extend(layers)
    if layers:
        note = (
            f"every {limits.value('carcass.backer_screws'):g} mm round each strip, shimmed solid to the wall"
        )
        screws = sum(edge_screws(part, limits) for part in layers)
        made.hardware.append(
            Hardware("screw", "Screw for the packing behind what hangs", zone.ref, screws, note)
        )
    pitch = limits.value("structure.batten_screw_pitch")
    screws = sum(int(part.length // pitch) + 1 for part in parts if part.role == "batten")
    if screws:
        note = f"every {pitch:g} mm along each batten"
        made.hardware.append(Hardware("batten_screw", "Screw and plug for battens", zone.ref, screws, note))
        apart, end = limits.value("structure.clip_pitch"), limits.value("structure.batten_end")
        clips = sum(_clips(part.length - 2 * end, apart) for part in parts if part.role == "batten")
        note = f"every {apart:g} mm along each batten"
        made.hardware.append(Hardware("panel_clip", "Panel clip with its screw", zone.ref, clips, note))
    behind_mount = [part for part in parts if part.role == "backer"]
    if behind_mount:
        rest = cladding.shimmed(zone.void)
        note = "solid behind the mount's plate" + (
            f", shimmed {rest:.0f} mm to the wall" if rest > 0.5 else ""
        )
        screws = edge_screws(behind_mount[0], limits)
        made.hardware.append(Hardware("screw", "Screw for the packing", zone.ref, screws, note))


def _clips(clear: float, apart: float) -> int:
    """Clips along a batten: one at both ends and between them at most so far apart; one in the middle of a piece too short for two."""
    return 1 if clear <= 0 else max(2, math.ceil(clear / apart - 1e-9) + 1)


def _skirting_cuts(job: Job, setout: SetOut, face: Face) -> Iterator[Hardware]:
    """Work on site: the skirting is cut out where a standing unit goes to the wall, unless that is notched over it."""
    for unit in setout.units:
        for thing in face.obstacles:
            shared = unit.box.shared(obstacle_box(thing)) if thing.kind == "skirting" else None
            if shared and min(shared.width, shared.height) >= 0.5 and not skirting_notched(unit, job):
                note = f"{thing.ref} from x {shared.x:.0f} to {shared.right:.0f}; ends made good"
                yield Hardware("skirting_cut", "Skirting cut out", unit.ref, 1, note)
