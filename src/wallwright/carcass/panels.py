"""A box of boards: sides, top, bottom, divisions, the back in its groove, hanging rails, loose shelves, plinth, fillers.

Sides run the full height; top, bottom and the boards between bays stand between them. The back lies in a groove in front of a
void, which in a hung unit takes the hanging rail and the cleat on the wall.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from itertools import pairwise

from wallwright.carcass import bays as bay_of
from wallwright.carcass import stock
from wallwright.carcass.bays import Body, Cell
from wallwright.carcass.piece import BARE, THIN, WIDE, piece
from wallwright.carcass.record import Part, UnitBox
from wallwright.carcass.stock import Stock
from wallwright.core.limit import Limits
from wallwright.core.shape import Block, Box

SHELF_EDGES = (WIDE, "", "", "")
FRONT_EDGE = (THIN, "", "", "")


@dataclass(frozen=True, slots=True)
class Depths:
    """Where a unit's layers stand [mm, y]: carcass's rear, its back's face, its boards' front edge, its fronts' face."""

    rear: float
    back: float
    front: float
    face: float

    @property
    def body(self) -> float:
        """Depth of the carcass [mm]."""
        return self.rear - self.front

    @property
    def inside(self) -> float:
        """Clear depth in front of the back [mm]."""
        return self.back - self.front


def depths(unit: UnitBox, behind: float, front: float, limits: Limits) -> Depths:
    """The layers of a unit. behind : a panel between it and the wall [mm] · front : thickness of its fronts [mm], 0 without.

    Raises:
        ValueError: a unit too shallow to have an inside, naming the field.
    """
    void = limits.value("carcass.cleat_void" if unit.hung else "carcass.back_void")
    rear = -behind
    back = rear - void - stock.stock(stock.BACK).thickness
    edge = -unit.depth + (front + limits.value("carcass.front_bumper") if front else 0.0)
    if back - edge < 50:
        raise ValueError(
            f"design.units.{unit.ref}.depth: {unit.depth:g} mm leaves {max(back - edge, 0):.0f} mm inside; "
            f"make it at least {unit.depth + 50 - (back - edge):.0f} mm"
        )
    return Depths(rear, back, edge, -unit.depth)


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
        )
    inner, x = box.width - 2 * t, box.x + t
    yield piece(
        f"{ref}-B", unit.ref, "bottom", "bottom", of, Block(x, y, box.z, inner, deep, t), "x", "y", FRONT_EDGE
    )
    yield piece(
        f"{ref}-T", unit.ref, "top", "top", of, Block(x, y, box.top - t, inner, deep, t), "x", "y", FRONT_EDGE
    )
    for k, (one, other) in enumerate(pairwise(body.cells), 1):
        yield _between(unit, f"{ref}-V{k}", one.clear, other.clear, of, at)
    yield _back(unit, body, t, at, limits)
    if unit.hung:
        yield from hanging(unit, body, t, at, limits)


def _between(unit: UnitBox, ident: str, one: Box, other: Box, of: Stock, at: Depths) -> Part:
    """The board between two bays: upright in a console, a fixed shelf in a tower. It ends at the back's face."""
    if unit.kind == "tower":
        block = Block(one.x, at.front, one.top, one.width, at.inside, other.z - one.top)
        return piece(ident, unit.ref, "division", "fixed shelf", of, block, "x", "y", FRONT_EDGE)
    block = Block(one.right, at.front, one.z, other.x - one.right, at.inside, one.height)
    return piece(ident, unit.ref, "division", "division", of, block, "z", "y", FRONT_EDGE)


def _back(unit: UnitBox, body: Body, t: float, at: Depths, limits: Limits) -> Part:
    """The back: inside + 2 × (groove − 1), so that it never touches the groove's bottom."""
    of = stock.stock(stock.BACK)
    into = limits.value("carcass.back_groove") - 1
    inner = Box(body.box.x + t, body.box.z + t, body.box.width - 2 * t, body.box.height - 2 * t).grown(into)
    block = Block(inner.x, at.back, inner.z, inner.width, of.thickness, inner.height)
    along, across = ("x", "z") if unit.kind != "tower" else ("z", "x")
    return piece(f"{body.ref}-K", unit.ref, "back", "back", of, block, along, across)


