"""A box of boards: sides, top, bottom, divisions, the back in its groove, hanging rails, loose shelves, plinth, fillers.

Sides run the full height; top, bottom and the boards between bays stand between them. The back lies in a groove in front of a
void, which in a hung unit takes the hanging rail and the cleat on the wall.
"""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass
from itertools import pairwise

from wallwright.carcass import bays as bay_of
from wallwright.carcass import build, stock
from wallwright.carcass.bays import Body, Cell
from wallwright.carcass.piece import BARE, THIN, WIDE, piece
from wallwright.carcass.record import Part, Role, UnitBox
from wallwright.carcass.stock import Stock
from wallwright.core.limit import Limits
from wallwright.core.shape import Block, Box

SHELF_EDGES = (WIDE, "", "", "")
FRONT_EDGE = (THIN, "", "", "")
LEAST_CROSS = 40.0
"""A shorter cross piece of a plinth is a sliver that splits at its screws [mm]."""


@dataclass(frozen=True, slots=True)
class Depths:
    """Where a unit's layers stand [mm, y]: carcass's rear, its back's face, its boards' front edge, its fronts' face, and where
    what is inside begins (behind inset fronts, else at the boards' front edge). keep : what stands on the wall there.
    """

    rear: float
    back: float
    front: float
    face: float
    inner: float
    keep: tuple[Block, ...] = ()

    @property
    def body(self) -> float:
        """Depth of the carcass [mm]."""
        return self.rear - self.front

    @property
    def inside(self) -> float:
        """Clear depth between what closes it in front and the back [mm]."""
        return self.back - self.inner


def depths(
    unit: UnitBox, behind: float, front: float, limits: Limits, keep: tuple[Block, ...] = ()
) -> Depths:
    """The layers of a unit. behind : a panel between it and the wall [mm] · front : thickness of its fronts [mm], 0 without ·
    keep : what stands proud of the wall behind it, with the clearance that joinery keeps: the back passes in front of all of it.

    Raises:
        ValueError: a unit too shallow to have an inside, naming the field.
    """
    rear = -behind
    back, inner = _back_and_inner(unit, behind, front, limits, keep)
    if back - inner < 50:
        raise ValueError(
            f"design.units.{unit.ref}.depth: {unit.depth:g} mm leaves {max(back - inner, 0):.0f} mm inside; "
            f"make it at least {unit.depth + 50 - (back - inner):.0f} mm"
        )
    return Depths(rear, back, -unit.depth if unit.inset else inner, -unit.depth, inner, keep)


def clear_inside(
    unit: UnitBox, behind: float, front: float, limits: Limits, keep: tuple[Block, ...]
) -> float:
    """Clear depth between what closes a unit in front and its back, before what stands proud behind it [mm]; below 0 where there
    is no room for them.
    """
    back, inner = _back_and_inner(unit, behind, front, limits, keep)
    return back - inner


def _back_and_inner(
    unit: UnitBox, behind: float, front: float, limits: Limits, keep: tuple[Block, ...]
) -> tuple[float, float]:
    """The face of the back, and where what is inside begins [y]."""
    back = min([-behind - _void(unit, limits), *(thing.y for thing in keep)])
    back -= stock.stock(stock.BACK).thickness if unit.back else 0.0
    return back, -unit.depth + (front + limits.value("carcass.front_bumper") if front else 0.0)


def _void(unit: UnitBox, limits: Limits) -> float:
    """Behind the back [mm]: room for the cleat of what hangs; of what is open behind, for the stretchers that stiffen it."""
    if unit.hung:
        return limits.value("carcass.cleat_void")
    return limits.value("carcass.back_void") if unit.back else stock.stock(stock.CLEAT).thickness


