"""Running dimensions (ISO 129-1): every figure counted from one datum, at the end of its own line, spread where lines crowd."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from typing import Literal

from wallwright.core.drawing import TEXT_SMALL, Circle, Line, Mark, Text
from wallwright.core.shape import Box, Point2

Axis = Literal["x", "z"]
START, BEND, REACH = 1.2, 3.0, 8.0
"""Paper mm: from the outline to where a line begins, from its last bend to its figure, and usually from the outline to that."""
APART = 3.5
"""Least paper mm between two figures, beside one another and turned, or one over the other."""
_ALIKE = 0.06
"""Places nearer than this are one [mm]."""


def running(  # noqa: PLR0913
    places: Iterable[tuple[float, float]], along: Axis, at: float, offset: float, scale: float, ref: str = "running",
    decimals: int = 0, *, floor: float | None = None, ringed: bool = True,
) -> list[Mark]:  # fmt: skip
    """Figures at places along an axis. places : (where it stands, what it reads) · at : the outline's coordinate across · offset :
    paper mm from it to the figures (negative: below or left) · decimals : of the figures · floor : no figure stands before it ·
    ringed : what reads 0 is the datum, and is ringed.
    """
    ends = _once(places)
    far = at + offset * scale
    marks: list[Mark] = []
    for (place, value), to in zip(ends, _spread([place for place, _ in ends], floor, scale), strict=True):
        marks.append(_led(place, to, along, at, offset, scale, ref))
        where = (to + 0.9 * scale, far) if along == "x" else (far, to - 0.9 * scale)
        marks.append(_figure(where, figure(value, decimals), along, offset, scale, ref))
        if ringed and abs(value) < 0.05:
            marks.append(Circle(_turned((place, at), along), 0.9 * scale, "medium", layer="dims", ref=ref))
    return marks


def below(box: Box, places: Iterable[tuple[float, float]], scale: float, ref: str = "") -> list[Mark]:
    """Below a board: a figure at each place, turned to be read from the right."""
    return running(places, "x", box.z, -REACH, scale, ref, 1, ringed=False)


def beside(box: Box, places: Iterable[tuple[float, float]], scale: float, ref: str = "") -> list[Mark]:
    """Left of a board: a figure at each height, none of them below it, among the figures there."""
    return running(places, "z", box.x, -REACH, scale, ref, 1, floor=box.z, ringed=False)


def letters(box: Box, rows: Iterable[tuple[float, str]], scale: float, ref: str = "") -> list[Mark]:
    """Right of a board: the letters of each row of holes, led to its height."""
    by_height: dict[float, list[str]] = {}
    for z, letter in rows:
        near = next((other for other in by_height if abs(other - z) < 0.05 * scale), z)
        if letter not in by_height.setdefault(near, []):
            by_height[near].append(letter)
    heights = sorted(by_height)
    marks: list[Mark] = []
    for z, to in zip(heights, _spread(heights, box.z, scale), strict=True):
        marks.append(_led(z, to, "z", box.right, REACH, scale, ref))
        where = (box.right + (REACH + 0.8) * scale, to - 0.9 * scale)
        marks.append(Text(where, " ".join(by_height[z]), TEXT_SMALL, bold=True, layer="text", ref=ref))
    return marks


def datum(corner: Point2, scale: float, ref: str = "") -> Mark:
    """The sign at the corner from which everything is counted."""
    return Circle(corner, 1.0 * scale, "wide", layer="dims", ref=ref)


def figure(value: float, decimals: int = 1) -> str:
    """With so many decimals, but none that is nought."""
    written = f"{round(value, decimals) + 0.0:.{decimals}f}"
    return written.rstrip("0").rstrip(".") if "." in written else written


def spread(places: Sequence[float], apart: float) -> list[float]:
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


def _spread(places: Sequence[float], floor: float | None, scale: float) -> list[float]:
    """Spread by what figures need, and pushed up where they would stand before the floor."""
    apart = APART * scale
    out: list[float] = []
    for at in spread(places, apart):
        least = out[-1] + apart if out else floor
        out.append(at if floor is None or least is None else max(at, least))
    return out


def _led(place: float, to: float, along: Axis, at: float, offset: float, scale: float, ref: str) -> Line:  # noqa: PLR0913
    """The line from the outline to its figure, cranked where that had to move."""
    way = 1.0 if offset > 0 else -1.0
    far = at + offset * scale
    bend = far - way * BEND * scale
    path = ((place, at + way * START * scale), (place, at + (bend - at) * 0.6), (to, bend), (to, far))
    return Line(tuple(_turned(point, along) for point in path), "thin", layer="dims", ref=ref)


def _figure(where: Point2, words: str, along: Axis, offset: float, scale: float, ref: str) -> Text:  # noqa: PLR0913
    """A figure beyond the end of its line: turned to be read from the right where it counts across."""
    gap = (0.8 if offset > 0 else -0.8) * scale
    anchor = "start" if offset > 0 else "end"
    at = (where[0], where[1] + gap) if along == "x" else (where[0] + gap, where[1])
    return Text(at, words, TEXT_SMALL, anchor, 90.0 if along == "x" else 0.0, layer="dims", ref=ref)


def _turned(point: Point2, along: Axis) -> Point2:
    return point if along == "x" else (point[1], point[0])


def _once(places: Iterable[tuple[float, float]]) -> list[tuple[float, float]]:
    """Sorted, those that stand alike once."""
    out: list[tuple[float, float]] = []
    for place, value in sorted(places):
        if not out or abs(out[-1][0] - place) > _ALIKE:
            out.append((place, value))
    return out
