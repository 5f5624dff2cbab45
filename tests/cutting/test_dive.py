"""Plans put together from proper sheets: no sheet makes a part too many, and what one sheet less needs is found."""

from __future__ import annotations

import random
import runpy
from concurrent.futures import ThreadPoolExecutor
from dataclasses import replace
from pathlib import Path
from typing import Any

import numpy as np
import pytest

from wallwright.cutting.columns import Columns
from wallwright.cutting.construct import first_plan
from wallwright.cutting.dive import Dive
from wallwright.cutting.pool import Left, Pool
from wallwright.cutting.ruin import Ruin, kernel_costs
from wallwright.cutting.solve import solve
from wallwright.cutting.tree import tasks
from wallwright.cutting.verify import verify

columns_tests: dict[str, Any] = runpy.run_path(str(Path(__file__).with_name("test_columns.py")))
instance = columns_tests["instance"]


@pytest.fixture(scope="module")
def pool() -> Pool:
    (task,) = tasks(instance("A_a25"))
    boards, waiting = first_plan(task)
    columns = Columns(task)
    columns.seed(boards)
    columns.settle(400)
    pool = Pool(task, columns, random.Random(1))
    for board in boards:
        pool.keep(board)
    ruin = Ruin(task, boards, waiting, len(boards) + 8, 1, 2000, pool.weights())
    limit = 17 * kernel_costs(task)[0] - 1  # a sheet less than the bound: it never comes to an end
    ruin.give_up(limit)
    for _ in range(100):
        ruin.search(limit, 100)
        pool.gather(ruin)
    return pool


def test_the_pool_gathers_sheets_each_once_and_as_they_say(pool: Pool) -> None:
    assert len(pool.boards) > 50
    rows = pool.made[: len(pool.boards)]
    assert len({row.tobytes() for row in rows}) == len(rows)
    for board, row in zip(pool.boards, rows, strict=True):
        assert np.array_equal(np.bincount(board.root.parts(), minlength=rows.shape[1]), row)
    assert not pool.keep(pool.boards[0].copy())


def test_the_programme_uses_only_sheets_for_which_enough_is_left(pool: Pool) -> None:
    left = Left(pool.columns.demand.copy(), pool.columns.stock.copy())
    whole = pool.relaxed(left)
    first = int(np.argmax(whole.amount))
    rest, taken = pool.take(left, [first])
    assert taken == [first]
    assert np.array_equal(rest.parts, left.parts - pool.made[first])
    then = pool.relaxed(rest)
    used = np.flatnonzero(then.amount > 1e-6)
    assert (pool.made[used] <= rest.parts).all()
    assert then.cost >= whole.cost - 1 - 1e-6  # one sheet taken saves the programme at most that sheet


def test_widening_brings_the_programme_down(pool: Pool) -> None:
    left = Left(pool.columns.demand, pool.columns.stock)
    before = pool.relaxed(left)
    with ThreadPoolExecutor(2) as threads:
        assert pool.widen(before, left, threads) > 0
    assert pool.relaxed(left).cost < before.cost


def test_a_dive_takes_no_part_twice_and_stays_below_its_limit(pool: Pool) -> None:
    demand = pool.columns.demand
    dive = Dive(pool, Left(demand, pool.columns.stock))
    with ThreadPoolExecutor(2) as threads:
        for _ in range(2):
            end = dive.run(17.0, lambda _: True, threads)
            assert end is not None
            cut = pool.made[list(end.taken)].sum(axis=0) if end.taken else 0
            assert np.array_equal(cut + end.left.parts, demand)
            assert end.spent == pytest.approx(len(end.taken))
            assert end.spent <= 17.0 + 1e-6
    assert dive.tries == 2


def test_threads_that_are_late_take_no_step_and_the_dive_ends(
    pool: Pool, monkeypatch: pytest.MonkeyPatch
) -> None:
    left = Left(pool.columns.demand.copy(), pool.columns.stock.copy())
    steps: list[int] = []
    run = Ruin._run  # pyright: ignore[reportPrivateUsage]

    def counted(self: Ruin, *given: Any, **named: Any) -> int:
        steps.append(run(self, *given, **named))
        return steps[-1]

    monkeypatch.setattr(Ruin, "_run", counted)
    with ThreadPoolExecutor(2) as threads:
        pool.widen(pool.relaxed(left), left, threads, lambda: True)
        assert not any(steps)
        limit = pool.relaxed(left).cost  # so near that the programme asks for better sheets at once
        dive, asked = Dive(pool, left), list[int]()

        def late() -> bool:
            asked.append(1)
            return len(asked) > 1

        assert dive.run(limit, lambda _: True, threads, late=late) is None
        assert len(asked) > 2 and not any(steps)  # asked by the threads as well


def test_the_last_sheet_is_saved_by_a_counted_search_that_repeats_itself() -> None:
    """The bound of 11 is of a program apart from this package (see cutting_set.json)."""
    problem = instance("ATP39")
    plan = solve(problem, iterations=1_200_000)
    assert verify(problem, plan) == []
    assert plan.proved
    assert plan.used == 11
    again = solve(problem, iterations=1_200_000)
    assert replace(again, seconds=plan.seconds) == plan
