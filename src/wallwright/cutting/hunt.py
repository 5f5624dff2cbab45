"""The long search for one board material: a proven bound, and plans that come down to it.

Four tools take turns until the price equals the bound or the budget is gone:

* **ruin** (`ruin.py`) shuffles the whole plan; unbeaten for some hundred parts that are mostly different;
* **columns** (`columns.py`) says what no plan can beat, and which patterns are worth cutting;
* **dive**: take the patterns that the linear programme uses whole, then one more at a time, solving the programme
  again for what is left; when a dozen or two sheets are left, ruin finishes them. For many parts of few sizes, only the
  last sheets need a search at all. Dives differ by chance, in what they take and in how early they stop.

After A. Cherri and others on cutting with leftovers the price comes first; then the free room is gathered into one
large offcut (from memory).
"""

from __future__ import annotations

import random
import time
from collections.abc import Sequence
from concurrent.futures import ThreadPoolExecutor
from dataclasses import replace
from functools import partial
from math import gcd
from typing import TYPE_CHECKING

from wallwright.cutting.boards import cut_columns, renamed, rest_of, stock_after
from wallwright.cutting.construct import first_plan
from wallwright.cutting.dive import Dive, Step
from wallwright.cutting.improve import Budget, Search, State
from wallwright.cutting.mixes import Mixes, fill, price_of
from wallwright.cutting.model import Proof, Shares
from wallwright.cutting.pool import Left, Pool
from wallwright.cutting.ruin import MOST_COST, Ruin, kernel_costs
from wallwright.cutting.tree import Board, Task

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

    from wallwright.cutting.columns import Column, Columns

    Floats = NDArray[np.float64]

WHOLE = 450  # parts that the ruin takes on at once
FEW = 4.0  # wanted of each size on average: up to this the ruin goes first whatever the number of parts
DEEPEST = 24.0  # sheets left, at most, when a dive stops and the ruin takes over
SLICE = 0.25  # seconds between two looks whether the kernels are compiled
CHUNK = 800  # steps between two looks at the clock
SIP = 100  # the same while sheets are gathered
GATHER = 60_000  # steps of the ruin while sheets are gathered
TIGHT = 0.25  # of the dearest sheet, that a better plan may cost above the bound
TRIES = 6  # plans composed before sheets are gathered again
LATE = (2000, 2000)  # lengths of the histories while sheets are gathered
FINISH = 20_000  # steps of the ruin to finish what was composed, four times as many where it is nearly whole
NEARLY = 3  # parts that wait at most when a composed plan is nearly whole
REHEAT = (0.03, 0.08)  # of the largest sheet: how much may wait in steps from a nearly whole plan
OPENING_SHARE = 0.15  # of the budget at most, while every opening gains
OPENING = 20_000  # steps of the ruin before anything else
MEMORIES = (300, 2000)  # lengths of the histories of the two searches
CUT_SHORT = 0.95  # of its time: a mix that took so long may have been ended by the clock
MIX_SHARE = 0.3  # of the time left for the mix of sheet sizes
FILL = 20_000  # steps on each mix before another may be nearer
TIRED = 600_000  # steps after which a search of the whole begins afresh
WHOLE_SHARE = 6  # steps on the whole plan for one in a dive
TURN = 40_000  # steps of the ruin in each turn to begin with
SEARCH_SHARE = 0.9  # of the budget for the price, the rest for the offcut
COLUMN_SHARE = 0.6  # of the budget at most until the columns have converged
LAST_SHEETS = 16  # sheets among which the free room is gathered
PATIENCE = 4000  # steps without gain after which gathering stops, and as many again for every 10 parts


