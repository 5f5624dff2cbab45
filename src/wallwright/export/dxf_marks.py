"""Marks as the entities of a DXF file, written plainly: group codes and values as the DXF reference has them for R2010.

Every dimension is a true one: a DIMENSION with the points it measures, and the block that pictures it as the sheet does.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, field
from functools import lru_cache
from math import cos, radians, sin

from wallwright.core.drawing import HATCH, PEN_DASH, PEN_WIDTH, TINT, Circle, Dim, Drawing, Hatch, Line, Text
from wallwright.core.shape import Point2
from wallwright.sheets.ink import Plain, figure, inked

# Layer of a mark -> layer of the file, with its line weight [1/100 mm]. Names as in ISO 13567: agent (I- interior designer, E- electrician,
# W- workshop), element in six places, presentation (E- what is there, H- hatch, D- dimension, T- text, J- section, K- revision, G- grid,
# U- construction, V- text on paper, B- border).
LAYERS: dict[str, tuple[str, int]] = {
    "wall": ("I-WALL--E-", 50),
    "obstacles": ("I-OBST--E-", 35),
    "panels": ("I-PANL--E-", 35),
    "units": ("I-CABN--E-", 35),
    "screen": ("I-SCRN--E-", 25),
    "outlines": ("I-FURN--E-", 25),
    "seats": ("I-SEAT--E-", 25),
    "windows": ("I-WIND--E-", 25),
    "cutouts": ("I-CUTO--E-", 35),
    "vents": ("I-VENT--E-", 25),
    "backers": ("I-BACK--E-", 35),
    "studs": ("I-STUD--E-", 25),
    "fixings": ("I-FIXG--E-", 35),
    "lights": ("E-LITE--E-", 35),
    "points": ("E-OUTL--E-", 35),
    "runs": ("E-COND--E-", 35),
    "boxes": ("E-BOXE--E-", 35),
    "cables": ("E-CABL--E-", 35),
    "zones": ("E-ZONE--H-", 25),
    "parts": ("W-PART--E-", 35),
    "offcuts": ("W-OFFC--E-", 25),
    "bands": ("W-BAND--E-", 100),
    "sheet": ("W-BORD--E-", 50),
    "cuts": ("W-CUTS--E-", 25),
    "fittings": ("W-FITT--E-", 25),
    "hatch": ("I-HATC--H-", 25),
    "dims": ("I-DIMS--D-", 25),
    "levels": ("I-LEVL--D-", 25),
    "text": ("I-TEXT--T-", 25),
    "section": ("I-SECT--J-", 50),
    "guides": ("I-GUID--G-", 25),
    "grid": ("I-GRID--G-", 25),
    "marks": ("I-SETO--U-", 25),
    "sight": ("I-SIGT--U-", 25),
    "sun": ("I-SUNP--U-", 25),
    "notes": ("I-NOTE--V-", 25),
    "frame": ("I-SHEE--B-", 50),
    "revisions": ("I-REVN--K-", 35),
}
OTHER = ("I-MISC--E-", 25)
_CODES = {
    "×": "x",
    "°": "%%d",
    "Ø": "%%c",
    "⌀": "%%c",
    "±": "%%p",
    "²": "2",
    "−": "-",
    "–": "-",
    "…": "...",
    "≤": "<=",
    "≥": ">=",
    "’": "'",
}
_SIGNS = str.maketrans(_CODES)
_SIDES = {"start": 0, "middle": 1, "end": 2}


def dxf_text(text: str) -> str:
    """The text with signs that old readers lose written as DXF codes; a percent sign of its own is kept."""
    text = text.replace("%%", "%%%%%%") if "%%" in text else text
    text = text.replace("\n", " ") if "\n" in text else text
    return text if text.isascii() else text.translate(_SIGNS)


def layer_of(name: str) -> str:
    """The file's layer for a mark's."""
    return LAYERS.get(name, OTHER)[0]


@dataclass(frozen=True, slots=True)
class Space:
    """Where entities go: the handle of the block record that owns them, and whether that is a sheet of paper."""

    owner: str
    paper: bool = False


@dataclass(slots=True)
class Marks:
    """Entities as text. next : the next free handle · records, blocks : of the dimensions' pictures · table : handle of the table
    of block records · scales : the scales for which a dimension style is needed
    """

    next: int
    table: str
    records: list[str] = field(default_factory=list[str])
    blocks: list[str] = field(default_factory=list[str])
    scales: set[float] = field(default_factory=set[float])

    def handle(self) -> str:
        """A handle that nothing else has."""
        self.next += 1
        return f"{self.next - 1:X}"

    def drawing(self, drawing: Drawing, space: Space, move: Point2 = (0.0, 0.0)) -> str:
        """All marks of a drawing, moved."""
        return "".join(self._marks(drawing, space, move))

    def _marks(self, drawing: Drawing, space: Space, move: Point2) -> Iterator[str]:
        scale = drawing.scale
        for mark in drawing.marks:
            if isinstance(mark, Dim):
                yield self._dimension(mark, space, move, scale)
                continue
            for part in inked(mark, scale):
                yield self._plain(part, part.layer or mark.layer, space, move, scale)

    def _head(self, kind: str, layer: str, space: Space, more: str = "") -> str:
        paper = " 67\n1\n" if space.paper else ""
        return f"  0\n{kind}\n  5\n{self.handle()}\n330\n{space.owner}\n100\nAcDbEntity\n{paper}  8\n{layer_of(layer)}\n{more}"

    def _plain(self, part: Plain, layer: str, space: Space, move: Point2, scale: float) -> str:
        match part:
            case Line():
                return self._line(part, layer, space, move, scale)
            case Circle():
                return self._circle(part, layer, space, move, scale)
            case Text():
                return self._text(part, layer, space, move, scale)
            case Hatch():
                return self._hatch(part, layer, space, move, scale)

    def _line(self, line: Line, layer: str, space: Space, move: Point2, scale: float) -> str:
        points = [(x + move[0], z + move[1]) for x, z in line.points]
        out = ""
        if line.closed and line.fill == "#fff":
            out = self._wipeout(points, layer, space)
        elif line.closed and line.fill:
            out = self._filled(points, layer, space, line.fill)
        if line.pen == "none":
            return out
        corners = "".join(f" 10\n{_n(x)}\n 20\n{_n(z)}\n" for x, z in points)
        head = self._head("LWPOLYLINE", layer, space, _look(line.pen, scale))
        return f"{out}{head}100\nAcDbPolyline\n 90\n{len(points)}\n 70\n{int(line.closed)}\n{corners}"

    def _circle(self, circle: Circle, layer: str, space: Space, move: Point2, scale: float) -> str:
        whole = circle.end - circle.start >= 360
        at = _point(0, circle.centre[0] + move[0], circle.centre[1] + move[1])
        head = self._head("CIRCLE" if whole else "ARC", layer, space, _look(circle.pen, scale))
        round_part = f"{head}100\nAcDbCircle\n{at} 40\n{_n(circle.radius)}\n"
        return (
            round_part
            if whole
            else f"{round_part}100\nAcDbArc\n 50\n{_n(circle.start)}\n 51\n{_n(circle.end)}\n"
        )

    def _text(self, text: Text, layer: str, space: Space, move: Point2, scale: float) -> str:
        x, z = text.at[0] + move[0], text.at[1] + move[1]
        side = _SIDES[text.anchor]
        turn = f" 50\n{_n(text.turn)}\n" if text.turn else ""
        place = f" 72\n{side}\n{_point(1, x, z)}" if side else ""
        style = "WW_BOLD" if text.bold else "WW"
        return (
            f"{self._head('TEXT', layer, space)}100\nAcDbText\n{_point(0, x, z)} 40\n{_n(text.height * scale)}\n"
            f"  1\n{dxf_text(text.text)}\n{turn}  7\n{style}\n{place}100\nAcDbText\n"
        )

    def _wipeout(self, points: list[Point2], layer: str, space: Space) -> str:
        """What hides what lies below. Its outline is told in shares of the box round it, from the middle, y downwards."""
        xs, zs = [x for x, _ in points], [z for _, z in points]
        x, z, wide, high = min(xs), min(zs), max(xs) - min(xs), max(zs) - min(zs)
        if wide <= 0.01 or high <= 0.01:
            return ""
        size = max(wide, high)
        shares = [((px - x) / size - 0.5, 0.5 - (pz - z) / size) for px, pz in (*points, points[0])]
        outline = "".join(f" 14\n{_n(px)}\n 24\n{_n(pz)}\n" for px, pz in shares)
        return (
            f"{self._head('WIPEOUT', layer, space)}100\nAcDbWipeout\n 90\n0\n{_point(0, x, z)}{_point(1, size, 0.0)}"
            f"{_point(2, 0.0, size)} 13\n1.0\n 23\n1.0\n340\n0\n 70\n7\n280\n1\n281\n50\n282\n50\n283\n0\n360\n0\n"
            f" 71\n2\n 91\n{len(shares)}\n{outline}290\n0\n"
        )

    def _boundary(self, points: list[Point2], name: str, solid: int) -> str:
        corners = "".join(f" 10\n{_n(x)}\n 20\n{_n(z)}\n" for x, z in points)
        return (
            f"100\nAcDbHatch\n{_point(0, 0.0, 0.0)}210\n0.0\n220\n0.0\n230\n1.0\n  2\n{name}\n 70\n{solid}\n 71\n0\n"
            f" 91\n1\n 92\n3\n 72\n0\n 73\n1\n 93\n{len(points)}\n{corners} 97\n0\n 75\n1\n 76\n1\n"
        )

    def _filled(self, points: list[Point2], layer: str, space: Space, colour: str) -> str:
        """A closed shape painted in one colour; black is the reader's own foreground."""
        rgb = colour[1:] if len(colour) == 7 else "".join(2 * c for c in colour[1:])
        number = int(rgb, 16)
        paint = " 62\n7\n" if number == 0 else f" 62\n7\n420\n{number}\n"
        return f"{self._head('HATCH', layer, space, paint)}{self._boundary(points, 'SOLID', 1)} 98\n0\n"

    def _hatch(self, hatch: Hatch, layer: str, space: Space, move: Point2, scale: float) -> str:
        points = [(x + move[0], z + move[1]) for x, z in hatch.points]
        if hatch.pattern in TINT:
            return self._filled(points, layer, space, TINT[hatch.pattern])
        rays: list[str] = []
        for ray in HATCH[hatch.pattern]:
            angle, step = radians(ray.angle), ray.spacing * scale
            dashes = "".join(
                f" 49\n{_n(d * scale * (1 if i % 2 == 0 else -1))}\n" for i, d in enumerate(ray.dashes)
            )
            rays.append(
                f" 53\n{_n(ray.angle)}\n 43\n0.0\n 44\n0.0\n 45\n{_n(-step * sin(angle))}\n 46\n{_n(step * cos(angle))}\n"
                f" 79\n{len(ray.dashes)}\n{dashes}"
            )
        head = self._head("HATCH", layer, space, " 62\n7\n370\n25\n")
        body = self._boundary(points, hatch.pattern.upper(), 0)
        return f"{head}{body} 52\n0.0\n 41\n1.0\n 77\n0\n 78\n{len(rays)}\n{''.join(rays)} 98\n0\n"

    def _dimension(self, dim: Dim, space: Space, move: Point2, scale: float) -> str:
        """A true DIMENSION; where its figure was moved, the figure's own place goes with it.

        Its text is what it measures. Only where a chain is rounded together, so that it closes, another whole mm is written.
        """
        self.scales.add(scale)
        name = f"*D{len(self.records) + 1}"
        picture = inked(dim, scale)
        self._picture(name, picture, move, scale)
        upright = dim.along == "z"
        line = dim.at + dim.offset * scale
        first, second = sorted((dim.start, dim.end), key=lambda p: p[1] if upright else p[0])
        x, z = move
        base = (line + x, second[1] + z) if upright else (second[0] + x, line + z)
        text = next(part for part in picture if isinstance(part, Text))
        up = text.height / 2 * scale  # its place is told by the middle of the figure, ours by the foot
        at = (text.at[0] - up + x, text.at[1] + z) if upright else (text.at[0] + x, text.at[1] + up + z)
        moved = abs(dim.shift) > 0.1 or abs(dim.lift - 0.8) > 0.05
        said = "" if figure(dim) == f"{dim.value:.0f}" else figure(dim)
        return (
            f"{self._head('DIMENSION', 'dims', space)}100\nAcDbDimension\n280\n0\n  2\n{name}\n"
            f"{_point(0, *base)}{_point(1, *at)} 70\n{160 if moved else 32}\n 71\n5\n 42\n{_n(dim.value)}\n"
            f"  1\n{said}\n  3\n{style_name(scale)}\n100\nAcDbAlignedDimension\n"
            f"{_point(3, first[0] + x, first[1] + z)}{_point(4, second[0] + x, second[1] + z)}"
            f" 50\n{90 if upright else 0}\n100\nAcDbRotatedDimension\n"
        )

    def _picture(self, name: str, picture: tuple[Plain, ...], move: Point2, scale: float) -> None:
        """The block of a dimension: extension lines, line, strokes and figure, as on the sheet."""
        record = self.handle()
        self.records.append(
            f"  0\nBLOCK_RECORD\n  5\n{record}\n330\n{self.table}\n100\nAcDbSymbolTableRecord\n100\n"
            f"AcDbBlockTableRecord\n  2\n{name}\n340\n0\n 70\n0\n280\n1\n281\n0\n"
        )
        start = self.handle()
        inside = "".join(self._plain(part, "dims", Space(record), move, scale) for part in picture)
        self.blocks.append(
            f"  0\nBLOCK\n  5\n{start}\n330\n{record}\n100\nAcDbEntity\n  8\n0\n100\nAcDbBlockBegin\n  2\n{name}\n 70\n1\n"
            f"{_point(0, 0.0, 0.0)}  3\n{name}\n  1\n\n{inside}"
            f"  0\nENDBLK\n  5\n{self.handle()}\n330\n{record}\n100\nAcDbEntity\n  8\n0\n100\nAcDbBlockEnd\n"
        )


def style_name(scale: float) -> str:
    """The dimension style of a scale."""
    return f"WW_{scale:g}"


def _look(pen: str, scale: float) -> str:
    """Line type, weight and scale of the dashes."""
    weight = round(PEN_WIDTH[pen] * 100)  # type: ignore[index]
    if pen in PEN_DASH:
        return f"  6\nWW_{pen.upper()}\n370\n{weight}\n 48\n{_n(scale)}\n"
    return f"370\n{weight}\n"


def _point(index: int, x: float, z: float) -> str:
    return f" 1{index}\n{_n(x)}\n 2{index}\n{_n(z)}\n 3{index}\n0.0\n"


@lru_cache(maxsize=1 << 15)
def _n(value: float) -> str:
    """A number to a ten-thousandth of a millimetre; never "-0.0"."""
    return repr(round(float(value), 4) + 0.0)
