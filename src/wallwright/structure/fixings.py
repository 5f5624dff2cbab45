"""Fixings of what hangs or is held at its top: what it asks of them, and the lightest anchor for this wall that gives it."""

from __future__ import annotations

import math
from dataclasses import replace
from typing import TYPE_CHECKING

from wallwright.core.limit import Limits
from wallwright.core.shape import Box, around
from wallwright.job.document import Job
from wallwright.structure import hung
from wallwright.structure.record import FixingCheck
from wallwright.structure.rows import MOST_USED, Load, Row, bend_most, bolt_bending, plate_row, row
from wallwright.structure.wall import (
    BACKER,
    Wall,
    anchors_behind,
    backer_box,
    beside_strange,
    in_backer,
    strange_at,
)

if TYPE_CHECKING:
    from wallwright.carcass.record import Carcass, PanelZone, Part, UnitBox
    from wallwright.sight.record import Screen

__all__ = ["COLUMN", "MOST_USED", "THIN", "UNFOUND", "UNKNOWN", "bolt_bending"]

UNKNOWN = "unknown"
UNFOUND = "studs not found"
THIN = "wall too thin"
COLUMN = "not the wall"
"""Why no fixing is offered: the wall is not known, its studs are not found, it is too thin for any fixing of the library, or a
column, beam or pipe stands where the fixings would go, of which nobody said what it is.
"""


def hung_unit(  # noqa: PLR0913
    unit: UnitBox, carcass: Carcass, contents: float, zones: tuple[PanelZone, ...], wall: Wall, limits: Limits
) -> FixingCheck:
    """A hung cabinet on its cleats; a hung frame without one along its upper board. contents : expected mass in it [kg]."""
    parts = [part for part in carcass.parts if part.unit == unit.ref]
    cleats = sorted((part.block.face for part in parts if part.role == "cleat"), key=lambda box: box.x)
    down = limits.value("structure.cleat_screw")
    high = max((box.top for box in cleats), default=0.0)
    # of boxes one above the other the uppermost cleats are reckoned to hold all: they are pulled most
    strips = [box for box in cleats if box.top > high - 1] or [
        Box(unit.box.x, unit.box.top - 2 * down, unit.box.width, 2 * down)
    ]
    height = min(box.top for box in strips) - down
    lean = lean_on(unit, limits)
    boards, arm = sum(part.mass for part in parts), centre_of_mass(parts)
    lever = max(height - unit.box.z - limits.value("structure.lever_foot"), 1.0)
    load = loaded(((boards, arm), (contents, arm)), lean, unit.depth, lever)
    return _checked(
        unit.ref, f"{unit.kind.replace('_', ' ')} {unit.ref}", load, strips, height, zones, wall, limits
    )


def wall_shelf(  # noqa: PLR0913
    unit: UnitBox, carcass: Carcass, contents: float, zones: tuple[PanelZone, ...], wall: Wall, limits: Limits
) -> FixingCheck:
    """A wall shelf on hidden rods: the bracket's bar is as high as the board is thick, and the rods bend."""
    parts = [part for part in carcass.parts if part.unit == unit.ref]
    boards = around(
        corner for part in parts if part.role == "wall_shelf" for corner in part.block.face.corners
    )
    arm = centre_of_mass(parts)
    lean = limits.value("structure.lean_shelf")
    load = loaded(
        ((sum(part.mass for part in parts), arm), (contents, arm)), lean, unit.depth, unit.box.height
    )
    # rods go into the middle of what they hold: of two boards their joint, of a torsion box its hollow
    middle = boards.centre[1]
    done = _checked(unit.ref, f"{unit.kind} {unit.ref}", load, [boards], middle, zones, wall, limits)
    if not done.count:
        return done
    stress, most = rod_stress(load.moment, unit.box.width, limits), limits.value("structure.rod_stress")
    if done.bending_most and done.bending / done.bending_most > stress / most:
        return replace(done, used=max(done.used, stress / most))
    return replace(done, used=max(done.used, stress / most), bending=stress, bending_most=most)


def rod_stress(moment: float, width: float, limits: Limits) -> float:
    """Bending of a hidden shelf's steel rods [N/mm²]: M/n over πd³/32, n at most the rods' pitch apart."""
    run = max(width - 2 * limits.value("structure.rod_inset"), 1.0)
    count = max(2, math.ceil(run / limits.value("structure.rod_pitch")) + 1)
    return hung.round_bending(moment / count, limits.value("structure.rod_diameter"))