class Hunt:
    """The search for one material: ``best`` can always be sawn, ``floor`` cannot be undercut."""

    def __init__(self, task: Task, start: State, floor: int, sheets: int, seed: int) -> None:
        self.task, self.best = task, start
        self.floor, self.sheets = floor, sheets
        self.seed = seed
        self.rng = random.Random(seed)
        self.costs = kernel_costs(task)
        self.parts = sum(p.quantity for p in task.pieces)
        self.whole: list[Ruin] = []
        self.threads = ThreadPoolExecutor(len(MEMORIES))
        self.turn = 0
        self.columns: Columns | None = None

    def cost(self) -> int:
        """What the best plan costs, in the task's units."""
        return self._cost_of(self.best)

    def settled(self) -> bool:
        """Is the best plan's price proven?"""
        if self.best.waiting:
            return False
        if any(s.cost >> 64 for s in self.task.stock):
            return self.cost() >> 64 <= self.floor >> 64
        return self.cost() <= self.floor

    def proof(self, shares: tuple[Shares, ...]) -> Proof:
        """What the floor rests on: the shares it began from, and the columns' values where these were priced."""
        if self.columns is None:
            return Proof(self.task.pieces[0].material, shares)
        return self.columns.proof(shares)

    def run(self, budget: Budget) -> None:
        """Spend the budget: the price first, then the offcut."""
        with self.threads:
            if not self.settled():
                self._hunt(budget)
            if not self.best.waiting and self.best.boards and not budget.cancelled:
                self._gather(budget)

    # --- price -------------------------------------------------------------------------------------------------------

    def _hunt(self, budget: Budget) -> None:
        kinds = len(self.task.pieces)
        few = self.parts <= WHOLE or self.parts < FEW * kinds
        self._meanwhile(budget)
        if few or self.best.waiting:
            gained = True
            while gained and not self.settled() and budget.allows(1, OPENING_SHARE):
                before = self.cost(), len(self.best.waiting)
                self._ruin(budget, OPENING)
                gained = (self.cost(), len(self.best.waiting)) != before
        if self.settled() or not budget.allows(1, SEARCH_SHARE):
            return
        columns = self._columns(budget)
        several = len(self.task.stock) > 1
        if columns is not None and several and not self.best.waiting and not budget.cancelled:
            self._mix(columns, budget)
        steps, dived = TURN, 0
        dive = self._composer() if few else None
        mixes = Mixes(self.task, self.seed + 13) if several and self.parts <= WHOLE else None
        while not self.settled() and budget.allows(1, SEARCH_SHARE):
            begun = budget.done
            filled = mixes is not None and self._fill(mixes, budget, WHOLE_SHARE * steps)
            if (
                dive is not None
                and not self.best.waiting
                and self._compose(dive, budget)
                and self._tight(dive)
            ):
                continue
            if not filled and (few or columns is None or self.best.waiting):
                self._ruin(budget, WHOLE_SHARE * max(steps, dived))
            before = budget.done
            if columns is not None and not self.best.waiting and not self.settled():
                self._dive(columns, budget, steps)
            dived = budget.done - before
            if budget.done == begun:
                budget.count(1)  # too few steps left for anything
            steps += steps // 4

    def _meanwhile(self, budget: Budget) -> None:
        """Against a deadline on a machine that has not compiled the kernels yet: search without them until it has."""
        from wallwright.cutting import warm

        if budget.deadline is None or warm.ready():
            return
        budget.repeatable = False  # how far it comes is the machine's affair
        compiling = warm.prepare()
        search = Search(self.task, self.best, self.floor, self.seed)
        while compiling.poll() is None and not self.settled() and budget.allows(1, SEARCH_SHARE):
            search.cheapen(Budget(None, min(budget.deadline, time.perf_counter() + SLICE)))
            self.best = search.best
            budget.count(0)

    def _ruin(self, budget: Budget, steps: int) -> None:
        """Shuffle the whole plan for a while, aiming below the best; tired benches begin afresh from it."""
        if not self.whole or max(ruin.at for ruin in self.whole) > TIRED:
            slots = len(self.best.boards) + 8
            self.whole = self._pair(self.task, self.best, slots)
        self._aim(self.whole, [], budget, steps)

    def _pair(
        self,
        task: Task,
        state: State,
        slots: int,
        memories: Sequence[int] = MEMORIES,
        worth: Floats | None = None,
    ) -> list[Ruin]:
        """Two searches that run side by side: one settles soon, the other late."""
        return [
            Ruin(task, state.boards, state.waiting, slots, self.rng.randrange(1 << 40), memory, worth)
            for memory in memories
        ]

    def _aim(
        self, ruins: list[Ruin], fixed: list[Board], budget: Budget, steps: int, pool: Pool | None = None
    ) -> None:
        """Search for boards that with the fixed ones cost less than the best plan; again after every gain.

        The searches run in threads of their own, but every one the same number of steps before they are compared, so
        the outcome does not depend on the machine. A pool gathers the sheets that they pass through.
        """
        spent = sum(self.costs[b.kind] for b in fixed)
        while steps > 0 and not self.settled():
            short = bool(self.best.waiting)
            limit = MOST_COST if short else sum(self.costs[b.kind] for b in self.best.boards) - 1 - spent
            if limit <= 0:
                return
            for ruin in ruins:
                if ruin.cost() > limit:
                    ruin.give_up(limit)
            chunk = CHUNK if pool is None else SIP
            allowed = budget.allows(min(steps, chunk * len(ruins)), SEARCH_SHARE) // len(ruins)
            if not allowed:
                return
            goal = sum(self.task.areas[k] for k in self.best.waiting) - 0.5 if short else 0.5
            try_it = partial(_search, limit=limit, steps=allowed, goal=goal)
            ends = list(self.threads.map(try_it, ruins))
            budget.count(len(ruins) * allowed)
            steps -= len(ruins) * allowed
            if pool is not None:
                for ruin in ruins:
                    pool.gather(ruin)
            for ruin, value in zip(ruins, ends, strict=True):
                if value < goal:
                    self.best = State(fixed + ruin.boards(), ruin.loose())
                    break

    # --- plans of proper sheets --------------------------------------------------------------------------------------

    def _composer(self) -> Dive | None:
        """What composes plans; None where the columns have not given the parts their values."""
        columns = self.columns
        if columns is None or columns.witness is None:
            return None
        pool = Pool(self.task, columns, self.rng)
        for board in self.best.boards:
            pool.keep(board)
        return Dive(pool, Left(columns.demand, columns.stock))

    def _compose(self, dive: Dive, budget: Budget) -> bool:
        """One plan put together and finished; False where no sheet was worth taking."""

        def go_on(work: int) -> bool:
            budget.count(work)
            return budget.allows(1, SEARCH_SHARE) > 0

        if dive.tries % TRIES == 0:
            self._sheets(dive.pool, budget)
        if self.settled():
            return True
        end = dive.run(self._below(dive.pool.columns), go_on, self.threads, tight=self._tight(dive))
        if end is None:
            return True
        if end.taken:
            self._complete(dive.pool, end, budget)
        return bool(end.taken)

    def _below(self, columns: Columns) -> float:
        """What a better plan may cost at most, in dearest sheets."""
        best = sum(columns.prices[b.kind] for b in self.best.boards)
        return (best - gcd(*columns.prices)) / columns.dearest

    def _tight(self, dive: Dive) -> bool:
        """Whether a better plan can waste next to nothing: then ruin does not come upon it, and composing has all the time."""
        return self._below(dive.pool.columns) - dive.pool.columns.least <= TIGHT

    def _sheets(self, pool: Pool, budget: Budget) -> None:
        """Ruin of the whole plan, by the parts' values and areas alike, for the sheets that it passes through."""
        ruins = self._pair(self.task, self.best, len(self.best.boards) + 8, LATE, pool.weights())
        self._aim(ruins, [], budget, GATHER, pool)

    def _complete(self, pool: Pool, end: Step, budget: Budget) -> None:
        """The sheets of a try; what waits is laid out by the ruin, which may open half of them, or all where few parts wait."""
        boards = [pool.boards[j].copy() for j in end.taken]
        waiting = [kind for kind, n in enumerate(end.left.parts.tolist()) for _ in range(n)]
        if not waiting:
            if sum(self.task.stock[b.kind].cost for b in boards) < self.cost():
                self.best = State(boards, [])
            return
        nearly = len(waiting) <= NEARLY
        kept = 0 if nearly else min(len(boards) - len(boards) // 2, max(0, len(boards) - 3))
        fixed, loose = boards[:kept], boards[kept:]
        rest = replace(self.task, stock=stock_after(self.task, fixed))
        ruins = self._pair(rest, State(loose, waiting), len(self.best.boards) - kept + 8)
        if nearly:
            sheet = max(s.x * s.y for s in self.task.stock)
            for ruin, share in zip(ruins, REHEAT, strict=True):
                ruin.history[:] = max(ruin.waiting(), share * sheet)
        self._aim(ruins, fixed, budget, 4 * FINISH if nearly else FINISH)

    # --- mixes of several sizes --------------------------------------------------------------------------------------

    def _fill(self, mixes: Mixes, budget: Budget, steps: int) -> bool:
        """Work for so many steps on the mixes nearest to being filled; False where there are none to choose from."""
        if self.best.waiting:
            return False
        while steps > 0 and not self.settled():
            below = sum(price_of(self.task, b.kind) for b in self.best.boards)
            chosen = mixes.nearest(below, len(MEMORIES))
            if not chosen:
                return False
            left = min(steps, FILL * len(chosen))
            while left > 0:
                allowed = budget.allows(min(left, CHUNK * len(chosen)), SEARCH_SHARE) // len(chosen)
                if not allowed:
                    return True
                ends = list(self.threads.map(partial(fill, steps=allowed), chosen))
                budget.count(len(chosen) * allowed)
                left -= len(chosen) * allowed
                steps -= len(chosen) * allowed
                whole = [boards for boards in ends if boards is not None]
                if whole:
                    self.best = min((State(boards, []) for boards in whole), key=self._cost_of)
                    break
        return True

    def _cost_of(self, state: State) -> int:
        return sum(self.task.stock[b.kind].cost for b in state.boards)

    # --- columns -----------------------------------------------------------------------------------------------------

    def _columns(self, budget: Budget) -> Columns | None:
        """Columns until they have converged; the bound they prove. None where the patterns cannot be priced."""
        from wallwright.cutting.columns import Columns

        columns = Columns(self.task)
        if not any(side.usable for side in columns.sides):
            return None
        columns.seed(self.best.boards)
        self.columns = columns
        more = True
        while more and budget.allows(1, COLUMN_SHARE):
            more = columns.round()
            budget.count(columns.work)
            self.floor = max(self.floor, columns.least_cost())
            self.sheets = max(self.sheets, columns.least_sheets())
        self.root = columns.amounts()
        return columns

    def _mix(self, columns: Columns, budget: Budget) -> None:
        """The best whole numbers of the known patterns, where they cost less than the best plan."""
        from wallwright.cutting.integer import best_mix

        now = time.perf_counter()
        left = None if budget.deadline is None else MIX_SHARE * (budget.deadline - now)

        def go_on() -> bool:
            budget.count(0)
            return not budget.cancelled

        mix = best_mix(columns, left, go_on)
        if left is not None and time.perf_counter() - now > CUT_SHORT * left:
            budget.repeatable = False
        budget.count(10 * columns.work)
        want = [p.quantity for p in self.task.pieces]
        boards = cut_columns(self.task, mix, want) if mix else []
        if not any(want) and sum(self.task.stock[b.kind].cost for b in boards) < self.cost():
            self.best = State(boards, [])

    def _dive(self, columns: Columns, budget: Budget, steps: int) -> None:
        """Take patterns until few sheets are left, then let the ruin finish."""
        self.turn += 1
        amount, cost = self.root
        depth = self.rng.uniform(0.4, 0.8) * min(cost, DEEPEST)
        left, stock = columns.demand.copy(), columns.stock.copy()
        taken: list[tuple[Column, int]] = []
        best = sum(self.costs[b.kind] for b in self.best.boards)
        while True:
            if cost <= 0.0:
                break
            step = self._whole(amount, len(taken))
            room = columns.left_after(step, left, stock)
            if room is None:
                break
            spent = sum(self.costs[c.kind] * n for c, n in taken + [(columns.columns[j], n) for j, n in step])
            if not budget.allows(1, SEARCH_SHARE):
                return
            columns.ask(*room)
            rounds = columns.settle(40)
            budget.count(columns.work * rounds)
            amount, cost = columns.amounts()
            dearest = max(self.costs)
            if spent + cost * dearest * (1 - 1e-9) > best - 1 and len(taken) > 0:
                break  # nothing better lies this way: finish from one pattern earlier
            taken += [(columns.columns[j], n) for j, n in step]
            left, stock = room
            few = int(left.sum())
            if few == 0 or (cost <= depth and few <= WHOLE):
                break
        self._finish(taken, budget, steps)

    def _whole(self, amount: Sequence[float], taken: int) -> list[tuple[int, int]]:
        """Patterns used at least once by the programme, as often as it uses them whole; else one by chance."""
        whole = [(j, int(x + 1e-6)) for j, x in enumerate(amount) if x + 1e-6 >= 1.0]
        if whole and (taken == 0 or self.turn == 1 or self.rng.random() < 0.7):
            return whole
        wild = 0.0 if self.turn == 1 else 0.6
        best = max(
            range(len(amount)),
            key=lambda j: amount[j] * (1 - wild * self.rng.random()) if amount[j] > 1e-6 else 0.0,
        )
        return [(best, 1)]

    def _finish(self, taken: list[tuple[Column, int]], budget: Budget, steps: int) -> None:
        """Cut what was taken; let the ruin lay out the rest on no more than what makes the whole plan cheaper."""
        want = [p.quantity for p in self.task.pieces]
        fixed = cut_columns(self.task, taken, want)
        waiting = [kind for kind, n in enumerate(want) for _ in range(n)]
        spent = sum(self.costs[b.kind] for b in fixed)
        room = sum(self.costs[b.kind] for b in self.best.boards) - spent
        if not waiting or len(waiting) > 2 * WHOLE:
            first, short = first_plan(rest_of(self.task, want, fixed)) if waiting else ([], [])
            if short or sum(self.costs[b.kind] for b in first) >= room:
                return
            kinds = [kind for kind, n in enumerate(want) if n]
            self.best = State(fixed + [renamed(b, kinds) for b in first], [])
        elif room > 1:
            rest = replace(self.task, stock=stock_after(self.task, fixed))
            slots = min(len(waiting), room // max(1, min(self.costs))) + 2
            self._aim(self._pair(rest, State([], waiting), slots), fixed, budget, steps)

    # --- offcut ------------------------------------------------------------------------------------------------------

    def _gather(self, budget: Budget) -> None:
        """Gather the free room of the emptiest sheets into one offcut at the same price."""
        room = [s.x * s.y for s in self.task.stock]
        boards = sorted(self.best.boards, key=lambda b: b.area / room[b.kind])
        last, kept = boards[:LAST_SHEETS], boards[LAST_SHEETS:]
        parts = sum(len(b.root.parts()) for b in last)
        if parts > 2 * WHOLE:
            return
        ruin = Ruin(
            replace(self.task, stock=stock_after(self.task, kept)), last, [], len(last) + 2, self.seed + 7
        )
        limit, idle, best = ruin.cost(), 0, ruin.gathered()
        patience = PATIENCE + PATIENCE * parts // 10
        while idle < patience:
            allowed = budget.allows(min(CHUNK, patience - idle), 1.0)
            if not allowed:
                break
            done, value = ruin.gather(limit, allowed, best)
            budget.count(done)
            idle += done
            if value > best:
                idle, best = 0, value
                self.best = State(kept + ruin.boards(), [])


def _search(ruin: Ruin, limit: int, steps: int, goal: float) -> float:
    """What waits after so many steps."""
    return ruin.search(limit, steps, goal)[1]
