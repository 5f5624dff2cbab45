"""The sizes of screen compared."""

from __future__ import annotations

from typing import TYPE_CHECKING

from wallwright.core.table import Column, Table

if TYPE_CHECKING:
    from wallwright.derive import Wall
    from wallwright.sight.record import Candidate

COLUMNS = (
    Column("Diagonal", "in", 0, "right"),
    Column("Chosen"),
    Column("Frame width", "mm", 0, "right"),
    Column("Frame height", "mm", 0, "right"),
    Column("Mass", "kg", 1, "right"),
    Column("Power", "W", 0, "right"),
    Column("Fits the wall"),
    Column("Can be brought in"),
    Column("Picture, nearest seat", "°", 1, "right"),
    Column("Picture, farthest seat", "°", 1, "right"),
    Column("Verdict"),
)


def screens(wall: Wall) -> Table:
    """Every named size with its picture angles and the verdict in words."""
    chosen = wall.sight.screen.diagonal
    rows = tuple(
        (
            c.diagonal, "yes" if c.diagonal == chosen else "", c.frame_width, c.frame_height, c.mass, c.watts,
            "yes" if c.fits else "no", brought_in(c), c.angle_near, c.angle_far, c.verdict,
        )
        for c in wall.sight.candidates
    )  # fmt: skip
    notes = (
        "Frames are typical for their size: replace them by the maker's drawing before the wall is opened.",
    )
    return Table("screens", "Screen sizes compared", COLUMNS, rows, notes)


def brought_in(row: Candidate) -> str:
    """Whether its carton passes the way in, as far as that was surveyed."""
    if row.route is None or not row.route.surveyed:
        return "not surveyed"
    if not row.route.passes:
        return "no"
    return "on end only" if row.route.on_end else "yes"
