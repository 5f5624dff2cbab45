"""The commissioning list and the snag list, as sheets to be gone through with a pencil."""

from __future__ import annotations

from typing import TYPE_CHECKING

from wallwright.sheets.beside import Notes
from wallwright.sheets.long_table import listed
from wallwright.sheets.paper import Sheet
from wallwright.sheets.words import count
from wallwright.tables.handover import commissioning, snags

if TYPE_CHECKING:
    from wallwright.derive import Wall

CAUTIONS = (
    "Isolate, lock off and prove dead before a cover is opened. Mains are tested by the licensed electrician, to the local code.",
)
READ = (
    "Dead tests come before anything is switched on, pull tests before anything is hung.",
    "Write what the instrument says. What does not pass is a snag: give it a number and a trade.",
)


def sheets(wall: Wall) -> tuple[Sheet, ...]:
    """The commissioning list once the work has begun, the snags once there are any."""
    out: list[Sheet] = []
    table = commissioning(wall)
    if table.rows:
        out += listed(
            wall,
            ("commissioning", "Commissioning"),
            "Handover",
            CAUTIONS,
            table,
            [Notes("How", READ)],
            first=1,
        )
    found = snags(wall)
    if found.rows:
        still = sum(not one.closed for one in wall.job.progress.snags)
        words = f"{count(still, 'snag')} open, {len(found.rows) - still} put right."
        head = [
            Notes(
                "How it stands",
                (words, "A snag is closed by whoever found it, on the day it was seen to be right."),
            )
        ]
        out += listed(wall, ("snags", "Snags"), "Handover", CAUTIONS, found, head, first=1)
    return tuple(out)
