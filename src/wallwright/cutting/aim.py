"""The best plan of one material so far, and the ruin aimed below it: what every tool of the search works on.

After A. Cherri and others on cutting with leftovers the price comes first; then the free room is gathered into one
large offcut (from memory).
"""

from __future__ import annotations

import random
from collections.abc import Sequence
from concurrent.futures import ThreadPoolExecutor
from dataclasses import replace
from functools import partial
from typing import TYPE_CHECKING

from wallwright.cutting.boards import stock_after
from wallwright.cutting.improve import Budget, State
from wallwright.cutting.ruin import MOST_COST, Ruin, kernel_costs
from wallwright.cutting.tree import Board, Task

if TYPE_CHECKING:
    from collections.abc import Callable

    import numpy as np
    from numpy.typing import NDArray

    from wallwright.cutting.pool import Pool

    Floats = NDArray[np.float64]

WHOLE = 450  # parts that the ruin takes on at once
CHUNK = 800  # steps between two looks at the clock
SIP = 100  # the same while sheets are gathered, and while the offcut is
MEMORIES = (300, 2000)  # lengths of the histories of the two searches
TIRED = 600_000  # steps after which a search of the whole begins afresh
SEARCH_SHARE = 0.9  # of the budget for the price, the rest for the offcut
LAST_SHEETS = 16  # sheets among which the free room is gathered
PATIENCE = 4000  # steps without gain after which gathering stops, and as many again for every 10 parts


class Aim:
    """The plan to beat: ``best`` can always be sawn, ``floor`` cannot be undercut."""

    def __init__(self, task: Task, start: State, floor: int, sheets: int, seed: int) -> None:
        self.task, self.best = task, start
        self.floor, self.sheets = floor, sheets
        self.seed = seed
        self.rng = random.Random(seed)
        self.costs = kernel_costs(task)
        self.parts = sum(p.quantity for p in task.pieces)
        self.whole: list[Ruin] = []
        self.threads = ThreadPoolExecutor(len(MEMORIES))

    def cost(self) -> int:
        """What the best plan costs, in the task's units."""
        return self.cost_of(self.best)

    def settled(self) -> bool:
        """Is the best plan's price proven?"""
        if self.best.waiting:
            return False
        if any(s.cost >> 64 for s in self.task.stock):
            return self.cost() >> 64 <= self.floor >> 64
        return self.cost() <= self.floor

    def cost_of(self, state: State) -> int:
        """What a plan costs, in the task's units."""
        return sum(self.task.stock[b.kind].cost for b in state.boards)

    def shuffle(self, budget: Budget, steps: int) -> None:
        """Shuffle the whole plan for a while, aiming below the best; tired benches begin afresh from it."""
        if not self.whole or max(ruin.at for ruin in self.whole) > TIRED:
            slots = len(self.best.boards) + 8
            self.whole = self.pair(self.task, self.best, slots)
        self.under(self.whole, [], budget, steps)

    def pair(
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

    def under(
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
            try_it = partial(_search, limit=limit, steps=allowed, goal=goal, late=budget.overdue)
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

    # --- offcut ------------------------------------------------------------------------------------------------------

    def gather(self, budget: Budget) -> None:
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
            allowed = budget.allows(min(SIP, patience - idle), 1.0)
            if not allowed:
                break
            done, value = ruin.gather(limit, allowed, best)
            budget.count(done)
            idle += done
            if value > best:
                idle, best = 0, value
                self.best = State(kept + ruin.boards(), [])


def _search(ruin: Ruin, limit: int, steps: int, goal: float, late: Callable[[], bool]) -> float:
    """What waits after so many steps."""
    return ruin.search(limit, steps, goal, late)[1]
