"""What a vertical cut through the wall's parts shows: the boards it meets, hatched, and a piece of the wall behind them."""

from __future__ import annotations

from collections.abc import Iterable
from typing import TYPE_CHECKING

from wallwright.core.drawing import Hatch, Line, Mark, Pattern, rectangle
from wallwright.core.shape import Box
from wallwright.sheets.details_made import Named

if TYPE_CHECKING:
    from wallwright.carcass.record import Part
    from wallwright.derive import Wall

DEEP = 30.0
"""How much of the wall is drawn [mm]."""
Sketch = tuple[list[Mark], list[Named], list[Mark], float, str]
"""What is drawn, what is named, the sizes, the scale and the title."""


def cut_board(box: Box, ref: str, pattern: Pattern = "board") -> list[Mark]:
    """A board cut through: white under its hatch, its edge drawn medium."""
    return [
        rectangle(box, "medium", fill="#fff", layer="units", ref=ref),
        Hatch(box.corners, pattern, layer="hatch", ref=ref),
    ]


def wall_piece(low: float, high: float) -> list[Mark]:
    """A piece of the wall in a vertical cut: y across, its face drawn extra wide."""
    return [
        Hatch(Box(0.0, low, DEEP, high - low).corners, "masonry", layer="hatch", ref="wall"),
        Line(((0.0, low), (0.0, high)), "extra", layer="wall", ref="wall"),
    ]


def cut_through(wall: Wall, at: float, window: Box, skip: Iterable[str] = ()) -> list[tuple[Part, Box]]:
    """The parts that a vertical cut at x meets, each with as much of it as lies in the window (y across, z up)."""
    leave = set(skip)
    out: list[tuple[Part, Box]] = []
    for part in wall.carcass.parts:
        b = part.block
        if part.id in leave or not b.x < at < b.x + b.dx or _hollow(part):
            continue
        shown = Box(b.y, b.z, b.dy, b.dz).shared(window)
        if shown is not None:
            out.append((part, shown))
    return out


def _hollow(part: Part) -> bool:
    """Parts whose block is only the room they take: bent linings and faces with a hole."""
    return part.role in ("lining", "face")


def boards(cut: Iterable[tuple[Part, Box]]) -> list[Mark]:
    """All boards that were cut through."""
    return [mark for part, box in cut for mark in cut_board(box, part.id)]
