"""The largest screen that the finished wall still takes later, and what stops the next one."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from wallwright.core.shape import Box, box_around
from wallwright.sight.place import nearest_free
from wallwright.sight.record import Candidate


@dataclass(frozen=True, slots=True)
class Move:
    """A larger size that would go if the screen's middle moved: to the right and up [mm], negative to the left and down."""

    diagonal: float
    right: float
    up: float

    @property
    def says(self) -> str:
        """In one sentence."""
        ways = [
            f"{abs(by):.0f} mm {ahead if by > 0 else back}"
            for by, ahead, back in ((self.right, "to the right", "to the left"), (self.up, "up", "down"))
            if abs(by) >= 0.5
        ]
        return f"with the middle of the screen moved {' and '.join(ways)}, {self.diagonal:g} in would go"


@dataclass(frozen=True, slots=True)
class Later:
    """largest : the largest size that still goes, in inches (None: not even the chosen one) · next : the size after it, None
    where there is none in the library · stops : what stops that one, in words · room : free width and height about the
    screen's middle [mm], what a frame may fill · move : the largest size that would go only if the middle moved
    """

    largest: float | None
    next: float | None
    stops: tuple[str, ...]
    room: tuple[float, float]
    move: Move | None = None


@dataclass(frozen=True, slots=True)
class Bounds:
    """What a later frame must respect: the wall, what stands on it (each box with its clear distance), the niche's clear size
    and the gap in it, the kg its mount carries, and how far up or down the same plate lets it hang [mm].
    """

    wall: Box
    gap: float
    things: tuple[tuple[str, Box], ...]
    niche: tuple[float | None, float | None]
    niche_gap: float
    carries: float | None
    slack: float = 0.0


def largest_later(
    chosen: float, candidates: Sequence[Candidate], middle: tuple[float, float], bounds: Bounds
) -> Later:
    """Sizes from the chosen one up, one after the other, until one does not go on the same plate: the middle stays where it is."""
    largest: float | None = None
    room = free_about(middle, bounds)
    rows = [row for row in sorted(candidates, key=lambda row: row.diagonal) if row.diagonal >= chosen]
    for i, row in enumerate(rows):
        stops = what_stops(row, middle, bounds)
        if stops:
            return Later(largest, row.diagonal, stops, room, _larger_elsewhere(rows[i:], middle, bounds))
        largest = row.diagonal
    return Later(largest, None, (), room)


def what_stops(row: Candidate, middle: tuple[float, float], bounds: Bounds) -> tuple[str, ...]:
    """What keeps this size off the wall with its middle there, in words; empty where it goes."""
    return (*_in_place(row.frame_width, row.frame_height, middle, bounds), *_anywhere(row, bounds))


def _in_place(width: float, height: float, middle: tuple[float, float], bounds: Bounds) -> list[str]:
    """Wall and neighbours: the middle stays at its x, and at its height but for the plate's slack."""
    (x, z), wall, gap, slack = middle, bounds.wall, bounds.gap, bounds.slack
    across, up = width + 2 * gap - wall.width, height + gap - wall.height
    left, right = wall.x + gap + width / 2 - x, x + width / 2 + gap - wall.right
    lowest, highest = wall.z + height / 2, wall.top - gap - height / 2
    low, high = max(z - slack, lowest), min(z + slack, highest)
    stops: list[str] = []
    if across > 0:
        stops.append(f"the wall is {across:.0f} mm too narrow")
    else:
        stops += [
            f"the wall's {end} end is {short:.0f} mm too near"
            for end, short in (("left", left), ("right", right))
            if short > 0
        ]
    if up > 0:
        stops.append(f"the wall is {up:.0f} mm too low")
    elif low > high:
        under, short = ("floor", lowest - high) if high < lowest else ("ceiling", low - highest)
        stops.append(f"the {under} is {short:.0f} mm too near")
    else:
        named = _named(middle, width, height, Box(x, low, 0.0, high - low), bounds)
        stops += [named] if named else []
    return stops


def _anywhere(row: Candidate, bounds: Bounds) -> list[str]:
    """What stops it wherever its middle is: niche, way in, mount."""
    stops: list[str] = []
    for what, size, clear in zip(
        ("narrow", "low"), (row.frame_width, row.frame_height), bounds.niche, strict=True
    ):
        if clear is not None and size + 2 * bounds.niche_gap > clear:
            stops.append(f"the niche is {size + 2 * bounds.niche_gap - clear:.0f} mm too {what}")
    if row.route is not None and not row.route.passes:
        stops.append(row.route.says)
    if bounds.carries is not None and row.mass > bounds.carries:
        stops.append(f"it weighs {row.mass:.0f} kg and the mount carries {bounds.carries:.0f}")
    return stops


def _named(middle: tuple[float, float], width: float, height: float, room: Box, bounds: Bounds) -> str:
    """Which one thing, taken away, would let it hang there; else all that it meets where the screen hangs. "" where it goes."""

    def free(boxes: Sequence[Box]) -> bool:
        return nearest_free(middle, width, height, room, boxes, x_pinned=True) is not None

    if free([box for _, box in bounds.things]):
        return ""
    alone = [
        name for name, _ in bounds.things if free([box for other, box in bounds.things if other != name])
    ]
    if alone:
        return f"{' or '.join(alone)} stands in its way"
    frame = box_around(middle, width, height)
    met = [name for name, box in bounds.things if frame.meets(box)]
    return " and ".join(met) + f" stand{'s' if len(met) == 1 else ''} in its way"


def _larger_elsewhere(rows: Sequence[Candidate], middle: tuple[float, float], bounds: Bounds) -> Move | None:
    """The largest of these sizes that goes somewhere else on the wall, one after the other, and the move it needs."""
    found: Move | None = None
    if any(clear is not None for clear in bounds.niche):
        return None  # the middle of a niche does not move
    for row in rows:
        width, height = row.frame_width, row.frame_height
        across, up = bounds.wall.width - width - 2 * bounds.gap, bounds.wall.height - height - bounds.gap
        if across < 0 or up < 0 or _anywhere(row, bounds):
            return found
        room = Box(bounds.wall.x + bounds.gap + width / 2, bounds.wall.z + height / 2, across, up)
        place = nearest_free(middle, width, height, room, [box for _, box in bounds.things])
        if place is None:
            return found
        found = Move(row.diagonal, place[0] - middle[0], place[1] - middle[1])
    return found


def free_about(middle: tuple[float, float], bounds: Bounds) -> tuple[float, float]:
    """The largest frame width, and the largest height, that stays clear while the middle stays where it is: each taken alone, as
    far as the things level with the middle, or above and below it, allow.
    """
    x, z = middle
    wall = bounds.wall
    half_width = min(x - wall.x, wall.right - x) - bounds.gap
    half_height = min(z - wall.z, wall.top - bounds.gap - z)
    for _, box in bounds.things:
        if box.z < z < box.top:
            half_width = min(half_width, max(box.x - x, x - box.right, 0.0))
        if box.x < x < box.right:
            half_height = min(half_height, max(box.z - z, z - box.top, 0.0))
    return 2 * max(0.0, half_width), 2 * max(0.0, half_height)
