"""The lines one sees on a wall: outlines, joints, gaps between fronts, grooves; what is hidden behind something is left out."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from typing import NamedTuple

from wallwright.core.shape import Box


class Line(NamedTuple):
    """A straight line on the wall: upright at x, from z low to high, or level at z, from x low to high [mm]."""

    upright: bool
    at: float
    low: float
    high: float


def outline(box: Box) -> tuple[Line, Line, Line, Line]:
    """A box's four edges."""
    return (
        Line(True, box.x, box.z, box.top), Line(True, box.right, box.z, box.top),
        Line(False, box.z, box.x, box.right), Line(False, box.top, box.x, box.right),
    )  # fmt: skip


def left_to_see(line: Line, before: Iterable[Box]) -> float:
    """How much of a line no nearer box covers [mm]. A nearer box's own edge covers it: a shared line counts once."""
    upright, at, start, end = line
    pieces = [(start, end)]
    for box in before:
        if upright:
            near, low, far, high = box.x, box.z, box.x + box.width, box.z + box.height
        else:
            near, low, far, high = box.z, box.x, box.z + box.height, box.x + box.width
        if not near <= at <= far:
            continue
        pieces = [
            part for a, b in pieces for part in ((a, min(b, low)), (max(a, high), b)) if part[1] > part[0]
        ]
    return sum(b - a for a, b in pieces)


def seen_length(layers: Sequence[tuple[Box, Sequence[Line]]], face: Box) -> float:
    """All lines that are seen [mm]. layers : nearest first, each box with the lines inside it; the wall's own rim is no line."""
    total = 0.0
    before: list[Box] = []
    for box, inner in layers:
        rim = [line for line in outline(box) if not _on_rim(line, face)]
        about = box.grown(1.0)
        nearer = [other for other in before if other.meets(about)]
        total += sum(left_to_see(line, nearer) for line in (*rim, *inner))
        before.append(box)
    return total


def _on_rim(line: Line, face: Box) -> bool:
    ends = (face.x, face.right) if line.upright else (face.z, face.top)
    return any(abs(line.at - end) < 1 for end in ends)
