"""The mix of sheet sizes: found where it is left alone, given up at once where the caller has had enough, never deaf to Ctrl-C."""

from __future__ import annotations

import os
import random
import signal

import pytest

from wallwright.cutting.columns import Columns
from wallwright.cutting.construct import first_plan
from wallwright.cutting.integer import best_mix
from wallwright.cutting.model import Piece, Problem, Saw, Sheet
from wallwright.cutting.tree import tasks


def columns_of(sizes: int, each: int) -> Columns:
    """The converged columns of an invented order from two sizes of sheet."""
    rng = random.Random(42)
    pieces = tuple(
        Piece(f"p{i}", "ply", rng.randint(1500, 16000), rng.randint(800, 9000), each) for i in range(sizes)
    )
    sheets = (Sheet("large", "ply", 28000, 20700, 580.0), Sheet("small", "ply", 24400, 12200, 310.0))
    (task,) = tasks(Problem(pieces, sheets, Saw(32, 100, 3)))
    columns = Columns(task)
    columns.seed(first_plan(task)[0])
    while columns.round():
        pass
    return columns


def test_the_mix_makes_every_part() -> None:
    columns = columns_of(5, 4)
    mix = best_mix(columns, None, lambda: True)
    assert mix
    for part, wanted in enumerate(columns.demand.tolist()):
        assert sum(column.made[part] * n for column, n in mix) >= wanted


@pytest.mark.skipif(os.name == "nt", reason="no SIGINT for one process there")
def test_a_ctrl_c_while_it_works_is_heard() -> None:
    """The solver has a handler of its own for SIGINT, which would end the solver and keep the signal from the program."""
    heard: list[int] = []
    asked = 0

    def go_on() -> bool:
        nonlocal asked
        asked += 1
        if asked == 1:
            os.kill(os.getpid(), signal.SIGINT)
        return not heard

    before = signal.signal(signal.SIGINT, lambda number, _frame: heard.append(number))
    try:
        best_mix(columns_of(40, 12), 20.0, go_on)
    finally:
        signal.signal(signal.SIGINT, before)
    assert heard == [signal.SIGINT]
