"""The wall as each seat sees it: a line drawing in one-point perspective, the screen black and the screen on.

What lies in the wall's face is to scale; what stands before it is larger, as the eye has it. Hidden lines are hidden.
"""

from __future__ import annotations

from collections.abc import Sequence
from math import ceil
from typing import TYPE_CHECKING

from wallwright.core.drawing import Drawing, Hatch, Line, Mark, Pattern, Text, rectangle
from wallwright.core.shape import Box
from wallwright.core.units import show_mm
from wallwright.sheets.beside import Legend, Notes, column
from wallwright.sheets.paper import Fields, Sheet, View, centred
from wallwright.sheets.perspective import NEAR, painted
from wallwright.sheets.room import FULL
from wallwright.sheets.seat_names import names, rings
from wallwright.sheets.seat_scene import room, things

if TYPE_CHECKING:
    from wallwright.derive import Wall
    from wallwright.sight.record import SeatView

GUTTER = 6.0  # paper mm between the two views
STRIP = 58.0  # paper mm for notes below them
ROWS = 12.0  # paper mm for the names above and below a view
TITLE = 7.0  # paper mm for what stands over a view
ASIDE = 0.9
"""How far beside eye and screen a view reaches, of the eye's distance: the tangent of 42 degrees."""


def seat_view(wall: Wall, seat_ref: str, *, on: bool = False, scale: float = 20.0) -> Drawing:
    """The wall from the eye of one seat, to scale in the wall's face.

    on : with a picture and the LED lines lit; else the screen is black and shows what it mirrors for this seat ·
    scale : for the letters and line widths. KeyError names the seats there are.
    """
    seat = next((seat for seat in wall.sight.seats if seat.ref == seat_ref), None)
    if seat is None:
        raise KeyError(
            f"no seat {seat_ref!r}; there are {', '.join(s.ref for s in wall.sight.seats) or 'none'}"
        )
    window = view_window(wall, seat)
    marks: list[Mark] = [*room(wall, seat.eye, window)]
    for thing in painted(list(things(wall, seat, window, on=on)), seat.eye):
        marks += thing.marks
    marks += rings(wall, seat, window)
    marks.append(rectangle(window, "medium", layer="frame"))
    marks += names(wall, seat, window, marks, scale)
    title = f"Seat {seat.ref}, screen {'on' if on else 'black'}"
    return Drawing(f"view {seat.ref} {'on' if on else 'black'}", title, scale, tuple(marks), window)


def view_window(wall: Wall, seat: SeatView) -> Box:
    """What the view shows of the wall's plane: the wall, and a margin about it that grows with the distance.

    What lies farther than `ASIDE` beside eye and screen is left out: a long wall would make the rest too small to read.
    """
    away, frame = -seat.eye[1], wall.sight.screen.frame
    side, low, high = 0.07 * away, 0.2 * away, 0.04 * away
    left = max(-side, min(frame.x, seat.eye[0]) - ASIDE * away)
    right = min(wall.face.width + side, max(frame.right, seat.eye[0]) + ASIDE * away)
    return Box(left, -low, right - left, wall.face.height + low + high)


def sheets(wall: Wall) -> tuple[Sheet, ...]:
    """One sheet a seat."""
    return tuple(_sheet(wall, seat) for seat in wall.sight.seats if seat.distance > 2 * NEAR)


def _sheet(wall: Wall, seat: SeatView) -> Sheet:
    window = view_window(wall, seat)
    half, high = (FULL.width - 8.0 - GUTTER) / 2, FULL.height - STRIP - TITLE
    scale = float(ceil(max(window.width / half, window.height / (high - ROWS))))
    views = [
        centred(seat_view(wall, seat.ref, on=on, scale=scale), Box(x, FULL.z + STRIP, half, high))
        for on, x in ((False, FULL.x + 4.0), (True, FULL.x + 4.0 + half + GUTTER))
    ]
    marks: list[Mark] = [
        Text(
            (view.x + window.x / scale, view.y + window.top / scale + ROWS / 2 + 2.0),
            words,
            3.5,
            bold=True,
            layer="notes",
        )
        for view, words in zip(views, ("Screen black, by day", "Screen on, LED lines lit"), strict=True)
    ]
    third = (FULL.width - 16.0) / 3
    rooms = tuple(Box(FULL.x + 3 + i * (third + 5), FULL.z, third, STRIP - 4) for i in range(3))
    for block, place in zip(_beside(wall, seat, views), rooms, strict=True):
        marks += column((block,), (place,))
    return Sheet(
        f"view_{seat.ref}",
        f"View from seat {seat.ref}",
        "Perspective",
        tuple(views),
        tuple(marks),
        Fields.of(wall.job),
        (
            "As the eye sees it: not to scale, no size is taken from it. For the client, not for the workshop.",
        ),
        job_title=wall.job.title,
        pictured=True,
    )


_HATCHES: dict[Pattern, str] = {
    "allowed": "mirrored in the black screen",
    "dark": "open bay",
    "light": "cloth front",
    "fluted": "fluted panel",
    "stone": "stone",
}


def _legend(views: Sequence[View]) -> Legend:
    """The cones, and what else is drawn in either view."""
    marks = [mark for view in views for mark in view.drawing.marks]
    patterns = {mark.pattern for mark in marks if isinstance(mark, Hatch)}
    rows = [
        ("pen:chain", "cone of 30° about the line of sight to the picture's middle"),
        ("pen:dashed", "cone of 40° about it"),
    ]
    if any(isinstance(mark, Line) and mark.layer == "lights" for mark in marks):
        rows.append(("pen:extra", "LED line, lit"))
    return Legend((*rows, *((f"hatch:{p}", words) for p, words in _HATCHES.items() if p in patterns)))


def _beside(wall: Wall, seat: SeatView, views: Sequence[View]) -> tuple[Notes, Legend, Notes]:
    screen = wall.sight.screen
    seen = [hit for hit in wall.sight.reflections if hit.seat == seat.ref]
    facts = (
        f"{seat.kind.replace('_', ' ').capitalize()}, {seat.posture}: eye {show_mm(seat.eye[2])} above FFL"
        f"{'' if seat.eye_measured else ' (computed)'}, {show_mm(-seat.eye[1])} from the wall, x = {show_mm(seat.eye[0])}.",
        f"Picture {seat.picture_angle:.1f}° wide, seen {seat.sideways:.1f}° from the side.",
        f"Screen centre {abs(seat.centre_up):.1f}° {'up' if seat.centre_up >= 0 else 'down'}, top edge {seat.top_up:.1f}°.",
    )
    said = [
        f"{hit.window} is mirrored in {hit.share:.0%} of the picture, at {hit.ratio:.2f} of its luminance: {hit.verdict}"
        for hit in seen
    ]
    notes = (
        f"The eye looks at the wall squarely; the {screen.diagonal:g} in screen hangs as designed, tilt {screen.tilt:g}°.",
        *(said or ["Nothing surveyed is mirrored in the screen from here."]),
        f"Left out: what is nearer to the eye than {show_mm(NEAR)}, and what nobody surveyed.",
    )
    return Notes(f"Seat {seat.ref}", facts), _legend(views), Notes("Notes", notes)
