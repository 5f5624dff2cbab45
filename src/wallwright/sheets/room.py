"""Where the view and what stands beside it go on an A3 sheet, and at which scale."""

from __future__ import annotations

from dataclasses import dataclass

from wallwright.core.shape import Box
from wallwright.sheets.paper import FOOT, SCALES

FULL = Box(21.0, FOOT.top + 2.0, 388.0, 287.0 - FOOT.top - 4.0)
"""What the frame leaves above the title block."""
MARGIN = (66.0, 54.0)
"""Room for dimensions and levels about a wall's elevation, paper mm."""
NARROW = 105.0
"""Width of the column for notes and tables."""
LEAST = 42.0
"""Least height of the strip for notes below a wide view."""
LOW = 31.0
"""The same where the strip takes the legend alone, in three columns, and all else goes on the next sheet."""


@dataclass(frozen=True, slots=True)
class Layout:
    """A scale, the room for the view, and the rooms for what stands beside it. Rooms in paper mm."""

    scale: float
    view: Box
    beside: tuple[Box, ...]


def column_right(narrow: float = NARROW) -> tuple[Box, tuple[Box, ...]]:
    """The view at the left, one column of `narrow` paper mm at the right."""
    view = Box(FULL.x, FULL.z, FULL.width - narrow, FULL.height)
    return view, (Box(view.right + 2, FULL.z, narrow - 7, FULL.height),)  # clear of the centring mark


def strip_below(height: float) -> tuple[Box, tuple[Box, ...]]:
    """The view across the whole sheet, three columns of `height` paper mm below it."""
    third = (FULL.width - 16.0) / 3
    below = tuple(Box(FULL.x + 3 + i * (third + 5), FULL.z, third, height - 2) for i in range(3))
    return Box(FULL.x, FULL.z + height, FULL.width, FULL.height - height), below


def layout(
    width: float, height: float, margin: tuple[float, float] = MARGIN, *, alone: bool = False
) -> Layout:  # fmt: skip
    """The largest ISO 5455 scale at which `width` x `height` [real mm] fits with its margin [paper mm], and the rooms for it.

    Notes stand in a column at the right; where the view is too wide for that, in a strip below it. alone : a view that fills its
    sheet is better than one at a smaller scale: what does not go into the strip below it goes on the next sheet
    (`long_table.beside_and_after`). ValueError where not even 1:500 fits.
    """
    for scale in (float(s) for s in SCALES[3:]):
        wide, high = width / scale + margin[0], height / scale + margin[1]
        if wide <= FULL.width - NARROW and high <= FULL.height:
            return Layout(scale, *column_right())
        if wide <= FULL.width and high <= FULL.height - (LOW if alone else LEAST):
            return Layout(scale, *strip_below(FULL.height - high))
    raise ValueError(f"{width:g} x {height:g} mm does not fit an A3 sheet at any scale to 1:500")


def about(box: Box, scale: float) -> Box:
    """How far figures and labels may stand off a wall's elevation [real mm]: left and below for chains, right for levels."""
    left, below, right, above = (side * scale for side in (33.0, 31.0, 44.0, 24.0))
    return Box(box.x - left, box.z - below, box.width + left + right, box.height + below + above)
