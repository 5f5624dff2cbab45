"""The cut list's match marks, and the sheets to buy where the workshop has some."""

from __future__ import annotations

from typing import Any

from wallwright.core.table import Table
from wallwright.derive import derive
from wallwright.job.demos import demo_jobs
from wallwright.job.edits import apply
from wallwright.job.read import read_job
from wallwright.tables.cut_list import cut_list
from wallwright.tables.sheets import sheets


def cell(table: Table, row: int, column: str) -> Any:
    return table.rows[row][[c.name for c in table.columns].index(column)]


def test_matched_fronts_are_marked_in_the_cut_list() -> None:
    wall = derive(read_job(demo_jobs()["living"]))
    table = cut_list(wall)
    found = {cell(table, i, "Part"): cell(table, i, "Match") for i in range(len(table.rows))}
    marked = {part.id: part.match for part in wall.carcass.parts if part.match}
    assert marked
    assert {ident: found[row] for row in found for ident in row.split(", ") if found[row]} == marked
    assert any("cut from one strip" in note for note in table.notes)


def test_the_sheets_to_buy_are_less_what_is_in_the_rack() -> None:
    job = read_job(demo_jobs()["living"])
    for ref, values in (("K1", {"count": 1}), ("R1", {"width": 620, "length": 2300, "offcut": True})):
        size = {"length": 2440, "width": 1220}
        job = apply(job, "add_stock", {"ref": ref, "board": "ply18", **size, **values})
    table = sheets(derive(job, searched=True))
    row = next(i for i in range(len(table.rows)) if cell(table, i, "Board") == "ply18")
    assert cell(table, row, "Sheets") - cell(table, row, "To buy") == 2
    assert "1 of K1, in stock: 2440 x 1220" in cell(table, row, "Size")
    assert "1 of R1, offcut: 2300 x 620" in cell(table, row, "Size")
    assert not any("at most" in note for note in table.notes)
    assert any("at most" in note for note in sheets(derive(job)).notes)
