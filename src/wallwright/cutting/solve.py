"""The three ways to ask for a plan: at once, after a light search, or as good as the time allows."""

from __future__ import annotations

import time
from collections import Counter
from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

from wallwright.cutting.bound import Bound, bound, quick_bound
from wallwright.cutting.construct import first_plan
from wallwright.cutting.improve import Budget, Progress, Search, State
from wallwright.cutting.model import Piece, Plan, Problem, Proof
from wallwright.cutting.sequence import lay_out
from wallwright.cutting.tree import Task, tasks

if TYPE_CHECKING:
    from wallwright.cutting.hunt import Hunt
    from wallwright.cutting.warm import Fetching

SECONDS = 10.0
ALONE = 0.3  # of the time at most, in which compiled kernels are fetched with nothing else going on
LOOK = 0.1  # seconds between two questions whether they are here


def quick(problem: Problem) -> Plan:
    """A valid plan at once, without search: a few milliseconds for a wall."""
    jobs = tasks(problem)
    states = [_first(task) for task in jobs]
    return plan_of(jobs, states, [quick_bound(task) for task in jobs])


def light(problem: Problem, steps: int, seed: int = 1) -> Plan:
    """A plan searched for so many steps without anything compiled: for a wall's few sheets. Same seed, same plan."""
    jobs = tasks(problem)
    bounds = [bound(task) for task in jobs]
    states: list[State] = []
    for i, (task, least) in enumerate(zip(jobs, bounds, strict=True)):
        search = Search(task, _first(task), least.cost, seed * 1_000_003 + i)
        search.run(Budget(steps, None))
        states.append(search.best)
    proofs = tuple(
        Proof(t.pieces[0].material, b.shares) for t, b in zip(jobs, bounds, strict=True) if b.shares
    )
    return replace(plan_of(jobs, states, bounds), seed=seed, iterations=steps, steps=steps, proofs=proofs)


def solve(
    problem: Problem,
    seconds: float | None = None,
    iterations: int | None = None,
    seed: int = 1,
    progress: Callable[[Progress], bool | None] | None = None,
    replay: Sequence[Sequence[int]] | None = None,
    clock: Callable[[], float] = time.perf_counter,
) -> Plan:
    """The best plan found: cheapest first, then with the largest offcut.

    Args:
        problem: parts, sheets and saw.
        seconds: a deadline for the search, counted from the call; 10 where neither time nor iterations are given. A first plan is
            always made. Fetching the compiled kernels, once a process, counts too, and is told apart as the plan's ``loading``.
        iterations: steps to spend. With ``iterations`` and no ``seconds`` the same seed gives the same plan, and the
            plan's ``steps`` says so; the clock and a caller who stops the search leave it None.
        seed: of the search.
        progress: called now and then; answers False to stop, and the best plan so far is returned.
        replay: of an earlier plan by the clock, in place of seconds and iterations: with its seed, the same plan again.
        clock: what tells the seconds.

    Raises:
        ValueError: seconds or iterations below zero; a replay of another number of materials, or beside seconds or iterations.
    """
    if replay is not None and (
        seconds is not None or iterations is not None or len(replay) != len(problem.materials())
    ):
        msg = f"replay: one list for each of {len(problem.materials())} material(s), without seconds and iterations"
        raise ValueError(msg)
    if seconds is None and iterations is None and replay is None:
        seconds = SECONDS
    for name, value in (("seconds", seconds), ("iterations", iterations)):
        if value is not None and not value >= 0:
            msg = f"{name}: {value} must not be below zero"
            raise ValueError(msg)
    from wallwright.cutting.hunt import Hunt

    begun = clock()
    jobs = tasks(problem)
    bounds = [bound(task) for task in jobs]
    searches = [
        Hunt(t, _first(t), b.cost, b.sheets, seed * 1_000_003 + i)
        for i, (t, b) in enumerate(zip(jobs, bounds, strict=True))
    ]
    run = _Run(jobs, searches, clock, begun, None if seconds is None else begun + seconds, progress)
    done, whole, stops = run.shared(iterations, replay)
    plan = plan_of(jobs, [s.aim.best for s in searches], [Bound(s.aim.sheets, s.aim.floor) for s in searches])
    return replace(
        plan,
        seed=seed,
        iterations=done,
        seconds=clock() - begun,
        loading=run.loading,
        steps=iterations if seconds is None and replay is None and whole else None,
        replay=stops if iterations is None and whole else None,
        proofs=tuple(s.proof(b.shares) for s, b in zip(searches, bounds, strict=True)),
    )


