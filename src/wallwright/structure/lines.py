"""The lines on the wall along which holes will be drilled, known from the set-out: what services keep their level runs off.

`fixings` drills on these same lines; a run may cross one (the holes slide aside), never follow it.
"""

from __future__ import annotations

from collections.abc import Iterable
from typing import TYPE_CHECKING

from wallwright.core.limit import Limits
from wallwright.core.shape import Box

if TYPE_CHECKING:
    from wallwright.carcass.record import UnitBox

CLEAT_SHORT = 10.0
"""A cleat is cut this much shorter at each end than the clear width between the sides, as `carcass.panels` draws it [mm]."""


def cleat_line(unit: UnitBox, limits: Limits) -> float:
    """Height of the screws of a hung unit's wall cleat [mm]: below the upper edge of the cleat, which ends halfway up its rail.

    Raises ValueError for a unit without a cleat.
    """
    if unit.rear is None:
        raise ValueError(f"{unit.ref} hangs on no cleat")
    board = unit.rear.x - unit.box.x
    return (unit.rear.top + unit.box.top - board) / 2 - limits.value("structure.cleat_screw")


def tower_line(unit: UnitBox, limits: Limits) -> float:
    """Height of a standing tower's fixings [mm]."""
    return unit.box.top - limits.value("structure.tower_hole")


def fixing_lines(units: Iterable[UnitBox], limits: Limits) -> tuple[Box, ...]:
    """Each row of holes as a box without height, from its first hole to its last.

    The cleat of what hangs, the rods of a wall shelf, the top of what stands and is anchored.
    """
    end = limits.value("structure.hole_end")
    rows: list[Box] = []
    for unit in units:
        if unit.board_only:
            rows.append(_row(unit.box.x, unit.box.right, unit.box.centre[1], end))
        elif unit.hung and unit.rear is not None:
            cleat = unit.rear.grown(-CLEAT_SHORT)
            rows.append(_row(cleat.x, cleat.right, cleat_line(unit, limits), end))
        elif unit.tall and unit.anchored:
            rows.append(_row(unit.box.x, unit.box.right, tower_line(unit, limits), end))
    return tuple(rows)


def _row(left: float, right: float, z: float, end: float) -> Box:
    return Box(left + end, z, max(right - left - 2 * end, 0.0), 0.0)
