"""What hangs on a wall pulls at its top fixings by the lever, not by its weight. Statics; N, mm, kg."""

from __future__ import annotations

import math

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


def row_pulls(moment: float, rows: tuple[tuple[float, int], ...]) -> tuple[float, ...]:
    """Pull of one fixing in each row [N], rows as (height over the turning line, number): T_i = M·y_i / Σn·y²."""
    whole = sum(count * y * y for y, count in rows)
    return tuple(moment * y / whole for y, _ in rows)


def used(pull: float, shear: float, capacity_pull: float, capacity_shear: float) -> float:
    """Share of one fixing that is used: T/T_allow + V/V_allow, linear and safe."""
    return pull / capacity_pull + shear / capacity_shear


def needed(pull: float, shear: float, capacity_pull: float, capacity_shear: float, uneven: float) -> int:
    """Fixings in a row so that each is used to at most 1, the worst one taking `uneven` × the mean where there are over two."""
    even = used(pull, shear, capacity_pull, capacity_shear)
    count = max(1, math.ceil(even - 1e-9))
    return count if count <= 2 else max(3, math.ceil(even * uneven - 1e-9))


def packing_moment(shear: float, gap: float, *, both_ends: bool = False) -> float:
    """Bending of a bolt across an air gap or tile [N·mm]: V·s as a cantilever, half that where both ends are held."""
    return shear * gap / (2 if both_ends else 1)


def round_bending(moment: float, diameter: float) -> float:
    """Stress of a round rod in bending [N/mm²]: M / (πd³/32)."""
    return moment / (math.pi * diameter**3 / 32)
