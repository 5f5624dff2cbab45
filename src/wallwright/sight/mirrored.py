"""What is mirrored in the picture: windows, lamps and LED lines, for each seat, with how much each takes from the picture.

Axes of the wall: x right, y into the wall (the room is y < 0), z up; mm. People and furniture in between are ignored.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from wallwright.core.limit import Limits
from wallwright.job.face import Face
from wallwright.job.survey import Lamp, Survey, Window
from wallwright.sight.record import Reflection, Screen, SeatView
from wallwright.sight.reflect import Glass, Point3, area, into, seen_at
from wallwright.sight.veil import (
    Front,
    Picture,
    contrast,
    front,
    lamp_word,
    picture,
    scattered,
    veiling,
    window_word,
)

ROUND = tuple((math.cos(math.pi * k / 6), math.sin(math.pi * k / 6)) for k in range(12))
"""A round lamp is drawn with twelve corners: 4.5 % smaller than the circle."""
GLOW = {
    "downlight": "bright", "pendant": "opal", "floor_lamp": "shaded", "table_lamp": "shaded", "wall_light": "opal",
    "strip": "bright",
}  # fmt: skip
"""How bright each kind of lamp usually looks."""


@dataclass(frozen=True, slots=True)
class Source:
    """Something bright that may be mirrored: a convex polygon in the room, and its luminance [cd/m²].

    night : seen after dark, else by day · cut_off : angle from straight down beyond which its bright parts are hidden [deg]
    """

    ref: str
    kind: str
    corners: tuple[Point3, ...]
    luminance: float
    night: bool = False
    cut_off: float | None = None

    @property
    def middle(self) -> Point3:
        """The middle of its corners."""
        n = len(self.corners)
        return (
            sum(x for x, _, _ in self.corners) / n,
            sum(y for _, y, _ in self.corners) / n,
            sum(z for _, _, z in self.corners) / n,
        )


@dataclass(frozen=True, slots=True)
class Line:
    """A straight piece of LED strip in the room: its ends, the width of its lit face [mm] and its luminance [cd/m²]."""

    ref: str
    start: Point3
    end: Point3
    width: float
    luminance: float


def glass_of(screen: Screen) -> Glass:
    """The picture as a mirror, pulled out and turned as it is watched."""
    x, out = screen.middle
    middle = (x, -out, screen.picture.centre[1])
    return Glass(middle, screen.picture.width, screen.picture.height, screen.tilt, screen.swivel)


def window_corners(window: Window, depth: float | None, width: float) -> tuple[Point3, ...] | None:
    """The four corners of a window of another wall of a room that deep; None where the depth is needed and unknown."""
    low, high = window.sill.mm, window.sill.mm + window.height.mm
    near, far = window.along.mm, window.along.mm + window.width.mm
    if window.wall == "opposite":
        if depth is None:
            return None
        return (near, -depth, low), (far, -depth, low), (far, -depth, high), (near, -depth, high)
    x = 0.0 if window.wall == "left" else width
    return (x, -near, low), (x, -far, low), (x, -far, high), (x, -near, high)


def windows(survey: Survey, face: Face, limits: Limits) -> tuple[Source, ...]:
    """The windows that can be placed, under an overcast sky, behind their drawn blinds."""
    depth = survey.room.depth.mm if survey.room.depth is not None else None
    bright = limits.value("sight.window_luminance")
    found: list[Source] = []
    for window in survey.windows:
        corners = window_corners(window, depth, face.width)
        if corners is not None:
            found.append(Source(window.ref, "window", corners, bright * window.blind))
    return tuple(found)


def lamps(survey: Survey, glass: Glass, limits: Limits) -> tuple[Source, ...]:
    """The lamps that are lit while the screen is watched after dark."""
    return tuple(lamp_source(lamp, glass, limits) for lamp in survey.lamps if lamp.on_at_night)


def lamp_source(lamp: Lamp, glass: Glass, limits: Limits, place: tuple[float, float] | None = None) -> Source:
    """One lamp as it may be mirrored, where it hangs or at another place (x, y) at the same height."""
    x, y = place or (lamp.x.mm, -lamp.distance.mm)
    shape = _shape(lamp, x, y, glass, limits)
    return Source(lamp.ref, lamp.kind, shape, lamp_luminance(lamp, limits), True, lamp.cut_off)


def lamp_luminance(lamp: Lamp, limits: Limits) -> float:
    """As surveyed, else of its class of brightness, else usual for its kind [cd/m²]."""
    if lamp.luminance is not None:
        return lamp.luminance
    return limits.value(f"sight.glow_{lamp.glow or GLOW[lamp.kind]}")


def _shape(lamp: Lamp, x: float, y: float, glass: Glass, limits: Limits) -> tuple[Point3, ...]:
    """The bright part: a downlight is a level disc, a strip lies level, all others turn their outline to the screen."""
    z = lamp.z.mm
    across = next(
        (size.mm for size in (lamp.width, lamp.diameter) if size is not None),
        limits.value(f"sight.lamp_{lamp.kind}"),
    )
    if lamp.kind == "downlight":
        r = across / 2
        return tuple((x + r * c, y + r * s, z) for c, s in ROUND)
    if lamp.kind == "strip":
        face = lamp.height.mm if lamp.height is not None else limits.value("sight.strip_face")
        dx, dy = (across / 2, 0.0) if lamp.runs == "across" else (0.0, across / 2)
        return _ribbon((x - dx, y - dy, z), (x + dx, y + dy, z), face)
    away = math.hypot(glass.middle[0] - x, glass.middle[1] - y) or 1.0
    side = (
        (glass.middle[1] - y) / away,
        -(glass.middle[0] - x) / away,
    )  # level, square to the way to the screen
    if lamp.height is None and lamp.width is None:
        r = across / 2
        return tuple((x + r * c * side[0], y + r * c * side[1], z + r * s) for c, s in ROUND)
    a, b = across / 2, (lamp.height.mm if lamp.height is not None else across) / 2
    return tuple(
        (x + i * a * side[0], y + i * a * side[1], z + j * b) for i, j in ((-1, -1), (1, -1), (1, 1), (-1, 1))
    )


def _ribbon(start: Point3, end: Point3, width: float) -> tuple[Point3, ...]:
    """A straight strip as a thin rectangle: upright where it runs level, turned to the room where it runs upright."""
    across = (
        (0.0, 0.0, width / 2)
        if abs(end[2] - start[2]) < math.dist(start, end) * 0.7
        else (width / 2, 0.0, 0.0)
    )

    def shifted(point: Point3, by: float) -> Point3:
        return point[0] + by * across[0], point[1] + by * across[1], point[2] + by * across[2]

    return shifted(start, -1), shifted(end, -1), shifted(end, 1), shifted(start, 1)


def strip_luminance(lumens_per_m: float, width: float) -> float:
    """The luminance of a strip that sends its light evenly to one side from a face `width` mm wide: Φ/(π w)."""
    return lumens_per_m / (math.pi * width / 1000)


def mirrored(
    sources: Iterable[Source],
    seats: Sequence[SeatView],
    glass: Glass,
    face: Front,
    day: Picture,
    night: Picture,
    limits: Limits,
) -> tuple[Reflection, ...]:
    """Every source that a seat sees mirrored, in the order of the sources and the seats."""
    axes = glass.axes()
    eyes = [into(axes, glass.middle, seat.eye) for seat in seats]
    half_width, half_height = glass.width / 2, glass.height / 2
    whole = glass.width * glass.height
    found: list[Reflection] = []
    for source in sources:
        corners = [into(axes, glass.middle, corner) for corner in source.corners]
        for seat, eye in zip(seats, eyes, strict=True):
            seen = seen_at(eye, corners, half_width, half_height)
            part = area(seen) / whole if seen else 0.0
            if part <= 0:
                continue
            middle = _middle(seen)
            if source.cut_off is not None and _hidden(source, glass.in_room((middle[0], middle[1], 0.0))):
                continue
            angle = incidence(eye, seen)
            shown = night if source.night else day
            ratio = veiling(source.luminance, face.mirrors_at(angle), shown.mean)
            left = contrast(
                shown.white, shown.black, ratio * shown.mean + scattered(shown.room, face.scatters)
            )
            word = window_word if source.kind == "window" else lamp_word
            found.append(
                Reflection(
                    seat.ref, source.ref, tuple(glass.on_wall(point) for point in seen), part, source.kind,
                    source.luminance, angle, ratio, left, source.night, word(part, ratio, limits),
                )
            )  # fmt: skip
    return tuple(found)


def incidence(eye: Point3, seen: Sequence[tuple[float, float]]) -> float:
    """The angle from the picture's normal at which an eye looks at the middle of what it sees mirrored [deg].

    eye, seen : in the picture's own axes
    """
    x, z = _middle(seen)
    return math.degrees(math.acos(eye[2] / math.dist(eye, (x, z, 0.0))))


def _middle(polygon: Sequence[tuple[float, float]]) -> tuple[float, float]:
    n = len(polygon)
    return sum(x for x, _ in polygon) / n, sum(z for _, z in polygon) / n


def _hidden(source: Source, on_screen: Point3) -> bool:
    """Whether the screen stands beyond the angle at which the lamp hides its bright parts."""
    x, y, z = source.middle
    aside = math.hypot(on_screen[0] - x, on_screen[1] - y)
    return math.degrees(math.atan2(aside, z - on_screen[2])) > (source.cut_off or 0.0)


def of_room(
    survey: Survey, surface: str | None, face: Face, seats: Sequence[SeatView], screen: Screen, limits: Limits
) -> tuple[Reflection, ...]:
    """Windows by day and lamps after dark, mirrored in the screen as it hangs."""
    glass = glass_of(screen)
    sources = (*windows(survey, face, limits), *lamps(survey, glass, limits))
    return _shown(sources, surface, seats, glass, limits)


def of_lines(
    lines: Iterable[Line], surface: str | None, seats: Sequence[SeatView], glass: Glass, limits: Limits
) -> tuple[Reflection, ...]:
    """LED lines mirrored in the screen; what lies behind the picture's plane is not seen in it."""
    sources = tuple(
        Source(line.ref, "line", _ribbon(line.start, line.end, line.width), line.luminance, True)
        for line in lines
    )
    return _shown(sources, surface, seats, glass, limits)


def _shown(
    sources: Iterable[Source], surface: str | None, seats: Sequence[SeatView], glass: Glass, limits: Limits
) -> tuple[Reflection, ...]:
    return mirrored(
        sources, seats, glass, front(surface, limits), picture(False, limits), picture(True, limits), limits
    )
