"""What stands beside the views: notes, legends and tables, set in columns in the room there is."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import dataclass

from wallwright.core.drawing import (
    TEXT_LABEL,
    TEXT_SMALL,
    Circle,
    Hatch,
    Line,
    Mark,
    Pattern,
    Pen,
    Symbol,
    SymbolKind,
    Text,
    rectangle,
)
from wallwright.core.shape import Box
from wallwright.core.table import Cell, Column, Table
from wallwright.sheets.ink import inked
from wallwright.sheets.lettering import printable, text_width, wrap

LINE = 4.1  # paper mm from one line of small text to the next
ROW = 4.7


@dataclass(frozen=True, slots=True)
class Notes:
    """A heading and sentences."""

    heading: str
    lines: tuple[str, ...]
    first: int = 1
    """The number of the first one, where a block runs on in another room."""


@dataclass(frozen=True, slots=True)
class Legend:
    """What the signs, lines and hatches of this sheet mean: (pen, pattern, sign or unit front, words)."""

    rows: tuple[tuple[str, str], ...]
    """(key, words); key is `pen:…`, `hatch:…`, `sign:…`, `front:…` or `ring:…` (what is written in it)."""
    heading: str = "Legend"


Block = Notes | Legend | Table


def column(blocks: Iterable[Block], rooms: tuple[Box, ...]) -> tuple[Mark, ...]:
    """The blocks one below another in the rooms, in order. A long table runs on in the next room; at the end of the last one it
    says where the rest is.
    """
    marks: list[Mark] = []
    at, top = 0, rooms[0].top
    waiting = list(blocks)
    while waiting:
        block = waiting.pop(0)
        room = Box(rooms[at].x, rooms[at].z, rooms[at].width, top - rooms[at].z)
        drawn, height, rest = _block(block, room, last=at == len(rooms) - 1)
        fits = height <= room.height and rest is None
        if fits or at == len(rooms) - 1:
            marks += drawn
            top -= height + 3.0
            continue
        if isinstance(rest, Table) and isinstance(block, Table) and rest.rows == block.rows:
            rest = block  # only its head had room: all of it goes to the next room
        if rest is not None and rest != block:
            marks += drawn
        waiting.insert(0, rest or block)
        at += 1
        top = rooms[at].top
    return tuple(marks)


def height_of(block: Block, width: float) -> float:
    """How high a block comes out in a room of that width [paper mm]."""
    return _block(block, Box(0.0, 0.0, width, 1e6), last=False)[1]


def _block(block: Block, room: Box, *, last: bool) -> tuple[list[Mark], float, Block | None]:
    """The block drawn in the room, how high it came out, and what of a table or of notes did not fit."""
    match block:
        case Notes():
            return _notes(block, room, last=last)
        case Legend():
            return _legend(block, room, last=last)
        case Table():
            return _table(block, room, last=last)


def _heading(text: str, room: Box) -> tuple[list[Mark], float]:
    lines = wrap(printable(text), room.width, TEXT_LABEL, bold=True)
    return [
        Text((room.x, room.top - TEXT_LABEL - 0.4 - i * 5.4), line, TEXT_LABEL, bold=True, layer="notes")
        for i, line in enumerate(lines)
    ], 5.4 * len(lines)


def _notes(notes: Notes, room: Box, *, last: bool) -> tuple[list[Mark], float, Block | None]:
    marks, used = _heading(notes.heading, room)
    for i, note in enumerate(notes.lines, notes.first):
        lines = wrap(printable(note), room.width - 5, TEXT_SMALL)
        if not last and used + LINE * len(lines) > room.height:
            left = notes.lines[i - notes.first :]
            return marks, used, notes if i == notes.first else Notes(_continued(notes.heading), left, i)
        marks.append(Text((room.x, room.top - used - TEXT_SMALL - 0.6), f"{i}", TEXT_SMALL, layer="notes"))
        for line in lines:
            marks.append(
                Text((room.x + 5, room.top - used - TEXT_SMALL - 0.6), line, TEXT_SMALL, layer="notes")
            )
            used += LINE
    return marks, used, None


def _legend(legend: Legend, room: Box, *, last: bool) -> tuple[list[Mark], float, Block | None]:
    marks, used = _heading(legend.heading, room)
    for i, (key, words) in enumerate(legend.rows):
        lines = wrap(printable(words), room.width - 15, TEXT_SMALL)
        height = max(5.6, LINE * len(lines) + 1.2)
        if not last and used + height > room.height:
            return marks, used, Legend(legend.rows[i:], _continued(legend.heading)) if i else legend
        sample = Box(room.x, room.top - used - 5.0, 12.0, 4.4)
        marks += _sample(key, sample)
        for i, line in enumerate(lines):
            marks.append(
                Text(
                    (room.x + 15, room.top - used - TEXT_SMALL - 1.0 - i * LINE),
                    line,
                    TEXT_SMALL,
                    layer="notes",
                )
            )
        used += height
    return marks, used, None


def _sample(key: str, box: Box) -> list[Mark]:
    """A small piece of what a legend's row explains."""
    kind, _, name = key.partition(":")
    mid = box.centre[1]
    if kind == "pen":
        return [Line(((box.x, mid), (box.right, mid)), _pen(name), layer="notes")]
    if kind == "hatch":
        return [Hatch(box.corners, _pattern(name), layer="notes"), rectangle(box, "thin", layer="notes")]
    if kind == "ring":
        figure = Text((box.centre[0], mid - TEXT_SMALL / 2), name, TEXT_SMALL, "middle", layer="notes")
        return [Circle(box.centre, 1.9, "thin", layer="notes"), figure]
    if kind == "front":
        return [rectangle(box, "medium", layer="notes"), *front_marks(name, box, 1.0)]
    return list(inked(Symbol(_sign(name), box.centre, layer="notes"), 1.0))


