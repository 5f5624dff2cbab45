"""Fixings of what hangs or is held at its top: what it asks of them, and the lightest anchor for this wall that gives it."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import replace
from functools import lru_cache
from typing import TYPE_CHECKING

from wallwright.core.limit import Limits
from wallwright.core.shape import Box, around
from wallwright.job.document import Job
from wallwright.structure import hung, rods
from wallwright.structure.record import FixingCheck
from wallwright.structure.rows import MOST_USED, Load, Row, bend_most, plate_row, row
from wallwright.structure.wall import (
    BACKER,
    COLUMN,
    NOGGING,
    THIN,
    UNFOUND,
    UNKNOWN,
    Wall,
    anchors_behind,
    backer_box,
    beside_strange,
    in_backer,
    on_known,
    strange_at,
)

if TYPE_CHECKING:
    from wallwright.carcass.record import Carcass, PanelZone, Part, UnitBox
    from wallwright.sight.record import Screen


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
        unit.ref,
        f"{unit.kind.replace('_', ' ')} {unit.ref}",
        load,
        strips,
        height,
        _over(unit),
        zones,
        wall,
        limits,
    )


def _over(unit: UnitBox) -> tuple[float, float]:
    """From where to where a unit loads its fixings along the wall."""
    return unit.box.x, unit.box.right


def wall_shelf(  # noqa: PLR0913
    unit: UnitBox, carcass: Carcass, contents: float, zones: tuple[PanelZone, ...], wall: Wall, limits: Limits
) -> FixingCheck:
    """A wall shelf on hidden rods, each set in a hole of its own in solid wall: nothing pulls at them, they bend."""
    parts = [part for part in carcass.parts if part.unit == unit.ref]
    boards = around(
        corner for part in parts if part.role == "wall_shelf" for corner in part.block.face.corners
    )
    arm = centre_of_mass(parts)
    lean = limits.value("structure.lean_shelf")
    load = loaded(((sum(part.mass for part in parts), arm), (contents, arm)), lean, unit.depth, 1.0)
    load = replace(load, lever=load.moment / load.shear if load.shear else 0.0, pull=0.0)
    # rods go into the middle of what they hold: of two boards their joint, of a torsion box its hollow
    middle, over = boards.centre[1], (boards.x, boards.right)
    crossed, pack = packed([boards], zones, limits)
    into, least = strange_at([boards], wall), 2 * limits.value("structure.hole_end")
    what = f"{unit.kind} {unit.ref}"

    def tried(base: Wall, pieces: list[Box], through: float) -> FixingCheck:
        done = rods.check((unit.ref, what), load, pieces, middle, over, base, limits)
        return replace(done, packing=through, pack=pack, length=done.length + through)

    return _best(unit.ref, what, load, tried, [boards], into, least, crossed, 0.0, wall)


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
    return _checked(
        unit.ref, what, load, [strip], height, _over(unit), zones, wall, limits, points=True, gap=gap
    )


def gap_behind(parts: list[Part], height: float) -> float:
    """From the wall to the rear face of the back at a height, of a unit open behind to its stretchers' [mm]; 0 where neither is."""
    role = "back" if any(part.role == "back" for part in parts) else "rail"
    behind = [part.block for part in parts if part.role == role]
    there = [block for block in behind if block.z <= height <= block.z + block.dz] or behind
    return max(0.0, -max((block.y + block.dy for block in there), default=0.0))


def screen_plate(screen: Screen, job: Job, wall: Wall, limits: Limits, packing: float = 0.0) -> FixingCheck:
    """The wall plate of the screen's mount: by the test of IEC 62368-1, 8.7, at its furthest reach, T = F·e/h.

    The screen and thrice its weight besides, or its weight and 880 N where that is less; apart from it a push sideways. An
    arm is stopped with a jerk, so that its pull is taken larger; swung aside it turns its plate in the wall's plane.
    packing : solid build-up between plate and wall that the bolts cross [mm].
    """
    inset = limits.value("structure.plate_inset")
    reach = job.design.mount.reach
    moves = screen.mount == "arm"
    out = (reach.mm if reach else limits.value("structure.arm_reach")) if moves else screen.stand_off
    arm = out + screen.depth / 2
    plate = screen.plate
    lever = max(plate.height - 2 * inset, 1.0)
    down, weight = screen_force(screen.mass, limits), screen.mass * hung.G
    aside = limits.value("structure.screen_sideways")
    pull = max(down * arm / lever, weight * arm / lever + aside * arm / max(plate.width - 2 * inset, 1.0))
    load = Load(screen.mass, 0.0, pull * lever, lever, pull, max(down, (weight**2 + aside**2) ** 0.5))
    if moves:
        jerk = limits.value("structure.arm_dynamic")
        load = replace(load, moment=jerk * load.moment, pull=jerk * load.pull, aside=jerk * load.moment)
    anchors = anchors_behind([plate], wall)
    rows = [plate_row(anchor, load, plate, packing, wall, limits) for anchor in anchors]
    into = strange_at([Box(x - 1, z - 1, 2, 2) for tried in rows for x, z in tried.holes], wall)
    if not into:
        return replace(_chosen("screen", "screen", load, rows, packing, wall, limits), packing=packing)
    for ref, column, _ in on_known([plate], wall, plate.width):
        through = max(packing - wall.proud[ref], 0.0)
        rows = [
            plate_row(one, load, plate, through, column, limits) for one in anchors_behind([plate], column)
        ]
        return _on(
            ref,
            replace(_chosen("screen", "screen", load, rows, through, column, limits), packing=through),
            column,
        )
    return _stopped("screen", "screen", load, into)


