"""What one fixing holds: characteristic values by published formulas, and the way from there to what is allowed.

A design aid and a check on the library's rows: the maker's assessment, or a pull test on the wall, goes before all of it.
N, mm, kg/m³; NDS formulas in their own inches and pounds.
"""

from __future__ import annotations

import math

POUND = 4.4482216152605
"""N in a pound-force, exact."""


def allowable(characteristic: float, gamma_m: float, gamma_f: float, k_mod: float = 1.0) -> float:
    """What is allowed in daily use [N]: R_k·k_mod / (γ_M·γ_F), the load factor taken on this side."""
    return characteristic * k_mod / (gamma_m * gamma_f)


# --- concrete


def cone(depth: float, f_ck: float, *, cracked: bool = True) -> float:
    """Concrete cone of one post-installed anchor far from all edges [N]: k₁·√f_ck·h_ef^1.5, k₁ 7.7 cracked, 11.0 uncracked.

    depth : h_ef [mm] · f_ck : cylinder strength [N/mm²]. EN 1992-4, 7.2.1.4.
    """
    return (7.7 if cracked else 11.0) * math.sqrt(f_ck) * depth**1.5


def cone_reference(depth: float) -> float:
    """Area on the surface of a single cone [mm²]: (3·h_ef)². EN 1992-4, 7.2.1.4."""
    return (3 * depth) ** 2


def cone_area(depth: float, edge: float, spacing: float = 0.0) -> float:
    """Area of the cones of one anchor, or of a pair `spacing` apart in line from a straight edge [mm²], overlap counted once."""
    reach = 1.5 * depth
    return (min(edge, reach) + min(spacing, 2 * reach) + reach) * 2 * reach


def edge_disturbed(edge: float, reach: float) -> float:
    """ψ_s: a free edge also disturbs the spread of stress around the cone, 0.7 + 0.3·c/c_cr ≤ 1. EN 1992-4, 7.2.1.4 (4)."""
    return min(1.0, 0.7 + 0.3 * edge / reach)


def cone_group(depth: float, f_ck: float, edge: float, spacing: float, *, cracked: bool = True) -> float:
    """Cone of a pair of anchors in line from an edge [N]: N⁰·A/A⁰·ψ_s. EN 1992-4, 7.2.1.4."""
    area = cone_area(depth, edge, spacing) / cone_reference(depth)
    return cone(depth, f_ck, cracked=cracked) * area * edge_disturbed(edge, 1.5 * depth)


# --- wood


def lag_withdrawal(gravity: float, diameter: float) -> float:
    """Lag screw in side grain, allowed pull [lb per inch of thread]: 1800·G^1.5·D^0.75, D in inches. NDS 12.2.1."""
    return 1800 * gravity**1.5 * diameter**0.75


def wood_screw_withdrawal(gravity: float, diameter: float) -> float:
    """Wood screw in side grain, allowed pull [lb per inch of thread]: 2850·G²·D, D in inches. NDS 12.2.2."""
    return 2850 * gravity**2 * diameter


def slanted(pull: float, shear: float, angle: float) -> float:
    """Allowed load on a lag screw at `angle` degrees to the wood's face: W·Z/(W·cos²α + Z·sin²α). NDS 12.4.1."""
    c, s = math.cos(math.radians(angle)), math.sin(math.radians(angle))
    return pull * shear / (pull * c * c + shear * s * s)


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


def particleboard_screw(diameter: float, length: float, gravity: float, *, edge: bool = False) -> float:
    """Ultimate pull of a screw in particleboard [N]: K·√D·(L − D/3)^1.25·G², K 41.1 in the face, 31.8 in the edge.

    Wood Handbook, chapter 8 (from memory); a quarter to a fifth of it is worked with.
    """
    return (31.8 if edge else 41.1) * math.sqrt(diameter) * (length - diameter / 3) ** 1.25 * gravity**2


# --- together


def together(pull: float, shear: float, power: float = 1.0) -> float:
    """Share used by pull and shear at once, each a share of what is allowed alone: N^p + V^p ≤ 1.

    power 1 is linear and safe for every wall; EN 1992-4, 7.2.3 has 1.5 where concrete fails.
    """
    return pull**power + shear**power


def pull_test(results: tuple[float, ...], factor: float = 4.0) -> float:
    """What a trial of fixings pulled to failure allows on this wall [N]: their mean / 4. BS 8539. ValueError for fewer than 5."""
    if len(results) < 5:
        raise ValueError(f"a trial takes at least 5 fixings, not {len(results)}")
    return sum(results) / len(results) / factor
