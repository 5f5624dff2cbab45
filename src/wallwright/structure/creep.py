"""Sag after years. EN 1995-1-1: u_fin = u_G(1 + k_def) + u_Q(1 + ψ₂·k_def)."""

from __future__ import annotations


def factor(k_def: float, share: float = 1.0) -> float:
    """By how much a sag grows over the years: 1 + share·k_def (share = 1 for self-weight, ψ₂ for what comes and goes)."""
    return 1 + share * k_def


def final(permanent: float, changing: float, k_def: float, psi_2: float) -> float:
    """Final sag [mm] from the sags at once of the permanent and of the changing load. EN 1995-1-1, 2.2.3."""
    return permanent * factor(k_def) + changing * factor(k_def, psi_2)
