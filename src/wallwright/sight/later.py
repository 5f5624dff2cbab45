"""The largest screen that the finished wall still takes later, and what stops the next one."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from wallwright.core.shape import Box, box_around
from wallwright.sight.place import nearest_free
from wallwright.sight.record import Candidate


@dataclass(frozen=True, slots=True)
class Later:
    """largest : the largest size that still goes, in inches (None: not even the chosen one) · next : the size after it, None
    where there is none in the library · stops : what stops that one, in words · room : free width and height about the
    screen's middle [mm], what a frame may fill
    """

    largest: float | None
    next: float | None
    stops: tuple[str, ...]
    room: tuple[float, float]


@dataclass(frozen=True, slots=True)
class Bounds:
    """What a later frame must respect: where its middle may be, what stands round it (each box with its clear distance), the
    niche's clear size and the gap in it, the kg its mount carries.
    """

    wall: Box
    gap: float
    things: tuple[tuple[str, Box], ...]
    niche: tuple[float | None, float | None]
    niche_gap: float
    carries: float | None


def largest_later(
    chosen: float, candidates: Sequence[Candidate], middle: tuple[float, float], bounds: Bounds
) -> Later:
    """Sizes from the chosen one up, one after the other, until one does not go."""
    largest: float | None = None
    for row in sorted(candidates, key=lambda row: row.diagonal):
        if row.diagonal < chosen:
            continue
        stops = what_stops(row, middle, bounds)
        if stops:
            return Later(largest, row.diagonal, stops, free_about(middle, bounds))
        largest = row.diagonal
    return Later(largest, None, (), free_about(middle, bounds))


def what_stops(row: Candidate, middle: tuple[float, float], bounds: Bounds) -> tuple[str, ...]:
    """What keeps this size off the wall, in words; empty where it goes."""
    stops: list[str] = []
    width, height = row.frame_width, row.frame_height
    room = _room(width, height, bounds)
    across, up = width + 2 * bounds.gap - bounds.wall.width, height + bounds.gap - bounds.wall.height
    if across > 0:
        stops.append(f"the wall is {across:.0f} mm too narrow")
    if up > 0:
        stops.append(f"the wall is {up:.0f} mm too low")
    if (
        room is not None
        and nearest_free(middle, width, height, room, [box for _, box in bounds.things]) is None
    ):
        stops.append(_named(middle, width, height, room, bounds))
    for what, size, clear in zip(("narrow", "low"), (width, height), bounds.niche, strict=True):
        if clear is not None and size + 2 * bounds.niche_gap > clear:
            stops.append(f"the niche is {size + 2 * bounds.niche_gap - clear:.0f} mm too {what}")
    if row.route is not None and not row.route.passes:
        stops.append(row.route.says)
    if bounds.carries is not None and row.mass > bounds.carries:
        stops.append(f"it weighs {row.mass:.0f} kg and the mount carries {bounds.carries:.0f}")
    return tuple(stops)


def _room(width: float, height: float, bounds: Bounds) -> Box | None:
    across, up = bounds.wall.width - width - 2 * bounds.gap, bounds.wall.height - height - bounds.gap
    if across < 0 or up < 0:
        return None
    return Box(bounds.wall.x + bounds.gap + width / 2, bounds.wall.z + height / 2, across, up)


def _named(middle: tuple[float, float], width: float, height: float, room: Box, bounds: Bounds) -> str:
    """Which one thing, taken away, would let it hang; else all that it would meet where the screen now hangs."""
    alone: list[str] = []
    for name, _ in bounds.things:
        others = [box for other, box in bounds.things if other != name]
        if nearest_free(middle, width, height, room, others) is not None:
            alone.append(name)
    if alone:
        return f"{' or '.join(alone)} stands in its way"
    frame = box_around(middle, width, height)
    met = [name for name, box in bounds.things if frame.meets(box)]
    return " and ".join(met) + " stand in its way"


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
