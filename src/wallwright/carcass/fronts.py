"""Fronts over the carcass's edges, or set in between them: leaves, drawer fronts, flaps and pull-outs with even gaps.

n fronts over a width W with a reveal r at each end and gaps s between: (W − 2r − (n − 1)s) / n. Common practice. Where they open
by a finger gap, each front ends below the board above it, and a rail set back stands behind the gap.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace
from itertools import pairwise

from wallwright.carcass import stock
from wallwright.carcass.bays import Body, Cell
from wallwright.carcass.panels import Depths
from wallwright.carcass.piece import piece
from wallwright.carcass.record import Part, UnitBox
from wallwright.carcass.stock import Stock
from wallwright.core.limit import Limits
from wallwright.core.shape import Block, Box
from wallwright.library import load

CLOSED = ("drawers", "shutter", "glass", "slatted", "cloth", "flap", "pull_out")
WHOLE = {"flap": "flap", "pull_out": "pull_out"}
"""Fronts that are one leaf whatever their width, and how each moves; the others are doors, in two leaves where wide."""
EDGES = ("0.8", "0.8", "0.8", "0.8")


@dataclass(frozen=True, slots=True)
class Front:
    """One leaf: its outline, what it is, which leaf of its bay it is and of how many, and on which side it turns.

    lifts : a flap hung at its head
    """

    cell: Cell
    kind: str
    box: Box
    number: int
    of: int
    hung_left: bool
    lifts: bool = False


def front_width(over: float, count: int, reveal: float, gap: float) -> float:
    """Width of each of `count` equal fronts over a width [mm]."""
    return (over - 2 * reveal - (count - 1) * gap) / count


def front_stock(unit: UnitBox, kind: str) -> Stock:
    """What a front is made of: its own glass or cloth, else the unit's board (fibreboard under spray) in the front finish."""
    finish = load.finishes()[unit.front_finish]
    if kind == "glass":
        return stock.stock(
            stock.GLASS, unit.front_finish if finish.kind in ("glass", "mirror") else stock.GLASS_FINISH
        )
    if kind == "cloth":
        return stock.stock(unit.board, unit.front_finish if finish.kind == "cloth" else stock.CLOTH_FINISH)
    if finish.kind in ("sprayed", "paint"):
        return stock.stock(stock.SPRAY_BOARD, unit.front_finish)
    if finish.kind in ("glass", "mirror", "cloth"):
        return stock.stock(unit.board, stock.FRONT_FINISH)
    return stock.stock(unit.board, unit.front_finish)


def ir_open(unit: UnitBox, kind: str) -> bool:
    """Whether infrared passes the front of a bay; between slats it passes in part, which is judged beam by beam."""
    if kind in ("open", "slatted"):
        return True
    finish = front_stock(unit, kind).finish
    return bool(finish) and load.finishes()[finish].ir_open


@dataclass(frozen=True, slots=True)
class Finger:
    """The gap for the fingers of a bay without handles: its height, how far back and how high the rail behind it is [mm]."""

    gap: float
    deep: float
    rail: float
    at_foot: bool


def finger(unit: UnitBox, cell: Cell, opening: str, limits: Limits) -> Finger | None:
    """The finger gap of a bay: over its front, under it where the front is high up; None where it opens otherwise."""
    if opening != "gap" or cell.front not in CLOSED:
        return None
    value = limits.value
    high = cell.front != "drawers" and cell.clear.z > value("carcass.gap_at_foot")
    if cell.front == "flap":
        high = lifts(unit, cell, limits)  # the fingers go to the edge across from the hinges
    return Finger(
        value("carcass.finger_gap"), value("carcass.finger_deep"), value("carcass.finger_rail"), high
    )


def lifts(unit: UnitBox, cell: Cell, limits: Limits) -> bool:
    """Whether a flap is hung at its head and lifts: above the eyes, where one let down would stand out before a face; never a desk's."""
    return cell.front == "flap" and unit.kind != "desk" and cell.clear.z > limits.value("carcass.lift_from")


