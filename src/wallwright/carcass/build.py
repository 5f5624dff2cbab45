"""What a shelf is built of: one board, a board with a lip in front of its edge, two boards glued, or a torsion box of skins and ribs."""

from __future__ import annotations

import math
from collections.abc import Iterator

from wallwright.carcass import stock
from wallwright.carcass.piece import BARE, piece
from wallwright.carcass.record import Part, Role, UnitBox
from wallwright.carcass.stock import Stock
from wallwright.core.limit import Limits
from wallwright.core.shape import Block
from wallwright.library import load

SKIN = "ply9"
RIB = "ply18"
RIBS_LEAST = 8.0
"""A rib lower than this cannot be glued and pinned [mm]."""


def skin(of: Stock) -> Stock:
    """The skin of a torsion box in the facing of the board it stands for."""
    return stock.stock(SKIN, of.finish)


def height(unit: UnitBox, of: Stock, limits: Limits) -> float:
    """Over all, of a shelf of this unit [mm]."""
    return over_all(unit.build, of, unit.lip, limits)


def over_all(made: str, of: Stock, lip: float, limits: Limits) -> float:
    """Over all, of a shelf so built [mm]: a lip hangs under its board, two boards are twice as thick."""
    if made == "lipped":
        return of.thickness + lip
    if made == "doubled":
        return 2 * of.thickness
    if made == "torsion_box":
        return max(limits.value("carcass.torsion_height"), 2 * skin(of).thickness + RIBS_LEAST)
    return of.thickness


def board_of(unit: UnitBox) -> str:
    """The board its shelves are made of: of a torsion box, its skins'."""
    return SKIN if unit.build == "torsion_box" else unit.board


def board_thickness(unit: UnitBox, plain: float) -> float:
    """Thickness of one board of a shelf without its facing [mm]: of a torsion box, of a skin."""
    return load.boards()[SKIN].thickness if unit.build == "torsion_box" else plain


def strip(unit: UnitBox, of: Stock, limits: Limits) -> tuple[float, float]:
    """Height and thickness of a lip, or of a torsion box's ribs [mm]; 0 of a plain shelf."""
    if unit.build == "lipped":
        return of.thickness + unit.lip, of.thickness
    if unit.build == "torsion_box":
        return height(unit, of, limits) - 2 * skin(of).thickness, stock.stock(RIB).thickness
    return 0.0, 0.0


def boards(  # noqa: PLR0913
    ident: str, unit: UnitBox, role: Role, name: str, of: Stock, block: Block, edges: tuple[str, str, str, str], limits: Limits
) -> Iterator[Part]:  # fmt: skip
    """The parts of one shelf within its outline; the first is the board that things stand on."""
    t = of.thickness
    if unit.build == "plain" or (unit.build == "lipped" and block.dy < 3 * t):
        yield piece(ident, unit.ref, role, name, of, block, "x", "y", edges)
    elif unit.build == "lipped":
        deep = Block(block.x, block.y + t, block.z + block.dz - t, block.dx, block.dy - t, t)
        yield piece(ident, unit.ref, role, name, of, deep, "x", "y", ("", *edges[1:]))
        front = Block(block.x, block.y, block.z, block.dx, t, block.dz)
        yield piece(f"{ident}L", unit.ref, "lip", "lip, glued in front of the edge", of, front, "x", "z",
                    (edges[0], edges[0], edges[2], edges[3]))  # fmt: skip
    elif unit.build == "doubled":
        yield piece(ident, unit.ref, role, f"{name}, upper of two glued", of,
                    Block(block.x, block.y, block.z + t, block.dx, block.dy, t), "x", "y", edges)  # fmt: skip
        yield piece(f"{ident}D", unit.ref, role, f"{name}, lower of two glued", of,
                    Block(block.x, block.y, block.z, block.dx, block.dy, t), "x", "y", edges)  # fmt: skip
    else:
        yield from _torsion(ident, unit, role, name, of, block, edges, limits)


def _torsion(  # noqa: PLR0913
    ident: str, unit: UnitBox, role: Role, name: str, of: Stock, block: Block, edges: tuple[str, str, str, str], limits: Limits
) -> Iterator[Part]:  # fmt: skip
    """Two skins on ribs that run from end to end, one at each edge and between them at most the pitch apart."""
    face, rib = skin(of), stock.stock(RIB)
    s, w = face.thickness, rib.thickness
    for letter, which, z in (("", "upper skin", block.z + block.dz - s), ("D", "lower skin", block.z)):
        yield piece(f"{ident}{letter}", unit.ref, role, f"{name}, {which}", face,
                    Block(block.x, block.y, z, block.dx, block.dy, s), "x", "y", edges)  # fmt: skip
    spaces = max(1, math.ceil((block.dy - w) / limits.value("carcass.rib_pitch") - 1e-9))
    for k in range(spaces + 1):
        y = block.y + k * (block.dy - w) / spaces
        inner = Block(block.x, y, block.z + s, block.dx, w, block.dz - 2 * s)
        yield piece(f"{ident}R{k + 1}", unit.ref, "rib", "rib of the torsion box", rib, inner, "x", "z", BARE)