def _pen(name: str) -> Pen:
    return name  # type: ignore[return-value]


def _pattern(name: str) -> Pattern:
    return name  # type: ignore[return-value]


def _sign(name: str) -> SymbolKind:
    return name  # type: ignore[return-value]


def _drawers(box: Box, scale: float, right: bool) -> list[Mark]:
    del right
    x, z = box.centre
    w, h = 2.2 * scale, 0.9 * scale
    return [Line(((x - w, z + h / 2), (x, z - h / 2), (x + w, z + h / 2)), "thin", layer="units")]


def _hinged(box: Box, scale: float, right: bool) -> list[Mark]:
    del scale
    hinge, lock = (box.right, box.x) if right else (box.x, box.right)
    return [Line(((lock, box.top), (hinge, box.centre[1]), (lock, box.z)), "dashed", layer="units")]


def _flap(box: Box, scale: float, right: bool) -> list[Mark]:
    del scale, right
    return [Line(((box.x, box.top), (box.centre[0], box.z), (box.right, box.top)), "dashed", layer="units")]


def _lifted(box: Box) -> list[Mark]:
    """A flap that is hung at its head: the point of its dashes is up there."""
    return [Line(((box.x, box.z), (box.centre[0], box.top), (box.right, box.z)), "dashed", layer="units")]


def _glass(box: Box, scale: float, right: bool) -> list[Mark]:
    x, z = box.centre
    s = min(1.4 * scale, box.height / 3, box.width / 4)
    return [
        *_hinged(box, scale, right),
        *(Line(((x + d - s, z - s), (x + d + s, z + s)), "thin", layer="units") for d in (-s, 0.0, s)),
    ]


def _cloth(box: Box, scale: float, right: bool) -> list[Mark]:
    del scale, right
    return [Hatch(box.corners, "light", layer="units")]


def _open(box: Box, scale: float, right: bool) -> list[Mark]:
    del scale, right
    (a, b, c, d) = box.corners
    return [Line((a, c), "thin", layer="units"), Line((b, d), "thin", layer="units")]


def _slatted(box: Box, scale: float, right: bool) -> list[Mark]:
    """A door, and a few of its slats."""
    step = max(box.width / 12, 1.6 * scale)
    lines = [box.x + k * step for k in range(1, int(box.width / step))]
    slats: list[Mark] = [Line(((x, box.z), (x, box.top)), "thin", layer="units") for x in lines]
    return [*slats, *_hinged(box, scale, right)]


def _pull_out(box: Box, scale: float, right: bool) -> list[Mark]:
    """The sign of a drawer, stretched upright: an arrow down its middle."""
    del right
    x, z = box.centre
    w, h = 0.9 * scale, min(box.height / 4, 6 * scale)
    return [
        Line(((x, z + h), (x, z - h)), "thin", layer="units"),
        Line(((x - w, z - h + 2 * w), (x, z - h), (x + w, z - h + 2 * w)), "thin", layer="units"),
    ]


_FRONTS: dict[str, Callable[[Box, float, bool], list[Mark]]] = {
    "drawers": _drawers,
    "shutter": _hinged,
    "glass": _glass,
    "slatted": _slatted,
    "cloth": _cloth,
    "flap": _flap,
    "pull_out": _pull_out,
    "open": _open,
}
FRONT_WORDS = {
    "drawers": "drawer front",
    "shutter": "door, hinged at the point of the dashes",
    "glass": "glass door, hinged at the point of the dashes",
    "slatted": "slatted door, hinged at the point of the dashes",
    "pull_out": "pull-out: comes out whole",
    "open": "open bay",
    "cloth": "cloth front (lets remote signals through)",
    "flap": "flap, hinged along the edge at the point of the dashes",
}


