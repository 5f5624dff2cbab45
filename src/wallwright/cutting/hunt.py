"""The long search for one board material: a proven bound, and plans that come down to it.

Four tools take turns until the price equals the bound or the budget is gone:

* **ruin** (`ruin.py`) shuffles the whole plan; unbeaten for some hundred parts that are mostly different;
* **columns** (`columns.py`) says what no plan can beat, and which patterns are worth cutting;
* **dive**: take the patterns that the linear programme uses whole, then one more at a time, solving the programme
  again for what is left; when a dozen or two sheets are left, ruin finishes them. For many parts of few sizes, only the
  last sheets need a search at all. Dives differ by chance, in what they take and in how early they stop.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from functools import partial
from typing import TYPE_CHECKING

from wallwright.cutting.aim import CHUNK, MEMORIES, SEARCH_SHARE, WHOLE, Aim
from wallwright.cutting.boards import cut_columns, renamed, rest_of, stock_after
from wallwright.cutting.compose import Composer
from wallwright.cutting.construct import first_plan
from wallwright.cutting.improve import Budget, Search, State
from wallwright.cutting.mixes import Mixes, fill, price_of
from wallwright.cutting.model import Proof, Shares
from wallwright.cutting.tree import Task

if TYPE_CHECKING:
    from wallwright.cutting.columns import Column, Columns
    from wallwright.cutting.warm import Fetching

FEW = 4.0  # wanted of each size on average: up to this the ruin goes first whatever the number of parts
DEEPEST = 24.0  # sheets left, at most, when a dive stops and the ruin takes over
SLICE = 0.25  # seconds between two looks whether the kernels are there
OPENING_SHARE = 0.15  # of the budget at most, while every opening gains
OPENING = 20_000  # steps of the ruin before anything else
CUT_SHORT = 0.95  # of its time: a mix that took so long may have been ended by the clock
MIX_SHARE = 0.3  # of the time left for the mix of sheet sizes
FILL = 20_000  # steps on each mix before another may be nearer
WHOLE_SHARE = 6  # steps on the whole plan for one in a dive
TURN = 40_000  # steps of the ruin in each turn to begin with
COLUMN_SHARE = 0.6  # of the budget at most until the columns have converged


class Hunt:
    """The search for one material, round its ``aim``: the best plan so far."""

    def __init__(self, task: Task, start: State, floor: int, sheets: int, seed: int) -> None:
        self.task, self.seed = task, seed
        self.aim = Aim(task, start, floor, sheets, seed)
        self.rng, self.costs = self.aim.rng, self.aim.costs
        self.turn = 0
        self.columns: Columns | None = None

    def proof(self, shares: tuple[Shares, ...]) -> Proof:
        """What the floor rests on: the shares it began from, and the columns' values where these were priced."""
        if self.columns is None:
            return Proof(self.task.pieces[0].material, shares)
        return self.columns.proof(shares)

    def run(self, budget: Budget, fetching: Fetching | None = None) -> None:
        """Spend the budget: the price first, then the offcut. Without the kernels, as long as these are still being fetched."""
        aim = self.aim
        with aim.threads:
            if fetching is not None and not self._meanwhile(budget, fetching):
                return
            if not aim.settled():
                self._hunt(budget)
            if not aim.best.waiting and aim.best.boards and not budget.cancelled:
                aim.gather(budget)

    # --- price -------------------------------------------------------------------------------------------------------

    def _hunt(self, budget: Budget) -> None:
        aim, kinds = self.aim, len(self.task.pieces)
        few = aim.parts <= WHOLE or aim.parts < FEW * kinds
        if few or aim.best.waiting:
            gained = True
            while gained and not aim.settled() and budget.allows(1, OPENING_SHARE):
                before = aim.cost(), len(aim.best.waiting)
                aim.shuffle(budget, OPENING)
                gained = (aim.cost(), len(aim.best.waiting)) != before
        if aim.settled() or not budget.allows(1, SEARCH_SHARE):
            return
        columns = self._columns(budget)
        several = len(self.task.stock) > 1
        if columns is not None and several and not aim.best.waiting and not budget.cancelled:
            self._mix(columns, budget)
        steps, dived = TURN, 0
        composer = self._composer() if few else None
        mixes = Mixes(self.task, self.seed + 13) if several and aim.parts <= WHOLE else None
        while not aim.settled() and budget.allows(1, SEARCH_SHARE):
            begun = budget.done
            filled = mixes is not None and self._fill(mixes, budget, WHOLE_SHARE * steps)
            if composer is not None and not aim.best.waiting and composer.run(budget) and composer.tight():
                continue
            if not filled and (few or columns is None or aim.best.waiting):
                aim.shuffle(budget, WHOLE_SHARE * max(steps, dived))
            before = budget.done
            if columns is not None and not aim.best.waiting and not aim.settled():
                self._dive(columns, budget, steps)
            dived = budget.done - before
            if budget.done == begun:
                budget.count(1)  # too few steps left for anything
            steps += steps // 4

    def _meanwhile(self, budget: Budget, fetching: Fetching) -> bool:
        """The slow search until the compiled kernels are there; False where the time is gone before they are."""
        aim = self.aim
        search = Search(self.task, aim.best, aim.floor, self.seed)
        while not fetching.done():
            budget.repeatable = False  # how far it comes is the machine's affair
            if not budget.allows(1, 1.0):
                return False
            if aim.settled():
                fetching.done(min(SLICE, budget.left()))
            else:
                search.cheapen(Budget(None, budget.clock() + min(SLICE, budget.left()), clock=budget.clock))
                aim.best = search.best
            budget.count(0)
        return True

    def _composer(self) -> Composer | None:
        """What composes plans; None where the columns have not given the parts their values."""
        columns = self.columns
        return None if columns is None or columns.witness is None else Composer(self.aim, columns)

    # --- mixes of several sizes --------------------------------------------------------------------------------------

    def _fill(self, mixes: Mixes, budget: Budget, steps: int) -> bool:
        """Work for so many steps on the mixes nearest to being filled; False where there are none to choose from."""
        if self.aim.best.waiting:
            return False
        while steps > 0 and not self.aim.settled():
            below = sum(price_of(self.task, b.kind) for b in self.aim.best.boards)
            chosen = mixes.nearest(below, len(MEMORIES))
            if not chosen:
                return False
            left = min(steps, FILL * len(chosen))
            while left > 0:
                allowed = budget.allows(min(left, CHUNK * len(chosen)), SEARCH_SHARE) // len(chosen)
                if not allowed:
                    return True
                ends = list(self.aim.threads.map(partial(fill, steps=allowed, late=budget.overdue), chosen))
                budget.count(len(chosen) * allowed)
                left -= len(chosen) * allowed
                steps -= len(chosen) * allowed
                whole = [boards for boards in ends if boards is not None]
                if whole:
                    self.aim.best = min((State(boards, []) for boards in whole), key=self.aim.cost_of)
                    break
        return True

    # --- columns -----------------------------------------------------------------------------------------------------

    def _columns(self, budget: Budget) -> Columns | None:
        """Columns until they have converged; the bound they prove. None where the patterns cannot be priced."""
        from wallwright.cutting.columns import Columns

        columns = Columns(self.task)
        if not any(side.usable for side in columns.sides):
            return None
        columns.seed(self.aim.best.boards)
        self.columns = columns
        more = True
        while more and budget.allows(1, COLUMN_SHARE):
            more = columns.round(budget.overdue)
            budget.count(columns.work)
            self.aim.floor = max(self.aim.floor, columns.least_cost())
            self.aim.sheets = max(self.aim.sheets, columns.least_sheets())
        self.root = columns.amounts()
        return columns

    def _mix(self, columns: Columns, budget: Budget) -> None:
        """The best whole numbers of the known patterns, where they cost less than the best plan."""
        from wallwright.cutting.integer import best_mix

        now = budget.clock()
        left = None if budget.deadline is None else MIX_SHARE * (budget.deadline - now)

        def go_on() -> bool:
            budget.count(0)
            return not budget.overdue()

        mix = best_mix(columns, left, go_on)
        if left is not None and budget.clock() - now > CUT_SHORT * left:
            budget.repeatable = False
        budget.count(10 * columns.work)
        want = [p.quantity for p in self.task.pieces]
        boards = cut_columns(self.task, mix, want) if mix else []
        if not any(want) and sum(self.task.stock[b.kind].cost for b in boards) < self.aim.cost():
            self.aim.best = State(boards, [])

    def _dive(self, columns: Columns, budget: Budget, steps: int) -> None:
        """Take patterns until few sheets are left, then let the ruin finish."""
        self.turn += 1
        amount, cost = self.root
        depth = self.rng.uniform(0.4, 0.8) * min(cost, DEEPEST)
        left, stock = columns.demand.copy(), columns.stock.copy()
        taken: list[tuple[Column, int]] = []
        best = sum(self.costs[b.kind] for b in self.aim.best.boards)

        def go_on() -> bool:
            budget.count(columns.work)
            return budget.allows(1, SEARCH_SHARE) > 0

        while cost > 0.0:
            step = self._whole(amount, len(taken))
            room = columns.left_after(step, left, stock)
            if room is None:
                break
            spent = sum(self.costs[c.kind] * n for c, n in taken + [(columns.columns[j], n) for j, n in step])
            if not budget.allows(1, SEARCH_SHARE):
                return
            columns.ask(*room)
            columns.settle(40, go_on, budget.overdue)
            if not budget.allows(1, SEARCH_SHARE):
                return
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
        room = sum(self.costs[b.kind] for b in self.aim.best.boards) - spent
        if not waiting or len(waiting) > 2 * WHOLE:
            first, short = first_plan(rest_of(self.task, want, fixed)) if waiting else ([], [])
            if short or sum(self.costs[b.kind] for b in first) >= room:
                return
            kinds = [kind for kind, n in enumerate(want) if n]
            self.aim.best = State(fixed + [renamed(b, kinds) for b in first], [])
        elif room > 1:
            rest = replace(self.task, stock=stock_after(self.task, fixed))
            slots = min(len(waiting), room // max(1, min(self.costs))) + 2
            self.aim.under(self.aim.pair(rest, State([], waiting), slots), fixed, budget, steps)
