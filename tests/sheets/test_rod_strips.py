"""The rods at full size: every mark of the table once, at its own place, on strips that make up the whole length."""

from __future__ import annotations

import re

import pytest

from wallwright.core.drawing import Line, Text
from wallwright.derive import Wall, derive
from wallwright.job.demos import demo_jobs
from wallwright.job.read import read_job
from wallwright.sheets.rod_strips import ROD, WIDE, sheets, strip
from wallwright.sheets.rods import full
from wallwright.sheets.tiles import LEAVES, Paper

TILE = LEAVES["A4"].tile


@pytest.fixture(scope="module", params=["living", "living_faults"])
def wall(request: pytest.FixtureRequest) -> Wall:
    return derive(read_job(demo_jobs()[request.param]))


@pytest.mark.parametrize(("paper", "a_page"), [("A4", 3), ("A3", 4)])
@pytest.mark.parametrize("which", [0, 1])
def test_every_mark_of_the_table_is_struck_once_at_its_place(
    wall: Wall, which: int, paper: Paper, a_page: int
) -> None:
    title, table, long = full(wall)[which]
    leaf = LEAVES[paper]
    tile = leaf.tile
    pages = [s for s in sheets(wall, full(wall), leaf) if s.name.startswith(table.name)]
    assert all(sheet.size == leaf.size for sheet in pages)
    found: list[float] = []
    for n, sheet in enumerate(pages):
        for mark in sheet.views[0].drawing.marks:
            if isinstance(mark, Line) and mark.pen == "medium":
                x, z = mark.points[0]
                k = n * a_page + int((x - tile.x - ROD) // WIDE + 0.5)
                at = k * tile.height + z - tile.z
                assert at == pytest.approx(float(mark.ref), abs=1e-6), title
                found.append(float(mark.ref))
    assert sorted(found) == sorted(
        float(str(row[0])) for row in table.rows if 0 <= float(str(row[0])) <= long + 0.5
    )
    edges = sum(
        mark.points[1][1] - mark.points[0][1]
        for sheet in pages
        for mark in sheet.views[0].drawing.marks
        if isinstance(mark, Line) and mark.ref == "rod"
    )
    assert edges == pytest.approx(long)


def test_no_word_is_cut(wall: Wall) -> None:
    for _, table, _ in full(wall):
        said = " ".join(
            mark.text
            for sheet in sheets(wall, full(wall))
            if sheet.name.startswith(table.name)
            for mark in sheet.views[0].drawing.marks
            if isinstance(mark, Text)
        )
        for _, words in table.rows:
            assert re.sub(r"\s", "", str(words)) in re.sub(r"\s", "", said)
        assert "…" not in said


def test_a_mark_on_a_seam_stands_on_one_strip_alone() -> None:
    marks = [(TILE.height, "seam"), (2 * TILE.height, "end")]
    struck = [
        [m.ref for m in strip(marks, k, 2 * TILE.height, 0.0) if isinstance(m, Line) and m.pen == "medium"]
        for k in (0, 1)
    ]
    assert struck == [[], ["235", "470"]]
