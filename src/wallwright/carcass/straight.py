"""How long a plain board may lie free before it shows a sag: what automatic bays are divided by, before anything is checked.

The same closed form that structure checks boards with, on two supports; its tests hold the two to each other.
"""

from __future__ import annotations

from wallwright.carcass.record import UnitBox
from wallwright.core.limit import Limits
from wallwright.library import load

G = 9.80665
HUMID = 1.5
"""In humid air k_def is at most this much larger in every row of EN 1995-1-1 table 3.2."""
BACK, FRONT = 30.0, 24.0
"""What back and groove behind, and a door and its gap before them, take of a unit's depth from the boards inside it [mm]."""


def inside_depth(unit: UnitBox) -> float:
    """The least depth of a board inside the unit [mm]."""
    return max(unit.depth - BACK - FRONT * (2 if unit.inset else 1), unit.depth / 2)


def longest(unit: UnitBox, depth: float, kg_per_m: float, limits: Limits, *, humid: bool) -> float:
    """The longest free span [mm] of a board of the unit that deep under its load [kg/m]: L³ = 384·EI / (5·w·ratio), at once and in
    time.
    """
    board = load.boards()[unit.board]
    own = depth * board.thickness * board.density * G / 1e9
    carried = kg_per_m * G / 1000
    if own + carried <= 0:
        return float("inf")
    k_def = board.k_def * (HUMID if humid else 1.0)
    psi = limits.value("structure.psi_2")
    bends = 384 * board.modulus * depth * board.thickness**3 / 12 / 5
    now = bends / ((own + carried) * limits.value("structure.sag_ratio"))
    later = bends / (
        (own * (1 + k_def) + carried * (1 + psi * k_def)) * limits.value("structure.sag_later_ratio")
    )
    return min(now, later) ** (1 / 3)