def box_parts(unit: UnitBox, body: Body, of: Stock, at: Depths, limits: Limits) -> Iterator[Part]:
    """The boards of one box."""
    t, box, ref = of.thickness, body.box, body.ref
    y, deep = at.front, at.body
    ends = (THIN, "", THIN if unit.hung else "", THIN)
    for letter, name, x in (("L", "left side", box.x), ("R", "right side", box.right - t)):
        yield piece(
            f"{ref}-{letter}",
            unit.ref,
            "side",
            name,
            of,
            Block(x, y, box.z, t, deep, box.height),
            "z",
            "y",
            ends,
            keep=at.keep,
        )
    inner, x = box.width - 2 * t, box.x + t
    level: tuple[tuple[str, Role, float], ...] = (("B", "bottom", box.z), ("T", "top", box.top - t))
    for letter, role, z in level:
        yield piece(
            f"{ref}-{letter}", unit.ref, role, role, of, Block(x, y, z, inner, deep, t), "x", "y", FRONT_EDGE, keep=at.keep
        )  # fmt: skip
    for k, (one, other) in enumerate(pairwise(body.cells), 1):
        yield _between(unit, f"{ref}-V{k}", one.clear, other.clear, of, at)
    if unit.back:
        yield _back(unit, body, t, at, limits)
    if unit.hung:
        yield from hanging(unit, body, t, at, limits)
    elif not unit.back:
        yield from _stretchers(unit, body, t, at, limits)


def _between(unit: UnitBox, ident: str, one: Box, other: Box, of: Stock, at: Depths) -> Part:
    """The board between two bays: upright in a console, a fixed shelf in a tower. It ends at the back's face."""
    deep = at.back - at.front
    if unit.kind == "tower":
        block = Block(one.x, at.front, one.top, one.width, deep, other.z - one.top)
        return piece(ident, unit.ref, "division", "fixed shelf", of, block, "x", "y", FRONT_EDGE)
    block = Block(one.right, at.front, one.z, other.x - one.right, deep, one.height)
    return piece(ident, unit.ref, "division", "division", of, block, "z", "y", FRONT_EDGE)


def _back(unit: UnitBox, body: Body, t: float, at: Depths, limits: Limits) -> Part:
    """The back: inside + 2 × (groove − 1), so that it never touches the groove's bottom."""
    of = stock.stock(stock.BACK)
    into = limits.value("carcass.back_groove") - 1
    inner = Box(body.box.x + t, body.box.z + t, body.box.width - 2 * t, body.box.height - 2 * t).grown(into)
    block = Block(inner.x, at.back, inner.z, inner.width, of.thickness, inner.height)
    along, across = ("z", "x") if unit.tall else ("x", "z")
    return piece(f"{body.ref}-K", unit.ref, "back", "back", of, block, along, across)


def _stretchers(unit: UnitBox, body: Body, t: float, at: Depths, limits: Limits) -> Iterator[Part]:
    """What keeps a standing unit without a back square: a board under its top and one on its bottom, at the rear."""
    of, high = stock.stock(stock.CLEAT), limits.value("carcass.cleat_height")
    for k, z in ((1, body.box.z + t), (2, body.box.top - t - high)):
        block = Block(body.box.x + t, at.back, z, body.box.width - 2 * t, of.thickness, high)
        yield piece(f"{body.ref}-H{k}", unit.ref, "rail", "stretcher at the rear", of, block, "x", "z", BARE)


def hanging(unit: UnitBox, body: Body, t: float, at: Depths, limits: Limits) -> Iterator[Part]:
    """The bevelled rail under the top and its cleat on the wall; at the foot the bottom's rear edge bears on the wall.

    Rail and cleat are sawn at 45° and drawn meeting at mid-bevel, so that each is drawn half a thickness lower than it is cut.
    Where a column or pipe stands behind the unit they stop at each side of it.

    Raises:
        ValueError: a unit too low for both between its boards, naming the field.
    """
    of = stock.stock(stock.CLEAT)
    high = cleat_height(unit.box.height, limits)
    drawn = high - of.thickness / 2
    least = math.ceil(2 * (drawn + t) + unit.box.height - body.box.height)
    if body.box.height < 2 * (drawn + t) - 1e-6:
        raise ValueError(
            f"design.units.{unit.ref}.height: {unit.box.height:g} mm leaves {max(body.box.height - 2 * t, 0):.0f} mm between its "
            f"boards, and the rail and cleat it hangs by take {2 * drawn:.0f} mm; make it at least {least} mm, or take a wall shelf"
        )
    x, inner = body.box.x + t, body.box.width - 2 * t
    y, top = at.rear - of.thickness, body.box.top - t
    rows: tuple[tuple[str, Role, str, Box], ...] = (
        ("H", "rail", "hanging rail, one edge 45°", Box(x, top - drawn, inner, drawn)),
        ("W", "cleat", "wall cleat, one edge 45°", Box(x + 10, top - 2 * drawn, inner - 20, drawn)),
    )
    for letter, role, name, row in rows:
        lengths = lengths_between(row, [thing.face for thing in at.keep], 2 * high)
        for k, (left, right) in enumerate(lengths, 1):
            block = Block(left, y, row.z, right - left, of.thickness, drawn)
            ident = f"{body.ref}-{letter}{'' if len(lengths) == 1 else k}"
            yield piece(ident, unit.ref, role, name, of, block, "x", "z", BARE, width=high)


