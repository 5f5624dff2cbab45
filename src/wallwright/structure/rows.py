"""Fixings set out: along a rail or cleat, or in the two rows of a wall plate, and how much of each is used."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterable
from dataclasses import dataclass

from wallwright.core.limit import Limits
from wallwright.core.shape import Box, Point2
from wallwright.library.load import Anchor
from wallwright.structure import anchor as one_fixing
from wallwright.structure import group, hung
from wallwright.structure.wall import Wall, stud_lines

MOST_USED = 99.0
"""Shown where nothing is known to hold: far beyond 1, and still a number that any file can carry."""


@dataclass(frozen=True, slots=True)
class Load:
    """What a thing asks of its fixings: mass [kg], lean [N], moment [N·mm], lever [mm], pull and shear [N].

    aside : moment that turns a plate in the wall's plane when its arm is swung out sideways [N·mm]
    """

    mass: float
    lean: float
    moment: float
    lever: float
    pull: float
    shear: float
    aside: float = 0.0


@dataclass(frozen=True, slots=True)
class Row:
    """A way to fix with one anchor: number wanted, holes, used share of the worst one, what it keeps in the group, bending of it
    [N/mm²], and what the worst one gets over the mean.
    """

    anchor: Anchor
    needed: int
    holes: tuple[Point2, ...]
    used: float
    kept: float = 1.0
    bending: float = 0.0
    uneven: float = 1.0


def row(  # noqa: PLR0913
    anchor: Anchor, load: Load, strips: list[Box], height: float, packing: float, wall: Wall, limits: Limits,
    *, points: bool, middle: float,
) -> Row:  # fmt: skip
    """One row of fixings along the strips: at the studs that were found, else evenly, never closer than the anchor's spacing.

    middle : x of the load's middle · packing : solid build-up between the strip and the wall that each crosses [mm] · points :
    separate points, not a rail
    """
    uneven = 1.0 if points else limits.value("structure.rail_end")
    wanted = max(
        2,
        hung.needed(load.pull, load.shear, anchor.pull, anchor.shear, uneven),
        _to_bend(load.shear, packing, anchor, limits, uneven),
    )
    end = limits.value("structure.hole_end")
    if anchor.substrate == "timber_stud":
        xs = [x for strip in strips for x in stud_lines(strip, wall)]
        if wanted > len(xs):  # a second screw in every stud
            holes = tuple((x, height + dz) for x in xs for dz in (anchor.spacing / 2, -anchor.spacing / 2))
        else:
            holes = tuple((x, height) for x in xs)
    else:
        xs = _even(strips, wanted, anchor.spacing, end, limits, least=2 if points else 1)
        holes = tuple((x, height) for x in _beside_cables(xs, height, anchor, strips, wall, limits))
    if not holes:
        return Row(anchor, wanted, holes, MOST_USED)
    beside = group.worst_share([x for x, _ in holes], middle)
    worst = 1.0 if points else min(MOST_USED, max(uneven if len(holes) > 2 else 1.0, beside))
    kept = keeps(holes, anchor, wall, limits)
    bending = bolt_bending(load.shear * worst / len(holes), packing, anchor.rod, limits)
    share = MOST_USED
    if kept > 0 and worst < MOST_USED:
        even = hung.used(load.pull, load.shear, anchor.pull, anchor.shear) / len(holes)
        share = max(even * worst / kept, bending / bend_most(anchor, limits))
    return Row(anchor, wanted, holes, share, kept, bending, worst)


def keeps(holes: tuple[Point2, ...], anchor: Anchor, wall: Wall, limits: Limits) -> float:
    """Share of its capacity that one fixing keeps beside the others and near an opening."""
    apart = limits.value("structure.group_spacing")
    return group.group_factor(holes, anchor.spacing * apart) * group.edge_factor(
        holes, anchor.edge, wall.openings
    )


def _even(  # noqa: PLR0913
    strips: list[Box], wanted: int, spacing: float, end: float, limits: Limits, least: int
) -> list[float]:  # fmt: skip
    """X of evenly spread fixings: as many as are needed, at least one every 400 mm, at most what the spacing allows, though `least`
    on each strip: closer than their spacing they keep less.
    """
    length = sum(strip.width for strip in strips)
    usual = limits.value("structure.rail_spacing")
    xs: list[float] = []
    for strip in strips:
        clear = max(strip.width - 2 * end, 0.0)
        most = max(int(clear // spacing) + 1, least)
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
    bands = across(
        height, anchor.hole, (*wall.keep_clear, *(box.grown(anchor.edge) for box in wall.openings))
    )
    placed: list[float] = []
    for x in xs:
        places = [x + sign * step for step in range(0, slide, 5) for sign in (1, -1)]
        free = (
            place for place in places
            if any(strip.x + end - 1 <= place <= strip.right - end + 1 for strip in strips)
            and all(place - before >= anchor.spacing for before in placed[-1:])
            and not any(left < place < right for left, right in bands)
        )  # fmt: skip
        placed.append(next(free, x))
    return placed


def across(z: float, hole: float, bands: Iterable[Box]) -> list[tuple[float, float]]:
    """The stretches of a level line where a hole of that diameter would come into one of the bands."""
    half = hole / 2
    return [
        (band.x - half, band.x + band.width + half)
        for band in bands
        if band.z - half < z < band.z + band.height + half
    ]


def plate_row(anchor: Anchor, load: Load, plate: Box, packing: float, wall: Wall, limits: Limits) -> Row:  # noqa: PLR0913
    """Fixings in two rows of a plate: the upper takes the pull, both take the weight; more columns until it passes or is full."""
    uneven, inset = limits.value("structure.rail_end"), limits.value("structure.plate_inset")

    def share(columns: int) -> float:
        even = load.pull / columns / anchor.pull + load.shear / (2 * columns) / anchor.shear
        bent = bolt_bending(load.shear / (2 * columns), packing, anchor.rod, limits)
        return max(even * (uneven if columns > 2 else 1.0), bent / bend_most(anchor, limits))

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
    """One arrangement in two rows: pull and shear in the group, the arm swung aside, and the bolts' bending across the packing."""
    holes = tuple((x, z) for z in rows for x in xs)
    kept = keeps(holes, anchor, wall, limits)
    most = max(load.shear / len(holes), _aside(holes, load))
    bending = bolt_bending(most, packing, anchor.rod, limits)
    if kept <= 0:
        return Row(anchor, 2 * wanted, holes, MOST_USED, kept, bending)
    used = max(share(len(xs)), _swung(holes, load, anchor)) / kept
    return Row(anchor, 2 * wanted, holes, max(used, bending / bend_most(anchor, limits)), kept, bending)


