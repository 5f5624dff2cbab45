"""Fixings of what hangs: which anchor for this wall, how many, where the holes go, and how much of each is used."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

from wallwright.core.limit import Limits
from wallwright.core.shape import Box, Point2
from wallwright.job.document import Job
from wallwright.library.load import Anchor
from wallwright.structure import group, hung
from wallwright.structure.record import FixingCheck
from wallwright.structure.wall import BACKER, Wall, anchors_behind, backer_box, in_backer, stud_lines

if TYPE_CHECKING:
    from wallwright.carcass.record import Carcass, Part, UnitBox
    from wallwright.sight.record import Screen

UNKNOWN = "unknown"
UNFOUND = "studs not found"
MOST_USED = 99.0
"""Shown where nothing is known to hold: far beyond 1, and still a number that any file can carry."""


@dataclass(frozen=True, slots=True)
class Load:
    """What a thing asks of its fixings: mass [kg], lean [N], moment [N·mm], lever [mm], pull and shear [N]."""

    mass: float
    lean: float
    moment: float
    lever: float
    pull: float
    shear: float


@dataclass(frozen=True, slots=True)
class Row:
    """A way to fix with one anchor: number wanted, holes, used share of the worst one, what it keeps in the group, bending."""

    anchor: Anchor
    needed: int
    holes: tuple[Point2, ...]
    used: float
    kept: float = 1.0
    bending: float = 0.0


def hung_unit(unit: UnitBox, carcass: Carcass, contents: float, wall: Wall, limits: Limits) -> FixingCheck:
    """A hung console or tower on its cleats. contents : expected mass in it [kg]."""
    parts = [part for part in carcass.parts if part.unit == unit.ref]
    cleats = sorted((part.block.face for part in parts if part.role == "cleat"), key=lambda box: box.x)
    height = min(box.top for box in cleats) - limits.value("structure.cleat_screw")
    lean = lean_on(unit, limits)
    boards = sum(part.mass for part in parts)
    load = loaded(
        ((boards, centre_of_mass(parts)), (contents, centre_of_mass(parts))), lean, unit.depth,
        height - unit.box.z - limits.value("structure.lever_foot"),
    )  # fmt: skip
    return _checked(unit.ref, f"{unit.kind} {unit.ref}", load, cleats, height, wall, limits)


def wall_shelf(unit: UnitBox, carcass: Carcass, contents: float, wall: Wall, limits: Limits) -> FixingCheck:
    """A wall shelf on a hidden bracket as high as the board is thick."""
    parts = [part for part in carcass.parts if part.unit == unit.ref]
    board = parts[0].block
    arm = centre_of_mass(parts)
    load = loaded(
        ((parts[0].mass, arm), (contents, arm)), limits.value("structure.lean_shelf"), unit.depth, board.dz
    )
    middle = board.z + board.dz / 2
    return _checked(unit.ref, f"shelf {unit.ref}", load, [board.face], middle, wall, limits)


def tower_top(unit: UnitBox, mass: float, wall: Wall, limits: Limits) -> FixingCheck:
    """A standing tower's two fixings near its top, each good for the anchoring force whatever the tower weighs."""
    each = limits.value("structure.tower_anchor")
    height = unit.box.top - limits.value("structure.tower_hole")
    strip = Box(unit.box.x, height, unit.box.width, 1.0)
    lever = height - unit.box.z
    load = Load(mass, 2 * each, 2 * each * lever, lever, 2 * each, 0.0)
    return _checked(
        unit.ref, f"tower {unit.ref} at its top", load, [strip], height, wall, limits, points=True
    )


def screen_plate(screen: Screen, job: Job, wall: Wall, limits: Limits, packing: float = 0.0) -> FixingCheck:
    """The wall plate of the screen's mount: four times the screen's weight at its furthest reach, T = 4·W·e/h.

    packing : solid build-up between plate and wall that the bolts cross [mm].
    """
    factor, inset = limits.value("structure.screen_factor"), limits.value("structure.plate_inset")
    reach = job.design.mount.reach
    out = (
        (reach.mm if reach else limits.value("structure.arm_reach"))
        if screen.mount == "arm"
        else screen.stand_off
    )
    arm = out + screen.depth / 2
    plate = screen.plate
    lever = max(plate.height - 2 * inset, 1.0)
    load = loaded(((factor * screen.mass, arm),), 0.0, 0.0, lever)
    load = replace(load, mass=screen.mass, lean=0.0)
    anchors = anchors_behind([plate], wall, studs=2)
    rows = [_plate_row(anchor, load, plate, packing, wall, limits) for anchor in anchors]
    return replace(_chosen("screen", "screen", load, rows, wall, limits), packing=packing)


