"""The drilling sheets: every different board with its holes, from one datum corner, and the table of its rows.

Boards lie with their length across the sheet, seen on the inside face; a handed one is its mirror image. Figures run from the datum
corner. Common practice.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from wallwright.core.drawing import TEXT_LABEL, TEXT_SMALL, Circle, Drawing, Line, Mark, Text, rectangle
from wallwright.core.shape import Box, Point2
from wallwright.sheets.beside import Block, Legend, Notes, column, height_of
from wallwright.sheets.drilled import Drilled, drilled, hole_table
from wallwright.sheets.ink import extent_of
from wallwright.sheets.lettering import text_width, wrap
from wallwright.sheets.paper import SCALES, Fields, Sheet, View
from wallwright.sheets.room import column_right
from wallwright.sheets.running import below, beside, datum, letters
from wallwright.tables.boring import bored

if TYPE_CHECKING:
    from wallwright.carcass.bored import Hole
    from wallwright.derive import Wall

COLUMN = 122.0  # paper mm for the tables
GAP = 5.0  # paper mm between two boards
LEAST_DOT = 0.45  # paper mm: the smallest radius that prints as a circle
CAUTIONS = (
    "Bore a trial piece first. Fittings by their maker's table: where it differs from this sheet, ask before boring.",
    "Boring and grooving: extraction, eye protection and a mask.",
)
NOTES = (
    "x runs along the board from the datum corner (ring), y across it; edges: x along the edge, y below the face. The handed one of a "
    "pair is bored as the mirror image, with the same figures.",
    "Figures are to finished sizes, bands on. Glass is bored by its maker before toughening; flap stays by their own template.",
    "Case screws 7 × 50: 7 through the face, 5 in the end; countersink the far face. Dowels 8 × 35.",
)
LEGEND = Legend(
    (
        ("pen:medium", "board; hole in the face that is seen"),
        ("pen:dashed", "hole in the far face, or in an edge"),
        ("pen:chain", "edge with a band"),
        ("pen:thin", "groove, or opening through (crossed)"),
    )
)


def sheets(wall: Wall) -> tuple[Sheet, ...]:
    """As many sheets as the wall's different boards need; none where nothing is bored."""
    boards = drilled(wall, bored(wall))
    room, beside = column_right(COLUMN)
    pages: list[_Page] = []
    for board in boards:
        view = _fitting(board, room)
        if not pages or not pages[-1].takes(board, view):
            pages.append(_Page(room, beside[0], first=not pages))
            pages[-1].takes(board, view)
    return tuple(_sheet(wall, page, k, len(pages)) for k, page in enumerate(pages, 1))


def _sheet(wall: Wall, page: _Page, k: int, of: int) -> Sheet:
    return Sheet(
        f"drilling_{k}",
        f"Drilling {k} of {of}: {page.span}",
        "Drilling",
        tuple(page.views),
        column(page.blocks, (page.beside,)),
        Fields.of(wall.job),
        CAUTIONS,
        job_title=wall.job.title,
    )


class _Page:
    """A sheet being filled: boards in rows from the top left, their tables in the column beside."""

    def __init__(self, room: Box, beside: Box, *, first: bool) -> None:
        self.room, self.beside = room, beside
        self.views: list[View] = []
        self.boards: list[Drilled] = []
        self.blocks: list[Block] = [LEGEND, *([Notes("Notes", NOTES)] if first else [])]
        self._x, self._top, self._low = room.x + 5.0, room.top - 4.0, room.top - 4.0

    @property
    def span(self) -> str:
        """Its first and last board."""
        first, last = self.boards[0].part.id, self.boards[-1].part.id
        return first if first == last else f"{first} to {last}"

    def takes(self, board: Drilled, view: Drawing) -> bool:
        """Puts a board on the sheet where there is room for it and its table."""
        table = hole_table(board)
        high = sum(height_of(block, self.beside.width) + 3.0 for block in (*self.blocks, table))
        if self.boards and high > self.beside.height:
            return False
        box, s = view.extent, view.scale
        wide, tall = box.width / s, box.height / s
        x, top = self._x, self._top
        if x + wide > self.room.right and x > self.room.x + 5.0:
            x, top = self.room.x + 5.0, self._low - GAP
        if top - tall < self.room.z and self.boards:
            return False
        self.views.append(View(view, round(x - box.x / s, 3), round(top - box.top / s, 3)))
        self._x, self._top = x + wide + GAP, top
        self._low = min(self._low, top - tall)
        self.boards.append(board)
        self.blocks.append(table)
        return True


