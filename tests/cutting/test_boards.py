"""From patterns to boards: nothing cut twice, nothing lost, and the saw can follow."""

from __future__ import annotations

import runpy
from collections import Counter
from dataclasses import replace
from math import ceil
from pathlib import Path
from typing import Any

from hypothesis import given, settings

from wallwright.cutting.boards import cut_columns
from wallwright.cutting.bound import Bound
from wallwright.cutting.columns import Columns
from wallwright.cutting.improve import State
from wallwright.cutting.model import Problem
from wallwright.cutting.solve import plan_of
from wallwright.cutting.tree import tasks
from wallwright.cutting.verify import verify

problems: Any = runpy.run_path(str(Path(__file__).with_name("problems.py")))["problems"]
check: Any = runpy.run_path(str(Path(__file__).with_name("test_tree.py")))["check"]


@given(problems())
@settings(max_examples=80, deadline=None)
def test_the_programme_rounded_up_is_a_plan(problem: Problem) -> None:
    # no crumbs: a sheet of ten thousand parts makes any pattern slow, and proves nothing more
    pieces = tuple(replace(p, length=max(p.length, 60), width=max(p.width, 60)) for p in problem.pieces)
    problem = replace(problem, pieces=pieces)
    jobs, states = tasks(problem), []
    for task in jobs:
        columns = Columns(task)
        if not any(side.usable for side in columns.sides):
            return
        while columns.round():
            pass
        amount, _ = columns.amounts()
        taken = [(columns.columns[j], ceil(x - 1e-6)) for j, x in enumerate(amount) if x > 1e-6]
        left = [p.quantity for p in task.pieces]
        stock = [s.most for s in task.stock]
        boards = []
        for board in cut_columns(task, taken, left):
            check(board, task)
            if stock[board.kind] > 0:
                stock[board.kind] -= 1
                boards.append(board)
        made = Counter(p for b in boards for p in b.root.parts())
        assert all(made[k] <= p.quantity for k, p in enumerate(task.pieces))
        short = [k for k, p in enumerate(task.pieces) for _ in range(p.quantity - made[k])]
        states.append(State(boards, short))
    plan = plan_of(jobs, states, [Bound(0, 0)] * len(jobs))
    # rounding up is wasteful, so stock may run out before a part that would still fit: the verifier says only that
    assert [f for f in verify(problem, plan) if "still in stock" not in f] == []