def screen_force(mass: float, limits: Limits) -> float:
    """What a screen's mount is tried with, straight down [N]: a multiple of its weight, or twice that and 880 N if less."""
    weight = mass * hung.G
    return min(
        limits.value("structure.screen_factor") * weight, 2 * weight + limits.value("structure.screen_added")
    )


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
    ref: str, what: str, load: Load, strips: list[Box], height: float, over: tuple[float, float],
    zones: tuple[PanelZone, ...], wall: Wall, limits: Limits, *, points: bool = False, gap: float = 0.0,
) -> FixingCheck:  # fmt: skip
    """The fixings of a thing along strips. points : two separate points at least that share alike, not a rail · gap : behind it [mm]."""
    crossed, pack = packed(strips, zones, limits)
    near = wall.near((*strips, Box(strips[0].x, height, 0.0, 0.0)))
    return _kept(ref, what, load, tuple(strips), height, over, crossed, pack, near, limits, points, gap)


@lru_cache(maxsize=1024)
def _kept(  # noqa: PLR0913
    ref: str, what: str, load: Load, along: tuple[Box, ...], height: float, over: tuple[float, float], crossed: float,
    pack: Box | None, wall: Wall, limits: Limits, points: bool, gap: float,
) -> FixingCheck:  # fmt: skip
    """The same, asked once: most units of a wall, and the cables about them, stay as they are when one is changed."""
    strips = list(along)
    into, least = strange_at(strips, wall), 2 * limits.value("structure.hole_end")

    def tried(base: Wall, pieces: list[Box], through: float) -> FixingCheck:
        rows = (
            row(anchor, load, pieces, height, through, base, limits, points=points, over=over)
            for anchor in anchors_behind(pieces, base)
        )
        return replace(_chosen(ref, what, load, rows, through, base, limits), packing=through, pack=pack)

    return _best(ref, what, load, tried, strips, into, least, crossed, gap, wall)


def _best(  # noqa: PLR0913
    ref: str, what: str, load: Load, tried: Callable[[Wall, list[Box], float], FixingCheck], strips: list[Box],
    into: tuple[str, ...], least: float, crossed: float, gap: float, wall: Wall,
) -> FixingCheck:  # fmt: skip
    """The fixings in the wall itself. Where a column, beam or pipe stands they go beside it; where that does not do, into one of
    which somebody said what it is; where there is none, none is offered.
    """
    beside = beside_strange(strips, wall, least) if into else strips
    ways = [tried(wall, beside, max(crossed, gap))] if beside else []
    if into and not any(way.used <= 1.0 + 1e-9 for way in ways):
        ways += [
            _on(name, tried(column, pieces, max(crossed, gap - wall.proud[name], 0.0)), column)
            for name, column, pieces in on_known(strips, wall, least)
        ]
    return min(ways, key=lambda way: way.used, default=None) or _stopped(ref, what, load, into)


def _on(ref: str, check: FixingCheck, column: Wall) -> FixingCheck:
    """The same fixings, told to go into a column or beam."""
    return replace(check, on=ref, base=column.substrate)


def _stopped(ref: str, what: str, load: Load, into: tuple[str, ...]) -> FixingCheck:
    """No fixing: it would go into something of which nobody said what it is."""
    return FixingCheck(
        ref, what, load.mass, load.lean, load.moment, load.lever, load.pull, load.shear, 0, 0, (), 0.0, 0.0, COLUMN, 0.0, 0.0,
        MOST_USED, into=into,
    )  # fmt: skip


def _chosen(  # noqa: PLR0913
    ref: str, what: str, load: Load, rows: Iterable[Row], packing: float, wall: Wall, limits: Limits
) -> FixingCheck:
    """The lightest anchor that passes, those heavier not tried; else the one used least; none at all in an unknown wall, or where
    nobody found a stud.
    """
    tried: list[Row] = []
    for one in rows:
        tried.append(one)
        if one.used <= 1.0 + 1e-9:
            break
    row = (
        tried[-1]
        if tried and tried[-1].used <= 1.0 + 1e-9
        else min(tried, key=lambda row: row.used, default=None)
    )
    asked = (ref, what, load.mass, load.lean, load.moment, load.lever, load.pull, load.shear)
    if row is None:
        why = UNKNOWN if wall.substrate == "unknown" else THIN
        return FixingCheck(*asked, 0, 0, (), 0.0, 0.0, why, 0.0, 0.0, MOST_USED)
    anchor, backer = row.anchor, None
    if (
        wall.framed
        and anchor.substrate in (BACKER, NOGGING)
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
        spacing=anchor.spacing, rod=anchor.rod, cone=anchor.cone, thread=anchor.thread, edge=anchor.edge,
    )  # fmt: skip
