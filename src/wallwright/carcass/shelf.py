"""A wall shelf or picture ledge: a board on hidden rods."""

from __future__ import annotations

import math
from collections.abc import Iterator

from wallwright.carcass import build, stock
from wallwright.carcass.piece import WIDE, piece
from wallwright.carcass.record import Part, UnitBox
from wallwright.core.limit import Limits
from wallwright.core.shape import Block

LEAST = 100.0
"""The smallest shelf board that takes two hidden rods [mm]."""


def rod_count(width: float, pitch: float) -> int:
    """Hidden rods under a shelf [mm]: at most `pitch` apart, at least two."""
    return max(2, math.ceil(width / pitch) + 1)


def wall_shelf(unit: UnitBox, behind: float, limits: Limits) -> Iterator[Part]:
    """The boards of a wall shelf, in front of a panel where there is one. ValueError where it would be a sliver."""
    _not_a_sliver(unit, behind)
    of = stock.stock(unit.board, unit.front_finish)
    deep = unit.depth - behind
    block = Block(unit.box.x, -unit.depth, unit.box.z, unit.box.width, deep, build.height(unit, of, limits))
    yield from build.boards(
        f"{unit.ref}-S", unit, "wall_shelf", "wall shelf", of, block, (WIDE, "", WIDE, WIDE), limits
    )


def ledge(unit: UnitBox, behind: float) -> Iterator[Part]:
    """The board of a picture ledge and the strip that stands up in front of it. ValueError where it would be a sliver."""
    _not_a_sliver(unit, behind)
    of = stock.stock(unit.board, unit.front_finish)
    t, box, deep = of.thickness, unit.box, unit.depth - behind
    yield piece(
        f"{unit.ref}-S", unit.ref, "wall_shelf", "ledge board", of,
        Block(box.x, -unit.depth + t, box.z, box.width, deep - t, t), "x", "y", ("", "", WIDE, WIDE),
    )  # fmt: skip
    yield piece(
        f"{unit.ref}-E", unit.ref, "lip", "ledge strip", of,
        Block(box.x, -unit.depth, box.z, box.width, t, t + unit.lip), "x", "z", (WIDE, WIDE, WIDE, WIDE),
    )  # fmt: skip


def _not_a_sliver(unit: UnitBox, behind: float) -> None:
    least = LEAST / 2 if unit.kind == "ledge" else LEAST
    for field, size, most in (("width", unit.box.width, LEAST), ("depth", unit.depth - behind, least)):
        if size < most:
            raise ValueError(
                f"design.units.{unit.ref}.{field}: a shelf board of {size:.0f} mm is a sliver; "
                f"make it at least {most + (behind if field == 'depth' else 0.0):.0f} mm"
            )


def rod_spacing(width: float, limits: Limits) -> float:
    """Free length of the board between two hidden rods [mm]."""
    between = rod_run(width, limits)
    return between / (rod_count(between, limits.value("structure.rod_pitch")) - 1)


def rod_run(width: float, limits: Limits) -> float:
    """From the first to the last hidden rod of a shelf, which stand in from its ends [mm]."""
    return max(width - 2 * limits.value("structure.rod_inset"), 1.0)
