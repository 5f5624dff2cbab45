"""How a detail is put together: its title above, its sizes below and left, its things named in a ladder at its right."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from typing import NamedTuple

from wallwright.core.drawing import TEXT_LABEL, Drawing, Leader, Mark, Text
from wallwright.core.shape import Point2
from wallwright.sheets.grounds import grounded
from wallwright.sheets.ink import extent_of
from wallwright.sheets.place import settle

BAND = 4.6  # paper mm from one named thing to the next


class Named(NamedTuple):
    """A thing of a detail and what it is."""

    at: Point2
    words: str


def composed(
    title: str, scale: float, still: Sequence[Mark], named: Iterable[Named], dims: Iterable[Mark]
) -> Drawing:
    """A detail with its title above, its sizes below and left, and its things named in a ladder at its right."""
    box = extent_of(tuple(still), scale)
    ladder = sorted(named, key=lambda one: -one.at[1])
    right = box.right + 5.0 * scale
    high = min(box.top, box.centre[1] + (len(ladder) - 1) / 2 * BAND * scale)
    labels: list[Mark] = [
        Text((box.x, box.top + 4.0 * scale), f"{title} 1:{scale:g}", TEXT_LABEL, bold=True, layer="text"),
        *dims,
        *(
            Leader((one.at, (right, high - i * BAND * scale)), one.words, layer="text")
            for i, one in enumerate(ladder)
        ),
    ]
    marks = grounded(still, settle(labels, scale), scale)
    return Drawing(title, title, scale, marks, extent_of(marks, scale))
