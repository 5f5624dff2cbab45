"""Tables as plain text in columns of their own width, for the command line."""

from __future__ import annotations

from collections.abc import Iterator
from textwrap import wrap

from wallwright.core.table import Cell, Column, Table

WIDEST = 48
"""A column is wrapped past so many characters."""


def table_text(table: Table) -> str:
    """A table with its title above and its notes below; long cells run over several lines."""
    return "\n".join(_lines(table))


def _lines(table: Table) -> Iterator[str]:
    rows = [[wrap(column.heading, WIDEST) or [""] for column in table.columns]]
    rows += [
        [wrap(_shown(cell, column), WIDEST) or [""] for cell, column in zip(row, table.columns, strict=True)]
        for row in table.rows
    ]
    widths = [max(len(line) for row in rows for line in row[k]) for k in range(len(table.columns))]
    yield table.title
    for row in rows if table.rows else ():
        for number in range(max(map(len, row))):
            cells = (cell[number] if number < len(cell) else "" for cell in row)
            line = (
                text.rjust(width) if column.align == "right" else text.ljust(width)
                for text, width, column in zip(cells, widths, table.columns, strict=True)
            )
            yield "  ".join(line).rstrip()
    yield from table.notes


def _shown(cell: Cell, column: Column) -> str:
    return f"{cell:.{column.decimals}f}" if isinstance(cell, float) else str("" if cell is None else cell)
