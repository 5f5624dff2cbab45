"""Conduit and cable runs."""

from __future__ import annotations

from typing import TYPE_CHECKING

from wallwright.core.table import Column, Table
from wallwright.tables.points import DESIGN_AID, said

if TYPE_CHECKING:
    from wallwright.derive import Wall
    from wallwright.services.record import Run

COLUMNS = (
    Column("Ref"),
    Column("Kind"),
    Column("From"),
    Column("To"),
    Column("Length", "m", 2, "right"),
    Column("Longest allowed", "m", 1, "right"),
    Column("Bends", "", 0, "right"),
    Column("In it"),
    Column("Bore", "mm", 1, "right"),
    Column("Fill", "%", 0, "right"),
    Column("Runs in"),
)

LIES = {
    "void": "panel void",
    "chase": "chase",
    "cavity": "stud wall",
    "surface": "trunking",
    "unknown": "unknown wall",
}


def _kept(run: Run) -> str:
    """What keeps a nail from a cable that no accessory in view tells of."""
    if not run.protect:
        return ""
    return ", under steel" if run.steel else ", 50 deep or steel"


def runs(wall: Wall) -> Table:
    """Every run with its length, bends and fill. Longest allowed is empty where the link has no limit."""
    rows = tuple(
        (
            r.ref, said(r.kind), r.start, r.end, r.length / 1000, r.longest / 1000 if r.longest else None, r.bends, r.cable,
            r.bore or None, 100 * r.fill if r.bore else None, LIES[r.lies] + _kept(r),
        )
        for r in wall.services.runs
    )  # fmt: skip
    notes = (
        DESIGN_AID,
        "Slow bends, a draw wire in every conduit; pull it through before the wall is closed.",
        "Keep power and data apart as the local code asks; cross at right angles.",
        "50 deep or steel: no accessory in view tells of this cable; 50 mm of depth or an earthed steel cover all along. "
        "Under steel: the leaf bears no chase so deep.",
        "In a panel's void: leave a gap in each batten that a run crosses.",
    )
    return Table("runs", "Conduit and cable runs", COLUMNS, rows, notes)
