"""Tiles of a drawing at full size: parts of A4 or A3 pages that join edge to edge on their register crosses."""

from __future__ import annotations

import itertools
from collections.abc import Iterable, Iterator
from dataclasses import dataclass, replace
from typing import Literal

from wallwright.core.drawing import Circle, Line, Mark, Text
from wallwright.core.shape import Box, Point2
from wallwright.sheets.ink import text_box
from wallwright.sheets.paper import A3, A4

Place = tuple[int, int]
"""Row from the top and column from the left of a tile."""
Paper = Literal["A4", "A3"]


@dataclass(frozen=True, slots=True)
class Leaf:
    """A page of templates, upright: its size, and the part of it that joins to its neighbours [mm]."""

    size: tuple[float, float]
    tile: Box


LEAVES: dict[Paper, Leaf] = {
    "A4": Leaf(A4, Box(15.0, 42.0, 180.0, 235.0)),
    "A3": Leaf((A3[1], A3[0]), Box(15.0, 42.0, 267.0, 358.0)),
}
ON_A4 = LEAVES["A4"]
ARM = 5.0
"""Half a register cross [mm]."""


def tile_name(where: Place) -> str:
    """A1 is the upper left one."""
    return f"{chr(65 + where[0])}{where[1] + 1}"


def joins(where: Place, there: frozenset[Place]) -> str:
    """Which tiles it joins on its crosses, in words."""
    row, col = where
    beside = (
        ("left", (row, col - 1)),
        ("right", (row, col + 1)),
        ("above", (row - 1, col)),
        ("below", (row + 1, col)),
    )
    found = [f"{side} {tile_name(place)}" for side, place in beside if place in there]
    return ", ".join(found) or "none, it stands alone"


def cross(at: Point2, arm: float, layer: str = "fixings") -> list[Line]:
    """A cross with arms of that length [mm]."""
    x, z = at
    return [
        Line(((x - arm, z), (x + arm, z)), "thin", layer=layer),
        Line(((x, z - arm), (x, z + arm)), "thin", layer=layer),
    ]


def registers(corners: Iterable[Point2]) -> list[Line]:
    """The register crosses of a tile, at its corners on the paper."""
    return [line for corner in corners for line in cross(corner, ARM, "frame")]


def seams(first: float, last: float, tile: float, whole: Iterable[tuple[float, float]]) -> list[float]:
    """Seams from `first` to `last`, each at most a tile from the one before, drawn back so that none goes through what should
    stay whole: a box or a hole. What is wider than a tile is cut.
    """
    spans = sorted(whole, reverse=True)
    out = [first]
    while out[-1] < last:
        seam = min(out[-1] + tile, last)
        for start, end in spans:
            if start < seam < end and start - out[-1] > tile / 4:
                seam = start
        out.append(seam)
    return out


def clipped(marks: Iterable[Mark], window: Box) -> Iterator[Mark]:
    """What of the marks lies in the window: lines cut at its edge, circles by their centre, texts only when whole."""
    for mark in marks:
        match mark:
            case Line():
                points = (*mark.points, mark.points[0]) if mark.closed else mark.points
                for a, b in itertools.pairwise(points):
                    piece = cut_to(a, b, window)
                    if piece is not None:
                        yield replace(mark, points=piece, closed=False, fill="")
            case Circle():
                if window.holds(Box(*mark.centre, 0, 0)):
                    yield mark
            case Text():
                if window.holds(text_box(mark, 1.0)):
                    yield mark
            case _:
                yield mark


def cut_to(a: Point2, b: Point2, window: Box) -> tuple[Point2, Point2] | None:
    """The piece of the line from a to b inside the window; None where there is none (Liang and Barsky 1984)."""
    dx, dz = b[0] - a[0], b[1] - a[1]
    low, high = 0.0, 1.0
    for p, q in (
        (-dx, a[0] - window.x),
        (dx, window.right - a[0]),
        (-dz, a[1] - window.z),
        (dz, window.top - a[1]),
    ):
        if p == 0:
            if q < 0:
                return None
        elif p < 0:
            low = max(low, q / p)
        else:
            high = min(high, q / p)
    if low >= high:
        return None
    return (a[0] + low * dx, a[1] + low * dz), (a[0] + high * dx, a[1] + high * dz)