def held_top(  # noqa: PLR0913
    unit: UnitBox, carcass: Carcass, force: float, zones: tuple[PanelZone, ...], wall: Wall, limits: Limits
) -> FixingCheck:
    """A standing unit's two fixings near its top, each good for half of what holds it, and for the anchoring force at least.

    They cross the gap behind its back, which is wide where a column or pipe is built round.
    """
    each = max(limits.value("structure.tower_anchor"), force / 2)
    height = unit.box.top - limits.value("structure.tower_hole")
    strip = Box(unit.box.x, height, unit.box.width, 1.0)
    lever = height - unit.box.z
    load = Load(carcass.mass_of(unit.ref), 2 * each, 2 * each * lever, lever, 2 * each, 0.0)
    what = f"{unit.kind.replace('_', ' ')} {unit.ref} at its top"
    gap = gap_behind([part for part in carcass.parts if part.unit == unit.ref], height)
    return _checked(unit.ref, what, load, [strip], height, zones, wall, limits, points=True, gap=gap)


def gap_behind(parts: list[Part], height: float) -> float:
    """From the wall to the rear face of the back at a height, of a unit open behind to its stretchers' [mm]; 0 where neither is."""
    role = "back" if any(part.role == "back" for part in parts) else "rail"
    behind = [part.block for part in parts if part.role == role]
    there = [block for block in behind if block.z <= height <= block.z + block.dz] or behind
    return max(0.0, -max((block.y + block.dy for block in there), default=0.0))


def screen_plate(screen: Screen, job: Job, wall: Wall, limits: Limits, packing: float = 0.0) -> FixingCheck:
    """The wall plate of the screen's mount: four times the screen's weight at its furthest reach, T = 4·W·e/h.

    An arm is stopped with a jerk, so that its pull is taken larger; swung aside it turns its plate in the wall's plane.
    packing : solid build-up between plate and wall that the bolts cross [mm].
    """
    factor, inset = limits.value("structure.screen_factor"), limits.value("structure.plate_inset")
    reach = job.design.mount.reach
    moves = screen.mount == "arm"
    out = (reach.mm if reach else limits.value("structure.arm_reach")) if moves else screen.stand_off
    arm = out + screen.depth / 2
    plate = screen.plate
    lever = max(plate.height - 2 * inset, 1.0)
    load = loaded(((factor * screen.mass, arm),), 0.0, 0.0, lever)
    load = replace(load, mass=screen.mass, lean=0.0)
    if moves:
        jerk = limits.value("structure.arm_dynamic")
        load = replace(load, moment=jerk * load.moment, pull=jerk * load.pull, aside=jerk * load.moment)
    anchors = anchors_behind([plate], wall, studs=2)
    rows = [plate_row(anchor, load, plate, packing, wall, limits) for anchor in anchors]
    into = strange_at([Box(x - 1, z - 1, 2, 2) for tried in rows for x, z in tried.holes], wall)
    if into:
        return _stopped("screen", "screen", load, into)
    return replace(_chosen("screen", "screen", load, rows, packing, wall, limits), packing=packing)


def loaded(masses: tuple[tuple[float, float], ...], lean: float, reach: float, lever: float) -> Load:
    """The load of masses as (kg, distance from the wall) with a push `lean` [N] at `reach`, over the lever [mm]."""
    moment = hung.moment(masses, lean, reach)
    return Load(
        sum(kg for kg, _ in masses), lean, moment, lever, hung.pull(moment, lever), hung.shear(masses, lean)
    )


def lean_on(unit: UnitBox, limits: Limits) -> float:
    """The push of a person on a hung unit's front edge [N]: sitting on a low one, leaning on a higher one, none out of reach."""
    if unit.box.z <= limits.value("structure.sit_underside") and unit.box.top <= limits.value(
        "structure.lean_high"
    ):
        return limits.value("structure.lean_sit")
    return limits.value("structure.lean") if unit.box.z <= limits.value("structure.lean_high") else 0.0


