"""The flute rod at full size: strips that close on the field, ribs where the rod's table has them, crosses that register."""

from __future__ import annotations

import itertools
from collections import Counter
from collections.abc import Callable
from functools import lru_cache
from pathlib import Path

import pytest

from wallwright.core.drawing import Line, Text
from wallwright.derive import Wall, derive
from wallwright.job.read import read_job
from wallwright.sheets.flute_rod import both_ways, rib_of
from wallwright.sheets.flute_template import LEFT, PITCH, RIBS, sheets, strips
from wallwright.sheets.paper import Sheet
from wallwright.sheets.templates import templates
from wallwright.sheets.tiles import LEAVES, Paper

STRIP, TOP = LEAVES["A4"].tile.width, LEAVES["A4"].tile.top


@lru_cache(maxsize=1)
def panels() -> Wall:
    return derive(read_job((Path(__file__).parent / "made" / "every_panel.toml").read_text()))


@pytest.mark.parametrize("width", [90.0, 180.0, 181.0, 900.0, 2999.7])
def test_strips_close_on_the_field_with_the_middle_in_the_middle_of_one(width: float) -> None:
    made = strips(width)
    assert made[0][0] == -width / 2 and made[-1][1] == width / 2
    assert all(one[1] == two[0] for one, two in itertools.pairwise(made))
    assert all(0 < b - a <= STRIP for a, b in made)
    assert sum(a < 0 < b for a, b in made) == 1


def placed(sheet: Sheet, top: float = TOP) -> list[tuple[int, object]]:
    """Each mark of a page with the row of its strip."""
    return [
        (round((top - RIBS - z) / PITCH), mark)
        for mark in sheet.views[0].drawing.marks
        if isinstance(mark, Line)
        for z in [min(p[1] for p in mark.points)]
    ]


@pytest.mark.parametrize("paper", ["A4", "A3"])
def test_every_rib_is_drawn_at_full_size_where_the_rod_has_it(paper: Paper) -> None:
    leaf = LEAVES[paper]
    wall = panels()
    zone = next(one for one in wall.setout.zones if one.flutes)
    found = strips(zone.box.width, leaf.tile.width)
    drawn: list[tuple[float, float]] = []
    k = 0
    for sheet in sheets(wall, leaf):
        assert sheet.size == leaf.size
        view = sheet.views[0]
        assert view.drawing.scale == 1.0 and (view.x, view.y) == (0.0, 0.0)
        marks = view.drawing.marks
        rows = sum(isinstance(mark, Text) and mark.ref == "strip" for mark in marks)
        for row, mark in placed(sheet, leaf.tile.top):
            assert isinstance(mark, Line)
            if mark.fill:
                left = found[k + row][0]
                xs = [p[0] - LEFT + left for p in mark.points]
                drawn.append((min(xs), max(xs)))
        k += rows
    assert k == len(found)
    # what a seam has cut is joined again
    joined: list[tuple[float, float]] = []
    for a, b in sorted(drawn):
        if joined and abs(joined[-1][1] - a) < 1e-6:
            joined[-1] = (joined[-1][0], b)
        else:
            joined.append((a, b))
    # the field's own edges lie within the machine's step of its outermost marks
    want = both_ways(zone, rib_of(wall, zone))
    assert len(joined) == len(want)
    assert all(got == pytest.approx(mark, abs=0.06) for got, mark in zip(joined, want, strict=True))


def test_each_strip_has_four_crosses_and_a_figure_says_its_own_place() -> None:
    wall = panels()
    zone = next(one for one in wall.setout.zones if one.flutes)
    found = strips(zone.box.width)
    marks_of = {f"{abs(a):.1f}" for a, _ in both_ways(zone, rib_of(wall, zone))}
    k = 0
    for sheet in sheets(wall):
        crosses = Counter(row for row, mark in placed_crosses(sheet))
        marks = sheet.views[0].drawing.marks
        assert set(crosses.values()) == {8}
        for mark in marks:
            if isinstance(mark, Text) and mark.layer == "dims":
                assert mark.text in marks_of
                row = int((TOP - mark.at[1]) // PITCH)
                assert abs(abs(mark.at[0] - LEFT + found[k + row][0]) - float(mark.text)) < 0.051
        k += len(crosses)


def placed_crosses(sheet: Sheet) -> list[tuple[int, Line]]:
    return [
        (int((TOP - max(p[1] for p in mark.points)) // PITCH), mark)
        for mark in sheet.views[0].drawing.marks
        if isinstance(mark, Line) and mark.ref == "register"
    ]


def test_joints_datum_and_both_edges_are_named_once() -> None:
    wall = panels()
    zone = next(one for one in wall.setout.zones if one.flutes)
    said = [m.text for s in sheets(wall) for m in s.views[0].drawing.marks if isinstance(m, Text)]
    assert sum(words.startswith("datum: middle") for words in said) == 1
    assert said.count(f"left edge of {zone.ref}") == said.count(f"right edge of {zone.ref}") == 1
    for x in zone.joints:
        off = x - zone.box.centre[0]
        assert ("datum: middle, and joint" if abs(off) < 0.05 else f"joint {off:+.1f}") in said
    assert not any("…" in words for words in said)


def test_the_rod_is_among_the_templates_and_clean(sheet_faults: Callable[[Sheet], list[str]]) -> None:
    own = [sheet for sheet in templates(panels()) if sheet.name.startswith("flute_rod_")]
    assert own and [sheet_faults(sheet) for sheet in own] == [[]] * len(own)
