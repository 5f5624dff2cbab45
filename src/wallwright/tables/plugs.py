"""The cable map as a list: what plugs into what, and how long each cable is bought."""

from __future__ import annotations

from typing import TYPE_CHECKING

from wallwright.core.table import Column, Table
from wallwright.rules.reach_paths import standing
from wallwright.services.plugs import SCREEN, Plug
from wallwright.services.plugs import plugs as plugged
from wallwright.tables.points import DESIGN_AID

if TYPE_CHECKING:
    from wallwright.derive import Wall

COLUMNS = (
    Column("Ref"),
    Column("Cable"),
    Column("From"),
    Column("Socket"),
    Column("To"),
    Column("Its socket"),
    Column("Way", "m", 2, "right"),
    Column("Buy", "m", 1, "right"),
    Column("Through"),
)


def plug_list(wall: Wall) -> tuple[Plug, ...]:
    """Every cable of the wall."""
    places = {item.device.ref: item.box.centre for item in standing(wall)}
    places[SCREEN] = wall.sight.screen.centre
    made = wall.services
    return plugged(made.devices, made.points, made.runs, places, wall.limits.value("services.end_slack"))


def plugs(wall: Wall) -> Table:
    """What plugs into what, by cable number."""
    rows = tuple(
        (p.ref, p.words, p.start, p.start_port, p.end, p.end_port, p.way / 1000, p.bought / 1000, p.through)
        for p in plug_list(wall)
    )
    return Table(
        "cable_map", "Cable map: what plugs into what", COLUMNS, rows, (DESIGN_AID, *plug_notes(wall))
    )


def plug_notes(wall: Wall) -> tuple[str, ...]:
    """How lengths are reckoned, and which picture cable is too long for plain copper."""
    longest = wall.limits.value("services.hdmi_longest")
    long = [p.ref for p in plug_list(wall) if p.kind == "picture" and p.bought > longest]
    spare = wall.limits.value("services.end_slack")
    return (
        f"Way: along and up, through the conduit where named, with {spare:.0f} mm spare at each box. Buy: the next length sold.",
        f"Longer than {longest / 1000:g} m: {', '.join(long)}: active cable, mind its direction."
        if long
        else f"No picture cable is longer than {longest / 1000:g} m: plain ones do.",
        "Label both ends of each cable with its number before it is pulled. No mains lead goes through a wall.",
    )
