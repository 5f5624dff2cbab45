"""The saw cuts' numbers on a cutting plan: each stands in the line of its cut, as in `cutting_plan.csv`; a trim cut's beside the sheet."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from math import ceil
from typing import TYPE_CHECKING

from wallwright.core.drawing import TEXT_SMALL, Leader, Mark, Text
from wallwright.core.shape import Box, Point2
from wallwright.cutting.model import to_mm
from wallwright.sheets.ink import text_box
from wallwright.sheets.place import CLEAR
from wallwright.sheets.taken import Taken

if TYPE_CHECKING:
    from wallwright.cutting.model import Cut, SheetPlan

FIRST, FIRST_TRIM = (
    0.33,
    0.62,
)  # share of the cut tried first: names stand in the middle, the sheet's own above its first half
STEP = 0.7  # between two places tried along a cut [paper mm]
ASIDE = (-0.6, 0.6, -1.1, 1.1)  # beside the line, which still runs into the number [paper mm]
OVER = 0.6  # by which a number may stand over its cut's end [paper mm]
BESIDE = 1.2  # from the sheet's edge to the number of a trim cut [paper mm]


def numbers(plan: SheetPlan, scale: float, texts: Sequence[Text]) -> list[Mark]:
    """A number for every cut, clear of the texts and of one another; led out where a cut has no room for it.

    `texts`: what is written already. A place where another cut ends is taken only where there is no other.
    """
    taken = Taken(scale, (text_box(text, scale).grown(CLEAR / 2 * scale) for text in texts))
    shortest_first = sorted(enumerate(plan.cuts, 1), key=lambda item: item[1].end - item[1].start)
    return [_number(str(number), cut, plan, scale, taken) for number, cut in shortest_first]


def _number(words: str, cut: Cut, plan: SheetPlan, scale: float, taken: Taken) -> Mark:
    busy = [to_mm(other.at) for other in plan.cuts if _meets(cut, other)]
    first: tuple[Text, Box] | None = None  # free, though another cut ends there
    for text, box in _spots(words, cut, plan, scale):
        if not taken.free(box):
            continue
        first = first or (text, box)
        low, high = _stretch(box, cut)
        if not any(low - CLEAR * scale <= at <= high + CLEAR * scale for at in busy):
            first = text, box
            break
    if first is not None:
        taken.add(first[1].grown(CLEAR / 2 * scale))
        return first[0]
    at = _point(cut, 0.5, 0.0)
    return Leader((at, (at[0] + 5 * scale, at[1] + 4 * scale)), words, layer="cuts", ref=f"cut {words}")


def _spots(words: str, cut: Cut, plan: SheetPlan, scale: float) -> Iterator[tuple[Text, Box]]:
    """Places along the cut, in its line before half beside it, each with the box that the number takes."""
    start, end = to_mm(cut.start), to_mm(cut.end)
    steps = 2 * ceil((end - start) / (2 * STEP * scale))
    first = steps * (FIRST if cut.stage else FIRST_TRIM)
    along = sorted(range(steps + 1), key=lambda i: abs(i - first))
    middle = TEXT_SMALL / 2  # the text's foot lies below the line, or right of an upright one [paper mm]
    for aside in (0.0, *ASIDE) if cut.stage else (_outside(cut, plan, scale),):
        for i in along:
            share = i / max(1, steps)
            if cut.axis == "x":
                at, turn = _point(cut, share, (aside + middle) * scale), 90.0
            else:
                at, turn = _point(cut, share, (aside - middle) * scale), 0.0
            text = Text(at, words, anchor="middle", turn=turn, layer="cuts", ref=f"cut {words}")
            box = text_box(text, scale)
            low, high = _stretch(box, cut)
            if start - OVER * scale <= low and high <= end + OVER * scale:
                yield text, box


def _outside(cut: Cut, plan: SheetPlan, scale: float) -> float:
    """How far beside a trim cut its number stands: outside the sheet, whose edge is too near the trim line [paper mm]."""
    size = to_mm(plan.sheet.length if cut.axis == "x" else plan.sheet.width)
    out, at = BESIDE + TEXT_SMALL / 2, to_mm(cut.at)
    return -out - at / scale if at < size / 2 else out + (size - at) / scale


def _stretch(box: Box, cut: Cut) -> tuple[float, float]:
    """What a text in that box takes of the cut's line [mm]."""
    return (box.z, box.top) if cut.axis == "x" else (box.x, box.right)


def _point(cut: Cut, share: float, aside: float) -> Point2:
    """The point after this share of the cut's length, so far above or right of it [mm]."""
    along = to_mm(cut.start) + share * (to_mm(cut.end) - to_mm(cut.start))
    return (to_mm(cut.at) + aside, along) if cut.axis == "x" else (along, to_mm(cut.at) + aside)


def _meets(cut: Cut, other: Cut) -> bool:
    """Whether another cut ends in this one's line; a kerf's width apart at most, hence a centimetre's grace."""
    return other.axis != cut.axis and min(abs(other.start - cut.at), abs(other.end - cut.at)) <= 100