def front_marks(
    front: str, box: Box, scale: float, *, right: bool = False, lifts: bool = False
) -> list[Mark]:
    """The sign of a kind of front inside its outline, told by lines, never by colour. right : hinged at its right edge · lifts : a
    flap hung at its head
    """
    if lifts:
        return _lifted(box)
    return _FRONTS[front](box, scale, right) if front in _FRONTS else []


def _shown(cell: Cell, col: Column) -> str:
    if cell is None:
        return ""
    return printable(f"{cell:.{col.decimals}f}") if isinstance(cell, float) else printable(str(cell))


def _table(table: Table, room: Box, *, last: bool) -> tuple[list[Mark], float, Table | None]:
    """A ruled table; wide text columns are wrapped; the rows that do not fit come back as the rest."""
    marks, used = _heading(table.title, room)
    heads = [col.heading for col in table.columns]
    body = [[_shown(cell, col) for cell, col in zip(row, table.columns, strict=True)] for row in table.rows]
    widths = _widths(heads, body, room.width)
    top = room.top - used
    rest: Table | None = None
    for i, row in enumerate([heads, *body]):
        cells = [
            wrap(text, width - 2.0, TEXT_SMALL, bold=i == 0) for text, width in zip(row, widths, strict=True)
        ]
        height = ROW + LINE * (max(len(lines) for lines in cells) - 1)
        if top - height < room.z + (ROW if last and i < len(body) else 0) and i > 0:
            rest = Table(table.name, _continued(table.title), table.columns, table.rows[i - 1 :], table.notes)
            break
        marks += _row(
            cells, widths, table.columns, Box(room.x, top - height, sum(widths), height), head=i == 0
        )
        top -= height
    if rest is not None and last:
        words = f"… {len(rest.rows)} more in the schedules (documents)"
        marks.append(Text((room.x + 1, top - ROW + 1.2), words, TEXT_SMALL, layer="notes"))
        top -= ROW
    used = room.top - top
    for note in () if rest else table.notes:
        for line in wrap(printable(note), room.width, TEXT_SMALL):
            marks.append(Text((room.x, room.top - used - TEXT_SMALL - 0.8), line, TEXT_SMALL, layer="notes"))
            used += LINE
    return marks, used + 1.0, rest


def _continued(title: str) -> str:
    return title if title.endswith(", continued") else f"{title}, continued"


def _row(
    cells: list[list[str]], widths: list[float], columns: tuple[Column, ...], box: Box, *, head: bool
) -> list[Mark]:
    marks: list[Mark] = [
        Line(((box.x, box.z), (box.right, box.z)), "medium" if head else "thin", layer="notes")
    ]
    if head:
        marks.append(Line(((box.x, box.top), (box.right, box.top)), "medium", layer="notes"))
    left = box.x
    for lines, width, col in zip(cells, widths, columns, strict=True):
        right = col.align == "right"
        for i, line in enumerate(lines):
            at = (left + width - 1.0 if right else left + 1.0, box.top - TEXT_SMALL - 1.1 - i * LINE)
            if line:
                marks.append(
                    Text(at, line, TEXT_SMALL, "end" if right else "start", bold=head, layer="notes")
                )
        left += width
    return marks


def _widths(heads: list[str], body: list[list[str]], room: float) -> list[float]:
    """Column widths from what stands in them; where that is too much, the widest give way and their texts wrap, at first only
    between words.
    """
    widths = [
        max([text_width(head, TEXT_SMALL, True), *(text_width(row[i], TEXT_SMALL) for row in body)]) + 2.4
        for i, head in enumerate(heads)
    ]
    words = [
        max(
            text_width(word, TEXT_SMALL, i == 0)
            for i, row in enumerate([heads, *body])
            for word in row[c].split(" ")
        )
        + 2.4
        for c in range(len(heads))
    ]
    while sum(widths) > room + 1e-6:
        wraps = [c for c in range(len(widths)) if widths[c] > words[c] + 1e-6] or list(range(len(widths)))
        i = max(wraps, key=widths.__getitem__)
        less = min(sum(widths) - room, 2.0)
        if widths[i] > words[i] + 1e-6:
            less = min(less, widths[i] - words[i])
        widths[i] -= less
    return widths