def fronts(unit: UnitBox, whole: tuple[Body, ...], limits: Limits, opening: str = "push") -> list[Front]:
    """All fronts of a unit: over the whole unit where its bays are alike, else up to the middle of each division; inset ones in
    the clear opening of each bay.
    """
    reveal, gap = limits.value("carcass.front_reveal"), limits.value("carcass.front_gap")
    if unit.inset:
        gap = limits.value("carcass.inset_gap")
        spans = [(cell, cell.clear.grown(-gap)) for body in whole for cell in body.cells]
    elif unit.kind == "tower":
        spans = _stacked(whole, reveal, gap)
    else:
        spans = _side_by_side(whole, reveal, gap)
    widest = limits.value("carcass.leaf_width")
    out: list[Front] = []
    middle = unit.box.centre[0]
    for cell, box in spans:
        if cell.front in CLOSED:
            left = cell.hinged == "left" if cell.hinged else _hinged_left(unit, box, middle)
            by, up = finger(unit, cell, opening, limits), lifts(unit, cell, limits)
            out.extend(
                replace(leaf, lifts=up) for leaf in _leaves(unit.ref, cell, box, gap, widest, left, by)
            )
    return out


def gap_rails(
    unit: UnitBox, body: Body, of: Stock, opening: str, at: Depths, limits: Limits
) -> Iterator[Part]:  # fmt: skip
    """The rails behind finger gaps: one a bay, over every drawer where there are drawers. They keep the dust and the view out."""
    for cell in body.cells:
        by = finger(unit, cell, opening, limits)
        if by is None:
            continue
        rows = max(1, cell.drawers)
        share = cell.clear.height / rows
        for k in range(rows):
            z = cell.clear.z if by.at_foot else cell.clear.z + (k + 1) * share - by.rail
            block = Block(cell.clear.x, at.inner + by.deep, z, cell.clear.width, of.thickness, by.rail)
            ident = f"{unit.ref}.{cell.number}-J{k + 1}"
            yield piece(
                ident, unit.ref, "gap_rail", "finger-gap rail", of, block, "x", "z", ("0.8", "0.8", "", "")
            )


def _side_by_side(whole: tuple[Body, ...], reveal: float, gap: float) -> list[tuple[Cell, Box]]:
    cells = [cell for body in whole for cell in body.cells]
    left, right = whole[0].box.x, whole[-1].box.right
    z, high = whole[0].box.z + reveal, whole[0].box.height - 2 * reveal
    clears = [cell.clear.width for cell in cells]
    if max(clears) - min(clears) < 0.01:
        width = front_width(right - left, len(cells), reveal, gap)
        return [
            (cell, Box(left + reveal + k * (width + gap), z, width, high)) for k, cell in enumerate(cells)
        ]
    edges = [
        left + reveal,
        *((a.clear.right + b.clear.x) / 2 for a, b in pairwise(cells)),
        right - reveal,
    ]
    last = len(cells) - 1
    return [
        (
            cell,
            Box(
                x := edges[k] + (gap / 2 if k else 0.0),
                z,
                edges[k + 1] - (gap / 2 if k < last else 0.0) - x,
                high,
            ),
        )
        for k, cell in enumerate(cells)
    ]


def _stacked(whole: tuple[Body, ...], reveal: float, gap: float) -> list[tuple[Cell, Box]]:
    """A tower's fronts: to the middle of a board between two fronts, to its far edge beside an open bay."""
    cells = [(cell, body) for body in whole for cell in body.cells]
    out: list[tuple[Cell, Box]] = []
    for k, (cell, body) in enumerate(cells):
        below = cells[k - 1][0] if k else None
        above = cells[k + 1][0] if k + 1 < len(cells) else None
        foot = (below.clear.top + cell.clear.z) / 2 + gap / 2 if below and below.front in CLOSED else None
        head = (cell.clear.top + above.clear.z) / 2 - gap / 2 if above and above.front in CLOSED else None
        t = cell.clear.x - body.box.x
        low = foot if foot is not None else cell.clear.z - t + reveal
        high = head if head is not None else cell.clear.top + t - reveal
        out.append((cell, Box(body.box.x + reveal, low, body.box.width - 2 * reveal, high - low)))
    return out


