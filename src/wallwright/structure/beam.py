"""Shelves and consoles as beams: sag, support forces and stress in closed form, EI constant.

Loads w in N/mm, P in N; lengths mm; E in N/mm²; EI in N·mm²; sag mm. Closed forms of elementary beam theory, checked in the
tests against a finite-element program. Real shelf ends lie between simple and fixed: design as simple.
"""

from __future__ import annotations

import math

G = 9.80665
"""Standard acceleration of gravity [m/s²], exact."""


def second_moment(width: float, thickness: float) -> float:
    """I of a board lying flat [mm⁴]: b·t³/12."""
    return width * thickness**3 / 12


def line_load(kg_per_m: float) -> float:
    """A load in kg a metre as N/mm."""
    return kg_per_m * G / 1000


def board_mass(width: float, thickness: float, density: float) -> float:
    """Self-weight of a board [kg a metre]: width and thickness mm, density kg/m³."""
    return width * thickness * density / 1e6


def sag_simple(w: float, L: float, EI: float) -> float:
    """Even load on simple supports: 5wL⁴/384EI, at the middle."""
    return 5 * w * L**4 / (384 * EI)


def sag_fixed(w: float, L: float, EI: float) -> float:
    """Even load, both ends held: wL⁴/384EI."""
    return w * L**4 / (384 * EI)


def sag_propped(w: float, L: float, EI: float) -> float:
    """Even load, one end held: wL⁴/184.6EI, at 0.4215 L from the simple end. Also each of two equal spans."""
    return 0.005416 * w * L**4 / EI


def sag_two_spans(w: float, L: float, EI: float) -> float:
    """Even load over two equal spans: each sags as if held at the middle support."""
    return sag_propped(w, L, EI)


def sag_three_spans(w: float, L: float, EI: float) -> float:
    """Even load over three equal spans: 0.00688wL⁴/EI, in an end span."""
    return 0.00688 * w * L**4 / EI


def reactions(spans: int, w: float, L: float) -> tuple[float, ...]:
    """Support forces under an even load over one, two or three equal spans [N]. ValueError for more."""
    shares = {1: (0.5, 0.5), 2: (0.375, 1.25, 0.375), 3: (0.4, 1.1, 1.1, 0.4)}
    if spans not in shares:
        raise ValueError(f"support forces are known for 1, 2 or 3 equal spans, not {spans}")
    return tuple(share * w * L for share in shares[spans])


def sag_cantilever(w: float, L: float, EI: float) -> float:
    """Even load on a board held at one end: wL⁴/8EI at the tip."""
    return w * L**4 / (8 * EI)


def sag_cantilever_tip(P: float, L: float, EI: float) -> float:
    """A load at the tip of a board held at one end: PL³/3EI."""
    return P * L**3 / (3 * EI)


def sag_point_middle(P: float, L: float, EI: float) -> float:
    """A load at mid-span on simple supports: PL³/48EI."""
    return P * L**3 / (48 * EI)


def sag_point_fixed(P: float, L: float, EI: float) -> float:
    """A load at mid-span, both ends held: PL³/192EI."""
    return P * L**3 / (192 * EI)


def sag_point(P: float, at: float, L: float, EI: float) -> tuple[float, float]:
    """A load at `at` from one simple support: the largest sag and where it is from the same support [mm].

    With b the distance to the nearer end, Pb(L² − b²)^1.5 / (9√3·L·EI) at √((L² − b²)/3) from the farther end.
    """
    near = min(at, L - at)
    from_far = math.sqrt((L * L - near * near) / 3)
    sag = P * near * (L * L - near * near) ** 1.5 / (9 * math.sqrt(3) * L * EI)
    return sag, (L - from_far if at <= L / 2 else from_far)


def sag_overhanging(w: float, L: float, a: float, EI: float) -> tuple[float, float]:
    """Even load over span L with overhangs a at both ends: sag at mid-span and at the ends [mm], down positive.

    mid = wL⁴/384EI·(5 − 24(a/L)²), end = wa/24EI·(3a³ + 6a²L − L³).
    """
    middle = w * L**4 / (384 * EI) * (5 - 24 * (a / L) ** 2)
    end = w * a / (24 * EI) * (3 * a**3 + 6 * a * a * L - L**3)
    return middle, end


def composite(parts: tuple[tuple[float, float, float, float], ...]) -> tuple[float, float]:
    """EI [N·mm²] and height of the neutral axis [mm] of boards glued together; each part is (E, width, height, lower edge).

    EI = ΣE(I + A(y − ȳ)²), ȳ = ΣEAy/ΣEA. A lipping on one edge only also twists the board: support its back.
    """
    stiff = sum(E * b * h for E, b, h, _ in parts)
    axis = sum(E * b * h * (z + h / 2) for E, b, h, z in parts) / stiff
    return sum(E * (second_moment(b, h) + b * h * (z + h / 2 - axis) ** 2) for E, b, h, z in parts), axis


def stress(moment: float, width: float, thickness: float) -> float:
    """Bending stress of a board lying flat [N/mm²]: 6M/(b·t²)."""
    return 6 * moment / (width * thickness**2)


def moment_simple(w: float, L: float) -> float:
    """Largest moment of an even load on simple supports [N·mm]: wL²/8."""
    return w * L * L / 8


def longest_simple(w: float, EI: float, ratio: float, creep: float = 1.0) -> float:
    """The longest simple span [mm] whose sag, times `creep`, is at most span/ratio: (384EI/(5w·ratio·creep))^⅓."""
    return (384 * EI / (5 * w * ratio * creep)) ** (1 / 3)
