"""Every size of screen from every seat: what each sees, what is wrong for it, and the sizes ranked with the reasons in words."""

from __future__ import annotations

from typing import TYPE_CHECKING

from wallwright.core.table import Column, Table
from wallwright.sight.compare import compare, standing
from wallwright.tables.screens import brought_in

if TYPE_CHECKING:
    from wallwright.derive import Wall

COLUMNS = (
    Column("Rank", "", 0, "right"),
    Column("Diagonal", "in", 0, "right"),
    Column("Seat"),
    Column("Centre height", "mm", 0, "right"),
    Column("Distance", "mm", 0, "right"),
    Column("Picture", "°", 1, "right"),
    Column("Pixels a degree", "", 0, "right"),
    Column("Dots to", "mm", 0, "right"),
    Column("Centre up", "°", 1, "right"),
    Column("Top up", "°", 1, "right"),
    Column("Off by", "°", 1, "right"),
    Column("From the side", "°", 1, "right"),
    Column("Panel bears", "°", 0, "right"),
    Column("Mirrored", "%", 0, "right"),
    Column("Verdict"),
)
RANKED = (
    Column("Rank", "", 0, "right"),
    Column("Diagonal", "in", 0, "right"),
    Column("Chosen"),
    Column("Can hang there"),
    Column("Frame width", "mm", 0, "right"),
    Column("Frame height", "mm", 0, "right"),
    Column("Mass", "kg", 1, "right"),
    Column("Power", "W", 0, "right"),
    Column("Can be brought in"),
    Column("Why"),
)


def screens_by_seats(wall: Wall) -> Table:
    """One row for each size and seat; every size hung in its own best place first."""
    rows = tuple(
        (
            row.rank, row.diagonal, seat.seat, seat.hangs, seat.distance, seat.picture_angle, seat.pixels,
            seat.acuity_distance, seat.centre_up, seat.top_up, seat.off, seat.sideways, seat.class_limit, 100 * seat.mirrored,
            seat.verdict,
        )
        for row in compare(wall.job, wall.face, wall.limits)
        for seat in row.seats
    )  # fmt: skip
    notes = (
        "Dots to: nearer than this, the dots of the picture can be told apart.",
        "Mirrored: windows without their blinds, lamps after dark.",
    )
    return Table("screens_by_seats", "Screen sizes from every seat", COLUMNS, rows, notes)


def screens_ranked(wall: Wall) -> Table:
    """The sizes, best first, with the reasons."""
    chosen, ranked = wall.sight.screen.diagonal, compare(wall.job, wall.face, wall.limits)
    rows = tuple(
        (
            row.rank, row.diagonal, "yes" if row.diagonal == chosen else "", "yes" if row.possible else "no", row.frame_width,
            row.frame_height, row.mass, row.watts, brought_in(row), "; ".join(row.reasons),
        )
        for row in ranked
    )  # fmt: skip
    notes = (
        *([standing(ranked, chosen)] if ranked else []),
        "Ranked: those that can hang there first; then by the hours of the seats with a fault, with a worry, then by picture angle.",
    )
    return Table("screens_ranked", "Screen sizes, best first", RANKED, rows, notes)
