"""Whole plans composed of proper sheets, what waits in the end laid out by the ruin: where a better plan can waste next to nothing.

``pool.py`` gathers the sheets, ``dive.py`` chooses among them; here a try is finished and made the best plan where it is one.
"""

from __future__ import annotations

from dataclasses import replace
from math import gcd
from typing import TYPE_CHECKING

from wallwright.cutting.aim import SEARCH_SHARE, Aim
from wallwright.cutting.boards import stock_after
from wallwright.cutting.dive import Dive, Step
from wallwright.cutting.improve import Budget, State
from wallwright.cutting.pool import Left, Pool

if TYPE_CHECKING:
    from wallwright.cutting.columns import Columns

GATHER = 60_000  # steps of the ruin while sheets are gathered
TIGHT = 0.25  # of the dearest sheet, that a better plan may cost above the bound
TRIES = 6  # plans composed before sheets are gathered again
LATE = (2000, 2000)  # lengths of the histories while sheets are gathered
FINISH = 20_000  # steps of the ruin to finish what was composed, four times as many where it is nearly whole
NEARLY = 3  # parts that wait at most when a composed plan is nearly whole
REHEAT = (0.03, 0.08)  # of the largest sheet: how much may wait in steps from a nearly whole plan


class Composer:
    """Plans of one task's proper sheets, one try after another."""

    def __init__(self, aim: Aim, columns: Columns) -> None:
        self.aim, self.columns = aim, columns
        self.pool = Pool(aim.task, columns, aim.rng)
        for board in aim.best.boards:
            self.pool.keep(board)
        self.dive = Dive(self.pool, Left(columns.demand, columns.stock))

    def run(self, budget: Budget) -> bool:
        """One plan put together and finished; False where no sheet was worth taking."""

        def go_on(work: int) -> bool:
            budget.count(work)
            return budget.allows(1, SEARCH_SHARE) > 0

        if self.dive.tries % TRIES == 0:
            self._sheets(budget)
        if self.aim.settled():
            return True
        end = self.dive.run(self._below(), go_on, self.aim.threads, tight=self.tight(), late=budget.overdue)
        if end is None:
            return True
        if end.taken:
            self._complete(end, budget)
        return bool(end.taken)

    def _below(self) -> float:
        """What a better plan may cost at most, in dearest sheets."""
        columns = self.columns
        best = sum(columns.prices[b.kind] for b in self.aim.best.boards)
        return (best - gcd(*columns.prices)) / columns.dearest

    def tight(self) -> bool:
        """Whether a better plan can waste next to nothing: then ruin does not come upon it, and composing has all the time."""
        return self._below() - self.columns.least <= TIGHT

    def _sheets(self, budget: Budget) -> None:
        """Ruin of the whole plan, by the parts' values and areas alike, for the sheets that it passes through."""
        aim = self.aim
        ruins = aim.pair(aim.task, aim.best, len(aim.best.boards) + 8, LATE, self.pool.weights())
        aim.under(ruins, [], budget, GATHER, self.pool)

    def _complete(self, end: Step, budget: Budget) -> None:
        """The sheets of a try; what waits is laid out by the ruin, which may open half of them, or all where few parts wait."""
        aim = self.aim
        boards = [self.pool.boards[j].copy() for j in end.taken]
        waiting = [kind for kind, n in enumerate(end.left.parts.tolist()) for _ in range(n)]
        if not waiting:
            if sum(aim.task.stock[b.kind].cost for b in boards) < aim.cost():
                aim.best = State(boards, [])
            return
        nearly = len(waiting) <= NEARLY
        kept = 0 if nearly else min(len(boards) - len(boards) // 2, max(0, len(boards) - 3))
        fixed, loose = boards[:kept], boards[kept:]
        rest = replace(aim.task, stock=stock_after(aim.task, fixed))
        ruins = aim.pair(rest, State(loose, waiting), len(aim.best.boards) - kept + 8)
        if nearly:
            sheet = max(s.x * s.y for s in aim.task.stock)
            for ruin, share in zip(ruins, REHEAT, strict=True):
                ruin.history[:] = max(ruin.waiting(), share * sheet)
        aim.under(ruins, fixed, budget, 4 * FINISH if nearly else FINISH)
