"""Fixings set out: along a rail or cleat, or in the two rows of a wall plate, and how much of each is used."""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from functools import lru_cache
from itertools import pairwise

from wallwright.core.limit import Limits
from wallwright.core.shape import Box, Point2
from wallwright.library.load import Anchor
from wallwright.structure import anchor as one_fixing
from wallwright.structure import group, hung
from wallwright.structure.wall import BACKER, NOGGING, Wall, stud_lines

MOST_USED = 99.0
PLATE = "structure.plate_restraint"
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
    *, points: bool, over: tuple[float, float],
) -> Row:  # fmt: skip
    """One row of fixings along the strips: at the studs that were found, else evenly, as many as it takes, none closer than the
    anchor's spacing but the two that a narrow thing needs.

    over : x from where to where the load lies · packing : solid build-up between the strip and the wall that each crosses [mm] ·
    points : separate points that share alike, not a rail
    """
    anchor = held(anchor, limits, between=wall.between)
    end = limits.value("structure.hole_end")
    even = max(
        hung.used(load.pull, load.shear, anchor.pull, anchor.shear),
        bolt_bending(load.shear, packing, anchor.rod, limits) / bend_most(anchor, limits),
    )
    wanted = hung.needed(even, lambda n: 1.0 if points else evenly(n, over, end))

    def judged(holes: tuple[Point2, ...], of: Anchor = anchor) -> Row:
        worst = group.worst_share([x for x, _ in holes], over) if holes else math.inf
        worst = 1.0 if points and worst < math.inf else min(MOST_USED, worst)
        return _judged(of, load, wanted, holes, packing, worst, wall, limits)

    if anchor.substrate == "timber_stud":
        xs = _apart([x for strip in strips for x in stud_lines(strip, wall)], anchor.spacing)
        if wanted <= len(xs):
            return judged(tuple((x, height) for x in xs))
        pair = (anchor.spacing / 2, -anchor.spacing / 2)  # a second screw in every stud
        return judged(
            tuple((x, height + dz) for x in xs for dz in pair), held(anchor, limits, 2, wall.between)
        )
    tried: list[Row] = []
    room = sum(most_on(strip, anchor.spacing, end, len(strips)) for strip in strips)
    for count in range(min(wanted, room), room + 1):
        xs = _even(strips, count, anchor.spacing, end, limits)
        row = judged(tuple((x, height) for x in clear_of_cables(xs, height, anchor, strips, wall, limits)))
        if row.used <= 1.0 + 1e-9:
            return row
        tried.append(row)
    return min(tried, key=lambda one: one.used)


def held(anchor: Anchor, limits: Limits, number: int = 1, between: float = 0.0) -> Anchor:
    """The library's fixing, no stronger than the formulas that cover it allow: a screw's thread and its shank in a stud or nogging
    whose timber nobody graded, the concrete's cone of a bolt. number : screws together in one stud · between : boarding that a screw
    crosses [mm]
    """
    shear = anchor.shear
    if anchor.thread:
        whole = one_fixing.screw_axial(
            anchor.thread, anchor.depth, limits.value("structure.stud_density"), number=number
        )
        most = one_fixing.allowable(
            whole / number,
            limits.value("structure.screw_gamma"),
            limits.value("structure.load_factor"),
            limits.value("structure.screw_duration"),
        )
        shear = min(shear, shear_most(anchor, between, limits))
    elif anchor.cone:
        most = cone_most(anchor.depth, limits)
    else:
        return anchor
    if anchor.pull <= most and anchor.shear <= shear:
        return anchor
    return replace(anchor, pull=min(anchor.pull, most), shear=shear)


@lru_cache(maxsize=64)
def shear_most(anchor: Anchor, between: float, limits: Limits) -> float:
    """What one wood screw bears across the boarding in daily use [N], from a cleat into a stud or nogging. EN 1995-1-1, 8.2.2."""
    v, d = limits.value, anchor.rod
    cleat = one_fixing.embedding(d, v("structure.cleat_density"), plywood=True)
    timber = one_fixing.embedding(d, v("structure.stud_density")), anchor.depth
    layer = min(between, v("carcass.boarding"))
    board = ((one_fixing.embedding_gypsum(d, layer), between),) if between > 0 else ()
    axial = one_fixing.screw_axial(anchor.thread, anchor.depth, v("structure.stud_density"))
    whole = one_fixing.lateral(
        d,
        one_fixing.yield_moment(d, anchor.steel),
        ((cleat, v("structure.cleat_thick")),),
        (*board, timber),
        axial,
    )
    return one_fixing.allowable(
        whole, v("structure.screw_gamma"), v("structure.load_factor"), v("structure.screw_duration")
    )


def cone_most(depth: float, limits: Limits) -> float:
    """What the cone of one bolt that deep in concrete allows in daily use [N]. EN 1992-4, 7.2.1.4."""
    whole = one_fixing.cone(depth, limits.value("structure.concrete_grade"))
    return one_fixing.allowable(
        whole, limits.value("structure.cone_factor"), limits.value("structure.load_factor")
    )


