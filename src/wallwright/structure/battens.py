"""Where the screws of battens go: along each at a pitch, in from its ends, off cables, and on a framed wall into its studs."""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator
from typing import TYPE_CHECKING

from wallwright.core.limit import Limits
from wallwright.core.shape import Box, Point2
from wallwright.structure.record import HoleRow
from wallwright.structure.rows import across
from wallwright.structure.wall import Wall, anchors_for, strange_at, stud_lines

if TYPE_CHECKING:
    from wallwright.carcass.record import Part


def screw_places(batten: Box, pitch: float, end: float) -> tuple[Point2, ...]:
    """Screws (x, z) on the middle line of a batten, lying or standing: `end` in from both ends, at most `pitch` apart.

    A piece too short for two takes one in its middle.
    """
    level = batten.width >= batten.height
    length = batten.width if level else batten.height
    x, z = batten.centre
    clear = length - 2 * end
    if clear <= 0:
        return ((x, z),)
    count = max(2, math.ceil(clear / pitch - 1e-9) + 1)
    along = [end + k * clear / (count - 1) for k in range(count)]
    return tuple((batten.x + one, z) if level else (x, batten.z + one) for one in along)


def rows(parts: Iterable[Part], wall: Wall, limits: Limits) -> tuple[HoleRow, ...]:
    """The screws of every batten among the parts. On a wall nobody knows none: nothing is drilled there."""
    anchors = anchors_for(wall.substrate)
    if not anchors:
        return ()
    pitch, end = limits.value("structure.batten_screw_pitch"), limits.value("structure.batten_end")
    slide = limits.value("structure.slide")
    out: list[HoleRow] = []
    for part in parts:
        if part.role != "batten":
            continue
        box = part.block.face
        places = screw_places(box, pitch, end)
        if wall.framed and box.width >= box.height:
            places = tuple((x, box.centre[1]) for x in stud_lines(box, wall))
        elif not wall.framed:
            places = beside(places, box, end, slide, anchors[0].hole, wall)
        out += _by_base(part, places, wall)
    return tuple(out)


def _by_base(part: Part, places: tuple[Point2, ...], wall: Wall) -> Iterator[HoleRow]:
    """The batten's screws, each with the anchor of what it goes into: the wall, or a column of which somebody said what it is.

    None goes into a column of which nobody did.
    """
    by_base: dict[str, list[Point2]] = {}
    for x, z in places:
        there = strange_at([Box(x - 1, z - 1, 2, 2)], wall)
        base = wall.known.get(there[0], "unknown") if there else wall.substrate
        by_base.setdefault(base, []).append((x, z))
    for base, into in by_base.items():
        for of in anchors_for(base)[:1]:
            yield HoleRow(part.unit, f"batten {part.id}", tuple(into), of.hole, of.depth, of.name)


def _up(x: float, hole: float, bands: Iterable[Box]) -> list[tuple[float, float]]:
    """The stretches of an upright line where a hole of that diameter would come into one of the bands."""
    half = hole / 2
    return [
        (band.z - half, band.z + band.height + half)
        for band in bands
        if band.x - half < x < band.x + band.width + half
    ]


def beside(  # noqa: PLR0913
    places: tuple[Point2, ...], batten: Box, end: float, slide: float, hole: float, wall: Wall
) -> tuple[Point2, ...]:
    """The places, each slid along its batten to the nearest where no cable is; one without such a place stays: the rules say so."""
    level = batten.width >= batten.height
    middle, first, last = (
        (batten.centre[1], batten.x, batten.right) if level else (batten.centre[0], batten.z, batten.top)
    )
    taken = across(middle, hole, wall.keep_clear) if level else _up(middle, hole, wall.keep_clear)
    if not taken:
        return places
    steps = [sign * step for step in range(0, int(slide), 5) for sign in (1, -1)]
    out: list[Point2] = []
    for x, z in places:
        on = x if level else z
        free = (
            on + step
            for step in steps
            if (step == 0 or first + end - 1 <= on + step <= last - end + 1)
            and not any(left < on + step < right for left, right in taken)
        )
        found = next(free, on)
        out.append((found, z) if level else (x, found))
    return tuple(out)
