"""What is let into or set on a framed wall for fixings that miss its studs: noggings, boards between the studs, or face-fixed plywood."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import replace
from itertools import pairwise

from wallwright.carcass import stock
from wallwright.carcass.piece import piece
from wallwright.carcass.record import Carcass, Hardware, Part
from wallwright.carcass.stock import Stock
from wallwright.core.limit import Limits
from wallwright.core.shape import Block, Box, Point2
from wallwright.job.backing import backing_of
from wallwright.job.design import Backing
from wallwright.job.document import Job

WALL = "wall"
"""What parts let into the wall belong to."""


def backed(
    carcass: Carcass, backers: Sequence[Box], job: Job, limits: Limits, holes: Sequence[Point2] = ()
) -> Carcass:
    """The carcass with what its fixings need behind or on the boarding of a framed wall. It belongs to the wall, not to a unit.

    backers : outlines on the wall, from stud to stud · holes : the fixings that go in there; a bay between studs without one gets
    nothing
    """
    if not backers:
        return carcass
    method = backing_of(job)
    make = {"noggings": _noggings, "boards": _boards, "face": _face}[method]
    pieces = [part for box in backers for part in make(box, holes, job, limits)]
    of = _timber(limits) if method == "noggings" else stock.stock(stock.CLEAT)
    deep = -of.thickness if method == "face" else limits.value("carcass.boarding")
    name = {
        "noggings": "nogging", "boards": "backer let into the wall", "face": "plywood face-fixed to the studs",
    }[method]  # fmt: skip
    mark = "NG" if method == "noggings" else "BK"
    parts = tuple(
        piece(
            f"{mark}{k}", WALL, "backer", name, of, Block(box.x, deep, box.z, box.width, of.thickness, box.height), "x", "z"
        )
        for k, box in enumerate(pieces, 1)
    )  # fmt: skip
    return replace(
        carcass,
        parts=(*carcass.parts, *parts),
        hardware=(*carcass.hardware, *_bought(method, parts, len(backers), job, limits)),
    )


def _timber(limits: Limits) -> Stock:
    """A nogging laid flat, its wide face to the room."""
    deep = limits.value("carcass.nogging_deep")
    return Stock(stock.NOGGING, "", deep, deep * limits.value("carcass.batten_density") / 1000, grain=True)


def bays_between(box: Box, studs: Sequence[float], thick: float) -> list[tuple[float, float]]:
    """The clear stretches (left, right) of a strip between the studs behind it, an end at a stud's middle brought to its side."""
    half = thick / 2
    lines = [x for x in studs if box.x - 1 <= x <= box.right + 1]
    ends = [box.x, *(x for x in lines if box.x + 1 < x < box.right - 1), box.right]
    clear = [
        (a + half if _near(a, lines) else a, b - half if _near(b, lines) else b) for a, b in pairwise(ends)
    ]
    return [(a, b) for a, b in clear if b - a > 1]


def _near(x: float, lines: Sequence[float]) -> bool:
    return any(abs(x - line) <= 1 for line in lines)


def nogging_rows(heights: Sequence[float], high: float, inset: float) -> list[float]:
    """The middles of the noggings that take fixings at these heights: those near enough share one, `inset` in from both edges."""
    rows: list[list[float]] = []
    for z in sorted(heights):
        if rows and z - rows[-1][0] <= high - 2 * inset:
            rows[-1].append(z)
        else:
            rows.append([z])
    return [(row[0] + row[-1]) / 2 for row in rows]


def _clear(box: Box, job: Job, limits: Limits) -> list[tuple[float, float]]:
    studs = [stud.mm for stud in job.survey.wall.studs]
    return bays_between(box, studs, limits.value("carcass.stud_thick"))


def _noggings(box: Box, holes: Sequence[Point2], job: Job, limits: Limits) -> list[Box]:
    """One between two studs for each row of fixings that falls there."""
    high, inset = limits.value("carcass.nogging_high"), limits.value("carcass.nogging_edge")
    out: list[Box] = []
    for left, right in _clear(box, job, limits):
        here = (
            [z for x, z in holes if left <= x <= right and box.z <= z <= box.top]
            if holes
            else [box.centre[1]]
        )
        out += [Box(left, z - high / 2, right - left, high) for z in nogging_rows(here, high, inset)]
    return out


def _boards(box: Box, holes: Sequence[Point2], job: Job, limits: Limits) -> list[Box]:
    """A board between two studs wherever a fixing falls between them, none longer than a sheet."""
    return [
        one
        for left, right in _clear(box, job, limits)
        if not holes or any(left <= x <= right and box.z <= z <= box.top for x, z in holes)
        for one in _lengths(replace(box, x=left, width=right - left), job)
    ]


def _face(box: Box, holes: Sequence[Point2], job: Job, limits: Limits) -> list[Box]:
    """One board over the outer studs' middles and the limit beyond, in equal lengths where it is longer than a sheet."""
    over = limits.value("structure.stud_overlap")
    width = min((reading.value.mm for reading in job.survey.wall.widths), default=math.inf)
    left, right = max(box.x - over, 0.0), min(box.right + over, width)
    return _lengths(replace(box, x=left, width=right - left), job)


def _lengths(box: Box, job: Job) -> list[Box]:
    longest = stock.sheet_size(stock.CLEAT, job.design.saw.trim.mm)[0]
    count = math.ceil(box.width / longest)
    return [replace(box, x=box.x + k * box.width / count, width=box.width / count) for k in range(count)]


def edge_screws(part: Part, limits: Limits) -> int:
    """Screws round the edge of a backer or packing, one at each corner at least."""
    return max(4, math.ceil(2 * (part.length + part.width) / limits.value("carcass.backer_screws")))


def _bought(
    method: Backing, parts: Sequence[Part], openings: int, job: Job, limits: Limits
) -> tuple[Hardware, ...]:
    """What is opened and made good, and the screws."""
    if method == "face":
        pitch = limits.value("carcass.backer_screws")
        studs = [stud.mm for stud in job.survey.wall.studs]
        count = sum(
            max(1, sum(part.block.x <= x <= part.block.x + part.block.dx for x in studs))
            * (math.ceil(part.width / pitch) + 1)
            for part in parts
        )
        note = f"through the boarding into every stud, every {pitch:g} mm up it"
        return (Hardware("screw", "Screw for face-fixed plywood", WALL, count, note),)
    if method == "noggings":
        count = int(limits.value("carcass.nogging_screws")) * len(parts)
        screws = Hardware(
            "screw", "Screw for the noggings", WALL, count, "skewed into the studs, half at each end"
        )
        opened = Hardware(
            "backer", "Strip of boarding opened, closed and filled", WALL, openings, "for the noggings"
        )
        return opened, screws
    count = sum(edge_screws(part, limits) for part in parts)
    return (
        Hardware("backer", "Strip of boarding opened, closed and filled", WALL, len(parts),
                 "for the backer, screwed to the studs"),
        Hardware("screw", "Screw for the backers", WALL, count, "round the edge of each backer"),
    )  # fmt: skip