def centre_of_mass(parts: list[Part]) -> float:
    """How far the boards' centre of mass stands from the wall's face [mm]."""
    whole = sum(part.mass for part in parts)
    return -sum(part.mass * (part.block.y + part.block.dy / 2) for part in parts) / whole if whole else 0.0


def packed(strips: list[Box], zones: tuple[PanelZone, ...], limits: Limits) -> tuple[float, Box | None]:
    """What fixings of these strips cross in front of the wall [mm], and where the void behind the panel must be packed solid.

    Nothing is packed where the panel is glued to the wall; nothing is crossed where there is no panel.
    """
    met = [zone for zone in zones if any(zone.box.meets(strip) for strip in strips)]
    crossed = max((zone.build_up for zone in met), default=0.0)
    hollow = [zone for zone in met if zone.void > 0]
    if not hollow:
        return crossed, None
    over = limits.value("carcass.packing_over")
    left, right = min(strip.x for strip in strips), max(strip.right for strip in strips)
    low, top = min(strip.z for strip in strips) - over, max(strip.top for strip in strips) + over
    return crossed, Box(left, low, right - left, top - low).shared(hollow[0].box)


def _checked(  # noqa: PLR0913
    ref: str, what: str, load: Load, strips: list[Box], height: float, zones: tuple[PanelZone, ...],
    wall: Wall, limits: Limits, *, points: bool = False, gap: float = 0.0,
) -> FixingCheck:  # fmt: skip
    """The fixings of a thing along strips. points : two separate points at least that share alike, not a rail · gap : behind it [mm].

    Where a column, beam or pipe stands they go beside it; where no wall is left beside it none is offered.
    """
    packing, pack = packed(strips, zones, limits)
    packing = max(packing, gap)
    into = strange_at(strips, wall)
    middle = (min(strip.x for strip in strips) + max(strip.right for strip in strips)) / 2
    strips = beside_strange(strips, wall, 2 * limits.value("structure.hole_end")) if into else strips
    if not strips:
        return _stopped(ref, what, load, into)
    rows = [
        row(anchor, load, strips, height, packing, wall, limits, points=points, middle=middle)
        for anchor in anchors_behind(strips, wall)
    ]
    return replace(_chosen(ref, what, load, rows, packing, wall, limits), packing=packing, pack=pack)


def _stopped(ref: str, what: str, load: Load, into: tuple[str, ...]) -> FixingCheck:
    """No fixing: it would go into something of which nobody said what it is."""
    return FixingCheck(
        ref, what, load.mass, load.lean, load.moment, load.lever, load.pull, load.shear, 0, 0, (), 0.0, 0.0, COLUMN, 0.0, 0.0,
        MOST_USED, into=into,
    )  # fmt: skip


def _chosen(  # noqa: PLR0913
    ref: str, what: str, load: Load, rows: list[Row], packing: float, wall: Wall, limits: Limits
) -> FixingCheck:
    """The lightest anchor that passes, else the one used least; none at all in an unknown wall, or where nobody found a stud."""
    row = next((row for row in rows if row.used <= 1.0 + 1e-9), None) or min(
        rows, key=lambda row: row.used, default=None
    )
    asked = (ref, what, load.mass, load.lean, load.moment, load.lever, load.pull, load.shear)
    if row is None:
        why = UNKNOWN if wall.substrate == "unknown" else THIN
        return FixingCheck(*asked, 0, 0, (), 0.0, 0.0, why, 0.0, 0.0, MOST_USED)
    anchor, backer = row.anchor, None
    if (
        wall.framed
        and anchor.substrate == BACKER
        and not all(in_backer(hole, anchor, wall) for hole in row.holes)
    ):
        if not wall.studs:
            return FixingCheck(*asked, 0, 0, (), 0.0, 0.0, UNFOUND, 0.0, 0.0, MOST_USED)
        backer = backer_box(row.holes, wall, limits)
    skin = 0.0 if wall.bare else limits.value("structure.plaster")
    return FixingCheck(
        *asked, len(row.holes), row.needed, row.holes, anchor.hole, anchor.depth, anchor.name, anchor.pull, anchor.shear,
        min(row.used, MOST_USED), row.kept, backer, 0.0, row.bending, None, row.uneven, packing + skin + anchor.depth,
        bend_most(anchor, limits) if row.bending else 0.0,
    )  # fmt: skip