def hanging(unit: UnitBox, body: Body, t: float, at: Depths, limits: Limits) -> Iterator[Part]:
    """The bevelled rail under the top and its cleat on the wall; at the foot the bottom's rear edge bears on the wall.

    Rail and cleat are sawn at 45° and drawn meeting at mid-bevel, so that each is drawn half a thickness lower than it is cut.
    """
    of = stock.stock(stock.CLEAT)
    high = cleat_height(unit.box.height, limits)
    drawn = high - of.thickness / 2
    x, inner = body.box.x + t, body.box.width - 2 * t
    y, top = at.rear - of.thickness, body.box.top - t
    yield piece(
        f"{body.ref}-H", unit.ref, "rail", "hanging rail, one edge 45°", of,
        Block(x, y, top - drawn, inner, of.thickness, drawn), "x", "z", BARE, width=high,
    )  # fmt: skip
    yield piece(
        f"{body.ref}-W", unit.ref, "cleat", "wall cleat, one edge 45°", of,
        Block(x + 10, y, top - 2 * drawn, inner - 20, of.thickness, drawn), "x", "z", BARE, width=high,
    )  # fmt: skip


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
    unit: UnitBox, body: Body, cell: Cell, of: Stock, at: Depths, limits: Limits
) -> Iterator[Part]:
    """The loose shelves of a bay, evenly spaced.

    Raises:
        ValueError: more shelves than the bay's height can hold, naming the field.
    """
    play, set_back = limits.value("carcass.shelf_play"), limits.value("carcass.shelf_setback")
    clear, t = cell.clear, of.thickness
    between = (clear.height - cell.shelves * t) / (cell.shelves + 1)
    if cell.shelves and between < 30:
        raise ValueError(
            f"design.units.{unit.ref}.bays.{cell.number - 1}.shelves: {cell.shelves} shelves in {clear.height:.0f} mm "
            f"leave {max(between, 0):.0f} mm between; use fewer"
        )
    for k in range(cell.shelves):
        block = Block(
            clear.x + play, at.front + set_back, clear.z + (k + 1) * between + k * t,
            clear.width - 2 * play, at.inside - set_back - play, t,
        )  # fmt: skip
        yield piece(
            f"{unit.ref}.{cell.number}-S{k + 1}",
            unit.ref,
            "shelf",
            "loose shelf",
            of,
            block,
            "x",
            "y",
            SHELF_EDGES,
        )


def plinth(unit: UnitBox, of: Stock, at: Depths, limits: Limits) -> Iterator[Part]:
    """The frame under a standing unit, set back for the toes."""
    high = bay_of.plinth_height(unit, limits)
    if not high:
        return
    t, box = of.thickness, unit.box
    y = at.front + limits.value("carcass.plinth_recess")
    deep = at.rear - y
    if deep <= 2 * t:
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
    rear = Block(box.x, at.rear - t, box.z, box.width, t, high)
    yield piece(f"{unit.ref}-P2", unit.ref, "plinth", "plinth rear", of, rear, "x", "z")
    for k, x in ((3, box.x), (4, box.right - t)):
        yield piece(
            f"{unit.ref}-P{k}", unit.ref, "plinth", "plinth cross piece", of,
            Block(x, y + t, box.z, t, deep - 2 * t, high), "y", "z",
        )  # fmt: skip


def fillers(
    unit: UnitBox,
    whole: tuple[Body, ...],
    wall: float,
    ceiling: float | None,
    of: Stock,
    at: Depths,
    limits: Limits,
) -> Iterator[Part]:  # noqa: PLR0913
    """Scribe strips that close the gap to the wall at a unit's end and to the ceiling, cut over for planing on site.

    ceiling : what the top filler closes up to [mm], None where something hangs there that is not to be closed in.
    A strip beside a tower of two boxes is in two lengths, like them, so that a sheet gives it.
    """
    most, over = limits.value("carcass.scribe_high"), limits.value("carcass.scribe_over")
    t, box = of.thickness, unit.box
    levels = [box.z, *(body.box.top for body in whole)] if unit.kind == "tower" else [box.z, box.top]
    for letter, x, gap in (("L", 0.0, box.x), ("R", box.right, wall - box.right)):
        if not 3 <= gap <= most:
            continue
        for k, (z, top) in enumerate(pairwise(levels), 1):
            block = Block(x, at.front, z, gap, t, top - z)
            ident = f"{unit.ref}-X{letter}{k if len(levels) > 2 else ''}"
            yield piece(
                ident, unit.ref, "filler", "scribe filler", of, block, "z", "x", FRONT_EDGE, over=over
            )
    gap = 0.0 if ceiling is None else ceiling - box.top
    if unit.kind == "tower" and 3 <= gap <= 5 * most:
        block = Block(box.x, at.front, box.top, box.width, t, gap)
        yield piece(
            f"{unit.ref}-XT", unit.ref, "filler", "top filler", of, block, "x", "z", FRONT_EDGE, over=over
        )