def loaded(masses: tuple[tuple[float, float], ...], lean: float, reach: float, lever: float) -> Load:
    """The load of masses (kg, distance from the wall [mm]) and a push at `reach`; lever : fixings above the turning line."""
    moment = hung.moment(masses, lean, reach)
    lever = max(lever, 1.0)
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


def _checked(  # noqa: PLR0913
    ref: str,
    what: str,
    load: Load,
    strips: list[Box],
    height: float,
    wall: Wall,
    limits: Limits,
    *,
    points: bool = False,
) -> FixingCheck:
    """The fixings of a thing along strips. points : two separate points at least that share alike, not a rail."""
    rows = [
        _row(anchor, load, strips, height, wall, limits, points=points)
        for anchor in anchors_behind(strips, wall)
    ]
    return _chosen(ref, what, load, rows, wall, limits)


def _row(  # noqa: PLR0913
    anchor: Anchor, load: Load, strips: list[Box], height: float, wall: Wall, limits: Limits, *, points: bool
) -> Row:
    """One row of fixings along the strips: at the studs that were found, else evenly, never closer than the anchor's spacing."""
    uneven = 1.0 if points else limits.value("structure.rail_end")
    wanted = max(2, hung.needed(load.pull, load.shear, anchor.pull, anchor.shear, uneven))
    end = limits.value("structure.hole_end")
    if anchor.substrate == "timber_stud":
        xs = [x for strip in strips for x in stud_lines(strip, wall)]
        if wanted > len(xs):  # a second screw in every stud
            holes = tuple((x, height + dz) for x in xs for dz in (anchor.spacing / 2, -anchor.spacing / 2))
        else:
            holes = tuple((x, height) for x in xs)
    else:
        xs = _even(strips, wanted, anchor.spacing, end, limits)
        holes = tuple((x, height) for x in _beside_cables(xs, height, anchor, strips, wall, limits))
    kept = keeps(holes, anchor, wall, limits)
    share = MOST_USED
    if holes and kept > 0:
        share = hung.used(load.pull, load.shear, anchor.pull, anchor.shear) / len(holes) / kept
        share *= uneven if len(holes) > 2 else 1.0
    return Row(anchor, wanted, holes, share, kept)


def keeps(holes: tuple[Point2, ...], anchor: Anchor, wall: Wall, limits: Limits) -> float:
    """Share of its capacity that one fixing keeps beside the others and near an opening."""
    apart = limits.value("structure.group_spacing")
    return group.group_factor(holes, anchor.spacing * apart) * group.edge_factor(
        holes, anchor.edge, wall.openings
    )


