"""Tables as one XLSX book and as CSV files.

Nothing that a person typed is ever a formula: XLSX cells are written as text, CSV cells that a spreadsheet would take for a
formula get an apostrophe. No clock goes in: same input, same bytes.
"""

from __future__ import annotations

import csv as csv_module
import io
from collections.abc import Iterable, Sequence
from datetime import datetime
from typing import Any

from wallwright.core.table import Cell, Table

_START = ("=", "+", "-", "@", "\t", "\r")


def xlsx(tables: Iterable[Table], title: str, date: str) -> bytes:
    """All tables as the sheets of one book; date (YYYY-MM-DD) is the one it says it was made on."""
    import xlsxwriter

    out = io.BytesIO()
    book = xlsxwriter.Workbook(
        out,
        {
            "in_memory": True,
            "strings_to_formulas": False,
            "strings_to_urls": False,
            "strings_to_numbers": False,
        },
    )
    book.set_properties({"title": title, "created": datetime.fromisoformat(date)})
    head = book.add_format({"bold": True, "bottom": 1, "text_wrap": True, "valign": "top"})
    used: set[str] = set()
    for table in tables:
        _sheet(book, table, head, used)
    if not used:
        book.add_worksheet("empty")
    book.close()
    return out.getvalue()


def _sheet(book: Any, table: Table, head: Any, used: set[str]) -> None:
    """One table: its title, headings that stay in view, numbers as numbers, its notes below; set up to print on A4."""
    sheet = book.add_worksheet(_name(table.title, used))
    sheet.write_string(0, 0, table.title, book.add_format({"bold": True, "font_size": 14}))
    for j, column in enumerate(table.columns):
        sheet.write_string(2, j, column.heading, head)
        texts = [column.heading, *(column.shown(row[j]) for row in table.rows)]
        sheet.set_column(j, j, min(60, max(len(text) for text in texts) + 2))
    formats = [
        book.add_format({"num_format": "0" + ("." + "0" * c.decimals if c.decimals else ""), "valign": "top"})
        for c in table.columns
    ]
    words = book.add_format({"text_wrap": True, "valign": "top"})
    for i, row in enumerate(table.rows, 3):
        for j, cell in enumerate(row):
            if isinstance(cell, str):
                sheet.write_string(i, j, cell, words)
            elif cell is not None:
                sheet.write_number(i, j, cell, formats[j])
    for k, note in enumerate(table.notes):
        sheet.write_string(4 + len(table.rows) + k, 0, note)
    sheet.freeze_panes(3, 0)
    sheet.repeat_rows(2)
    sheet.set_landscape()
    sheet.set_paper(9)
    sheet.fit_to_pages(1, 0)


def _name(title: str, used: set[str]) -> str:
    r"""A sheet's name: at most 31 letters, none of []:*?/\\, never twice."""
    plain = "".join(" " if c in "[]:*?/\\'" else c for c in title).strip()[:31] or "table"
    name, n = plain, 2
    while name.lower() in used:
        name, n = f"{plain[:27]} {n}", n + 1
    used.add(name.lower())
    return name


def csv(heads: Sequence[str], rows: Iterable[Sequence[Cell]]) -> bytes:
    """Rows as CSV by RFC 4180 (UTF-8, CRLF). Numbers are written as short as they are."""
    out = io.StringIO()
    writer = csv_module.writer(out, lineterminator="\r\n")
    writer.writerow([safe(head) for head in heads])
    writer.writerows([safe(cell) for cell in row] for row in rows)
    return out.getvalue().encode("utf-8")


def table_csv(table: Table) -> bytes:
    """A table as CSV, its headings with their units."""
    return csv([column.heading for column in table.columns], table.rows)


def safe(cell: Cell) -> str:
    """A cell that no spreadsheet takes for a formula: text that begins like one gets an apostrophe before it."""
    if cell is None:
        return ""
    if isinstance(cell, str):
        return f"'{cell}" if cell.startswith(_START) else cell
    return f"{cell:.3f}".rstrip("0").rstrip(".") if isinstance(cell, float) else str(cell)
