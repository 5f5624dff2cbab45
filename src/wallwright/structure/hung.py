"""What hangs on a wall pulls at its top fixings by the lever, not by its weight. Statics; N, mm, kg."""

from __future__ import annotations

import math
from collections.abc import Callable

G = 9.80665


def moment(masses: tuple[tuple[float, float], ...], lean: float = 0.0, reach: float = 0.0) -> float:
    """Moment about the wall's face [N·mm]: masses as (kg, distance from the wall), a push `lean` [N] at `reach`."""
    return sum(kg * G * x for kg, x in masses) + lean * reach


def shear(masses: tuple[tuple[float, float], ...], lean: float = 0.0) -> float:
    """Weight that the fixings carry downwards [N]."""
    return sum(kg for kg, _ in masses) * G + lean


def pull(moment: float, lever: float) -> float:
    """Pull on the top row [N]: M/h, h from the top row to the line about which the box turns."""
    return moment / lever


def line_load(kg: float, length: float) -> float:
    """Weight spread along a wall [kN a metre]: kg over mm."""
    return kg * G / length


def used(pull: float, shear: float, capacity_pull: float, capacity_shear: float) -> float:
    """Share of one fixing that is used: T/T_allow + V/V_allow, linear and safe."""
    return pull / capacity_pull + shear / capacity_shear


def needed(even: float, worst: Callable[[int], float], most: int = 99) -> int:
    """Fixings of a row so that each is used to at most 1, two at least, `most` at most.

    even : how many would do if all took alike · worst : what the worst of so many takes, over the mean
    """
    first = max(2, math.ceil(min(even, most) - 1e-9))
    return next((n for n in range(first, most) if even * worst(n) / n <= 1 + 1e-9), most)


def packing_moment(shear: float, lever: float, restraint: float = 1.0) -> float:
    """Bending of a bolt across an air gap or packing [N·mm]: V·l / α_M. EN 1992-4, 6.2.2.3 (from memory).

    restraint : α_M, 1 where what it holds may turn, 2 only where a metal plate clamped by a nut cannot
    """
    return shear * lever / restraint


def round_bending(moment: float, diameter: float) -> float:
    """Stress of a round rod in bending [N/mm²]: M / (πd³/32)."""
    return moment / (math.pi * diameter**3 / 32)
