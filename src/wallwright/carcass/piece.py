"""One piece of board: sizes, bands, cut sizes and mass from where it stands in the room, and what it is cut out for."""

from __future__ import annotations

from dataclasses import replace
from functools import lru_cache
from typing import Literal

from wallwright.carcass.record import Grain, Part, Role
from wallwright.carcass.stock import Stock
from wallwright.core.shape import Block

Axis = Literal["x", "y", "z"]
BARE = ("", "", "", "")
THIN, WIDE = "0.8", "2.0"
"""Bands [mm] as written in the schedule: carcass edges; edges that hands touch."""


@lru_cache(maxsize=32)
def band(key: str) -> float:
    """The thickness of an edge band [mm]: its name is its thickness, "" is a bare edge."""
    return float(key) if key else 0.0


def cut_size(finished: float, one: str, other: str) -> float:
    """Size to cut [mm]: finished less the bands at its two ends. Common practice."""
    return finished - band(one) - band(other)


def piece(  # noqa: PLR0913
    ident: str,
    unit: str,
    role: Role,
    name: str,
    of: Stock,
    block: Block,
    along: Axis,
    across: Axis,
    edges: tuple[str, str, str, str] = BARE,
    *,
    over: float = 0.0,
    width: float | None = None,
    hollow: float = 0.0,
    keep: tuple[Block, ...] = (),
) -> Part:
    """A part whose length lies along one axis and its width along another.

    edges : bands on long1, long2, short1, short2 · over : left on the width for scribing [mm] · width : where a bevel makes
    it differ from the block's · hollow : area cut out of it [mm²] · keep : what stands on the wall that it is cut out for
    """
    cuts: tuple[Block, ...] = ()
    if keep:
        block, cuts = cut_round(block, keep)
        hollow += sum(cut.volume for cut in cuts) / of.thickness
    length = block.dx if along == "x" else block.dz if along == "z" else block.dy
    if width is None:
        width = (block.dx if across == "x" else block.dz if across == "z" else block.dy) + over
    grain: Grain = "length" if of.grain else "none"
    return Part(
        ident, unit, role, name, of.board, of.finish, length, width, of.thickness,
        cut_size(length, edges[2], edges[3]) if edges[2] or edges[3] else length,
        cut_size(width, edges[0], edges[1]) if edges[0] or edges[1] else width,
        grain, edges, (length * width - hollow) * of.mass_per_m2 / 1e6, block, cuts,
    )  # fmt: skip


def cut_round(block: Block, keep: tuple[Block, ...]) -> tuple[Block, tuple[Block, ...]]:
    """The block clear of what stands on the wall: ended in front of it where that covers its whole face, else with cut-outs.

    keep : blocks that reach to the wall's face and beyond.
    """
    for thing in keep:
        common = shared(block, thing)
        if common and common.dx >= block.dx - 0.01 and common.dz >= block.dz - 0.01 and common.y > block.y:
            block = replace(block, dy=common.y - block.y)
    return block, tuple(common for thing in keep if (common := shared(block, thing)))


def shared(one: Block, other: Block) -> Block | None:
    """The overlap of two blocks, or None where there is none to speak of."""
    x, y, z = max(one.x, other.x), max(one.y, other.y), max(one.z, other.z)
    dx = min(one.x + one.dx, other.x + other.dx) - x
    dy = min(one.y + one.dy, other.y + other.dy) - y
    dz = min(one.z + one.dz, other.z + other.dz) - z
    return Block(x, y, z, dx, dy, dz) if min(dx, dy, dz) > 0.01 else None