def _even(strips: list[Box], wanted: int, spacing: float, end: float, limits: Limits) -> list[float]:
    """X of evenly spread fixings: as many as are needed, at least one every 400 mm, at most what the spacing allows."""
    length = sum(strip.width for strip in strips)
    usual = limits.value("structure.rail_spacing")
    xs: list[float] = []
    for strip in strips:
        clear = max(strip.width - 2 * end, 0.0)
        most = int(clear // spacing) + 1
        asked = max(2, -int(-wanted * strip.width // length), -int(-clear // usual) + 1)
        count = min(asked, most) if clear else 1
        if count == 1:
            xs.append(strip.centre[0])
        else:
            xs.extend(strip.x + end + k * clear / (count - 1) for k in range(count))
    return xs


def _beside_cables(  # noqa: PLR0913
    xs: list[float], height: float, anchor: Anchor, strips: list[Box], wall: Wall, limits: Limits
) -> list[float]:
    """The same holes, each slid along its strip to the nearest place that no cable crosses, that is far enough from any opening,
    and that the hole before it allows.

    A hole for which no such place is found stays where it was: the rules say so.
    """
    end, slide = limits.value("structure.hole_end"), int(limits.value("structure.slide"))
    bands = (*wall.keep_clear, *(box.grown(anchor.edge) for box in wall.openings))
    placed: list[float] = []
    for x in xs:
        places = [x + sign * step for step in range(0, slide, 5) for sign in (1, -1)]
        free = (
            place for place in places
            if any(strip.x + end - 1 <= place <= strip.right - end + 1 for strip in strips)
            and all(place - before >= anchor.spacing for before in placed[-1:])
            and not any(_in_the_way(place, height, anchor.hole, band) for band in bands)
        )  # fmt: skip
        placed.append(next(free, x))
    return placed


def _in_the_way(x: float, z: float, hole: float, band: Box) -> bool:
    return band.x - hole / 2 < x < band.right + hole / 2 and band.z - hole / 2 < z < band.top + hole / 2


def _plate_row(  # noqa: PLR0913
    anchor: Anchor, load: Load, plate: Box, packing: float, wall: Wall, limits: Limits
) -> Row:
    """Fixings in two rows of a plate: the upper takes the pull, both take the weight; more columns until it passes or is full."""
    uneven, inset = limits.value("structure.rail_end"), limits.value("structure.plate_inset")

    def share(columns: int) -> float:
        even = load.pull / columns / anchor.pull + load.shear / (2 * columns) / anchor.shear
        return even * (uneven if columns > 2 else 1.0)

    wanted = next((columns for columns in range(2, 60) if share(columns) <= 1.0 + 1e-9), 60)
    rows = plate.z + inset, plate.top - inset
    if anchor.substrate == "timber_stud":
        return _plate_tried(anchor, load, stud_lines(plate, wall), rows, packing, wanted, share, wall, limits)
    clear = max(plate.width - 2 * inset, 0.0)
    most = max(2, int(clear // anchor.spacing) + 1)
    tried = [
        _plate_tried(
            anchor, load, [plate.x + inset + k * clear / (columns - 1) for k in range(columns)],
            rows, packing, wanted, share, wall, limits,
        )
        for columns in range(max(2, min(wanted, most)), most + 1)
    ]  # fmt: skip
    return next((row for row in tried if row.used <= 1.0 + 1e-9), None) or min(
        tried, key=lambda row: row.used
    )


def _plate_tried(  # noqa: PLR0913
    anchor: Anchor, load: Load, xs: list[float], rows: tuple[float, float], packing: float, wanted: int,
    share: Callable[[int], float], wall: Wall, limits: Limits,
) -> Row:  # fmt: skip
    """One arrangement in two rows: pull and shear in the group, and the bolts' bending across the packing."""
    holes = tuple((x, z) for z in rows for x in xs)
    kept = keeps(holes, anchor, wall, limits)
    bending = bolt_bending(load.shear / len(holes), packing, anchor.rod, limits)
    used = max(
        share(len(xs)) / kept if kept > 0 else MOST_USED, bending / limits.value("structure.bolt_bending")
    )
    return Row(anchor, 2 * wanted, holes, used, kept, bending)


def bolt_bending(shear: float, packing: float, rod: float, limits: Limits) -> float:
    """Bending of one bolt across solid packing [N/mm²]: held by the plate at one end, inside the wall at the other.

    0 without packing, and for a wood screw (rod 0), which bears in wood along its whole length.
    """
    if packing <= 0 or rod <= 0:
        return 0.0
    lever = packing + limits.value("structure.packing_bite") * rod
    return hung.round_bending(hung.packing_moment(shear, lever, both_ends=True), rod)


def _chosen(  # noqa: PLR0913
    ref: str, what: str, load: Load, rows: list[Row], wall: Wall, limits: Limits
) -> FixingCheck:
    """The lightest anchor that passes, else the one used least; none at all in an unknown wall, or where nobody found a stud."""
    row = next((row for row in rows if row.used <= 1.0 + 1e-9), None) or min(
        rows, key=lambda row: row.used, default=None
    )
    asked = (ref, what, load.mass, load.lean, load.moment, load.lever, load.pull, load.shear)
    if row is None:
        return FixingCheck(*asked, 0, 0, (), 0.0, 0.0, UNKNOWN, 0.0, 0.0, MOST_USED)
    anchor, backer = row.anchor, None
    if (
        wall.framed
        and anchor.substrate == BACKER
        and not all(in_backer(hole, anchor, wall) for hole in row.holes)
    ):
        if not wall.studs:
            return FixingCheck(*asked, 0, 0, (), 0.0, 0.0, UNFOUND, 0.0, 0.0, MOST_USED)
        backer = backer_box(row.holes, wall, limits)
    return FixingCheck(
        *asked, len(row.holes), row.needed, row.holes, anchor.hole, anchor.depth, anchor.name, anchor.pull, anchor.shear,
        min(row.used, MOST_USED), row.kept, backer, 0.0, row.bending,
    )  # fmt: skip