def _fitting(board: Drilled, room: Box) -> Drawing:
    """The board at the largest scale that leaves it room: small boards at 1:5, the rest at 1:10 or smaller."""
    for scale in (float(s) for s in SCALES[2:]):
        drawing = view(board, scale)
        wide, tall = drawing.extent.width / scale, drawing.extent.height / scale
        if scale == 5 and max(board.lie.size[:2]) > 420:
            continue
        if wide <= room.width - 6 and tall <= room.height - 6:
            return drawing
    raise ValueError(f"board {board.part.id} fits no drilling sheet")


@dataclass(frozen=True, slots=True)
class Laid:
    """How a board lies on the paper: seen on its inside face, turned over across or up where it is the handed one."""

    long: float
    wide: float
    left: bool
    low: bool

    def at(self, x: float, y: float) -> Point2:
        """A point of the board on the drawing [mm]."""
        return (x if self.left else self.long - x), (y if self.low else self.wide - y)

    def box(self, x: float, y: float, dx: float, dy: float) -> Box:
        """A rectangle of the board on the drawing."""
        a, b = self.at(x, y), self.at(x + dx, y + dy)
        return Box(min(a[0], b[0]), min(a[1], b[1]), dx, dy)


def laid(board: Drilled) -> Laid:
    """A board as one sees its inside face: what stands keeps its head up."""
    long, wide, _ = board.lie.size
    upright = board.lie.across == "z"
    over = not board.lie.as_drawn
    return Laid(long, wide, left=not (over and upright), low=not over or upright)


def view(board: Drilled, scale: float) -> Drawing:
    """One board: its outline, bands, grooves, holes, and the running dimensions from its datum corner."""
    on = laid(board)
    box = Box(0.0, 0.0, on.long, on.wide)
    ref = board.part.id
    marks: list[Mark] = [rectangle(box, "medium", fill="#fff", layer="units", ref=ref)]
    marks += _bands(board, on, scale)
    marks += [
        rectangle(on.box(g.x0, g.y0, g.x1 - g.x0, g.y1 - g.y0), "thin", layer="fittings", ref=ref)
        for g in board.grooves
    ]
    for cut in board.cuts:
        hole = on.box(cut.x, cut.y, cut.dx, cut.dy)
        a, b, c, d = hole.corners
        marks += [
            rectangle(hole, "thin", layer="cutouts", ref=ref),
            Line((a, c), "thin", layer="cutouts", ref=ref),
        ]
        marks.append(Line((b, d), "thin", layer="cutouts", ref=ref))
    for hole in board.holes:
        marks += _hole(hole, on, scale)
    marks.append(datum(on.at(0.0, 0.0), scale, ref))
    marks += below(box, [(on.at(x, 0.0)[0], x) for x in (0.0, *_xs(board), on.long)], scale, ref)
    marks += beside(box, [(on.at(0.0, y)[1], y) for y in (0.0, *_ys(board), on.wide)], scale, ref)
    marks += letters(box, _letters(board, on), scale, ref)
    marks += _title(board, box, scale)
    done = tuple(marks)
    return Drawing(f"drill {ref}", board.part.name, scale, done, extent_of(done, scale))


def _title(board: Drilled, box: Box, scale: float) -> list[Mark]:
    """Above the board: its name, size and scale, then how many and which hand, in as many lines as its width asks for."""
    part = board.part
    size = " × ".join(f"{value:.1f}".removesuffix(".0") for value in board.lie.size)
    seen = f" (seen from {_seen(board)})" if part.role == "division" else ""
    words = [f"{board.refs}  {board.name}{seen}  {size}  1:{scale:g}", board.says]
    room = max(box.width / scale + 12.0, 60.0)
    lines: list[tuple[str, float, bool]] = []
    for k, text in enumerate(words):
        height = TEXT_LABEL if k == 0 and text_width(text, TEXT_LABEL, True) <= room else TEXT_SMALL
        lines += [(line, height, k == 0) for line in wrap(text, room, height, bold=k == 0)]
    foot = box.top + 3.2 * scale
    out: list[Mark] = []
    for text, height, bold in reversed(lines):
        out.append(Text((box.x, foot), text, height, bold=bold, layer="text", ref=part.id))
        foot += (height + 1.8) * scale
    return out


