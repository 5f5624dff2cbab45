"""The marks of a drawing, in real millimetres, knowing no format.

Text heights and dimension offsets are paper millimetres: they stay the same at every scale. A drawing's axes are
right and up. Pens carry line width and pattern by the line group 0.25 / 0.35 / 0.5 / 1.0 (ISO 128-20, group 0.5).
"""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import Literal

from wallwright.core.shape import Box, Point2

Pen = Literal[
    "thin", "medium", "wide", "extra", "dashed", "spaced", "dotted", "long", "chain", "phantom", "none"
]
Pattern = Literal[
    "cut",
    "assumed",
    "allowed",
    "later",
    "no_drill",
    "hidden",
    "board",
    "stone",
    "masonry",
    "fluted",
    "light",
    "dark",
    "screen",
]
Anchor = Literal["start", "middle", "end"]
SymbolKind = Literal[
    "socket",
    "twin_socket",
    "switched_spur",
    "data",
    "rf",
    "conduit",
    "led_feed",
    "driver",
    "switch",
    "anchor",
    "eye",
    "datum",
]

PEN_WIDTH: dict[Pen, float] = {  # paper mm
    "thin": 0.25, "medium": 0.35, "wide": 0.5, "extra": 1.0, "dashed": 0.35, "spaced": 0.25, "dotted": 0.5,
    "long": 0.35, "chain": 0.25, "phantom": 0.25, "none": 0.0,
}  # fmt: skip
PEN_DASH: dict[Pen, tuple[float, ...]] = {  # in line widths, ISO 128-20
    "dashed": (12, 3), "spaced": (12, 18), "dotted": (0.5, 3), "long": (24, 3, 6, 3), "chain": (24, 3, 0.5, 3),
    "phantom": (24, 3, 0.5, 3, 0.5, 3),
}  # fmt: skip
TEXT_SMALL, TEXT_LABEL, TEXT_TITLE = 2.5, 3.5, 5.0  # paper mm, ISO 3098 heights (of the capitals)


@dataclass(frozen=True, slots=True)
class Rays:
    """One family of parallel lines of a hatch: angle [deg], spacing [paper mm], dashes on and off [paper mm], line width."""

    angle: float
    spacing: float
    dashes: tuple[float, ...] = ()
    width: float = 0.25


# What each hatch looks like; told apart in black and white by angle, spacing and dashes. "dark" and "screen" are tints.
HATCH: dict[Pattern, tuple[Rays, ...]] = {
    "cut": (Rays(45, 2.0),),
    "board": (Rays(45, 1.3),),
    "masonry": (Rays(45, 3.0), Rays(45, 3.0, (3.0, 1.5))),
    "stone": (Rays(60, 3.5, (6.0, 1.5)), Rays(-60, 5.0, (2.0, 6.0))),
    "assumed": (Rays(135, 3.5, (2.0, 1.5)),),
    "allowed": (Rays(0, 1.8, (1.6, 1.0)),),
    "later": (Rays(90, 1.8, (1.6, 1.0)),),
    "no_drill": (Rays(45, 1.6, (0.35, 1.25), 0.35),),
    "hidden": (Rays(135, 2.6, (1.2, 2.2)),),
    "fluted": (Rays(90, 1.4),),
    "light": (Rays(0, 1.6, (0.3, 1.3)),),
    "dark": (),
    "screen": (),
}
TINT: dict[Pattern, str] = {"dark": "#d9d9d9", "screen": "#f2f2f2"}


@dataclass(frozen=True, slots=True)
class Line:
    """A polyline; `closed` joins its ends; `fill` paints the inside (white hides what lies below)."""

    points: tuple[Point2, ...]
    pen: Pen = "thin"
    closed: bool = False
    fill: str = ""
    layer: str = ""
    ref: str = ""


@dataclass(frozen=True, slots=True)
class Circle:
    """A circle; `start` and `end` in degrees make it an arc."""

    centre: Point2
    radius: float
    pen: Pen = "thin"
    start: float = 0.0
    end: float = 360.0
    layer: str = ""
    ref: str = ""


@dataclass(frozen=True, slots=True)
class Text:
    """A line of text at a point; `height` in paper mm; `turn` in degrees counter-clockwise."""

    at: Point2
    text: str
    height: float = TEXT_SMALL
    anchor: Anchor = "start"
    turn: float = 0.0
    bold: bool = False
    layer: str = ""
    ref: str = ""


@dataclass(frozen=True, slots=True)
class Dim:
    """A dimension, always measured from its ends, never typed. `along` is the axis it measures.

    shown : the whole mm to print, where the parts of a chain are rounded together so that they close; None: its own value rounded

    offset : paper mm from the outline to the dimension line (positive: right of or above; negative: left of or below) ·
    at : the outline's coordinate across, from which the offset counts · shift : paper mm by which its figure is moved along the
    line · lift : paper mm from the line up to the figure's foot, as one reads it (negative: the figure hangs below the line)
    """

    start: Point2
    end: Point2
    along: Literal["x", "z"]
    at: float
    offset: float
    layer: str = ""
    ref: str = ""
    shift: float = 0.0
    lift: float = 0.8
    shown: int | None = None

    @property
    def value(self) -> float:
        """What it measures [mm]."""
        axis = 0 if self.along == "x" else 1
        return abs(self.end[axis] - self.start[axis])


@dataclass(frozen=True, slots=True)
class Hatch:
    """A filled or hatched outline by a named pattern of the legend."""

    points: tuple[Point2, ...]
    pattern: Pattern
    layer: str = ""
    ref: str = ""


@dataclass(frozen=True, slots=True)
class Symbol:
    """A sign of the legend at a point, drawn at paper size, with its reference beside it.

    aside : where the middle of the label stands, paper mm right of and above the sign
    """

    kind: SymbolKind
    at: Point2
    label: str = ""
    layer: str = ""
    ref: str = ""
    aside: Point2 = (0.0, 4.6)


@dataclass(frozen=True, slots=True)
class Level:
    """A level mark at a height: a triangle on a short line, and the height in metres from FFL.

    reach : paper mm from the outline to the triangle · step : paper mm by which the figure stands above its own height, joined by
    a cranked line, where levels crowd
    """

    at: Point2
    mm: float
    text: str = ""
    layer: str = ""
    ref: str = ""
    reach: float = 3.0
    step: float = 0.0


@dataclass(frozen=True, slots=True)
class Leader:
    """A leader from a thing (first point, a dot) to a short text at the last point, set away from the line."""

    points: tuple[Point2, ...]
    text: str
    height: float = TEXT_SMALL
    layer: str = ""
    ref: str = ""


Mark = Line | Circle | Text | Dim | Hatch | Symbol | Level | Leader


@dataclass(frozen=True, slots=True)
class Drawing:
    """A view at a scale 1:`scale`: its marks in real mm."""

    name: str
    title: str
    scale: float
    marks: tuple[Mark, ...]
    extent: Box = field(default_factory=lambda: Box(0, 0, 0, 0))


def rectangle(box: Box, pen: Pen = "medium", *, fill: str = "", layer: str = "", ref: str = "") -> Line:
    """A box as a closed line."""
    return Line(box.corners, pen, closed=True, fill=fill, layer=layer, ref=ref)