LEAST_FLAP = 170.0
"""A flap hangs on two hinges, each 56 mm clear of the boards at its ends and of the other [mm]. Common practice."""


def _leaves(  # noqa: PLR0913
    unit: str, cell: Cell, box: Box, gap: float, widest: float, left: bool, by: Finger | None
) -> Iterator[Front]:  # fmt: skip
    if cell.front == "drawers":
        yield from _drawer_fronts(cell, box, gap, left, by)
        return
    if by:
        foot = cell.clear.z + by.gap if by.at_foot else box.z
        head = box.top if by.at_foot else cell.clear.top - by.gap
        box = Box(box.x, foot, box.width, head - foot)
    if cell.front == "flap" and box.width < LEAST_FLAP:
        raise ValueError(
            f"design.units.{unit}.bays.{cell.number - 1}.front: a flap of {box.width:.0f} mm has no room for two hinges side by side; "
            f"use a door there, or make the bay {LEAST_FLAP - box.width:.0f} mm wider"
        )
    if cell.front in WHOLE or box.width <= widest:
        yield Front(cell, WHOLE.get(cell.front, "door"), box, 1, 1, left)
    else:
        wide = front_width(box.width, 2, 0.0, gap)
        for k in range(2):
            yield Front(
                cell, "door", Box(box.x + k * (wide + gap), box.z, wide, box.height), k + 1, 2, k == 0
            )


def _drawer_fronts(cell: Cell, box: Box, gap: float, left: bool, by: Finger | None) -> Iterator[Front]:
    """One above the other: alike, or each up to the finger gap under its own rail."""
    high, share = front_width(box.height, cell.drawers, 0.0, gap), cell.clear.height / cell.drawers
    for k in range(cell.drawers):
        z, head = box.z + k * (high + gap), box.z + k * (high + gap) + high
        if by:
            z = box.z if k == 0 else cell.clear.z + k * share
            head = cell.clear.z + (k + 1) * share - by.gap
        yield Front(cell, "drawer", Box(box.x, z, box.width, head - z), k + 1, cell.drawers, left)


def front_part(unit: UnitBox, front: Front, at: Depths, limits: Limits) -> Part:
    """The board of a front. Its figure runs across a console and up a tower. Sprayed edges are sealed, not banded."""
    of = front_stock(unit, front.cell.front)
    box = front.box
    block = Block(box.x, at.face, box.z, box.width, of.thickness, box.height)
    along, across = ("z", "x") if unit.tall or front.kind == "pull_out" else ("x", "z")
    name = {"drawer": "drawer front", "flap": "flap", "door": "door", "pull_out": "pull-out front"}[
        front.kind
    ]
    hollow = 0.0
    if front.cell.front == "cloth":
        name = "cloth-covered frame"
        frame = 2 * limits.value("carcass.cloth_frame")
        hollow = max(box.width - frame, 0.0) * max(box.height - frame, 0.0)
    if front.cell.front == "slatted":
        name = "slatted door"
        frame = 2 * limits.value("carcass.slat_frame")
        field = max(box.width - frame, 0.0) * max(box.height - frame, 0.0)
        hollow = field * limits.value("carcass.slat_open")
    bare = front.cell.front in ("glass", "cloth") or not stock.banded(of.board, of.finish)
    if box.height < 20 or box.width < 20:
        raise ValueError(
            f"design.units.{unit.ref}.height: a front of {box.width:.0f} × {box.height:.0f} mm cannot be made; make the unit larger, "
            "or take a drawer or bay away"
        )
    return piece(
        f"{unit.ref}.{front.cell.number}-F{front.number}", unit.ref, "front", name, of, block, along, across,
        ("", "", "", "") if bare else EDGES, hollow=hollow,
    )  # fmt: skip


def _hinged_left(unit: UnitBox, door: Box, middle: float) -> bool:
    """Doors open away from the unit's middle; a single one hinges on the wall's side, so that a pair of towers mirrors."""
    if abs(door.centre[0] - middle) < 1.0:
        return unit.side != "right"
    return door.centre[0] < middle