@dataclass
class _Run:
    """One search for all materials: its deadline by the clock (None = counted), and who hears of it."""

    jobs: list[Task]
    searches: list[Hunt]
    clock: Callable[[], float]
    begun: float
    deadline: float | None
    progress: Callable[[Progress], bool | None] | None
    done: int = 0
    loading: float = 0.0

    def tell(self, steps: int) -> bool:
        """The best so far told; False where the caller has had enough."""
        if self.progress is None:
            return True
        used = sum(len(s.aim.best.boards) for s in self.searches)
        least = sum(s.aim.sheets for s in self.searches)
        return self.progress(Progress(self.done + steps, used, least, self.clock() - self.begun)) is not False

    def shared(
        self, iterations: int | None, replay: Sequence[Sequence[int]] | None
    ) -> tuple[int, bool, tuple[tuple[int, ...], ...] | None]:
        """Give each material its share of the budget by its number of parts; what one leaves goes to the next.

        Returns the steps taken, whether the caller let it come to its end, and what replays it (None = nothing does).
        """
        if not self.tell(0):
            return 0, False, None
        fetching = None if self.deadline is None else self._fetched(self.deadline)
        try:
            return self._each(iterations, replay, fetching)
        finally:
            if fetching is not None:
                fetching.leave()

    def _fetched(self, deadline: float) -> Fetching | None:
        """The kernels on their way; None = here. What is compiled is waited for a while, since loading beside a search takes longer."""
        from wallwright.cutting import warm

        if warm.loaded():
            return None
        fetching = warm.Fetching()
        alone = self.clock() + ALONE * (deadline - self.clock())
        while fetching.compiling is None and not fetching.done(max(0.0, min(LOOK, alone - self.clock()))):
            if self.clock() >= alone or not self.tell(0):
                break
        self.loading = self.clock() - self.begun
        return fetching

    def _each(
        self,
        iterations: int | None,
        replay: Sequence[Sequence[int]] | None,
        fetching: Fetching | None,
    ) -> tuple[int, bool, tuple[tuple[int, ...], ...] | None]:
        stops: list[tuple[int, ...]] = []
        repeatable = True
        to_come = sum(_parts(task) for task in self.jobs)
        for i, (task, search) in enumerate(zip(self.jobs, self.searches, strict=True)):
            share = _parts(task) / to_come
            to_come -= _parts(task)
            steps = None if iterations is None else round((iterations - self.done) * share)
            now = self.clock()
            deadline = None if self.deadline is None else now + max(0.0, self.deadline - now) * share
            budget = Budget(
                steps, deadline, self.tell, None if replay is None else replay[i], clock=self.clock
            )
            search.run(budget, fetching)
            self.done += budget.done
            if budget.cancelled:
                return self.done, False, None
            stops.append(budget.record())
            repeatable = repeatable and budget.repeatable
        return self.done, True, tuple(stops) if repeatable else None


def _parts(task: Task) -> int:
    return sum(p.quantity for p in task.pieces)


def _first(task: Task) -> State:
    return State(*first_plan(task))


def plan_of(jobs: list[Task], states: list[State], bounds: list[Bound]) -> Plan:
    """The plan that each material's state and bound amount to."""
    sheets = tuple(
        plan for task, state in zip(jobs, states, strict=True) for plan in lay_out(task, state.boards)
    )
    unplaced = tuple(
        piece for task, state in zip(jobs, states, strict=True) for piece in _missing(task, state)
    )
    return Plan(
        sheets=sheets,
        lower_bound=sum(b.sheets for b in bounds),
        used=sum(s.count for s in sheets),
        price=sum(s.count * round(s.sheet.price * 100) for s in sheets) / 100,
        price_bound=sum(b.cost >> 64 for b in bounds) / 100,
        unplaced=unplaced,
    )


def _missing(task: Task, state: State) -> list[Piece]:
    """Pieces not placed, by name: a kind's last names are the ones that go without."""
    found: list[Piece] = []
    for kind, short in sorted(Counter(state.waiting).items()):
        for piece in reversed(task.owners[kind]):
            take = min(short, piece.quantity)
            if take and task.sets[kind]:
                found += task.sets[kind]
            elif take:
                found.append(replace(piece, quantity=take))
            short -= take
    return found