def evenly(count: int, over: tuple[float, float], end: float) -> float:
    """What the worst of so many fixings gets over the mean, set out evenly from `end` to `end` of the load."""
    clear = max(over[1] - over[0] - 2 * end, 1.0)
    return group.worst_share([over[0] + end + k * clear / (count - 1) for k in range(count)], over)


def _judged(  # noqa: PLR0913
    anchor: Anchor, load: Load, wanted: int, holes: tuple[Point2, ...], packing: float, worst: float,
    wall: Wall, limits: Limits,
) -> Row:  # fmt: skip
    """A row as it is set out: how far its worst fixing is used, `worst` × the mean."""
    if not holes:
        return Row(anchor, wanted, holes, MOST_USED)
    kept = keeps(holes, anchor, wall, limits)
    bending = bolt_bending(load.shear * worst / len(holes), packing, anchor.rod, limits)
    share = MOST_USED
    if kept > 0 and worst < MOST_USED:
        even = hung.used(load.pull, load.shear, anchor.pull, anchor.shear) / len(holes)
        share = max(even * worst / kept, bending / bend_most(anchor, limits))
    return Row(anchor, wanted, holes, share, kept, bending, worst)


def _apart(xs: Iterable[float], spacing: float) -> list[float]:
    """Places from left to right, those left out that are nearer than `spacing` to the one before."""
    out: list[float] = []
    for x in sorted(xs):
        if not out or x - out[-1] >= spacing - 0.01:
            out.append(x)
    return out


def keeps(holes: tuple[Point2, ...], anchor: Anchor, wall: Wall, limits: Limits) -> float:
    """Share of its capacity that one fixing keeps beside the others and near an opening."""
    apart = limits.value("structure.group_spacing")
    return group.group_factor(holes, anchor.spacing * apart) * group.edge_factor(
        holes, anchor.edge, wall.openings
    )


