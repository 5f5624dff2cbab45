"""Sag after years. EN 1995-1-1: u_fin = u_G(1 + k_def) + u_Q(1 + ψ₂·k_def); k_def of table 3.2 by material and service class."""

from __future__ import annotations

TABLE_3_2 = ((0.6, 0.8), (0.8, 1.0), (1.5, 2.25), (2.25, 3.0))
"""k_def in service class 1 (a heated, dry room) and 2 (humid air): timber, plywood, oriented-strand board
and particleboard P6 and P7 (1.5, P7 in class 2 2.25), particleboard P4 and P5 and MDF (2.25, P5 and MDF.HLS in class 2 3.0). P2, which
the table leaves out, is taken as P4. EN 1995-1-1 table 3.2; class 1 of timber, plywood, P4, P6 and MDF read, rest from memory.
"""


def factor(k_def: float, share: float = 1.0) -> float:
    """By how much a sag grows over the years: 1 + share·k_def (share = 1 for self-weight, ψ₂ for what comes and goes)."""
    return 1 + share * k_def


def in_humid_air(k_def: float) -> float:
    """k_def in service class 2 of a board whose k_def in class 1 is given: of the same row of the table, else of the nearest."""
    dry, humid = min(TABLE_3_2, key=lambda row: abs(row[0] - k_def))
    return k_def * humid / dry
