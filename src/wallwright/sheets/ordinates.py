"""Running dimensions: every figure counted from one datum edge, at the end of its own line, spread where lines crowd."""

from __future__ import annotations

from collections.abc import Iterable

from wallwright.core.drawing import TEXT_SMALL, Circle, Line, Mark, Text
from wallwright.core.shape import Box

OFF, CRANK, REACH = 1.4, 5.0, 8.0
"""Paper mm from the board's edge to where a line begins, where it is cranked, and where it ends before its figure."""
APART_UP, APART_ACROSS = 3.5, 3.5
"""Least paper mm between two figures beside one another, turned, and one over the other."""


def spread(places: list[float], apart: float) -> list[float]:
    """Places moved as little as needs be so that neighbours are at least `apart`: crowds are centred on where they stood."""
    blocks: list[tuple[float, list[float]]] = []  # (first place, members' own)
    for place in places:
        blocks.append((place, [place]))
        while len(blocks) > 1 and blocks[-2][0] + apart * len(blocks[-2][1]) > blocks[-1][0] + 1e-9:
            _, later = blocks.pop()
            _, before = blocks.pop()
            own = [*before, *later]
            middle = sum(value - k * apart for k, value in enumerate(own)) / len(own)
            blocks.append((middle, own))
    return [first + k * apart for first, own in blocks for k in range(len(own))]


def figure(value: float) -> str:
    """Whole mm, or one decimal where it is not nought."""
    return f"{value:.0f}" if abs(value - round(value)) < 0.05 else f"{value:.1f}"


def along(box: Box, places: Iterable[tuple[float, float]], scale: float, ref: str = "") -> list[Mark]:
    """Below a board: a figure at each place, turned to be read from the right. places : (where it stands, what it reads)."""
    at = _once(places)
    marks: list[Mark] = []
    for (x, value), to in zip(at, spread([x for x, _ in at], APART_UP * scale), strict=True):
        z = box.z
        points = (
            (x, z - OFF * scale),
            (x, z - CRANK * 0.5 * scale),
            (to, z - CRANK * scale),
            (to, z - REACH * scale),
        )
        marks.append(Line(points, "thin", layer="dims", ref=ref))
        where = (to + 0.9 * scale, z - (REACH + 0.8) * scale)
        marks.append(Text(where, figure(value), TEXT_SMALL, "end", 90.0, layer="dims", ref=ref))
    return marks


def up(box: Box, places: Iterable[tuple[float, float]], scale: float, ref: str = "") -> list[Mark]:
    """Left of a board: a figure at each height. places : (where it stands, what it reads)."""
    at = _once(places)
    marks: list[Mark] = []
    heights = spread([z for z, _ in at], APART_ACROSS * scale)
    for (z, value), to in zip(at, _above(heights, box.z, APART_ACROSS * scale), strict=True):
        x = box.x
        points = (
            (x - OFF * scale, z),
            (x - CRANK * 0.5 * scale, z),
            (x - CRANK * scale, to),
            (x - REACH * scale, to),
        )
        marks.append(Line(points, "thin", layer="dims", ref=ref))
        where = (x - (REACH + 0.8) * scale, to - 0.9 * scale)
        marks.append(Text(where, figure(value), TEXT_SMALL, "end", layer="dims", ref=ref))
    return marks


def letters(box: Box, rows: Iterable[tuple[float, str]], scale: float, ref: str = "") -> list[Mark]:
    """Right of a board: the letters of each row of holes, led to its height."""
    by_height: dict[float, list[str]] = {}
    for z, letter in rows:
        near = next((other for other in by_height if abs(other - z) < 0.05 * scale), z)
        if letter not in by_height.setdefault(near, []):
            by_height[near].append(letter)
    heights = sorted(by_height)
    marks: list[Mark] = []
    apart = APART_ACROSS * scale
    for z, to in zip(heights, _above(spread(heights, apart), box.z, apart), strict=True):
        x = box.right
        points = (
            (x + OFF * scale, z),
            (x + CRANK * 0.5 * scale, z),
            (x + CRANK * scale, to),
            (x + REACH * scale, to),
        )
        marks.append(Line(points, "thin", layer="dims", ref=ref))
        words = " ".join(by_height[z])
        where = (x + (REACH + 0.8) * scale, to - 0.9 * scale)
        marks.append(Text(where, words, TEXT_SMALL, bold=True, layer="text", ref=ref))
    return marks


def datum(corner: tuple[float, float], scale: float, ref: str = "") -> Mark:
    """The sign at the corner from which everything is counted."""
    return Circle(corner, 1.0 * scale, "wide", layer="dims", ref=ref)


def _above(heights: list[float], floor: float, apart: float) -> list[float]:
    """Heights pushed up where they would hang below the board, among the figures there."""
    out: list[float] = []
    for height in heights:
        out.append(max(height, out[-1] + apart if out else floor))
    return out


def _once(places: Iterable[tuple[float, float]]) -> list[tuple[float, float]]:
    """Sorted, those that read alike once."""
    out: list[tuple[float, float]] = []
    for place, value in sorted(places):
        if not out or abs(out[-1][0] - place) > 0.06:
            out.append((place, value))
    return out