def most_on(strip: Box, spacing: float, end: float, strips: int) -> int:
    """How many fixings have room on a strip: what the spacing allows, though two on the only one, and one on any."""
    clear = strip.width - 2 * end
    if clear <= 0:
        return 1
    return max(int((clear + 0.01) // spacing) + 1, 2 if strips == 1 else 1)


def _even(strips: list[Box], wanted: int, spacing: float, end: float, limits: Limits) -> list[float]:
    """X of evenly spread fixings: as many as are wanted, at least one every 400 mm, at most what there is room for."""
    length = sum(strip.width for strip in strips)
    usual = limits.value("structure.rail_spacing")
    xs: list[float] = []
    for strip in strips:
        clear = max(strip.width - 2 * end, 0.0)
        asked = max(2, -int(-wanted * strip.width // length), -int(-clear // usual) + 1)
        count = min(asked, most_on(strip, spacing, end, len(strips)))
        if count == 1:
            xs.append(strip.centre[0])
        else:
            xs.extend(strip.x + end + k * clear / (count - 1) for k in range(count))
    return xs


def clear_of_cables(  # noqa: PLR0913
    xs: list[float], height: float, anchor: Anchor, strips: list[Box], wall: Wall, limits: Limits
) -> list[float]:
    """The same holes, each slid along its strip to the nearest place that no cable crosses, that is far enough from any opening,
    and that the hole before it allows; left out where that hole takes its room.

    One for which no such place is found though it has its room stays where it was: the rules say so. Where one would be left out, all
    are set anew if there is room for all.
    """
    end, slide = limits.value("structure.hole_end"), int(limits.value("structure.slide"))
    bands = across(
        height, anchor.hole, (*wall.keep_clear, *(box.grown(anchor.edge) for box in wall.openings))
    ) + beside_studs(anchor, wall, limits)
    # two on a narrow strip stand nearer than they should: there is no more room
    apart = min([anchor.spacing, *(b - a for a, b in pairwise(xs))] if len(strips) == 1 else [anchor.spacing])
    placed: list[float] = []
    for x in xs:
        before = placed[-1] + apart - 0.01 if placed else -math.inf
        places = [x + sign * step for step in range(0, slide, 5) for sign in (1, -1)]
        free = (
            place for place in places
            if any(strip.x + end - 1 <= place <= strip.right - end + 1 for strip in strips)
            and place >= before
            and not any(left < place < right for left, right in bands)
        )  # fmt: skip
        found = next(free, x if x >= before else None)
        if found is not None:
            placed.append(found)
    if len(placed) < len(xs):
        return all_set(xs, apart, [(strip.x + end, strip.right - end) for strip in strips], bands) or placed
    return placed


def all_set(
    xs: Sequence[float],
    apart: float,
    strips: Sequence[tuple[float, float]],
    bands: Sequence[tuple[float, float]],
) -> list[float]:
    """Every hole at the free place nearest to its own that still leaves room for those after it; empty where they do not all go in.

    strips : from and to · bands : where no hole may be, their ends free
    """
    last = _rightmost(len(xs), apart, strips, bands)
    if len(last) < len(xs):
        return []
    ends = [end for pair in (*strips, *bands) for end in pair]
    placed: list[float] = []
    for x, most in zip(xs, last, strict=True):
        least = placed[-1] + apart if placed else -math.inf
        free = [
            place for place in (x, least, most, *ends)
            if least <= place <= most and any(a <= place <= b for a, b in strips) and not any(a < place < b for a, b in bands)
        ]  # fmt: skip
        placed.append(min(free, key=lambda place: abs(place - x)))
    return placed


def _rightmost(
    count: int, apart: float, strips: Sequence[tuple[float, float]], bands: Sequence[tuple[float, float]]
) -> list[float]:
    """So many holes, each as far right as the hole after it allows; fewer where there is no more room. No other row holds more: the
    nth from the right of any row stands where this one's stands, or left of it.
    """
    placed: list[float] = []
    for left, right in reversed(strips):
        x = min(right, placed[0] - apart) if placed else right
        while len(placed) < count and x >= left:
            blocked = min((a for a, b in bands if a < x < b), default=None)
            if blocked is None:
                placed.insert(0, x)
                blocked = x - apart
            x = blocked
    return placed


def beside_studs(anchor: Anchor, wall: Wall, limits: Limits) -> list[tuple[float, float]]:
    """The stretches along the wall where a screw would come too near the end of the nogging or board that is let in for it, or to the
    side of a stud: about every stud that was found. None where the backing runs on over the studs, or is in the wall already.
    """
    if anchor.substrate not in (BACKER, NOGGING) or wall.backing == "face" or wall.backers or not wall.framed:
        return []
    off = wall.stud_thick / 2 + least_end(anchor.thread, anchor.edge, limits)
    return [(x - off, x + off) for x in wall.studs]


def least_end(thread: float, edge: float, limits: Limits) -> float:
    """How far a screw stays from the end of what it is in [mm]: in timber so many diameters, in a board its edge distance."""
    return limits.value("structure.screw_end") * thread if thread else edge


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
    timber = anchor.substrate == "timber_stud"
    anchor, inset = (
        held(anchor, limits, 2 if timber else 1, wall.between),
        limits.value("structure.plate_inset"),
    )
    even = max(
        load.pull / anchor.pull + load.shear / 2 / anchor.shear,
        bolt_bending(load.shear / 2, packing, anchor.rod, limits, PLATE) / bend_most(anchor, limits),
    )
    between = plate.x + inset, plate.right - inset  # what it holds sits within its outer holes
    wanted = hung.needed(even, lambda _: 1.0, 60)  # a stiff plate shares it evenly
    rows = plate.z + inset, plate.top - inset
    if timber:
        xs = _apart(stud_lines(plate, wall), anchor.spacing)
        return _plate_tried(anchor, load, xs, rows, packing, wanted, between, wall, limits)
    clear = max(plate.width - 2 * inset, 0.0)
    most = max(2, int(clear // anchor.spacing) + 1)
    tried = [
        _plate_tried(
            anchor, load, [plate.x + inset + k * clear / (columns - 1) for k in range(columns)],
            rows, packing, wanted, between, wall, limits,
        )
        for columns in range(max(2, min(wanted, most)), most + 1)
    ]  # fmt: skip
    return next((row for row in tried if row.used <= 1.0 + 1e-9), None) or min(
        tried, key=lambda row: row.used
    )


def _plate_tried(  # noqa: PLR0913
    anchor: Anchor, load: Load, xs: list[float], rows: tuple[float, float], packing: float, wanted: int,
    over: tuple[float, float], wall: Wall, limits: Limits,
) -> Row:  # fmt: skip
    """One arrangement in two rows: pull and shear in the group, the arm swung aside, and the bolts' bending across the packing."""
    holes = tuple((x, z) for z in rows for x in xs)
    worst = min(MOST_USED, group.plate_share(xs, over))
    kept = keeps(holes, anchor, wall, limits)
    most = max(load.shear * worst / len(holes), _aside(holes, load))
    bending = bolt_bending(most, packing, anchor.rod, limits, PLATE)
    if kept <= 0 or worst >= MOST_USED:
        return Row(anchor, 2 * wanted, holes, MOST_USED, kept, bending, worst)
    even = hung.used(load.pull, load.shear / 2, anchor.pull, anchor.shear) / len(xs)
    used = max(even * worst, _swung(holes, load, anchor)) / kept
    return Row(
        anchor, 2 * wanted, holes, max(used, bending / bend_most(anchor, limits)), kept, bending, worst
    )


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


def bolt_bending(
    shear: float, packing: float, rod: float, limits: Limits, restraint: str = "structure.packing_restraint"
) -> float:
    """Bending of one bolt or screw across packing [N/mm²]: held inside the wall; a cleat may turn, so that it bends freely.

    rod : its diameter there [mm], of a screw 1.1 × its root. 0 without packing. restraint : the limit that says how far what is
    held keeps the bolt's end from turning.
    """
    if packing <= 0:
        return 0.0
    lever = packing + limits.value("structure.packing_bite") * rod
    return hung.round_bending(hung.packing_moment(shear, lever, limits.value(restraint)), rod)


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
