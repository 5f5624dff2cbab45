"""Tables in a terminal: nothing runs past its edge, no word is broken, nothing is lost."""

from __future__ import annotations

import re

import pytest

from wallwright.core.table import Column, Table
from wallwright.export.text import shared, table_text

WIDE = Table(
    "schemes",
    "Other schemes for this brief",
    (Column("Option"), Column("What it is"), Column("You give up"), Column("Price", "", 0, "right"), Column("Storage", "m", 2, "right")),
    (
        ("Small floating console, plain", "console 1730 × 397 (2 open, 1 with drawers)", "Most storage; the wall itself stays painted and bare",
         "¤ 1,261.72", 0.61),
        ("Console and one tower", "console 2442 × 397; tower 600 × 2300 (1 shutter, 1 open)", "The two sides do not mirror each other",
         "¤ 2,059.00", 4.6),
    ),
    ("This wall as it stands costs what the quote of this set says, and it holds until the day that is written there.",),
)  # fmt: skip


@pytest.mark.parametrize("width", [60, 80, 100, 200])
def test_it_fits_the_terminal_and_says_everything(width: int) -> None:
    lines = table_text(WIDE, width).splitlines()
    assert max(map(len, lines)) <= width
    said = set(re.findall(r"\S+", " ".join(lines)))
    for row in WIDE.rows:
        for cell in row:
            shown = f"{cell:.2f}" if isinstance(cell, float) else str(cell)
            assert set(shown.split()) <= said


def test_figures_stay_in_their_column_where_there_is_room() -> None:
    lines = table_text(WIDE, 120).splitlines()
    assert {line.rstrip()[-4:] for line in lines if "¤" in line} == {"0.61", "4.60"}
    assert "Other schemes" in lines[0] and lines[1].split()[0] == "Option"


def test_where_columns_do_not_go_in_each_row_stands_by_itself() -> None:
    lines = table_text(WIDE, 40).splitlines()
    assert max(map(len, lines)) <= 40
    assert "Console and one tower" in lines and any(line.startswith("  You give up: The") for line in lines)


def test_columns_are_narrowed_from_the_widest_and_never_below_a_word() -> None:
    columns = [["ab", "cd"], ["a very long cell of many words"], ["12345"]]
    assert shared(columns, 100) == [2, 30, 5]
    assert shared(columns, 31) == [2, 20, 5]
    assert shared(columns, 12) == []


def test_the_terminals_own_width_is_taken(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("COLUMNS", "72")
    assert max(map(len, table_text(WIDE).splitlines())) <= 72