def _seen(board: Drilled) -> str:
    """From where one looks at the face of a division that is drawn."""
    if board.lie.through == "z":
        return "above"
    return "its right" if board.lie.ways[2] < 0 else "its left"


def _bands(board: Drilled, on: Laid, scale: float) -> list[Mark]:
    """A chain line beside each banded edge: long edge at the datum, long opposite, end at the datum, far end."""
    off = 0.8 * scale
    ends = (
        ((0.0, -off), (on.long, -off)), ((0.0, on.wide + off), (on.long, on.wide + off)),
        ((-off, 0.0), (-off, on.wide)), ((on.long + off, 0.0), (on.long + off, on.wide)),
    )  # fmt: skip
    return [
        Line((on.at(*a), on.at(*b)), "chain", layer="units", ref=board.part.id)
        for edge, (a, b) in zip(board.part.edges, ends, strict=True)
        if edge
    ]


def _hole(hole: Hole, on: Laid, scale: float) -> list[Mark]:
    """A hole: a ring in a face, dashed in the far one, with a cross where it is through; dashed lines where it is in an edge."""
    ref, r = hole.part, hole.diameter / 2
    if hole.face in ("inside", "outside", "both"):
        x, z = on.at(hole.x, hole.y)
        ring = max(r, LEAST_DOT * scale)
        marks: list[Mark] = [
            Circle((x, z), ring, "dashed" if hole.face == "outside" else "medium", layer="fittings", ref=ref)
        ]
        if hole.through:
            arm = ring + 0.7 * scale
            marks += [
                Line(((x - arm, z), (x + arm, z)), "thin", layer="fittings", ref=ref),
                Line(((x, z - arm), (x, z + arm)), "thin", layer="fittings", ref=ref),
            ]
        return marks
    if hole.face in ("short1", "short2"):
        x = 0.0 if hole.face == "short1" else on.long - hole.depth
        return [rectangle(on.box(x, hole.x - r, hole.depth, 2 * r), "dashed", layer="fittings", ref=ref)]
    y = 0.0 if hole.face == "long1" else on.wide - hole.depth
    return [rectangle(on.box(hole.x - r, y, 2 * r, hole.depth), "dashed", layer="fittings", ref=ref)]


def _xs(board: Drilled) -> list[float]:
    """Every place along the board that is measured."""
    out = [hole.x for hole in board.holes if not hole.face.startswith("short")]
    out += [v for g in board.grooves for v in (g.x0, g.x1)]
    return out + [v for c in board.cuts for v in (c.x, c.x + c.dx)]


def _ys(board: Drilled) -> list[float]:
    """Every place across the board that is measured."""
    out = [hole.y for hole in board.holes if hole.face in ("inside", "outside", "both")]
    out += [hole.x for hole in board.holes if hole.face.startswith("short")]
    out += [v for g in board.grooves for v in (g.y0, g.y1)]
    return out + [v for c in board.cuts for v in (c.y, c.y + c.dy)]


def _letters(board: Drilled, on: Laid) -> list[tuple[float, str]]:
    """The rows' letters at their heights on the drawing; a row in an end stands at each of its holes, one in a long edge at it."""
    out: list[tuple[float, str]] = []
    for row in board.rows:
        if row.face in ("inside", "outside", "both"):
            out += [(on.at(0.0, y)[1], row.letter) for y in row.ys]
        elif row.face.startswith("short"):
            out += [(on.at(0.0, x)[1], row.letter) for x in row.xs]
        else:
            out.append((on.at(0.0, 0.0 if row.face == "long1" else on.wide)[1], row.letter))
    return out