def lengths_between(row: Box, clear: list[Box], least: float) -> list[tuple[float, float]]:
    """The stretches (left, right) of a level strip that meet none of these boxes; those shorter than `least` are left out."""
    left, out = row.x, list[tuple[float, float]]()
    for hole in sorted((hole for hole in clear if hole.meets(row)), key=lambda hole: hole.x):
        out.append((left, hole.x))
        left = max(left, hole.right)
    out.append((left, row.right))
    return out if len(out) == 1 else [(a, b) for a, b in out if b - a >= least]


def cleat_height(height: float, limits: Limits) -> float:
    """Height of the hanging rail and of its cleat [mm]: lower in a low unit, so that outlets still find room beneath."""
    return limits.value("carcass.cleat_height" if height >= 300 else "carcass.cleat_height_low")


def free_rear(box: Box, t: float, hung: bool, plinth: float, limits: Limits) -> Box:
    """The wall behind a unit that its boards, and its rail and cleat if it hangs, leave free."""
    thick = stock.stock(stock.CLEAT).thickness
    rails = 2 * cleat_height(box.height, limits) - thick if hung else 0.0
    high = box.height - plinth - 2 * t - rails
    return Box(box.x + t, box.z + plinth + t, max(box.width - 2 * t, 0.0), max(high, 0.0))


def loose_shelves(
    unit: UnitBox, body: Body, cell: Cell, of: Stock, at: Depths, limits: Limits, taken: tuple[float, float] = (0.0, 0.0)
) -> Iterator[Part]:  # fmt: skip
    """The loose shelves of a bay, evenly spaced. taken : height at the bay's foot and head that a finger rail takes [mm].

    Raises:
        ValueError: more shelves than the bay's height can hold, naming the field.
    """
    play, set_back = limits.value("carcass.shelf_play"), limits.value("carcass.shelf_setback")
    low, high = cell.clear.z + taken[0], cell.clear.top - taken[1]
    t = build.height(unit, of, limits)
    between = (high - low - cell.shelves * t) / (cell.shelves + 1)
    if cell.shelves and between < 30:
        raise ValueError(
            f"design.units.{unit.ref}.bays.{cell.number - 1}.shelves: {cell.shelves} shelves in {cell.clear.height:.0f} mm "
            f"leave {max(between, 0):.0f} mm between; use fewer"
        )
    if cell.shelves and cell.clear.width - 2 * play < 2 * t:
        raise ValueError(
            f"design.units.{unit.ref}.bays.{cell.number - 1}.width: {cell.clear.width:.0f} mm clear is too narrow for a shelf; "
            "make the bay wider, or take its shelves out"
        )
    y = (at.front if cell.front == "open" else at.inner) + set_back
    for k in range(cell.shelves):
        block = Block(
            cell.clear.x + play, y, low + (k + 1) * between + k * t, cell.clear.width - 2 * play, at.back - y - play, t
        )  # fmt: skip
        yield from build.boards(f"{unit.ref}.{cell.number}-S{k + 1}", unit, "shelf", "loose shelf", of, block,
                                SHELF_EDGES, limits)  # fmt: skip


