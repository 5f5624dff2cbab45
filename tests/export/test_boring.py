"""The boring table in the issue set: one hole a line as CSV, the same in the workbook."""

from __future__ import annotations

import csv
import io
import zipfile
from pathlib import Path
from typing import Any

from wallwright.export.boring import HEADS, boring_csv
from wallwright.tables.boring import bored, hole_list


def test_every_hole_is_a_line(living: Any) -> None:
    rows = list(csv.DictReader(io.StringIO(boring_csv(living).decode("utf-8-sig"))))
    made = bored(living)
    assert len(rows) == len(made.holes) > 100 and tuple(rows[0]) == HEADS
    parts = {part.id: part for part in living.carcass.parts}
    for row in rows:
        part = parts[row["part"]]
        if row["face"] in ("inside", "outside", "both"):
            size = made.lies[part.id].size
            assert 0 < float(row["x"]) < size[0] and 0 < float(row["y"]) < size[1]
        assert float(row["diameter"]) > 0 and float(row["depth"]) > 0 and row["purpose"]
    sums = {tuple(row[key] for key in ("part", "face", "x", "y")) for row in rows}
    assert len(sums) == len(rows)  # no hole twice


def test_it_is_issued_as_csv_and_in_the_workbook(issued: tuple[Path, Any], living: Any) -> None:
    folder = issued[0]
    assert (folder / "holes.csv").read_bytes() == boring_csv(living)
    with zipfile.ZipFile(folder / "schedules.xlsx") as book:
        assert (
            hole_list(living).title
            in book.read("xl/workbook.xml").decode() + book.read("xl/sharedStrings.xml").decode()
        )
