"""Better plans the longer one waits: ruin a few sheets a little, put the parts back, keep what helps.

The goal is always a plan strictly cheaper than the best known: the sheets in play may never cost more than that, parts
that find no room wait outside, and the search tries to shrink the area that waits. When nothing waits, a cheaper plan
has been found and the goal moves on. What to accept is decided by late acceptance: a step may be as bad as the state
of some hundred steps ago. After E. K. Burke and Y. Bykov, "The late acceptance hill-climbing heuristic", EJOR 258
(2017), and J. Gardeyn and T. Wauters, "A goal-driven ruin and recreate heuristic for the 2D variable-sized bin packing
problem with guillotine constraints", EJOR 301 (2022).

This version needs nothing compiled: it is what a wall's own sheets are searched with, and what runs until the kernels
of ``ruin.py``, which take the same steps some fifty times as fast, are ready.

A second phase leaves the price alone and gathers the free room into one large offcut.

Same seed and same number of iterations, same plan; a deadline alone is not repeatable.
"""

from __future__ import annotations

import random
import time
from collections.abc import Callable, Sequence
from typing import NamedTuple

from wallwright.cutting.construct import Spot, open_board
from wallwright.cutting.tree import Board, Node, Slab, Task

MEMORY = 100  # length of the late-acceptance history: of 1 to 1000 the best at 2 000 and 6 000 steps taken together
BLINK = 0.03  # chance to overlook a spot: keeps the recreation from always doing the same
WATCH = 24  # sheets looked at by one recreation, besides the ruined ones
SEARCH_SHARE = 0.75  # of the budget for the price, the rest for the offcut
POLISH_PATIENCE = 20  # polishing stops after 400 + this many steps a part without gain


class Progress(NamedTuple):
    """What a caller hears while it waits: steps done, sheets used so far, least possible, seconds gone."""

    iteration: int
    used: int
    lower_bound: int
    seconds: float


def never() -> bool:
    """The answer to "is it late?" where nobody waits."""
    return False


def always() -> bool:
    """The answer to "shall it go on?" where nobody counts."""
    return True


class Budget:
    """How long to go on: a number of steps, a deadline, a caller who has had enough; whichever comes first."""

    def __init__(
        self,
        iterations: int | None,
        deadline: float | None,
        tell: Callable[[int], bool] | None = None,
        replay: Sequence[int] | None = None,
        clock: Callable[[], float] = time.perf_counter,
    ) -> None:
        """``replay``: the numbers of the questions that the clock answered with no in an earlier run, in place of a clock."""
        self.clock = clock
        self.replay = None if replay is None else frozenset(replay)
        self.asked = 0  # questions so far
        self.refused: list[int] = []  # the numbers of those answered with no by clock or replay
        self.repeatable = True
        self.iterations = iterations
        self.begun = clock()
        self.deadline = deadline
        self.tell = tell
        self.done = 0
        self.cancelled = False

    def spent(self, share: float) -> bool:
        """Is this share of the budget gone? Counts one step."""
        if self.cancelled or (self.iterations is not None and self.done >= share * self.iterations):
            return True
        if self._late(share):
            return True
        if self.tell is not None and self.done % 64 == 0 and not self.tell(self.done):
            self.cancelled = True
            return True
        self.done += 1
        return False

    def allows(self, steps: int, share: float) -> int:
        """How many of these steps may be taken now, before the look at the clock that ``count`` does; 0 = none."""
        if self.cancelled:
            return 0
        if self._late(share):
            return 0
        return (
            steps if self.iterations is None else max(0, min(steps, int(share * self.iterations) - self.done))
        )

    def record(self) -> tuple[int, ...]:
        """What replays it: the questions answered with no, and the first that was never asked, where a replay must end."""
        return (*self.refused, self.asked + 1)

    def _late(self, share: float) -> bool:
        """Is this share of the time gone? Numbers the question, and keeps the number where it is."""
        self.asked += 1
        if self.replay is not None:
            late = self.asked in self.replay or self.asked >= max(self.replay, default=0)
        else:
            late = self.deadline is not None and self.clock() >= self.begun + share * (
                self.deadline - self.begun
            )
        if late:
            self.refused.append(self.asked)
        return late

    def left(self) -> float:
        """Seconds to the deadline, 0 past it; infinite where there is none. Not numbered."""
        return float("inf") if self.deadline is None else max(0.0, self.deadline - self.clock())

    def overdue(self) -> bool:
        """Is all the time gone, or the caller? Asked inside a piece of work, also by its threads, which then leave it half done.

        Not numbered, unlike the questions between pieces of work: what was broken off here cannot be made again.
        """
        if self.cancelled or (self.deadline is not None and self.clock() >= self.deadline):
            self.repeatable = False
            return True
        return False

    def count(self, steps: int) -> None:
        """Note steps taken, and tell the caller, who may cancel."""
        self.done += steps
        if self.tell is not None and not self.tell(self.done):
            self.cancelled = True


