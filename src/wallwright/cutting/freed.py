"""Which cut frees a part, and which panel on the saw's bench it then is: what ties the drawing, the labels and the list of cuts."""

from __future__ import annotations

from typing import NamedTuple

from wallwright.cutting.model import Offcut, Placed, SheetPlan


class Freed(NamedTuple):
    """``cut``: place in the sheet's list of cuts, counted from 1; 0 where the sheet is not cut at all.

    ``panel``: the number under which the cuts speak of it.
    """

    cut: int
    panel: int


def freed(layout: SheetPlan) -> dict[Placed | Offcut, Freed]:
    """Every part and offcut of a sheet with the cut that frees it; compare two to say which is in hand first.

    A panel is known by its far corner, which needs no kerf: the blade eats into the panel beyond it.

    Raises:
        KeyError: the cuts do not leave this part (`verify` finds such a plan).
    """
    far = {1: (layout.sheet.length, layout.sheet.width)}
    left = {far[1]: Freed(0, 1)}
    for number, cut in enumerate(layout.cuts, 1):
        x, y = corner = far.pop(cut.panel)
        del left[corner]
        near = (cut.at, y) if cut.axis == "x" else (x, cut.at)
        for panel, corner in ((cut.first, near), (cut.second, (x, y))):
            if panel is not None:
                far[panel] = corner
                left[corner] = Freed(number, panel)
    return {
        thing: left[thing.x + thing.length, thing.y + thing.width]
        for thing in (*layout.placed, *layout.offcuts)
    }
