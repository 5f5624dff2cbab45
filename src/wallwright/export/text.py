"""Tables as plain text for the command line, as wide as the terminal: in columns, or where those do not go in, row by row."""

from __future__ import annotations

import shutil
from collections.abc import Iterator, Sequence
from textwrap import wrap

from wallwright.core.table import Column, Table

WIDEST = 48
"""A column is wrapped past so many characters."""
READABLE = 18
"""Nor is it narrowed below so many: sentences would run down the screen a word at a time."""
GAP = "  "
USUAL = 100
"""Characters across where the output is no terminal."""


def table_text(table: Table, width: int = 0) -> str:
    """A table with its title above and its notes below; long cells run over several lines.

    width : of the output in characters; 0: the terminal's
    """
    room = width or shutil.get_terminal_size((USUAL, 24)).columns
    cells = [
        [column.shown(cell) for cell, column in zip(row, table.columns, strict=True)] for row in table.rows
    ]
    return "\n".join((table.title, *_body(table.columns, cells, room), *_wrapped(table.notes, room)))


def _body(columns: Sequence[Column], cells: Sequence[Sequence[str]], room: int) -> Iterator[str]:
    if not cells:
        return
    every = [[column.heading for column in columns], *cells]
    widths = shared([[row[k] for row in every] for k in range(len(columns))], room)
    if widths:
        yield from _in_columns(columns, every, widths)
    else:
        yield from _row_by_row(columns, cells, room)


def shared(columns: Sequence[Sequence[str]], room: int) -> list[int]:
    """How wide each column is: as its longest cell where all go in, else the widest narrowed; [] where they could not be read."""
    widths = [max(len(line) for cell in cells for line in wrap(cell, WIDEST) or [""]) for cells in columns]
    words = [max((len(word) for cell in cells for word in cell.split()), default=0) for cells in columns]
    least = [max(word, min(wide, READABLE)) for word, wide in zip(words, widths, strict=True)]
    over = sum(widths) + len(GAP) * (len(widths) - 1) - room
    while over > 0:
        k = max(range(len(widths)), key=lambda i: (widths[i] > least[i], widths[i]))
        if widths[k] <= least[k]:
            return []
        widths[k] -= 1
        over -= 1
    return widths


def _in_columns(
    columns: Sequence[Column], rows: Sequence[Sequence[str]], widths: Sequence[int]
) -> Iterator[str]:
    for row in rows:
        cells = [wrap(cell, max(width, 1)) or [""] for cell, width in zip(row, widths, strict=True)]
        for number in range(max(map(len, cells))):
            lines = (cell[number] if number < len(cell) else "" for cell in cells)
            yield GAP.join(
                text.rjust(width) if column.align == "right" else text.ljust(width)
                for text, width, column in zip(lines, widths, columns, strict=True)
            ).rstrip()


def _row_by_row(columns: Sequence[Column], rows: Sequence[Sequence[str]], room: int) -> Iterator[str]:
    """Each row as a heading, its first cell, and below it what every other column says."""
    for first, *rest in rows:
        yield ""
        yield from wrap(first or "-", room)
        for column, cell in zip(columns[1:], rest, strict=True):
            if cell:
                yield from wrap(
                    f"{column.heading}: {cell}", room, initial_indent="  ", subsequent_indent="      "
                )
    yield ""


def _wrapped(notes: Sequence[str], room: int) -> Iterator[str]:
    for note in notes:
        yield from wrap(note, room) or [""]