def plinth(unit: UnitBox, of: Stock, at: Depths, limits: Limits) -> Iterator[Part]:
    """The frame under a standing unit, set back for the toes, and in front of what stands on the floor at the wall.

    Where there is no depth for a frame there is the front alone, with two blocks behind it.
    """
    high = bay_of.plinth_height(unit, limits)
    if not high or unit.base == "legs":
        return
    t, box = of.thickness, unit.box
    foot = Box(box.x, box.z, box.width, high)
    rear = min([at.rear, *(thing.y for thing in at.keep if thing.face.meets(foot))])
    y = at.front + limits.value("carcass.plinth_recess")
    deep = rear - y
    frame = deep >= 2 * t + LEAST_CROSS
    if deep < (2 * t if rear == at.rear else t):
        msg = f"design.units.{unit.ref}.depth: {unit.depth:g} mm is too shallow for a plinth; make it deeper, or hang it"
        raise ValueError(msg)
    yield piece(
        f"{unit.ref}-P1",
        unit.ref,
        "plinth",
        "plinth front",
        of,
        Block(box.x, y, box.z, box.width, t, high),
        "x",
        "z",
    )
    if not frame:
        return
    back = Block(box.x, rear - t, box.z, box.width, t, high)
    yield piece(f"{unit.ref}-P2", unit.ref, "plinth", "plinth rear", of, back, "x", "z")
    for k, x in ((3, box.x), (4, box.right - t)):
        yield piece(
            f"{unit.ref}-P{k}", unit.ref, "plinth", "plinth cross piece", of,
            Block(x, y + t, box.z, t, deep - 2 * t, high), "y", "z",
        )  # fmt: skip


def fillers(
    unit: UnitBox,
    whole: tuple[Body, ...],
    ends: tuple[float, float],
    above: tuple[float | None, float],
    of: Stock,
    at: Depths,
    limits: Limits,
    taper: float = 0.0,
) -> Iterator[Part]:  # noqa: PLR0913
    """Scribe strips that close the gap to the wall or a column at a unit's end and to the ceiling, cut over for planing on site.

    ends : x of what stands to the left and to the right of it ·
    above : what the top filler closes up to [mm], None where something hangs there that is not to be closed in, and how far out from
    the wall that reaches: under a shallower beam the filler stands back · taper : by how
    much the wall is wider at some height of the unit than where it is narrowest [mm]: the strip is cut for the widest place.
    A strip beside a tower of two boxes is in two lengths, like them, so that a sheet gives it.
    """
    most, over = limits.value("carcass.scribe_high"), limits.value("carcass.scribe_over")
    wider = max(over, taper + over / 2)
    t, box = of.thickness, unit.box
    longest = stock.sheet_size(of.board, 10.0)[0]
    levels = [box.z, *(body.box.top for body in whole)] if unit.kind == "tower" else [box.z, box.top]
    if unit.base == "legs" and whole:  # open below
        levels[0] = whole[0].box.z
    if unit.kind != "tower":
        levels = _parted(levels[0], levels[-1], longest)
    for letter, x, gap in (("L", ends[0], box.x - ends[0]), ("R", box.right, ends[1] - box.right)):
        if not 3 <= gap <= most:
            continue
        for k, (z, top) in enumerate(pairwise(levels), 1):
            block = Block(x, at.front, z, gap, t, top - z)
            ident = f"{unit.ref}-X{letter}{k if len(levels) > 2 else ''}"
            yield piece(
                ident, unit.ref, "filler", "scribe filler", of, block, "z", "x", FRONT_EDGE, over=wider
            )
    ceiling, under = above
    gap = 0.0 if ceiling is None else ceiling - box.top
    if (unit.tall or unit.kind == "loft") and 3 <= gap <= 5 * most:
        parted = _parted(box.x, box.right, longest)
        for k, (left, right) in enumerate(pairwise(parted), 1):
            block = Block(left, max(at.front, -under), box.top, right - left, t, gap)
            ident = f"{unit.ref}-XT{k if len(parted) > 2 else ''}"
            yield piece(ident, unit.ref, "filler", "top filler", of, block, "x", "z", FRONT_EDGE, over=over)


def _parted(low: float, high: float, longest: float) -> list[float]:
    """From one level or x to another in the fewest equal lengths that a sheet gives."""
    count = max(1, math.ceil((high - low) / longest - 1e-9))
    return [low + k * (high - low) / count for k in range(count)] + [high]
