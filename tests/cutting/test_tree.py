"""The tree keeps its sizes whatever is put in and taken out."""

from __future__ import annotations

import random
import runpy
from pathlib import Path
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from wallwright.cutting.construct import find_spot, open_board
from wallwright.cutting.model import Piece, Problem, Saw, Sheet
from wallwright.cutting.tree import Board, Node, Task, tasks

problems: Any = runpy.run_path(str(Path(__file__).with_name("problems.py")))["problems"]


def check(board: Board, task: Task) -> None:
    """Sum of the children and what is left = the room there is; no division without a cut; sizes are the parts' own."""
    stock = task.stock[board.kind]
    area = 0

    def walk(node: Node, x: int, y: int, axis: int, level: int) -> None:
        nonlocal area
        if node.children is None:
            assert (x, y, node.turned) in task.lies[node.part]
            area += x * y
            return
        along, across = (x, y) if axis == 0 else (y, x)
        assert node.thick == across
        assert sum(child.thick for child in node.children) + node.left == along
        assert node.left >= 0
        whole = len(node.children) == 1 and node.left == 0
        assert not whole or (node is board.root and node.children[0].children is None)
        assert level <= task.levels or (
            level == task.levels + 1 and [c.children for c in node.children] == [None]
        )
        for child in node.children:
            assert child.parent is node
            walk(child, *((child.thick, y) if axis == 0 else (x, child.thick)), 1 - axis, level + 1)

    walk(board.root, stock.x, stock.y, board.axis, 1)
    assert area == board.area


def nodes(node: Node) -> list[Node]:
    return [n for child in node.children or [] for n in (child, *nodes(child))]


@given(problems(), st.integers(0, 10_000))
@settings(max_examples=80, deadline=None)
def test_sizes_stay_true(problem: Problem, seed: int) -> None:
    rng = random.Random(seed)
    task = tasks(problem)[0]
    board = next(b for part in range(len(task.pieces)) if (b := open_board(task, 0, part)) is not None)
    for _ in range(60):
        part = rng.randrange(len(task.pieces))
        spot = find_spot([board], task.lies[part], task.levels)
        below = nodes(board.root)
        if below and rng.random() < 0.4:
            node = rng.choice(below)
            board.remove(node, sum(task.areas[p] for p in node.parts()))
        elif spot is not None:
            board.insert(spot.slab, part, spot.lie, across=spot.across, area=task.areas[part])
        check(board, task)


def test_freed_room_runs_together() -> None:
    # a column of 60 with two parts, one 60 wide, one 40; taking out the wide one narrows the column for all
    pieces = (Piece("wide", "ply", 600, 500, 1, "length"), Piece("slim", "ply", 400, 500, 1, "length"))
    (task,) = tasks(Problem(pieces, (Sheet("s", "ply", 1000, 1000, 1.0),), Saw(0, 0)))
    board = Board.empty(task, 0, 0)
    board.insert(board.slabs(9)[0], 0, task.lies[0][0], across=False, area=300_000)
    column = next(s for s in board.slabs(9) if s.axis == 1)
    board.insert(column, 1, task.lies[1][0], across=False, area=200_000)
    wide = next(n for n in nodes(board.root) if n.part == 0)
    board.remove(wide, 300_000)
    check(board, task)
    assert board.offcut(0) == 600 * 1000


@pytest.mark.parametrize("stages", [2, 3])
def test_a_copy_is_independent(stages: Any) -> None:
    (task,) = tasks(
        Problem((Piece("a", "ply", 400, 300, 9),), (Sheet("s", "ply", 1000, 1000, 1.0),), Saw(0, 0, stages))
    )
    board = open_board(task, 0, 0)
    assert board is not None
    twin = board.copy()
    spot = find_spot([twin], task.lies[0], task.levels)
    assert spot is not None
    twin.insert(spot.slab, 0, spot.lie, across=spot.across, area=task.areas[0])
    assert (board.area, twin.area) == (120_000, 240_000)
    assert (board.root.parts(), twin.root.parts()) == ([0], [0, 0])
