"""What is counted from the trees is what is laid out, and what is skipped on the way changes no plan."""

from __future__ import annotations

import random
import runpy
from pathlib import Path
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from wallwright.cutting import construct
from wallwright.cutting.at_once import AtOnce, tally_of
from wallwright.cutting.construct import find_spot, first_plan, greedy, kinds_by_value, open_board
from wallwright.cutting.model import Piece, Problem, Saw, Sheet
from wallwright.cutting.sequence import lay_out
from wallwright.cutting.tree import Board, Task, tasks
from wallwright.derive import derive
from wallwright.job.demos import demo_jobs
from wallwright.job.read import read_job

problems: Any = runpy.run_path(str(Path(__file__).with_name("problems.py")))["problems"]


@given(problems())
@settings(max_examples=60, deadline=None)
def test_the_numbers_are_those_of_the_plan_laid_out(problem: Problem) -> None:
    board = problem.pieces[0].material
    pieces = tuple(piece for piece in problem.pieces if piece.material == board)
    own = Problem(pieces, tuple(sheet for sheet in problem.sheets if sheet.material == board), problem.saw)
    one = AtOnce(own)
    assert one.tally == tally_of(one.plan)
    lost = sum(piece.quantity for piece in one.plan.unplaced)
    laid = sum(len(sheet.placed) for sheet in one.plan.sheets)
    assert laid == sum(piece.quantity for piece in own.pieces) - lost
    assert one.short == bool(lost)


@pytest.mark.parametrize("count", [1, 2, 5])
def test_sheets_of_the_rack_and_offcuts_count_as_they_are_laid_out(count: int) -> None:
    sheets = (
        Sheet("R1, offcut", "ply", 9000, 6000, 0.0, 1, 0),
        Sheet("R2, in stock", "ply", 24400, 12200, 30.0, 1),
        Sheet("2440 x 1220", "ply", 24400, 12200, 30.0),
    )
    one = AtOnce(
        Problem((Piece("a", "ply", 8000, 5900), Piece("b", "ply", 20000, 7000, count)), sheets, Saw())
    )
    assert one.tally == tally_of(one.plan)
    assert one.tally.charged == count
    assert one.tally.charged_area == count * 24400 * 12200 < one.tally.area


def test_the_cheapest_plan_is_not_proved_while_fewer_sheets_might_do() -> None:
    sheets = Sheet("large", "ply", 20000, 10000, 10.0), Sheet("small", "ply", 10000, 10000, 1.0)
    one = AtOnce(Problem((Piece("a", "ply", 10000, 10000, 2),), sheets, Saw(0, 0)))
    assert (one.plan.price, one.plan.used, one.plan.lower_bound, one.plan.proved) == (2.0, 2, 1, True)
    assert one.tally == tally_of(one.plan)
    assert not one.tally.proved


def test_what_the_stock_does_not_hold_is_not_counted() -> None:
    one = AtOnce(
        Problem((Piece("a", "ply", 20000, 7000, 3),), (Sheet("own", "ply", 24400, 12200, 1.0, 2),), Saw())
    )
    assert one.short
    assert one.tally == tally_of(one.plan)
    assert one.tally.parts == 2 * 20000 * 7000


def test_a_wall_is_not_laid_out_before_somebody_looks(monkeypatch: pytest.MonkeyPatch) -> None:
    laid: list[object] = []
    was = AtOnce.plan.func
    monkeypatch.setattr(AtOnce, "plan", property(lambda one: laid.append(one) or was(one)))
    job = read_job(demo_jobs()["living"])
    wall = derive(job)
    assert wall.cuts.sheets and wall.money.total and not laid
    for (board, plan), (name, bought, share) in zip(wall.cuts.plans, wall.cuts.sheets, strict=True):
        area = sum(p.length * p.width for sheet in plan.sheets for p in sheet.placed)
        whole = sum(sheet.sheet.length * sheet.sheet.width for sheet in plan.sheets)
        assert (board, plan.used, area / whole) == (name, bought, share)
    assert laid


def _plainly(task: Task, parts: list[int]) -> list[Board]:
    """Every part in turn into the best spot of all boards, each looked at anew."""
    boards: list[Board] = []
    for part in parts:
        spot = find_spot(boards, task.lies[part], task.levels)
        if spot is None:
            boards.append(open_board(task, 0, part) or pytest.fail("it fits"))
        else:
            spot.board.insert(spot.slab, part, spot.lie, across=spot.across, area=task.areas[part])
    return boards


@given(st.integers(0, 10_000), st.sampled_from(["any", 2, 3]))
@settings(max_examples=40, deadline=None)
def test_boards_that_did_not_change_need_no_second_look(seed: int, stages: Any) -> None:
    rng = random.Random(seed)
    sizes = [(rng.randrange(900, 12000), rng.randrange(600, 9000), rng.randrange(1, 9)) for _ in range(9)]
    pieces = tuple(Piece(f"p{i}", "ply", *size) for i, size in enumerate(sizes))
    (task,) = tasks(Problem(pieces, (Sheet("s", "ply", 24400, 12200),), Saw(stages=stages)))
    parts = [kind for kind, piece in enumerate(task.pieces) for _ in range(piece.quantity)]
    made = greedy(task, parts, kinds_by_value(task))
    assert made is not None
    plainly = _plainly(task, parts)
    assert made[1] == []
    assert lay_out(task, made[0]) == lay_out(task, plainly)
    assert greedy(task, parts, [0], most=len(plainly)) is not None
    assert greedy(task, parts, [0], most=len(plainly) - 1) is None


def test_the_second_order_is_taken_where_it_needs_fewer_sheets(monkeypatch: pytest.MonkeyPatch) -> None:
    """And not tried where the first one's sheets are full by area."""
    orders: list[object] = []
    was = construct._by_size  # pyright: ignore[reportPrivateUsage]
    monkeypatch.setattr(construct, "_by_size", lambda task, of: orders.append(of) or was(task, of))
    better = 0
    for seed in range(60):
        rng = random.Random(seed)
        sizes = [(rng.randrange(900, 14000), rng.randrange(600, 9000), rng.randrange(1, 6)) for _ in range(8)]
        pieces = tuple(Piece(f"p{i}", "ply", *size) for i, size in enumerate(sizes))
        (task,) = tasks(Problem(pieces, (Sheet("s", "ply", 24400, 12200),), Saw()))
        counts = [len(greedy(task, was(task, of), [0])[0]) for of in (max, sum)]  # type: ignore[index]
        orders.clear()
        boards, rest = first_plan(task)
        assert (len(boards), rest) == (min(counts), [])
        area = sum(a * p.quantity for a, p in zip(task.areas, task.pieces, strict=True))
        full = (counts[0] - 1) * task.stock[0].x * task.stock[0].y < area
        assert orders == ([max] if full else [max, sum])
        better += counts[1] < counts[0]
    assert better
