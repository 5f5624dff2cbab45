"""Pricing against every way to divide a small sheet, and the patterns it reads off."""

from __future__ import annotations

import runpy
from pathlib import Path
from typing import Any

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from wallwright.cutting.columns import Columns
from wallwright.cutting.construct import first_plan
from wallwright.cutting.model import Piece, Problem, Saw, Sheet
from wallwright.cutting.price import made, sides
from wallwright.cutting.tree import Task, tasks

worth: Any = runpy.run_path(str(Path(__file__).with_name("exact.py")))["worth"]


@st.composite
def small(draw: st.DrawFn) -> tuple[Task, list[float]]:
    x, y = draw(st.integers(4, 14)), draw(st.integers(4, 14))
    stages = draw(st.sampled_from([2, 3]))
    pieces: list[Piece] = []
    for i in range(draw(st.integers(1, 4))):
        a, b = draw(st.integers(1, x)), draw(st.integers(1, y))
        grain = draw(st.sampled_from(["none", "length"]))
        pieces.append(Piece(f"p{i}", "ply", a, b, 1, grain))
    (task,) = tasks(Problem(tuple(pieces), (Sheet("s", "ply", x, y, 1.0),), Saw(0, 0, stages)))
    values = [draw(st.integers(0, 60)) / 8 for _ in task.pieces]
    return task, values


@given(small())
@settings(max_examples=150, deadline=None)
def test_the_best_sheet_is_the_best_there_is(case: tuple[Task, list[float]]) -> None:
    task, values = case
    stock = task.stock[0]
    lies = tuple(tuple((x, y) for x, y, _ in way) for way in task.lies)
    true = worth(lies, values, stock.x, stock.y, task.levels)
    answers = [side.price(np.array(values), true - 1e-6, true + 1e-6) for side in sides(task)]
    assert max(a.best for a in answers) == pytest.approx(true, abs=1e-9)
    assert max(a.most for a in answers) >= true - 1e-9  # nothing is worth more than what we say is the most


@given(small())
@settings(max_examples=80, deadline=None)
def test_no_sheet_is_worth_more_than_is_proven(case: tuple[Task, list[float]]) -> None:
    # asked for more than there is, it must measure on until the proof is as close as wanted
    task, values = case
    stock = task.stock[0]
    lies = tuple(tuple((x, y) for x, y, _ in way) for way in task.lies)
    true = worth(lies, values, stock.x, stock.y, task.levels)
    answers = [side.price(np.array(values), true + 1e-7, true + 1e-6) for side in sides(task)]
    assert not any(a.patterns for a in answers)
    assert true - 1e-9 <= max(a.most for a in answers) <= true + 1e-6


@given(small())
@settings(max_examples=80, deadline=None)
def test_a_pattern_is_worth_what_it_says_and_fits(case: tuple[Task, list[float]]) -> None:
    task, values = case
    for side in sides(task):
        answer = side.price(np.array(values), 0.0, 1e9)
        for number, pattern in enumerate(answer.patterns):
            own = float(made(pattern, len(values)) @ np.array(values))
            assert number > 0 or own == pytest.approx(answer.best)
            strips = {int(s): int(h) for s, h, *_ in pattern.rows}
            assert sum(strips.values()) <= side.height
            for strip, height in strips.items():
                stacks = {int(r[2]): int(r[3]) for r in pattern.rows if r[0] == strip}
                assert sum(stacks.values()) <= side.width
                for stack, wide in stacks.items():
                    lays = [int(r[4]) for r in pattern.rows if r[0] == strip and r[2] == stack]
                    assert sum(int(side.deep[i]) for i in lays) <= height
                    assert task.levels == 3 or len(lays) == 1
                    lies = [task.lies[part][which] for part, which in (pattern.lays[i] for i in lays)]
                    assert all((lie[1] if side.axis == 0 else lie[0]) <= wide for lie in lies)


def test_by_hand() -> None:
    # 3 strips of 40 in 120, each with one 60 x 40 and two stacked 30 x 20: 3 * (5 + 2 * 2) = 27; oriented
    pieces = (Piece("a", "ply", 60, 40, 1, "length"), Piece("b", "ply", 30, 20, 1, "length"))
    (task,) = tasks(Problem(pieces, (Sheet("s", "ply", 90, 120, 1.0),), Saw(0, 0, 3)))
    best = max(side.price(np.array([5.0, 2.0]), 26.9, 27.1).best for side in sides(task))
    # better still: b alone, 3 x 6 of them = 36
    assert best == 36.0
    best = max(side.price(np.array([5.0, 1.0]), 20.9, 21.1).best for side in sides(task))
    assert best == 21.0  # 3 * (5 + 2 * 1)


@pytest.mark.parametrize("seed", range(6))
def test_heights_between_those_measured_are_proven_too(seed: int, monkeypatch: pytest.MonkeyPatch) -> None:
    # a fine grid, measured everywhere and measured only where it matters: the same best, and as close a proof
    rng = np.random.default_rng(seed)
    sizes = [
        (int(a), int(b)) for a, b in zip(rng.integers(150, 1900, 9), rng.integers(150, 1400, 9), strict=True)
    ]
    pieces = tuple(Piece(f"p{i}", "ply", a, b) for i, (a, b) in enumerate(sizes))
    (task,) = tasks(Problem(pieces, (Sheet("s", "ply", 2900, 2400, 1.0),), Saw(3, 0, 3)))
    values = np.array(task.areas) * rng.uniform(0.9, 1.1, len(sizes)) / (2903 * 2403)
    monkeypatch.setattr("wallwright.cutting.price.FIRST", 10**6)
    whole = sides(task)
    assert all(len(side.points) == len(side.reach) for side in whole)
    true = [side.price(values, 0.0, 1e9).best for side in whole]
    monkeypatch.setattr("wallwright.cutting.price.FIRST", 3)
    some = sides(task)
    assert all(len(side.points) < len(side.reach) / 4 for side in some)
    for side, best in zip(some, true, strict=True):
        assert best - 1e-9 <= side.price(values, best + 1e-6, best + 2e-6).most <= best + 2e-6
        assert side.price(values, best - 1e-7, best + 1e-6).best == pytest.approx(best, abs=1e-7)


def test_where_it_is_late_nothing_is_priced_and_nothing_ruled_out() -> None:
    pieces = (Piece("a", "ply", 4000, 3000, 2), Piece("b", "ply", 2500, 1800, 2))
    (task,) = tasks(Problem(pieces, (Sheet("s", "ply", 24000, 12000, 1.0),), Saw(0, 0, 3)))
    values = np.array([3.0, 1.0])
    for side in sides(task):
        answer = side.price(values, 0.0, 1e9, late=lambda: True)
        assert (answer.patterns, answer.most) == ([], float("inf"))
    columns = Columns(task)
    columns.seed(first_plan(task)[0])
    assert not columns.round(lambda: True)
    assert (columns.least, columns.witness) == (0.0, None)  # no bound comes of it
    asked: list[int] = []
    assert columns.settle(40, lambda: bool(asked.append(1))) == 1 and len(asked) == 1
