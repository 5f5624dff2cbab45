"""What stands beside the views: notes, legends and tables, set in columns in the room there is."""

from __future__ import annotations

from collections.abc import Iterable
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
from wallwright.core.table import Column, Table
from wallwright.sheets.front_signs import front_marks
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


def of_what_is_drawn(legend: Legend, marks: Iterable[Mark]) -> Legend:
    """The rows of a legend whose pen, hatch or sign is on the drawing."""
    seen: set[str] = set()
    for mark in marks:
        match mark:
            case Line() | Circle():
                seen.add(f"pen:{mark.pen}")
            case Hatch():
                seen.add(f"hatch:{mark.pattern}")
            case Symbol():
                seen.add(f"sign:{mark.kind}")
            case _:
                pass
    return Legend(tuple(row for row in legend.rows if row[0] in seen), legend.heading)


TOGETHER = 2
"""So many rows of a table at least stand in a room, where that leaves none of them without room."""


def column(blocks: Iterable[Block], rooms: tuple[Box, ...]) -> tuple[Mark, ...]:
    """The blocks one below another in the rooms, in order. A long table runs on in the next room; at the end of the last one it
    says where the rest is.
    """
    blocks = tuple(blocks)
    marks, whole = _column(blocks, rooms, TOGETHER)
    return marks if whole else _column(blocks, rooms, 1)[0]


def _column(blocks: Iterable[Block], rooms: tuple[Box, ...], together: int) -> tuple[tuple[Mark, ...], bool]:
    """The blocks drawn, and whether all of them went in."""
    marks: list[Mark] = []
    at, top, whole = 0, rooms[0].top, True
    waiting = list(blocks)
    while waiting:
        block = waiting.pop(0)
        room = Box(rooms[at].x, rooms[at].z, rooms[at].width, top - rooms[at].z)
        drawn, height, rest = _block(block, room, last=at == len(rooms) - 1, together=together)
        fits = height <= room.height and rest is None
        if fits or at == len(rooms) - 1:
            marks += drawn
            top -= height + 3.0
            whole = whole and fits
            continue
        if isinstance(rest, Table) and isinstance(block, Table) and rest.rows == block.rows:
            rest = block  # only its head had room: all of it goes to the next room
        if rest is not None and rest != block:
            marks += drawn
        waiting.insert(0, rest or block)
        at += 1
        top = rooms[at].top
    return tuple(marks), whole


def height_of(block: Block, width: float) -> float:
    """How high a block comes out in a room of that width [paper mm]."""
    return _block(block, Box(0.0, 0.0, width, 1e6), last=False)[1]


def _block(
    block: Block, room: Box, *, last: bool, together: int = 1
) -> tuple[list[Mark], float, Block | None]:
    """The block drawn in the room, how high it came out, and what of a table or of notes did not fit."""
    match block:
        case Notes():
            return _notes(block, room, last=last)
        case Legend():
            return _legend(block, room, last=last)
        case Table():
            return _table(block, room, last=last, together=together)


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


def _table(
    table: Table, room: Box, *, last: bool, together: int = 1
) -> tuple[list[Mark], float, Table | None]:
    """A ruled table; wide text columns are wrapped; the rows that do not fit come back as the rest."""
    marks, used = _heading(table.title, room)
    heads = [col.heading for col in table.columns]
    body = [
        [printable(col.shown(cell)) for cell, col in zip(row, table.columns, strict=True)]
        for row in table.rows
    ]
    widths = _widths(heads, body, room.width)
    cells = [
        [wrap(text, width - 2.0, TEXT_SMALL, bold=i == 0) for text, width in zip(row, widths, strict=True)]
        for i, row in enumerate([heads, *body])
    ]
    heights = [ROW + LINE * (max(len(lines) for lines in row) - 1) for row in cells]
    fit, low = 0, room.top - used - heights[0]
    while fit < len(body) and low - heights[fit + 1] >= room.z + (ROW if last and fit < len(body) - 1 else 0):
        fit += 1
        low -= heights[fit]
    rest: Table | None = None
    if fit < len(body):
        if not last:  # a row alone is neither left behind nor sent on
            fit = min(fit, len(body) - together)
            fit = 0 if fit < together else fit
        rest = Table(table.name, _continued(table.title), table.columns, table.rows[fit:], table.notes)
    top = room.top - used
    for i, row in enumerate(cells[: fit + 1]):
        box = Box(room.x, top - heights[i], sum(widths), heights[i])
        marks += _row(row, widths, table.columns, box, head=i == 0)
        top -= heights[i]
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
