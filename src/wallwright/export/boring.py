"""The boring table as CSV: one hole a line, for the workshop's machine or its bench."""

from __future__ import annotations

from typing import TYPE_CHECKING

from wallwright.export.xlsx import csv
from wallwright.tables.boring import in_order

if TYPE_CHECKING:
    from wallwright.derive import Wall

HEADS = ("part", "face", "x", "y", "diameter", "depth", "through", "purpose")


def boring_csv(wall: Wall) -> bytes:
    """Every hole of every board [mm]: x along the board and y across it from its datum corner, in an edge y below the inside face."""
    rows = [
        (
            hole.part, hole.face, round(hole.x, 2), round(hole.y, 2), hole.diameter, round(hole.depth, 2), int(hole.through), hole.what,
        )
        for hole in in_order(wall)
    ]  # fmt: skip
    return csv(HEADS, rows)
