"""What one fixing holds: characteristic values by published formulas, and the way from there to what is allowed.

The lesser of these and of the library's rows is worked with: the maker's assessment, or a pull test on the wall, goes before both.
N, mm, kg/m³.
"""

from __future__ import annotations

import math


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


def yield_moment(diameter: float, strength: float) -> float:
    """Characteristic yield moment of a fastener [N·mm]: 0.3·f_u·d^2.6. EN 1995-1-1 (8.14) and (8.30), from memory.

    diameter : of a screw 1.1 × the root of its thread, 8.7.1 (3) [mm] · strength : f_u of its steel [N/mm²]
    """
    return 0.3 * strength * diameter**2.6
