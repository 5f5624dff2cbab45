"""A hung box as a beam: its boards joined make it deep, its fixings are its supports, and its ends stand out beyond them."""

from __future__ import annotations

from functools import lru_cache
from itertools import pairwise
from typing import TYPE_CHECKING

from wallwright.core.limit import Limits
from wallwright.library import load
from wallwright.structure import creep, span
from wallwright.structure.hung import G
from wallwright.structure.record import FixingCheck, HungBeam
from wallwright.structure.section import Layer, stiffness

if TYPE_CHECKING:
    from wallwright.carcass.record import UnitBox


def box_stiffness(board: str, depth: float, height: float, slip: float) -> float:
    """EI of a box of boards [N·mm²]: top and bottom of its depth, apart by its height, glued as one, less the joints' slip."""
    of = load.boards()[board]
    flange = (of.modulus, of.k_def, of.density, depth, of.thickness, 0.0)
    return slip * stiffness((Layer(*flange, 0.0), Layer(*flange, height - of.thickness)))[0]


@lru_cache(maxsize=1024)
def _sag(spans: tuple[float, ...], EI: float, out: tuple[float, float], w: float) -> float:
    """Of the box between its fixings, or of its ends, under an even load w [N/mm]; kept, as most boxes stay as they are."""
    done = span.bent(span.Laid(spans, EI, out), (w,) * len(spans), out=(w, w))
    return max(done.sag, *done.ends)


def hung_beam(unit: UnitBox, check: FixingCheck, limits: Limits, *, humid: bool) -> HungBeam | None:
    """The box on its own fixings; None where it has none. On a single line it stands out to both sides, as if held there."""
    xs = sorted({round(x, 1) for x, _ in check.holes})
    if not xs:
        return None
    box = unit.box
    EI = box_stiffness(unit.board, unit.depth, box.height, limits.value("structure.deep_beam"))
    w = check.mass * G / box.width
    spans = tuple(b - a for a, b in pairwise(xs))
    out = xs[0] - box.x, box.right - xs[-1]
    sag = _sag(spans, EI, out, w) if spans else w * max(out) ** 4 / (8 * EI)
    of = load.boards()[unit.board]
    k_def = creep.in_humid_air(of.k_def) if humid else of.k_def
    grows = creep.factor(k_def, limits.value("structure.psi_2"))
    return HungBeam(unit.ref, box.width, out[0], out[1], max(spans, default=0.0), EI, sag, sag * grows)
