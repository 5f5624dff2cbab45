"""The drilling sheets: clean, complete, each board once, handed pairs said, figures from one datum."""

from __future__ import annotations

from collections.abc import Callable
from itertools import pairwise

import pytest

from wallwright.core.drawing import Circle, Text
from wallwright.core.units import Length
from wallwright.derive import Wall, derive
from wallwright.job.demos import demo_jobs
from wallwright.job.edits import apply
from wallwright.job.read import read_job
from wallwright.sheets import drilling
from wallwright.sheets.crossed import crossed
from wallwright.sheets.drilled import drilled, hole_table, places
from wallwright.sheets.paper import Sheet, numbered
from wallwright.sheets.running import spread
from wallwright.tables.boring import bored, hole_list

L = Length


def living() -> Wall:
    return derive(read_job(demo_jobs()["living"]))


def everything() -> Wall:
    """Doors of each hand, flaps, pull-outs, handles, three lofts' worth of bays."""
    job = read_job(demo_jobs()["living"])
    bays = [
        {"front": "shutter", "shelves": 1},
        {"front": "flap"},
        {"front": "pull_out"},
        {"front": "drawers", "drawers": 2},
    ]
    job = apply(job, "set_unit_bays", {"ref": "C1", "bays": bays})
    job = apply(job, "set_unit_opening", {"ref": "C1", "opening": "handle"})
    return derive(job)


WALLS: dict[str, Callable[[], Wall]] = {
    "living": living, "bedroom": lambda: derive(read_job(demo_jobs()["bedroom"])), "everything": everything,
    "faults": lambda: derive(read_job(demo_jobs()["living_faults"])),
}  # fmt: skip


@pytest.mark.parametrize("name", list(WALLS))
def test_nothing_runs_through_a_text(name: str, sheet_faults: Callable[[Sheet], list[str]]) -> None:
    sheets = numbered(drilling.sheets(WALLS[name]()))
    assert sheets
    assert {sheet.name: hits for sheet in sheets if (hits := crossed(sheet))} == {}
    assert {sheet.name: faults for sheet in sheets if (faults := sheet_faults(sheet))} == {}


@pytest.mark.parametrize("name", ["living", "everything"])
def test_every_bored_board_is_drawn_once_and_every_hole_is_in_a_table(name: str) -> None:
    wall = WALLS[name]()
    made = bored(wall)
    boards = drilled(wall, made)
    refs = [ref for board in boards for ref in (*board.drawn, *board.handed)]
    wanted = {item.part for item in (*made.holes, *made.grooves, *made.cuts)}
    assert sorted(refs) == sorted(wanted) and len(refs) == len(set(refs))
    for board in boards:
        written = sum(len(row.xs) * len(row.ys) for row in board.rows)
        assert written == len(made.of(board.part.id))
        assert len(hole_table(board).rows) == len(board.rows) + len(board.grooves) + len(board.cuts)
    views = [view.drawing.name for sheet in drilling.sheets(wall) for view in sheet.views]
    assert views == [f"drill {board.part.id}" for board in boards]
    assert len(hole_list(wall).rows) == len(made.holes)


def test_handed_pairs_are_said() -> None:
    boards = {board.part.id: board for board in drilled(living(), bored(living()))}
    assert boards["C1-L"].says == "2 off: C1-L as drawn, C1-R handed"
    assert boards["C1-B"].says == "1 off, as drawn"


def test_every_figure_counts_from_the_datum() -> None:
    """The figures along a board are its holes' own places; the ring stands at nought."""
    wall = living()
    made = bored(wall)
    board = next(board for board in drilled(wall, made) if board.part.id == "T1-L")
    marks = drilling.view(board, 10.0).marks
    figures = {mark.text for mark in marks if isinstance(mark, Text) and mark.turn == 90.0}
    for hole in made.of("T1-L"):
        assert f"{hole.x:.1f}".removesuffix(".0") in figures
    assert "0" in figures and f"{board.lie.size[0]:.0f}" in figures
    ring = next(mark for mark in marks if isinstance(mark, Circle) and mark.pen == "wide")
    assert ring.centre in {(0.0, 0.0), (0.0, board.lie.size[1])}
    cups = next(board for board in drilled(wall, made) if board.part.id == "T1.1-F1")
    drawn = [m for m in drilling.view(cups, 10.0).marks if isinstance(m, Circle) and m.radius == 17.5]
    assert len(drawn) == 2


def test_a_crowd_is_spread_no_more_than_it_must() -> None:
    assert spread([0.0, 100.0], 3.5) == [0.0, 100.0]
    assert spread([10.0, 10.0], 4.0) == [8.0, 12.0]
    moved = spread([0.0, 1.0, 2.0, 50.0], 3.0)
    assert moved == [-2.0, 1.0, 4.0, 50.0]
    assert all(b - a >= 3.0 - 1e-9 for a, b in pairwise(moved))


def test_even_runs_are_written_in_short() -> None:
    assert places([9.8, 37.0]) == "9.8; 37"
    assert places([201.8, 233.8, 265.8, 297.8, 329.8, 530.2]) == "201.8 to 329.8, 5 at 32; 530.2"


@pytest.mark.parametrize("name", list(WALLS))
def test_no_hole_lies_in_an_opening(name: str) -> None:
    made = bored(WALLS[name]())
    for cut in made.cuts:
        for hole in made.of(cut.part):
            if hole.face in ("inside", "outside", "both"):
                inside = cut.x < hole.x < cut.x + cut.dx and cut.y < hole.y < cut.y + cut.dy
                assert not inside, (cut, hole)
