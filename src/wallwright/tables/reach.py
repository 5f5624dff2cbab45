"""How each box is reached: its remote from every seat, its radio, the room round it."""

from __future__ import annotations

from typing import TYPE_CHECKING

from wallwright.core.table import Column, Table
from wallwright.rules.reach_paths import beams, radio_loss, repeater, standing, works_by_radio

if TYPE_CHECKING:
    from wallwright.derive import Wall

COLUMNS = (
    Column("Ref"),
    Column("Box"),
    Column("Stands in"),
    Column("Remote"),
    Column("Seats that reach it"),
    Column("Stopped by"),
    Column("Radio loses", "dB", 0, "right"),
    Column("Room over it", "mm", 0, "right"),
    Column("Behind it", "mm", 0, "right"),
)


def reach(wall: Wall) -> Table:
    """Every box that has a place."""
    found, by_repeater = beams(wall), repeater(wall)
    rows: list[tuple[str | float | None, ...]] = []
    for item in standing(wall):
        theirs = [one for one in found if one.device == item.device.ref]
        good = [one.seat for one in theirs if by_repeater or not one.stopped]
        stopped = dict.fromkeys(one.stopped for one in theirs if one.stopped and not by_repeater)
        rows.append(
            (
                item.device.ref, item.device.name, item.bay.ref if item.bay else item.device.place.replace("_", " "),
                {"ir": "infrared"}.get(item.device.control, item.device.control),
                ", ".join(good) if theirs else "-", ", ".join(stopped),
                radio_loss(wall, item)[0] if works_by_radio(wall, item) else None,
                item.level.height - item.device.height if item.level else None,
                item.bay.depth - item.device.depth if item.bay else None,
            )
        )  # fmt: skip
    notes = ("Test each remote from each seat before the fitter leaves, with every front shut.",)
    return Table("reach", "Reach of the boxes", COLUMNS, tuple(rows), notes)
