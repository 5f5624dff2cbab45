"""Fixings of what hangs: which anchor for this wall, how many, where the holes go, and how much of each is used."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from wallwright.core.limit import Limits
from wallwright.core.shape import Box, Point2
from wallwright.job.document import Job
from wallwright.library import load
from wallwright.library.load import Anchor
from wallwright.structure import hung
from wallwright.structure.record import FixingCheck

if TYPE_CHECKING:
    from wallwright.carcass.record import Carcass, Part, UnitBox
    from wallwright.sight.record import Screen

UNKNOWN = "unknown"
MOST_USED = 99.0
"""Shown where nothing is known to hold: far beyond 1, and still a number that any file can carry."""
SLIDE = 200.0
"""How far a hole may be slid along its rail to miss a cable [mm]."""
BACKER = "metal_stud"
"""Fixings into a plywood backer stand under this wall in the library."""


@dataclass(frozen=True, slots=True)
class Wall:
    """What fixings go into: the base material, the studs that were found, their spacing [mm], and where no hole may be."""

    substrate: str
    studs: tuple[float, ...]
    stud_spacing: float
    keep_clear: tuple[Box, ...] = ()


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
    """A way to fix with one anchor: number wanted and chosen, holes, and the used share of the worst one."""

    anchor: Anchor
    needed: int
    holes: tuple[Point2, ...]
    used: float


def wall_of(job: Job, limits: Limits, keep_clear: tuple[Box, ...] = ()) -> Wall:
    """The surveyed wall as fixings see it. keep_clear : around the cables that are planned or known."""
    wall = job.survey.wall
    spacing = wall.stud_spacing.mm if wall.stud_spacing else limits.value("structure.stud_spacing")
    return Wall(wall.substrate, tuple(sorted(stud.mm for stud in wall.studs)), spacing, keep_clear)


def anchors_for(substrate: str) -> tuple[Anchor, ...]:
    """The library's fixings for a base material, lightest first; none where it is unknown."""
    return tuple(anchor for anchor in load.anchors().values() if anchor.substrate == substrate)


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
    height = unit.box.top - 60.0
    strip = Box(unit.box.x, height, unit.box.width, 1.0)
    lever = height - unit.box.z
    load = Load(mass, 2 * each, 2 * each * lever, lever, 2 * each, 0.0)
    return _checked(
        unit.ref, f"tower {unit.ref} at its top", load, [strip], height, wall, limits, points=True
    )


def screen_plate(screen: Screen, job: Job, wall: Wall, limits: Limits) -> FixingCheck:
    """The wall plate of the screen's mount: four times the screen's weight at its furthest reach, T = 4·W·e/h."""
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
    load = Load(screen.mass, 0.0, load.moment, load.lever, load.pull, load.shear)
    rows = [_plate_row(anchor, load, plate, inset, wall, limits) for anchor in _plate_anchors(plate, wall)]
    return _chosen("screen", "screen", load, rows)


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
    framed = wall.substrate == "timber_stud" and not any(_stud_lines(strip, wall) for strip in strips)
    anchors = anchors_for(BACKER if framed else wall.substrate)
    rows = [_row(anchor, load, strips, height, wall, limits, points=points) for anchor in anchors]
    return _chosen(ref, what, load, rows)


def _row(  # noqa: PLR0913
    anchor: Anchor, load: Load, strips: list[Box], height: float, wall: Wall, limits: Limits, *, points: bool
) -> Row:
    """One row of fixings along the strips: at the studs that were found, else evenly, never closer than the anchor's spacing."""
    uneven = 1.0 if points else limits.value("structure.rail_end")
    wanted = max(2, hung.needed(load.pull, load.shear, anchor.pull, anchor.shear, uneven))
    end = limits.value("structure.hole_end")
    if anchor.substrate == "timber_stud":
        xs = [x for strip in strips for x in _stud_lines(strip, wall)]
        if wanted > len(xs):  # a second screw in every stud
            holes = tuple((x, height + dz) for x in xs for dz in (anchor.spacing / 2, -anchor.spacing / 2))
        else:
            holes = tuple((x, height) for x in xs)
    else:
        xs = _even(strips, wanted, anchor.spacing, end, limits)
        holes = tuple((x, height) for x in _beside_cables(xs, height, anchor, strips, end, wall))
    share = MOST_USED
    if holes:
        share = hung.used(load.pull, load.shear, anchor.pull, anchor.shear) / len(holes)
        share *= uneven if len(holes) > 2 else 1.0
    return Row(anchor, wanted, holes, share)


