"""The lists as they are printed: a table's heading stands with rows under it, its notes under rows of its own, and no page begins with
a row left over.
"""

from __future__ import annotations

import io
from collections import Counter

import pypdf
import pytest

from wallwright.core.table import Column, Table
from wallwright.export.pdf import documents_pdf
from wallwright.sheets.paper import Fields

FIELDS = Fields("Demo studio", "Client", "TVW-9", "A", "2026-03-02", "Demo studio", "Approver", "Preliminary")
TOGETHER = 3
"""Common practice: fewer rows than this stand alone neither at a page's foot nor at its head."""

MANY = tuple(f"many{j}" for j in range(45))
"""More notes than stand on a page: they run on."""


@pytest.fixture(scope="module")
def printed() -> tuple[dict[int, int], list[list[str]]]:
    """How many rows each of many tables has, so that their ends fall everywhere on a page, and the words of every page."""
    rows = {k: n for k, n in enumerate((*range(1, 42, 2), *range(40, 0, -3), 2, 3, 4, 5, 6, 7))}
    tables = [
        Table(
            f"t{k}", f"List{k}", (Column("Part"), Column("Name")),
            tuple((f"t{k}r{i}", "a name of two lines " * (9 if i % 5 == 2 else 1)) for i in range(n)),
            tuple(f"n{k}x{j} " + "a note that is wider than its table " * 3 for j in range(k % 4)) if k % 7 else MANY,
        )
        for k, n in rows.items()
    ]  # fmt: skip
    reader = pypdf.PdfReader(io.BytesIO(documents_pdf(tables, "Lists", FIELDS)))
    return rows, [page.extract_text().split() for page in reader.pages]


def test_no_row_is_left_alone(printed: tuple[dict[int, int], list[list[str]]]) -> None:
    rows, pages = printed
    found: Counter[int] = Counter()
    broken = 0
    for words in pages:
        here = Counter(
            int(word[1 : word.index("r")]) for word in words if word.startswith("t") and "r" in word[2:4]
        )
        for table, n in here.items():
            found[table] += n
            broken += n < rows[table]
            assert n >= min(TOGETHER, rows[table]), (table, n)
    assert found == Counter(rows)  # every row of every table is there once
    assert broken > 10


def test_a_heading_stands_with_its_rows(printed: tuple[dict[int, int], list[list[str]]]) -> None:
    _, pages = printed
    seen = 0
    for words in pages[2:]:  # behind the list of lists
        for word in words:
            if word.startswith("List") and word[4:].isdigit():
                seen += 1
                assert {f"t{word[4:]}r0"} <= set(words)
    assert seen > 20


def test_notes_stand_under_rows_of_their_table(printed: tuple[dict[int, int], list[list[str]]]) -> None:
    rows, pages = printed
    seen = 0
    for words in pages:
        for word in words:
            if word.startswith("n") and "x" in word:
                table = int(word[1 : word.index("x")])
                last = range(rows[table])[-TOGETHER:]
                assert {f"t{table}r{i}" for i in last} <= set(words), word
                seen += 1
    assert seen == sum(table % 4 for table in rows if table % 7)
    assert [word for words in pages for word in words if word.startswith("many")] == list(MANY) * sum(
        not table % 7 for table in rows
    )
