"""Plans of proper sheets: the sheet that the linear programme uses most, and again for what is left each time.

Where the programme's cost shows that no cheaper plan lies this way, the next try goes back some sheets and takes others.
After R. Sadykov, F. Vanderbeck and others, "Primal heuristics for branch and price: the assets of diving methods",
INFORMS Journal on Computing 31 (2019) (from memory).
"""

from __future__ import annotations

from collections.abc import Callable
from concurrent.futures import Executor
from typing import TYPE_CHECKING, NamedTuple

from wallwright.cutting.improve import never
from wallwright.cutting.pool import WORK, Left, Pool

if TYPE_CHECKING:
    from wallwright.cutting.master import Relaxed

ROUNDS = 6  # of widening for one sheet taken, where the programme is near the limit
NEAR = 0.03  # of the dearest sheet: so near the limit the programme is widened again
LOST = 0.02  # so far above it a tight try looks for no more sheets, and goes on only to see what waits in the end
OVER = 0.25  # of the dearest sheet: so far above the limit no plan lies this way
WHOLE = 0.95  # of a sheet used by the programme: it is taken
BACK = 0.75  # chance that a try begins on the way of the last
WILD = 0.5  # how much chance may take off the amount of a sheet


class Step(NamedTuple):
    """One step of a dive: what was left before it, the sheets taken so far, and what they cost."""

    left: Left
    taken: tuple[int, ...]
    spent: float


class Dive:
    """Plans made of the pool's sheets, each try beginning somewhere on the way of the last."""

    def __init__(self, pool: Pool, left: Left) -> None:
        self.pool = pool
        self.way = [Step(left, (), 0.0)]
        self.tries = 0

    def run(
        self,
        limit: float,
        go_on: Callable[[int], bool],
        threads: Executor,
        *,
        tight: bool = False,
        late: Callable[[], bool] = never,
    ) -> Step | None:
        """One try for a plan of at most this cost (in dearest sheets): how far it came; None where time ran out.

        ``tight``: give a way up as soon as the programme alone costs more. ``go_on`` hears the work of every round, in steps of the
        ruin; ``late`` is asked inside the rounds and before every step.
        """
        pool, rng = self.pool, self.pool.rng
        del self.way[(rng.randrange(len(self.way)) if self.tries and rng.random() < BACK else 0) + 1 :]
        self.tries += 1
        step, lost = self.way[-1], False
        while step.left.parts.any():
            if late():
                return None
            relaxed = pool.relaxed(step.left)
            for _ in range(0 if lost else ROUNDS):
                if step.spent + relaxed.cost < limit - NEAR:
                    break
                if not go_on(WORK + pool.columns.work):
                    return None
                if not pool.widen(relaxed, step.left, threads, late):
                    break
                relaxed = pool.relaxed(step.left)
            lost = lost or (tight and step.spent + relaxed.cost > limit + LOST)
            if step.spent + relaxed.cost > limit + OVER:
                break
            left, taken = pool.take(step.left, self._chosen(relaxed))
            spent = step.spent + float(sum(pool.costs[pool.kinds[j]] for j in taken))
            if not taken or spent > limit + 1e-6:
                break
            step = Step(left, (*step.taken, *taken), spent)
            if not lost:
                self.way.append(step)
        del self.way[max(1, len(self.way) - 1) :]
        return step

    def _chosen(self, relaxed: Relaxed) -> list[int]:
        """The sheets used nearly whole; else the one used most, give or take chance."""
        amount = relaxed.amount
        whole = [j for j, x in enumerate(amount.tolist()) if x > WHOLE]
        if whole:
            return whole
        rng = self.pool.rng
        wild = WILD if self.tries > 1 else 0.0
        used = [(x * (1 - wild * rng.random()), j) for j, x in enumerate(amount.tolist()) if x > 1e-6]
        return [max(used)[1]] if used else []
