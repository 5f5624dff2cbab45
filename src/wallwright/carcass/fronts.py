"""Fronts laid over the carcass: leaves, drawer fronts and flaps with even gaps.

n fronts over a width W with a reveal r at each end and gaps s between: (W − 2r − (n − 1)s) / n. Common practice.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
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

CLOSED = ("drawers", "shutter", "glass", "cloth", "flap")
EDGES = ("0.8", "0.8", "0.8", "0.8")


@dataclass(frozen=True, slots=True)
class Front:
    """One leaf: its outline, what it is, which leaf of its bay it is and of how many, and on which side it turns."""

    cell: Cell
    kind: str
    box: Box
    number: int
    of: int
    hung_left: bool


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
    """Whether infrared passes the front of a bay."""
    if kind == "open":
        return True
    finish = front_stock(unit, kind).finish
    return bool(finish) and load.finishes()[finish].ir_open


def fronts(unit: UnitBox, whole: tuple[Body, ...], limits: Limits) -> list[Front]:
    """All fronts of a unit: over the whole unit where its bays are alike, else up to the middle of each division."""
    reveal, gap = limits.value("carcass.front_reveal"), limits.value("carcass.front_gap")
    if unit.kind == "tower":
        spans = _stacked(whole, reveal, gap)
    else:
        spans = _side_by_side(whole, reveal, gap)
    widest = limits.value("carcass.leaf_width")
    out: list[Front] = []
    middle = unit.box.centre[0]
    for cell, box in spans:
        if cell.front in CLOSED:
            out.extend(_leaves(cell, box, gap, widest, _hinged_left(unit, box, middle)))
    return out


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


def _leaves(cell: Cell, box: Box, gap: float, widest: float, left: bool) -> Iterator[Front]:
    if cell.front == "drawers":
        high = front_width(box.height, cell.drawers, 0.0, gap)
        for k in range(cell.drawers):
            yield Front(
                cell,
                "drawer",
                Box(box.x, box.z + k * (high + gap), box.width, high),
                k + 1,
                cell.drawers,
                left,
            )
    elif cell.front == "flap" or box.width <= widest:
        yield Front(cell, "flap" if cell.front == "flap" else "door", box, 1, 1, left)
    else:
        wide = front_width(box.width, 2, 0.0, gap)
        for k in range(2):
            yield Front(
                cell, "door", Box(box.x + k * (wide + gap), box.z, wide, box.height), k + 1, 2, k == 0
            )


def front_part(unit: UnitBox, front: Front, at: Depths, limits: Limits) -> Part:
    """The board of a front. Its figure runs across a console and up a tower. Sprayed edges are sealed, not banded."""
    of = front_stock(unit, front.cell.front)
    box = front.box
    block = Block(box.x, at.face, box.z, box.width, of.thickness, box.height)
    along, across = ("z", "x") if unit.kind == "tower" else ("x", "z")
    name = {"drawer": "drawer front", "flap": "flap", "door": "door"}[front.kind]
    hollow = 0.0
    if front.cell.front == "cloth":
        name = "cloth-covered frame"
        frame = 2 * limits.value("carcass.cloth_frame")
        hollow = max(box.width - frame, 0.0) * max(box.height - frame, 0.0)
    bare = front.cell.front in ("glass", "cloth") or not stock.banded(of.board, of.finish)
    return piece(
        f"{unit.ref}.{front.cell.number}-F{front.number}", unit.ref, "front", name, of, block, along, across,
        ("", "", "", "") if bare else EDGES, hollow=hollow,
    )  # fmt: skip


def _hinged_left(unit: UnitBox, door: Box, middle: float) -> bool:
    """Doors open away from the unit's middle; a single one hinges on the wall's side, so that a pair of towers mirrors."""
    if abs(door.centre[0] - middle) < 1.0:
        return unit.side != "right"
    return door.centre[0] < middle
