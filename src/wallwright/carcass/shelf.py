"""A wall shelf: one board on hidden rods."""

from __future__ import annotations

import math

from wallwright.carcass import stock
from wallwright.carcass.piece import WIDE, piece
from wallwright.carcass.record import Part, UnitBox
from wallwright.core.limit import Limits
from wallwright.core.shape import Block

LEAST = 100.0
"""The smallest shelf board that takes two hidden rods [mm]."""


def rod_count(width: float, pitch: float) -> int:
    """Hidden rods under a shelf [mm]: at most `pitch` apart, at least two."""
    return max(2, math.ceil(width / pitch) + 1)


def wall_shelf(unit: UnitBox, behind: float) -> Part:
    """The board of a wall shelf, in front of a panel where there is one. ValueError where it would be a sliver."""
    of = stock.stock(unit.board, unit.front_finish)
    for field, size in (("width", unit.box.width), ("depth", unit.depth - behind)):
        if size < LEAST:
            raise ValueError(
                f"design.units.{unit.ref}.{field}: a shelf board of {size:.0f} mm is a sliver; "
                f"make it at least {LEAST + (behind if field == 'depth' else 0.0):.0f} mm"
            )
    block = Block(unit.box.x, -unit.depth, unit.box.z, unit.box.width, unit.depth - behind, of.thickness)
    return piece(
        f"{unit.ref}-S", unit.ref, "wall_shelf", "wall shelf", of, block, "x", "y", (WIDE, "", WIDE, WIDE)
    )


def rod_spacing(width: float, limits: Limits) -> float:
    """Free length of the board between two hidden rods [mm]."""
    between = rod_run(width, limits)
    return between / (rod_count(between, limits.value("structure.rod_pitch")) - 1)


def rod_run(width: float, limits: Limits) -> float:
    """From the first to the last hidden rod of a shelf, which stand in from its ends [mm]."""
    return max(width - 2 * limits.value("structure.rod_inset"), 1.0)
