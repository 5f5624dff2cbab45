"""The lists of boards, edges and finishes, of the living-room demo and of one that is changed."""

from __future__ import annotations

from typing import Any

import pytest

from wallwright.core.table import Table
from wallwright.derive import Wall, derive
from wallwright.job.demos import demo_jobs
from wallwright.job.edits import apply
from wallwright.job.read import read_job
from wallwright.library import load
from wallwright.tables import all_tables
from wallwright.tables.materials import boards, care, edge_bands


@pytest.fixture(scope="module")
def wall() -> Wall:
    return derive(read_job(demo_jobs()["living"]))


def column(table: Table, name: str) -> list[Any]:
    at = [one.name for one in table.columns].index(name)
    return [row[at] for row in table.rows]


def test_every_board_that_is_cut_stands_once_with_its_area(wall: Wall) -> None:
    table = boards(wall)
    used = {part.board for part in wall.carcass.parts} & set(load.boards())
    assert column(table, "Board") == [load.boards()[key].name for key in sorted(used)]
    area = sum(p.length * p.width for p in wall.carcass.parts if p.board in used) / 1e6
    assert sum(column(table, "Used")) == pytest.approx(area)
    assert all(
        dry < damp
        for dry, damp in zip(
            column(table, "Moisture, driest weeks"), column(table, "Moisture, dampest weeks"), strict=True
        )
    )


def test_the_class_to_order_stands_below(wall: Wall) -> None:
    assert "half of E1 (0.062 mg/m³" in boards(wall).notes[0]
    pinned = derive(apply(wall.job, "set_emission", {"emission": "naf"}))
    assert "no added formaldehyde" in boards(pinned).notes[0]


def test_care_names_where_each_finish_is_and_how_to_clean_it(wall: Wall) -> None:
    stone = derive(apply(wall.job, "set_panel_finish", {"ref": "W1", "finish": "stone_veneer_white"}))
    table = care(stone)
    row = column(table, "Finish").index("Flexible stone veneer, white, sealed")
    assert column(table, "Where")[row] == "W1"
    assert column(table, "Clean with")[row] == "damp cloth, pH-neutral"
    assert "seal" in column(table, "Seal")[row]
    assert not any(column(care(wall), "Seal"))


def test_edge_bands_by_the_metre(wall: Wall) -> None:
    table = edge_bands(wall)
    metres = sum(
        length / 1000
        for part in wall.carcass.parts
        for band, length in zip(part.edges, (part.length, part.length, part.width, part.width), strict=True)
        if band
    )
    assert sum(column(table, "Run")) == pytest.approx(metres)


def test_they_are_among_the_lists(wall: Wall) -> None:
    assert {"boards", "edge_bands", "care"} <= {table.name for table in all_tables(wall)}
