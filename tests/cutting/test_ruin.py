"""The compiled bench does what the plain trees do, and loses nothing."""

from __future__ import annotations

import random
import runpy
from collections import Counter
from pathlib import Path
from typing import Any

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from wallwright.cutting.construct import find_spot, first_plan, open_board
from wallwright.cutting.model import Piece, Problem, Saw, Sheet
from wallwright.cutting.ruin import MOST_COST, Ruin, kernel_costs
from wallwright.cutting.tree import Board, Node, Task, tasks

helpers: dict[str, Any] = runpy.run_path(str(Path(__file__).with_name("problems.py")))
problems, broken_sheets = helpers["problems"], helpers["broken_sheets"]
trees: dict[str, Any] = runpy.run_path(str(Path(__file__).with_name("test_tree.py")))


def shape(node: Node, task: Task) -> Any:
    """The tree without the order of its children."""
    if node.children is None:
        return (node.thick, node.part, node.turned)
    return (node.thick, node.left, sorted((shape(c, task) for c in node.children), key=repr))


def parts_of(ruin: Ruin) -> Counter[int]:
    return Counter(p for b in ruin.boards() for p in b.root.parts()) + Counter(ruin.loose())


@given(problems())
@settings(max_examples=60, deadline=None)
def test_boards_come_back_as_they_went_in(problem: Problem) -> None:
    task = tasks(problem)[0]
    boards, loose = first_plan(task)
    ruin = Ruin(task, boards, loose, len(boards) + 2, 1)
    back = ruin.boards()
    assert [(b.kind, b.axis, shape(b.root, task)) for b in back] == [
        (b.kind, b.axis, shape(b.root, task)) for b in boards
    ]
    assert sorted(ruin.loose()) == sorted(loose)


@given(problems(), st.integers(0, 10_000))
@settings(max_examples=60, deadline=None)
def test_a_part_put_in_or_taken_out_leaves_the_same_tree(problem: Problem, seed: int) -> None:
    from wallwright.cutting import tree_kernel as kernel

    rng = random.Random(seed)
    task = tasks(problem)[0]
    board = next(b for part in range(len(task.pieces)) if (b := open_board(task, 0, part)) is not None)
    for _ in range(25):
        ruin = Ruin(task, [board], list(range(len(task.pieces))) * 8, 2, 1)
        N, head = ruin.bench.N[0], ruin.bench.H[0]
        part = rng.randrange(len(task.pieces))
        spot = find_spot([board], task.lies[part], task.levels)
        below = trees["nodes"](board.root)
        if below and rng.random() < 0.4:
            place = rng.randrange(len(below))
            row = _row_of(N, head, board, below[place])
            board.remove(below[place], sum(task.areas[p] for p in below[place].parts()))
            kernel.take_out(N, head, row, np.zeros(500, np.int64), 0, np.zeros(500, np.int64))
        elif spot is not None:
            row = _row_of(N, head, board, spot.slab.node)
            along, cross = spot.lie[:2] if spot.slab.axis == 0 else spot.lie[1::-1]
            which = task.lies[part].index(spot.lie)
            kernel.put(N, head, row, along, cross, int(ruin.first[part]) + which, spot.across)
            board.insert(spot.slab, part, spot.lie, across=spot.across, area=task.areas[part])
        if not board.root.children:
            return
        (twin,) = ruin.boards()
        assert (twin.axis, shape(twin.root, task)) == (board.axis, shape(board.root, task))


def _row_of(N: Any, head: Any, board: Board, wanted: Node) -> int:
    """The kernel's row of a node: both trees walked side by side. A freshly loaded table has the children in reverse."""
    todo = [(int(head[0]), board.root)]
    while todo:
        row, node = todo.pop()
        if node is wanted:
            return row
        child = int(N[row, 3])
        rows: list[int] = []
        while child >= 0:
            rows.append(child)
            child = int(N[child, 4])
        own = node.children or []
        for r in rows:  # equal children are interchangeable
            match = next(c for c in own if _same(N, r, c) and not any(c is t[1] for t in todo))
            todo.append((r, match))
    raise AssertionError


