"""What each seat sees."""

from __future__ import annotations

from typing import TYPE_CHECKING

from wallwright.core.table import Column, Table

if TYPE_CHECKING:
    from wallwright.derive import Wall

COLUMNS = (
    Column("Seat"),
    Column("Kind"),
    Column("Posture"),
    Column("Hours a week", "", 1, "right"),
    Column("Eye height", "mm", 0, "right"),
    Column("Eye"),
    Column("Distance", "mm", 0, "right"),
    Column("Picture", "°", 1, "right"),
    Column("Centre up", "°", 1, "right"),
    Column("Suits", "°", 1, "right"),
    Column("Off by", "°", 1, "right"),
    Column("Top up", "°", 1, "right"),
    Column("From the side", "°", 1, "right"),
    Column("Pixels a degree", "", 0, "right"),
    Column("Best centre", "mm", 0, "right"),
)


def seats(wall: Wall) -> Table:
    """Angles of every seat, and the centre height that would suit it best."""
    rows = tuple(
        (
            s.ref, s.kind, s.posture, s.hours, s.eye[2], "measured" if s.eye_measured else "computed", s.distance,
            s.picture_angle, s.centre_up, s.wanted, s.off, s.top_up, s.sideways, s.pixels, s.best_height,
        )
        for s in wall.sight.seats
    )  # fmt: skip
    heights = wall.sight.heights
    notes = (
        f"Centre used {heights.used:.0f} mm above FFL; recommended {heights.recommended:.0f} mm; least squares by hours "
        f"{heights.best:.0f} mm, least worst angle {heights.minimax:.0f} mm.",
        "Computed eyes stand for a mean adult: measure the real seat with the real person.",
    )
    return Table("seats", "Seats and angles", COLUMNS, rows, notes)
