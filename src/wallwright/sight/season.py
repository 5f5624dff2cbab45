"""What is asked of the sun over a year, and the form of the answer: when it falls on the picture, when an eye sees it mirrored.

Axes of the wall: x right, y into the wall (the room is y < 0), z up; mm. The answer itself is worked out in `year`.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from wallwright.core.why import Given, Why
from wallwright.job.face import Face
from wallwright.job.survey import Survey, Window
from wallwright.sight.record import SeatView
from wallwright.sight.reflect import Glass, Point3

MONTHS = ("Jan", "Feb", "Mar", "Apr", "May", "Jun", "Jul", "Aug", "Sep", "Oct", "Nov", "Dec")
STEP = 15.0
"""Minutes between the moments that are looked at."""
TWO_A_MONTH = (8, 23)
"""Days of the month that stand for the whole of it where a quick answer will do."""


def sampled(step: float, days: tuple[int, ...]) -> str:
    """How the year is looked at, in words: `every day, every 15 minutes`."""
    looked = f"days {' and '.join(map(str, days))} of each month" if days else "every day"
    return f"{looked}, every {step:g} minutes"


@dataclass(frozen=True, slots=True)
class Pane:
    """An opening that the sun may shine through.

    corner : its lower near corner on the room's face of its wall · along : level direction from there · out : out of the room ·
    reveal : depth of the opening · overhang : beyond that, over its head [mm] · horizon : hides the sun below it [deg]
    """

    ref: str
    corner: Point3
    along: Point3
    out: Point3
    width: float
    height: float
    reveal: float = 0.0
    overhang: float = 0.0
    horizon: float = 0.0


@dataclass(frozen=True, slots=True)
class SunQuestion:
    """When does the sun fall on this picture, or is mirrored by it into these eyes? Clear sky, blinds open, empty room.

    bearing : azimuth of the wall's y · utc_offset : hours of the clock ahead of universal time, None = mean time of the place ·
    step : minutes · days : of each month that are looked at, each standing for its share of the month; () = all
    """

    latitude: float
    longitude: float
    bearing: float
    utc_offset: float | None
    glass: Glass
    panes: tuple[Pane, ...]
    seats: tuple[tuple[str, Point3], ...]
    year: int = 2025
    step: float = STEP
    days: tuple[int, ...] = ()


@dataclass(frozen=True, slots=True)
class SunHours:
    """Hours of one effect in the year.

    window : its ref, or "all" · seat : whose eye the sun is mirrored into; "" = its light lies on the picture ·
    table : 12 months of 24 hours of the day, in hours · most : largest share of the picture lit at once (0..1) ·
    when : that moment, in words ("" where there is none) · at : month 1 to 12, day and hour of it
    """

    window: str
    seat: str
    total: float
    table: tuple[tuple[float, ...], ...]
    most: float = 0.0
    when: str = ""
    at: tuple[int, int, float] | None = None

    @property
    def says(self) -> str:
        """The months and the hours of the day in which it happens: `Oct to Feb, 15 to 18 h`."""
        months = [i for i, row in enumerate(self.table) if sum(row) > 0]
        if not months:
            return "never"
        hours = [h for h in range(24) if any(row[h] > 0 for row in self.table)]
        return f"{_spans(months)}, {hours[0]} to {hours[-1] + 1} h"


@dataclass(frozen=True, slots=True)
class SunYear:
    """The answer: hours on the picture by window and for all windows together, and mirrored into each seat's eyes."""

    on_screen: tuple[SunHours, ...]
    mirrored: tuple[SunHours, ...]
    clock: str

    def on(self, window: str = "all") -> SunHours:
        """The hours on the picture through that window. KeyError where it was not asked for."""
        return next(hours for hours in self.on_screen if hours.window == window)


def _spans(months: Sequence[int]) -> str:
    """Months as spans that may run over the new year."""
    inside = set(months)
    if len(inside) == 12:
        return "all year"
    starts = [m for m in months if (m - 1) % 12 not in inside]
    said: list[str] = []
    for start in starts:
        end = start
        while (end + 1) % 12 in inside:
            end = (end + 1) % 12
        said.append(MONTHS[start] if start == end else f"{MONTHS[start]} to {MONTHS[end]}")
    return " and ".join(said)


def missing(survey: Survey) -> tuple[str, ...]:
    """The fields without which the sun's way into this room cannot be known."""
    place = survey.place
    lacks = [
        f"survey.place.{name}"
        for name in ("latitude", "longitude", "bearing")
        if getattr(place, name) is None
    ]
    if survey.room.depth is None and any(window.wall == "opposite" for window in survey.windows):
        lacks.append("survey.room.depth")
    return tuple(lacks)


def pane_of(window: Window, depth: float, width: float) -> Pane:
    """The window as an opening in a room that deep, before a wall that wide."""
    near, sill = window.along.mm, window.sill.mm
    corner, along, out = {
        "opposite": ((near, -depth, sill), (1.0, 0.0, 0.0), (0.0, -1.0, 0.0)),
        "left": ((0.0, -near, sill), (0.0, -1.0, 0.0), (-1.0, 0.0, 0.0)),
        "right": ((width, -near, sill), (0.0, -1.0, 0.0), (1.0, 0.0, 0.0)),
    }[window.wall]
    return Pane(
        window.ref,
        corner,
        along,
        out,
        window.width.mm,
        window.height.mm,
        window.reveal.mm,
        window.overhang.mm,
        window.horizon,
    )


def ask(
    survey: Survey,
    face: Face,
    glass: Glass,
    seats: Sequence[SeatView],
    step: float = STEP,
    days: tuple[int, ...] = (),
    windows: Sequence[Window] | None = None,
) -> SunQuestion | Why:
    """The question for this room, or a Why that says what is missing to ask it. `windows`: those that matter; None = all."""
    panes = survey.windows if windows is None else windows
    if not panes:
        return Why(
            "sun", "not asked", "", "no window is surveyed: no sun comes in", "", (), "the survey", "derived"
        )
    lacks = missing(survey)
    place = survey.place
    if lacks or place.latitude is None or place.longitude is None or place.bearing is None:
        return Why(
            "sun", "not known", "", f"enter {', '.join(lacks)}: without {'it' if len(lacks) == 1 else 'them'} nobody can say "
            "when the sun falls on the screen", "", tuple(Given(field, "missing") for field in lacks), "the survey", "derived",
        )  # fmt: skip
    depth = survey.room.depth.mm if survey.room.depth is not None else 0.0
    return SunQuestion(
        place.latitude, place.longitude, place.bearing, place.utc_offset, glass,
        tuple(pane_of(window, depth, face.width) for window in panes),
        tuple((seat.ref, seat.eye) for seat in seats), step=step, days=days,
    )  # fmt: skip