def _aside(holes: tuple[Point2, ...], load: Load) -> float:
    """Shear of the worst fixing with the arm swung flat to the side [N]."""
    return group.turned(holes, load.shear, load.aside) if load.aside else 0.0


def _swung(holes: tuple[Point2, ...], load: Load, anchor: Anchor) -> float:
    """Share of the worst fixing while an arm swings from straight out to flat against the wall: at 0, 45 and 90 degrees."""
    if not load.aside:
        return 0.0
    columns = len(holes) / 2
    worst = 0.0
    for degrees in (0, 45, 90):
        out, aside = math.cos(math.radians(degrees)), math.sin(math.radians(degrees))
        pull = load.pull * out / columns
        shear = group.turned(holes, load.shear, load.aside * aside)
        worst = max(worst, hung.used(pull, shear, anchor.pull, anchor.shear))
    return worst


def bolt_bending(shear: float, packing: float, rod: float, limits: Limits) -> float:
    """Bending of one bolt or screw across packing [N/mm²]: held by the plate at one end, inside the wall at the other.

    rod : its diameter there [mm], of a screw 1.1 × its root. 0 without packing.
    """
    if packing <= 0:
        return 0.0
    lever = packing + limits.value("structure.packing_bite") * rod
    return hung.round_bending(hung.packing_moment(shear, lever, both_ends=True), rod)


def bend_most(anchor: Anchor, limits: Limits) -> float:
    """What one fixing's bending across packing may be [N/mm²]: of a wood screw its yield moment, by EN 1995-1-1, brought down to
    daily use, over its section; of a bolt its steel's.
    """
    if not anchor.steel:
        return limits.value("structure.bolt_bending")
    moment = one_fixing.allowable(
        one_fixing.yield_moment(anchor.rod, anchor.steel),
        limits.value("structure.screw_gamma"),
        limits.value("structure.load_factor"),
        limits.value("structure.screw_duration"),
    )
    return hung.round_bending(moment, anchor.rod)


def _to_bend(shear: float, packing: float, anchor: Anchor, limits: Limits, uneven: float) -> int:
    """Wood screws so that none bends too far across the packing; 0 without packing, and for bolts."""
    if packing <= 0 or not anchor.steel:
        return 0
    one = bolt_bending(shear * uneven, packing, anchor.rod, limits)
    return math.ceil(one / bend_most(anchor, limits) - 1e-9)
