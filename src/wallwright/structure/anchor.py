"""What one fixing holds: characteristic values by published formulas, and the way from there to what is allowed.

The lesser of these and of the library's rows is worked with: the maker's assessment, or a pull test on the wall, goes before both.
N, mm, kg/m³.
"""

from __future__ import annotations

import math
from collections.abc import Sequence


def allowable(characteristic: float, gamma_m: float, gamma_f: float, k_mod: float = 1.0) -> float:
    """What is allowed in daily use [N]: R_k·k_mod / (γ_M·γ_F), the load factor taken on this side."""
    return characteristic * k_mod / (gamma_m * gamma_f)


# --- concrete


def cone(depth: float, f_ck: float, *, cracked: bool = True) -> float:
    """Concrete cone of one post-installed anchor far from all edges [N]: k₁·√f_ck·h_ef^1.5, k₁ 7.7 cracked, 11.0 uncracked.

    depth : h_ef [mm] · f_ck : cylinder strength [N/mm²]. EN 1992-4, 7.2.1.4.
    """
    return (7.7 if cracked else 11.0) * math.sqrt(f_ck) * depth**1.5


def edge_disturbed(edge: float, reach: float) -> float:
    """ψ_s: a free edge also disturbs the spread of stress around the cone, 0.7 + 0.3·c/c_cr ≤ 1. EN 1992-4, 7.2.1.4 (4)."""
    return min(1.0, 0.7 + 0.3 * edge / reach)


# --- wood


def screw_axial(
    diameter: float, thread: float, density: float, angle: float = 90.0, number: int = 1
) -> float:
    """Characteristic pull of screws in wood [N]: n^0.9·f_ax·d·l_ef·k_d / (1.2cos²α + sin²α).

    f_ax = 0.52·d^−0.5·l_ef^−0.1·ρ_k^0.8, k_d = min(d/8, 1) · thread : length in the wood, the point left out [mm] · angle : to the
    grain [degrees]. EN 1995-1-1, 8.7.2 (8.38 to 8.41). ValueError outside 6 ≤ d ≤ 12 mm, where the formula was found.
    """
    if not 6 <= diameter <= 12:
        raise ValueError(f"the formula holds for screws of 6 to 12 mm, not {diameter:g}")
    strength = 0.52 * diameter**-0.5 * thread**-0.1 * density**0.8
    c, s = math.cos(math.radians(angle)), math.sin(math.radians(angle))
    return number**0.9 * strength * diameter * thread * min(diameter / 8, 1.0) / (1.2 * c * c + s * s)


def embedding(diameter: float, density: float, *, plywood: bool = False) -> float:
    """Characteristic embedding strength for a screw of up to 6 mm [N/mm²]: 0.082·ρ_k·d^−0.3 in timber that is not bored for,
    0.11·ρ_k·d^−0.3 in plywood. EN 1995-1-1 (8.15) and (8.20), 8.7.1 (5); from memory.
    """
    return (0.11 if plywood else 0.082) * density * diameter**-0.3


def embedding_gypsum(diameter: float, board: float) -> float:
    """Characteristic embedding strength of gypsum board so thick [N/mm²]: 3.9·d^−0.6·t^0.7. DIN EN 1995-1-1/NA, from memory."""
    return 3.9 * diameter**-0.6 * board**0.7


Layer = tuple[float, float]
"""Something that a screw lies in: its embedding strength [N/mm²], how deep it lies in it [mm]."""


def lateral(
    diameter: float, moment: float, held: Sequence[Layer], holding: Sequence[Layer], axial: float = 0.0
) -> float:
    """Characteristic shear of a screw that joins two things, each of layers from the joint outward [N].

    The least of all ways to yield (Johansen): on each side the screw either turns whole or bends at its yield moment [N·mm], so that
    the moments at the joint are in balance, M₁(F) + M₂(F) = 0. With a layer a side these are EN 1995-1-1 (8.6 a to f) without their
    1.05 and 1.15. axial : what the screw holds lengthways [N]; a quarter of it is added, at most as much again, 8.2.2 (2).
    """
    sides = [[(strength * diameter, depth) for strength, depth in side] for side in (held, holding)]
    low, high = 0.0, min(sum(line * depth for line, depth in side) for side in sides)
    if sum(_kept(high, moment, side) for side in sides) < 0:
        for _ in range(60):
            force = (low + high) / 2
            low, high = (
                (force, high) if sum(_kept(force, moment, side) for side in sides) >= 0 else (low, force)
            )
    return high + min(axial / 4, high)


def _kept(force: float, moment: float, side: Sequence[Layer]) -> float:
    """The moment at the joint with which a side keeps a screw under that force: turned whole in it, or bent in it [N·mm]."""
    whole = sum(line * depth for line, depth in side)
    turned = _first_moment(whole, side) - 2 * _first_moment((force + whole) / 2, side)
    return min(turned, moment - _first_moment(force, side))


def _first_moment(force: float, side: Sequence[Layer]) -> float:
    """About the joint, of the bearing next to it that makes up a force."""
    at = total = 0.0
    for line, depth in side:
        here = min(force, line * depth)
        total += here * (at + here / line / 2)
        force -= here
        at += depth
    return total


def yield_moment(diameter: float, strength: float) -> float:
    """Characteristic yield moment of a fastener [N·mm]: 0.3·f_u·d^2.6. EN 1995-1-1 (8.14) and (8.30), from memory.

    diameter : of a screw 1.1 × the root of its thread, 8.7.1 (3) [mm] · strength : f_u of its steel [N/mm²]
    """
    return 0.3 * strength * diameter**2.6
