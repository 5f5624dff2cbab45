"""The cable map as a list: what plugs into what, and how long each cable is bought."""

from __future__ import annotations

from typing import TYPE_CHECKING

from wallwright.core.table import Column, Table
from wallwright.services.plugs import Plug
from wallwright.services.signals import picture_link
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
    return wall.services.plugs


def plugs(wall: Wall) -> Table:
    """What plugs into what, by cable number."""
    rows = tuple(
        (
            p.ref,
            p.words,
            p.start,
            p.start_port,
            p.end,
            p.end_port,
            p.way / 1000,
            p.bought / 1000,
            through_words(p),
        )
        for p in plug_list(wall)
    )
    return Table(
        "cable_map", "Cable map: what plugs into what", COLUMNS, rows, (DESIGN_AID, *plug_notes(wall))
    )


def through_words(plug: Plug) -> str:
    """The conduits a cable goes through, and that some of its way has none."""
    words = ", ".join(plug.through)
    return f"{words}, in part none" if words and plug.bare else "none" if plug.bare else words


def plug_notes(wall: Wall) -> tuple[str, ...]:
    """How lengths are reckoned, which picture cable is too long for its kind, and which cables have no way."""
    made = plug_list(wall)
    longest, link = picture_link(wall.sight.screen.lines, wall.job.design.wiring.picture_cable, wall.limits)
    long = [p.ref for p in made if p.kind == "picture" and p.bought > longest]
    bare = [p.ref for p in made if p.bare]
    spare = wall.limits.value("services.end_slack")
    return (
        f"Way: along and up, through the conduit where named, with {spare:.0f} mm spare at each box. Buy: the next length sold.",
        f"Longer than the {longest / 1000:g} m that a {link} carries: {', '.join(long)}."
        if long
        else f"No picture cable is longer than the {longest / 1000:g} m that a {link} carries.",
        *(
            (f"No conduit for some of the way: {', '.join(bare)}. Settle it before the wall is closed.",)
            if bare
            else ()
        ),
        "Label both ends of each cable with its number before it is pulled. No mains lead goes through a wall.",
    )