class State(NamedTuple):
    """Boards in play and parts that wait outside."""

    boards: list[Board]
    waiting: list[int]

    def copy(self) -> State:
        """A state whose boards may be changed without changing these."""
        return State([b.copy() for b in self.boards], list(self.waiting))


class Search:
    """The improver for one material: ``best`` is always a plan that can be sawn."""

    def __init__(self, task: Task, start: State, floor: int, seed: int) -> None:
        self.task = task
        self.best = start
        self.floor = floor  # cost that no plan can beat
        self.rng = random.Random(seed)

    def run(self, budget: Budget) -> None:
        """Search for a cheaper plan, then for a larger offcut, within the budget."""
        self.cheapen(budget)
        self._gather(budget)

    # --- price -------------------------------------------------------------------------------------------------------

    def cheapen(self, budget: Budget) -> None:
        """Search for a cheaper plan."""
        complete = not self.best.waiting
        limit = self.cost(self.best) - 1 if complete else None
        if complete and (limit is None or limit < self.floor):
            return
        state = self._under(self.best.copy(), limit)
        history = [self._waiting_area(state)] * MEMORY
        step = 0
        while not budget.spent(SEARCH_SHARE):
            tried = self._step(state, limit, None)
            value = self._waiting_area(tried)
            place = step % MEMORY
            if value <= history[place] or value <= self._waiting_area(state):
                state = tried
            history[place] = min(history[place], self._waiting_area(state))
            step += 1
            if limit is None and value < self._waiting_area(self.best):
                self.best = tried.copy()
            if value == 0:
                self.best = tried.copy()
                limit = self.cost(tried) - 1
                if limit < self.floor:
                    return
                state = self._under(tried, limit)
                history = [self._waiting_area(state)] * MEMORY

    def cost(self, state: State) -> int:
        """Cost of the sheets in play, in the task's units."""
        return sum(self.task.stock[b.kind].cost for b in state.boards)

    def _waiting_area(self, state: State) -> int:
        return sum(self.task.areas[part] for part in state.waiting)

    def _under(self, state: State, limit: int | None) -> State:
        """Give up sheets, mostly the emptiest of three, until the rest costs no more than the limit."""
        boards, waiting = list(state.boards), list(state.waiting)
        cost = self.cost(state)
        while limit is not None and cost > limit and boards:
            worst = min(
                self.rng.sample(range(len(boards)), min(3, len(boards))), key=lambda i: boards[i].area
            )
            board = boards.pop(worst)
            cost -= self.task.stock[board.kind].cost
            waiting += board.root.parts()
        return State(boards, waiting)

    # --- offcut ------------------------------------------------------------------------------------------------------

    def _gather(self, budget: Budget) -> None:
        if self.best.waiting or not self.best.boards:
            return
        limit = self.cost(self.best)
        state, top = self.best.copy(), self._offcut(self.best)
        history = [top] * MEMORY
        step = idle = 0
        patience = 400 + POLISH_PATIENCE * sum(p.quantity for p in self.task.pieces)
        while idle < patience and not budget.spent(1.0):
            offcuts = [board.offcut(self.task.saw.kerf) for board in state.boards]
            keeper = offcuts.index(max(offcuts))
            tried = self._step(state, limit, keeper)
            step, idle = step + 1, idle + 1
            place = step % MEMORY
            value = -1.0 if tried.waiting else self._offcut(tried)
            now = self._offcut(state)
            if value >= 0 and (value >= history[place] or value >= now):
                state, now = tried, value
            history[place] = max(history[place], now)
            if value > top:
                self.best, top, idle = tried.copy(), value, 0

    def _offcut(self, state: State) -> float:
        """Largest offcut, and a little for the other large rests so that the search has a slope to climb."""
        areas = [b.offcut(self.task.saw.kerf) for b in state.boards]
        return max(areas) + 1e-3 * sum(float(a) * a for a in areas) ** 0.5

    # --- one step ----------------------------------------------------------------------------------------------------

    def _step(self, state: State, limit: int | None, keeper: int | None) -> State:
        """Ruin and recreate; the given state stays as it is."""
        boards, loose, touched = self._ruin(state, keeper)
        pool = loose + state.waiting
        self._shuffle(pool)
        in_view = self._view(boards, touched)
        free = [s.most for s in self.task.stock]
        cost = 0
        for board in boards:
            free[board.kind] -= 1
            cost += self.task.stock[board.kind].cost
        waiting: list[int] = []
        hopeless: set[int] = set()
        for part in pool:
            if part in hopeless:
                waiting.append(part)
                continue
            if self._place(part, boards, in_view, touched):
                continue
            board = self._open(part, free, None if limit is None else limit - cost)
            if board is None:
                hopeless.add(part)
                waiting.append(part)
                continue
            free[board.kind] -= 1
            cost += self.task.stock[board.kind].cost
            touched.add(len(boards))
            in_view.append(len(boards))
            boards.append(board)
        return State(boards, waiting)

    def _ruin(self, state: State, keeper: int | None) -> tuple[list[Board], list[int], set[int]]:
        """Boards with some subtrees taken out (changed boards are copies), the loose parts, the boards changed."""
        rng, boards, loose = self.rng, list(state.boards), list[int]()
        if not boards:
            return boards, loose, set()
        chosen = rng.sample(range(len(boards)), min(len(boards), rng.randint(1, 3)))
        if keeper is not None and rng.random() < 0.5:
            chosen[0] = keeper
        emptied: set[int] = set()
        for place in set(chosen):
            if rng.random() < 0.1:
                loose += boards[place].root.parts()
                emptied.add(place)
                continue
            board = boards[place] = boards[place].copy()
            for _ in range(rng.randint(1, 4)):
                nodes = _nodes(board.root)
                if not nodes:
                    break
                node = rng.choice(nodes)
                parts = node.parts()
                loose += parts
                board.remove(node, sum(self.task.areas[p] for p in parts))
            if not board.root.children:
                emptied.add(place)
        kept = [i for i in range(len(boards)) if i not in emptied]
        changed = {new for new, old in enumerate(kept) if old in set(chosen)}
        return [boards[i] for i in kept], loose, changed

    def _shuffle(self, pool: list[int]) -> None:
        """Large parts first, by one of three measures; now and then in any order."""
        self.rng.shuffle(pool)
        draw, lies, areas = self.rng.random(), self.task.lies, self.task.areas
        if draw < 0.5:
            pool.sort(key=lambda kind: -areas[kind])
        elif draw < 0.75:
            pool.sort(key=lambda kind: -max(lies[kind][0][:2]))
        elif draw < 0.9:
            pool.sort(key=lambda kind: -min(lies[kind][0][:2]))

    def _view(self, boards: list[Board], touched: set[int]) -> list[int]:
        others = [i for i in range(len(boards)) if i not in touched]
        if len(others) > WATCH:
            others = self.rng.sample(others, WATCH)
        return [*sorted(touched), *others]

    def _place(self, part: int, boards: list[Board], in_view: list[int], touched: set[int]) -> bool:
        """Put the part in the best spot in view; a board not yet changed is copied first."""
        found = self._spot(part, boards, in_view)
        if found is None:
            return False
        place, spot = found
        slab = spot.slab
        if place not in touched:
            index = boards[place].slabs(self.task.levels).index(slab)
            boards[place] = boards[place].copy()
            slab = boards[place].slabs(self.task.levels)[index]
            touched.add(place)
        boards[place].insert(slab, part, spot.lie, across=spot.across, area=self.task.areas[part])
        return True

    def _spot(self, part: int, boards: list[Board], in_view: list[int]) -> tuple[int, Spot] | None:
        """``construct.find_spot`` with blinks, over the boards in view."""
        lies, levels, draw = self.task.lies[part], self.task.levels, self.rng.random
        best: tuple[int, Slab, tuple[int, int, bool], bool] | None = None
        least = float("inf")
        for place in in_view:
            for slab in boards[place].slabs(levels):
                left, thick, axis, spare, _ = slab
                for lie in lies:
                    along, cross = (lie[0], lie[1]) if axis == 0 else (lie[1], lie[0])
                    if along > left or cross > thick or draw() < BLINK:
                        continue
                    rest, side = left - along, thick - cross
                    whole = float(left * thick) ** 2
                    loss = whole - float(rest * thick) ** 2 - (float(along * side) ** 2 if spare else 0.0)
                    if loss < least:
                        least, best = loss, (place, slab, lie, False)
                    if spare and rest and side:
                        loss = (
                            whole - float(left * side) ** 2 - (float(rest * cross) ** 2 if spare > 1 else 0.0)
                        )
                        if loss < least:
                            least, best = loss, (place, slab, lie, True)
        if best is None:
            return None
        place, slab, lie, across = best
        return place, Spot(least, boards[place], slab, lie, across)

    def _open(self, part: int, free: list[int], money: int | None) -> Board | None:
        """A new sheet with the part on it, of a kind in stock that the money left allows; any kind may come up."""
        kinds = [
            i for i, s in enumerate(self.task.stock) if free[i] > 0 and (money is None or s.cost <= money)
        ]
        self.rng.shuffle(kinds)
        for kind in kinds:
            board = open_board(self.task, kind, part)
            if board is not None:
                return board
        return None


def _nodes(root: Node) -> list[Node]:
    """All nodes below the root."""
    found: list[Node] = []
    stack = [root]
    while stack:
        children = stack.pop().children
        if children is not None:
            found += children
            stack += children
    return found