def _same(N: Any, row: int, node: Node) -> bool:
    """Do row and node hold the same subtree?"""
    if (int(N[row, 0]), int(N[row, 1])) != (node.thick, node.left) or (int(N[row, 6]) >= 0) != (
        node.children is None
    ):
        return False
    child, rows = int(N[row, 3]), []
    while child >= 0:
        rows.append(child)
        child = int(N[child, 4])
    left = list(node.children or [])
    for r in rows:
        found = next((c for c in left if _same(N, r, c)), None)
        if found is None:
            return False
        left.remove(found)
    return not left


@given(problems(), st.integers(0, 99))
@settings(max_examples=60, deadline=None)
def test_no_part_is_lost_and_every_tree_stays_true(problem: Problem, seed: int) -> None:
    task = tasks(problem)[0]
    boards, loose = first_plan(task)
    ruin = Ruin(task, boards, loose, len(boards) + 4, seed)
    before = parts_of(ruin)
    limit = ruin.cost() - 1
    if boards and limit > 0:
        ruin.give_up(limit)
        assert ruin.cost() <= limit
    for _ in range(4):
        ruin.search(max(limit, 1), 40)
        assert parts_of(ruin) == before
        assert ruin.cost() <= max(limit, 1)
        for board in ruin.boards():
            trees["check"](board, task)
        used = Counter(b.kind for b in ruin.boards())
        assert all(used[kind] <= stock.most for kind, stock in enumerate(task.stock))
        alive = ruin.bench.H[:, 6] == 1
        assert sorted(ruin.bench.M[alive, 0].tolist()) == sorted(b.area for b in ruin.boards())


@pytest.mark.parametrize("cut", [[500], [3, 97, 400], [250, 250]])
def test_same_seed_same_steps_whatever_the_looks_between(cut: list[int]) -> None:
    (task,) = tasks(broken_sheets(4, 5, Saw(32, 100)))
    ends: list[Any] = []
    for chunks in ([500], cut):
        boards, loose = first_plan(task)
        ruin = Ruin(task, boards, loose, len(boards) + 4, 5)
        limit = ruin.cost() - 1
        ruin.give_up(limit)
        for steps in chunks:
            assert ruin.search(limit, steps)[0] == steps
        ends.append([(b.kind, b.axis, shape(b.root, task)) for b in ruin.boards()])
    assert ends[0] == ends[1]


def test_gathering_makes_the_offcut_larger_at_the_same_price() -> None:
    problem = broken_sheets(5, 3, Saw(32, 100))
    (task,) = tasks(Problem(problem.pieces[:-3], problem.sheets, problem.saw))
    boards, _ = first_plan(task)
    ruin = Ruin(task, boards, [], len(boards) + 2, 1)
    first, cost = ruin.gathered(), ruin.cost()
    _, value = ruin.gather(cost, 4000, first * 1.02)
    assert value > first * 1.02
    assert ruin.cost() <= cost
    assert not ruin.loose()
    assert max(b.offcut(32) for b in ruin.boards()) > max(b.offcut(32) for b in boards)


def test_costs_of_the_kernel_keep_the_order_of_prices() -> None:
    sheets = (
        Sheet("a", "ply", 2000, 1000, 5.0),
        Sheet("b", "ply", 2000, 1000, 4.99),
        Sheet("c", "ply", 1900, 1000, 5.0),
    )
    (task,) = tasks(Problem((Piece("p", "ply", 100, 100),), sheets, Saw(0, 0)))
    a, b, c = kernel_costs(task)
    assert b < c < a < MOST_COST
    assert 1000 * b < 999 * a < 1000 * a  # price first, whatever the sum
