from __future__ import annotations

import random

from wallwright.cutting.bound import bound
from wallwright.cutting.construct import first_plan, open_board
from wallwright.cutting.improve import Budget, Search, State
from wallwright.cutting.model import Piece, Problem, Saw, Sheet
from wallwright.cutting.tree import tasks

PIECES = (Piece("a", "ply", 4000, 3000, 6), Piece("b", "ply", 2500, 2000, 8), Piece("c", "ply", 7000, 900, 5))


def test_a_wasteful_plan_comes_down_to_the_bound() -> None:
    # one part a sheet, 19 sheets, to the 2 that area needs: 6 x 12 + 8 x 5 + 5 x 6.3 = 143.5 of 2 x 100 dm²
    (task,) = tasks(Problem(PIECES, (Sheet("s", "ply", 10000, 10000, 1.0),), Saw(32, 0)))
    boards = [open_board(task, 0, kind) for kind, p in enumerate(PIECES) for _ in range(p.quantity)]
    search = Search(task, State([b for b in boards if b is not None], []), bound(task).cost, 1)
    search.run(Budget(3000, None))
    assert (bound(task).sheets, len(search.best.boards), search.best.waiting) == (2, 2, [])


def test_with_too_little_stock_the_most_area_is_placed() -> None:
    (task,) = tasks(Problem(PIECES, (Sheet("s", "ply", 10000, 10000, 1.0, 1),), Saw(32, 0)))
    everything = [kind for kind, p in enumerate(PIECES) for _ in range(p.quantity)]
    search = Search(task, State([], everything), bound(task).cost, 1)
    search.run(Budget(600, None))
    (board,) = search.best.boards
    assert sorted(board.root.parts() + search.best.waiting) == everything
    assert board.area > 0.9 * task.stock[0].x * task.stock[0].y


def test_the_goal_moves_on_after_each_gain() -> None:
    # from one part a sheet past the first greedy plan: two gains beyond it need a goal that stays strictly below the best
    rng = random.Random(3)
    pieces = tuple(
        Piece(f"p{i}", "ply", rng.randint(1000, 12000), rng.randint(1000, 9000)) for i in range(60)
    )
    (task,) = tasks(Problem(pieces, (Sheet("8x4", "ply", 24400, 12200, 1.0),), Saw(32, 100)))
    boards = [open_board(task, 0, kind) for kind in range(60)]
    search = Search(task, State([b for b in boards if b is not None], []), bound(task).cost, 1)
    search.run(Budget(8000, None))
    assert len(search.best.boards) < len(first_plan(task)[0])
