"""What the room does to the screen: the largest later one, captions, the carton's way in, sight lines."""

from __future__ import annotations

from typing import TYPE_CHECKING

from wallwright.core.table import Column, Table
from wallwright.rules.screen_room import later as largest_later
from wallwright.rules.screen_room import sight_lines

if TYPE_CHECKING:
    from wallwright.derive import Wall

LATER = (
    Column("Now", "in", 0, "right"),
    Column("Largest later", "in", 0, "right"),
    Column("Next", "in", 0, "right"),
    Column("What stops the next"),
    Column("Free width", "mm", 0, "right"),
    Column("Free height", "mm", 0, "right"),
)
CAPTIONS = (
    Column("Seat"),
    Column("Reads"),
    Column("Height seen", "arcmin", 1, "right"),
    Column("Needs", "arcmin", 1, "right"),
    Column("Acuity", "", 2, "right"),
    Column("Reads to", "mm", 0, "right"),
    Column("Would need a screen of", "in", 0, "right"),
)
ROUTE = (Column("Place"), Column("Passes"), Column("Carried"))
LINES = (
    Column("Seat"),
    Column("Looks at"),
    Column("Over"),
    Column("Out from the wall", "mm", 0, "right"),
    Column("Top", "mm", 0, "right"),
    Column("Sight line", "mm", 0, "right"),
    Column("Clear", "mm", 0, "right"),
    Column("Wants", "mm", 0, "right"),
    Column("Good"),
)


def later_screen(wall: Wall) -> Table:
    """The largest screen that the wall, as it is set out, still takes later, and what stops the next size."""
    if not wall.sight.candidates:
        return Table("later_screen", "A larger screen later", LATER, ())
    found = largest_later(wall)
    row = (
        wall.sight.screen.diagonal, found.largest, found.next, "; ".join(found.stops) or "nothing in the library is larger",
        found.room[0], found.room[1],
    )  # fmt: skip
    slack = wall.limits.value("sight.plate_slack")
    notes = (
        f"Largest later: on the same plate, its middle where it is, or up to {slack:.0f} mm up or down.",
        "Free width and height: what a frame may fill about the same middle, each taken alone.",
    )
    if found.move is not None:
        notes = (f"{found.move.says.capitalize()}.", *notes)
    return Table("later_screen", "A larger screen later", LATER, (row,), notes)


def captions(wall: Wall) -> Table:
    """Whether captions are read from each seat."""
    rows = tuple(
        (c.seat, "yes" if c.reads else "no", c.minutes, c.needed, c.acuity, c.nearest, c.diagonal)
        for c in wall.sight.legible
    )
    share = wall.limits.value("sight.caption_share")
    notes = (
        f"Letters of {share:.1%} of the picture's height. Acuity 1 = 6/6, with the spectacles worn there.",
    )
    return Table("captions", "Captions from each seat", CAPTIONS, rows, notes)


def carton_route(wall: Wall) -> Table:
    """Every narrow place on the way in and how the screen's carton passes it."""
    route = wall.sight.route
    rows = tuple(
        (step.place, "yes" if step.passes else "NO", step.how or "not at all")
        for step in (route.steps if route else ())
    )
    says = route.says if route else ""
    notes = (
        f"{says[:1].upper()}{says[1:]}.",
        "On end or lying flat: only with the carrier's and the maker's word.",
    )
    return Table("carton_route", "The carton's way in", ROUTE, rows, notes)


def sight_line_table(wall: Wall) -> Table:
    """Every sight line to the picture's foot, and to the infrared eye, over what stands before it; the tightest first."""
    rows = tuple(
        (
            seen.seat, seen.what, seen.over.removeprefix("the "), seen.out, seen.top, seen.ray, seen.clear, seen.wants,
            "yes" if seen.good else "NO",
        )
        for seen in (sight_lines(wall) if wall.sight.seats else ())
    )  # fmt: skip
    return Table("sight_lines", "Sight lines", LINES, rows)
