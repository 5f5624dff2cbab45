"""The time given is a deadline: told by a clock that only the work itself moves, so that a busy machine changes nothing."""

from __future__ import annotations

import runpy
from collections.abc import Callable
from pathlib import Path
from threading import Lock
from typing import Any

import pytest

from wallwright.cutting import integer, price_kernel, ruin_kernel, warm
from wallwright.cutting.improve import Search
from wallwright.cutting.master import Master
from wallwright.cutting.model import Piece, Problem, Saw, Sheet
from wallwright.cutting.ruin import MOST_COST, Ruin
from wallwright.cutting.solve import solve
from wallwright.cutting.tree import tasks
from wallwright.cutting.verify import verify

bench: dict[str, Any] = runpy.run_path(str(Path(__file__).parents[2] / "bench" / "cutting.py"))
broken_sheets: Any = runpy.run_path(str(Path(__file__).with_name("problems.py")))["broken_sheets"]

UNIT = 0.02
SECONDS = 3.0


class Clock:
    """Moved by every piece of work that cannot be broken off, and a little by every look at it."""

    def __init__(self) -> None:
        self.now, self.begun, self.lock, self.unit = 100.0, list[float](), Lock(), UNIT

    def __call__(self) -> float:
        with self.lock:
            self.now += 1e-5
            return self.now

    def counted(self, work: Callable[..., Any]) -> Callable[..., Any]:
        def run(*given: Any, **named: Any) -> Any:
            with self.lock:
                self.begun.append(self.now)
                self.now += self.unit
            return work(*given, **named)

        return run


@pytest.fixture
def clock(monkeypatch: pytest.MonkeyPatch) -> Clock:
    warm.load()
    clock = Clock()
    for module, name in (
        (ruin_kernel, "run"), (price_kernel, "stack_values"), (price_kernel, "strip_values"), (Master, "solve"), (Search, "_step"),
    ):  # fmt: skip
        monkeypatch.setattr(module, name, clock.counted(getattr(module, name)))
    return clock


# what each leads through: the whole plan shuffled and composed plans; dives from columns; mixes of sizes; many kinds of part
PROBLEMS: dict[str, Callable[[], Problem]] = {
    "few parts": lambda: bench["fit_out"](60, sizes=40),
    "many parts of few sizes": lambda: bench["fit_out"](2000, sizes=12),
    "two sheet sizes": lambda: bench["fit_out"](120, sizes=20, two=True),
    "two sheet sizes, many parts": lambda: bench["fit_out"](3000, sizes=60, two=True),
    "three boards": lambda: bench["wall"](1),
}


@pytest.mark.parametrize("name", PROBLEMS)
def test_no_piece_of_work_begins_after_the_deadline(name: str, clock: Clock) -> None:
    problem = PROBLEMS[name]()
    start = clock.now
    plan = solve(problem, seconds=SECONDS, clock=clock)
    assert verify(problem, plan) == []
    begun = [moment for moment in clock.begun if moment <= clock.now]
    assert max(begun) <= start + SECONDS + 3 * UNIT  # two threads and one programme between two questions
    assert plan.proved or max(begun) > start + 0.8 * SECONDS  # and the time is used


@pytest.mark.parametrize("name", PROBLEMS)
def test_a_caller_who_has_had_enough_waits_for_one_piece_of_work(name: str, clock: Clock) -> None:
    told: list[float] = []

    def enough(_: object) -> bool:
        if clock.now > 101.0:
            told.append(clock.now)
        return not told

    problem = PROBLEMS[name]()
    plan = solve(problem, seconds=SECONDS, progress=enough, clock=clock)
    assert verify(problem, plan) == []
    assert plan.proved or told
    if told:
        assert sum(moment >= told[0] for moment in clock.begun) <= 3
        assert (
            told[0] < 101.0 + 40 * UNIT
        )  # asked often enough: a long chunk of two threads is sixteen pieces


class Slow:
    """Kernels that never come: still compiling, or loading on a machine that is too busy."""

    def __init__(self, clock: Clock, *, compiling: bool) -> None:
        self.clock, self.compiling = clock, object() if compiling else None
        self.left = False

    def done(self, wait: float = 0.0) -> bool:
        self.clock.now += wait
        return False

    def leave(self) -> None:
        self.left = True


