"""How deep a chase may be cut. Cutting makes dust: water or extraction, and a fitted mask; never into beams, columns or lintels.

Source: guidance on Approved Document A (England): an upright chase to a third of the leaf, a level one to a sixth.
"""

from __future__ import annotations


def deepest(leaf: float, level: bool, upright_share: float = 3.0, level_share: float = 6.0) -> float:
    """The deepest chase [mm] in a leaf of that thickness [mm]."""
    return leaf / (level_share if level else upright_share)


def needed(conduit: float, cover: float) -> float:
    """The depth [mm] that a conduit of that outside diameter needs with its cover of plaster."""
    return conduit + cover


def may_cut(leaf: float, conduit: float, cover: float, level: bool) -> bool:
    """Whether a conduit goes into the leaf in that direction."""
    return needed(conduit, cover) <= deepest(leaf, level)