def _stud_lines(strip: Box, wall: Wall) -> list[float]:
    """X of the studs behind a strip: those found; where none was, as many as the spacing gives, about the strip's middle."""
    if wall.studs:
        return [x for x in wall.studs if strip.x + 10 <= x <= strip.right - 10]
    count = max(1, int(strip.width // wall.stud_spacing))
    first = strip.centre[0] - (count - 1) * wall.stud_spacing / 2
    return [first + k * wall.stud_spacing for k in range(count)]


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


def _beside_cables(
    xs: list[float], height: float, anchor: Anchor, strips: list[Box], end: float, wall: Wall
) -> list[float]:
    """The same holes, each slid along its strip to the nearest place that no cable crosses and the hole before it allows.

    A hole for which no such place is found stays where it was: the rules say so.
    """
    placed: list[float] = []
    for x in xs:
        places = [x + sign * step for step in range(0, int(SLIDE), 5) for sign in (1, -1)]
        free = (
            place for place in places
            if any(strip.x + end - 1 <= place <= strip.right - end + 1 for strip in strips)
            and all(place - before >= anchor.spacing for before in placed[-1:])
            and not any(_in_the_way(place, height, anchor.hole, band) for band in wall.keep_clear)
        )  # fmt: skip
        placed.append(next(free, x))
    return placed


def _in_the_way(x: float, z: float, hole: float, band: Box) -> bool:
    return band.x - hole / 2 < x < band.right + hole / 2 and band.z - hole / 2 < z < band.top + hole / 2


def _plate_anchors(plate: Box, wall: Wall) -> tuple[Anchor, ...]:
    """Fixings for a wall plate: in two studs or more where they stand behind it, else in a plywood backer."""
    if wall.substrate == "timber_stud" and len(_stud_lines(plate, wall)) < 2:
        return anchors_for(BACKER)
    return anchors_for(wall.substrate)


def _plate_row(anchor: Anchor, load: Load, plate: Box, inset: float, wall: Wall, limits: Limits) -> Row:
    """Fixings in two rows of a plate: the upper takes the pull, both take the weight; more columns until it passes or is full."""
    uneven = limits.value("structure.rail_end")

    def share(columns: int) -> float:
        even = load.pull / columns / anchor.pull + load.shear / (2 * columns) / anchor.shear
        return even * (uneven if columns > 2 else 1.0)

    wanted = next((columns for columns in range(2, 60) if share(columns) <= 1.0 + 1e-9), 60)
    if anchor.substrate == "timber_stud":
        xs = _stud_lines(plate, wall)
    else:
        clear = max(plate.width - 2 * inset, 0.0)
        columns = max(2, min(wanted, int(clear // anchor.spacing) + 1))
        xs = [plate.x + inset + k * clear / (columns - 1) for k in range(columns)]
    holes = tuple((x, z) for z in (plate.z + inset, plate.top - inset) for x in xs)
    return Row(anchor, 2 * wanted, holes, share(len(xs)))


def _chosen(ref: str, what: str, load: Load, rows: list[Row]) -> FixingCheck:
    """The lightest anchor that passes, else the one used least; none at all in an unknown wall."""
    row = next((row for row in rows if row.used <= 1.0 + 1e-9), None) or min(
        rows, key=lambda row: row.used, default=None
    )
    asked = (ref, what, load.mass, load.lean, load.moment, load.lever, load.pull, load.shear)
    if row is None:
        return FixingCheck(*asked, 0, 0, (), 0.0, 0.0, UNKNOWN, 0.0, 0.0, MOST_USED)
    anchor = row.anchor
    return FixingCheck(
        *asked, len(row.holes), row.needed, row.holes, anchor.hole, anchor.depth, anchor.name, anchor.pull, anchor.shear,
        min(row.used, MOST_USED),
    )  # fmt: skip
