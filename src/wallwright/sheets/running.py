"""Running dimensions (ISO 129-1): figures counted from one datum, each at the end of its own line, spread where lines crowd."""

from __future__ import annotations

from collections.abc import Iterable
from typing import Literal

from wallwright.core.drawing import TEXT_SMALL, Circle, Line, Mark, Text
from wallwright.sheets.ordinates import APART_UP, spread

START = 1.0
"""Paper mm from the outline to where a line begins."""


def running(  # noqa: PLR0913
    places: Iterable[tuple[float, float]], along: Literal["x", "z"], at: float, offset: float, scale: float, ref: str = "running",
    decimals: int = 0,
) -> list[Mark]:  # fmt: skip
    """Figures at places along an axis. places : (where it stands, what it reads) · at : the outline's coordinate across · offset :
    paper mm from it to the figures (negative: below or left) · decimals : of the figures. What reads 0 is the datum, ringed.
    """
    ends = sorted(places)
    way = 1.0 if offset > 0 else -1.0
    far = at + offset * scale
    bend = far - way * 3.0 * scale
    marks: list[Mark] = []
    for (place, value), to in zip(ends, spread([place for place, _ in ends], APART_UP * scale), strict=True):
        path = ((place, at + way * START * scale), (place, at + (bend - at) * 0.6), (to, bend), (to, far))
        points = path if along == "x" else tuple((b, a) for a, b in path)
        marks.append(Line(points, "thin", layer="dims", ref=ref))
        written = f"{value:.{decimals}f}"
        written = written.rstrip("0").rstrip(".") if "." in written else written
        gap = far + way * 0.8 * scale
        if along == "x":
            marks.append(
                Text(
                    (to + 0.9 * scale, gap),
                    written,
                    TEXT_SMALL,
                    "end" if way < 0 else "start",
                    90.0,
                    layer="dims",
                    ref=ref,
                )
            )
        else:
            marks.append(
                Text(
                    (gap, to - 0.9 * scale),
                    written,
                    TEXT_SMALL,
                    "end" if way < 0 else "start",
                    layer="dims",
                    ref=ref,
                )
            )
        if abs(value) < 0.05:
            spot = (place, at) if along == "x" else (at, place)
            marks.append(Circle(spot, 0.9 * scale, "medium", layer="dims", ref=ref))
    return marks