@pytest.mark.parametrize("compiling", [True, False])
@pytest.mark.parametrize("name", ["few parts", "three boards"])
def test_kernels_that_do_not_come_hold_nobody_up(
    name: str, compiling: bool, clock: Clock, monkeypatch: pytest.MonkeyPatch
) -> None:
    problem = PROBLEMS[name]()
    slow = Slow(clock, compiling=compiling)
    monkeypatch.setattr(warm, "loaded", lambda: False)
    monkeypatch.setattr(warm, "Fetching", lambda: slow)
    monkeypatch.setattr(ruin_kernel, "run", None)  # whoever called it would be told
    start = clock.now
    plan = solve(problem, seconds=SECONDS, clock=clock)
    assert verify(problem, plan) == []
    assert plan.replay is None
    assert start + 0.8 * SECONDS < max(clock.begun) <= start + SECONDS + UNIT  # the slow search, meanwhile
    assert clock.now <= start + SECONDS + 2 * UNIT
    assert slow.left


def test_what_is_loaded_in_time_leaves_the_rest_of_it_to_every_material(
    clock: Clock, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Loaded after 0.6 of 3 s: that counts as time, but is not taken off the first material's share alone."""
    here: list[bool] = []
    clock.unit = 0.002  # a chunk is then shorter than what is kept for the offcut: nothing is broken off

    class Fetching(Slow):
        def done(self, wait: float = 0.0) -> bool:
            clock.now += wait
            here.extend([True] if clock.now >= 100.6 else [])
            return bool(here)

    monkeypatch.setattr(warm, "loaded", lambda: bool(here))
    monkeypatch.setattr(warm, "Fetching", lambda: Fetching(clock, compiling=False))
    plan = solve(PROBLEMS["three boards"](), seconds=SECONDS, clock=clock)
    assert 0.6 <= plan.loading <= 0.75 and plan.seconds <= SECONDS + 3 * UNIT
    assert plan.replay is not None  # nothing of the plan came of the waiting
    assert min(clock.begun) >= 100.6


def test_loading_ends_with_the_piece_it_is_at(monkeypatch: pytest.MonkeyPatch) -> None:
    done: list[int] = []

    def pieces() -> Any:
        yield lambda: (done.append(1), loading[0].stop() if loading else None)
        yield lambda: done.append(2)

    loading: list[warm.Loading] = []
    lock = Lock()

    def first() -> Any:
        lock.acquire()  # until the loading is known here
        yield from pieces()

    monkeypatch.setattr(warm, "_pieces", first)
    monkeypatch.setattr(warm, "_here", [])
    lock.acquire()
    loading.append(warm.Loading())
    lock.release()
    assert loading[0].wait(60.0)
    assert done == [1] and not warm.loaded()


def test_steps_parted_otherwise_are_the_same_steps(monkeypatch: pytest.MonkeyPatch) -> None:
    """Looks at the clock change nothing in the search."""
    (task,) = tasks(broken_sheets(3, 3, Saw(32, 100)))
    loose = [kind for kind, piece in enumerate(task.pieces) for _ in range(piece.quantity)]

    def ends(look: int) -> list[Any]:
        monkeypatch.setattr("wallwright.cutting.ruin.LOOK", look)
        ruin = Ruin(task, [], loose, 12, 5)
        first = ruin.search(MOST_COST, 700)
        limit = ruin.cost() - 1
        ruin.give_up(limit)
        return [first, ruin.search(limit, 900), [board.root.parts() for board in ruin.boards()]]

    assert ends(100) == ends(7) == ends(10_000)


def test_a_solver_deaf_to_its_interruption_is_left_alone(monkeypatch: pytest.MonkeyPatch) -> None:
    from threading import Event

    over = Event()

    class Deaf:
        NOT_SOLVED = 6
        interrupted = 0

        def Solve(self) -> int:
            over.wait(60.0)
            return 0

        def InterruptSolve(self) -> None:
            self.interrupted += 1

    monkeypatch.setattr(integer, "LOOK", 0.001)
    deaf = Deaf()
    assert integer.solved(deaf, lambda: False) == deaf.NOT_SOLVED
    assert deaf.interrupted == integer.DEAF + 1
    over.set()


def test_no_time_at_all_is_a_first_plan(clock: Clock) -> None:
    problem = Problem((Piece("p", "ply", 500, 300, 9),), (Sheet("s", "ply", 1000, 1000, 1.0),), Saw(3, 0, 3))
    plan = solve(problem, seconds=0.0, clock=clock)
    assert verify(problem, plan) == []
    assert clock.begun == []
