"""Does an eye meet the bare strip? One sight line past the edge that hides it."""

from __future__ import annotations


def depth_at_edge(below: float, beyond: float, setback: float, proud: float) -> float:
    """How far from the board's plane the sight line to the strip passes the board's edge, on the strip's side of the plane.

    In a plane square to the strip: the board ends at its edge; the strip is fixed to the board `setback` behind
    the edge and stands `proud` of it. The eye is `beyond` the edge, measured along the board, and `below` its
    plane, counted towards the strip's side (negative: on the other side). The straight line gives proud + (below −
    proud) · setback / (setback + beyond).
    """
    return proud + (below - proud) * setback / (setback + beyond)


def seen(below: float, beyond: float, setback: float, proud: float, lip: float = 0.0) -> bool:
    """Whether the eye sees the strip: its sight line passes the edge further out than the lip hangs down there.

    An eye that is not beyond the edge sees it only where the board does not lie between.
    """
    if beyond <= 0:
        return below > 0
    return depth_at_edge(below, beyond, setback, proud) > lip


def setback_that_hides(below: float, beyond: float, proud: float, lip: float = 0.0) -> float | None:
    """The least setback at which the eye no longer sees the strip; None where only a deeper lip would do.

    From the sight line: setback · (below − lip) ≤ (lip − proud) · beyond.
    """
    if beyond <= 0:
        return None if below > 0 else 0.0
    if below >= lip:
        return 0.0 if proud <= lip else None
    return max(0.0, (proud - lip) * beyond / (lip - below))
