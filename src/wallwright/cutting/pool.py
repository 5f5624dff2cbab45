"""Sheets that can each be cut as they are, gathered for whole plans to be made of them.

The columns of ``columns.py`` may make more of a part than is wanted: right for a bound and for parts in high numbers, of little
help where every part is wanted once or twice. Here every sheet keeps to what is wanted. They are gathered from what the
ruin passes through; the linear programme over them gives every part a value; the ruin of a single sheet, and the
columns' own patterns cut down to what is left, find sheets worth more than they cost; they join.

``dive.py`` makes plans of them.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from functools import partial
from typing import TYPE_CHECKING, NamedTuple

from wallwright.cutting.boards import cut_column
from wallwright.cutting.columns import Column
from wallwright.cutting.improve import never
from wallwright.cutting.master import Master, Relaxed
from wallwright.cutting.price import made
from wallwright.cutting.ruin import Ruin, kernel_costs
from wallwright.cutting.tree import Board, Task

if TYPE_CHECKING:
    import random
    from concurrent.futures import Executor

    import numpy as np
    from numpy.typing import NDArray

    from wallwright.cutting.columns import Columns

    Ints = NDArray[np.int64]
    Floats = NDArray[np.float64]

WORTHY = 0.93  # share of its cost that a sheet must be worth to be kept
MOST = 25_000  # sheets kept
TRY_STEPS = 300  # of the ruin on one sheet
TRIES = 8  # sheets tried from patterns, and as many again from those in use
GAIN = 1e-4  # a sheet must be worth this much more than its cost, as a share, to join
SCALE = 1e6  # values as the ruin counts them
ALIKE = 4  # of one part that a single sheet is offered
MEMORY = 100  # length of the history on one sheet
WORK = TRIES * TRY_STEPS  # of one widening, in steps of the ruin beside another


class Left(NamedTuple):
    """Parts and sheets still to be had."""

    parts: Ints
    stock: Floats


class Pool:
    """Sheets of one task, none with more of a part than is wanted in all."""

    def __init__(self, task: Task, columns: Columns, rng: random.Random) -> None:
        import numpy as np

        self.task, self.columns, self.rng = task, columns, rng
        self.costs = columns.costs
        self.kernel_costs = kernel_costs(task)
        self.boards: list[Board] = []
        self.known: set[tuple[int, bytes]] = set()
        self.made: NDArray[np.int16] = np.zeros((1024, len(task.pieces)), dtype=np.int16)
        self.kinds: Ints = np.zeros(1024, dtype=np.int64)
        self.barred: NDArray[np.bool_] = np.zeros(1024, dtype=np.bool_)
        self.master = Master(
            columns.demand, np.array(task.areas, float) / max(s.x * s.y for s in task.stock), columns.stock
        )

    def weights(self) -> Floats:
        """What it costs to leave a part out: half its value, half its area, in areas."""
        import numpy as np

        area = np.array(self.task.areas, dtype=np.float64)
        if self.columns.witness is None:
            return area
        value, demand = self.columns.witness.value, self.columns.demand
        return np.maximum(0.5 * area + 0.5 * value * (area @ demand) / (value @ demand), 1.0)

    def gather(self, ruin: Ruin) -> None:
        """Keep the sheets of a running ruin that are nearly worth what they cost by the columns' values."""
        witness = self.columns.witness
        if witness is None or len(self.boards) >= MOST:
            return
        for slot, kind, counts in ruin.makes():
            worth = float(witness.value @ counts)
            if worth >= WORTHY * self.costs[kind] and (kind, _key(counts)) not in self.known:
                self.keep(ruin.board(slot), counts)

    def keep(self, board: Board, counts: Ints | None = None) -> bool:
        """Add a sheet; False where one that gives the same is known."""
        import numpy as np

        if counts is None:
            counts = self._counts(board)
        key = (board.kind, _key(counts))
        if key in self.known:
            return False
        self.known.add(key)
        n = len(self.boards)
        if n == len(self.made):
            self.made = np.concatenate([self.made, np.zeros_like(self.made)])
            self.kinds = np.concatenate([self.kinds, np.zeros_like(self.kinds)])
            self.barred = np.concatenate([self.barred, np.zeros_like(self.barred)])
        self.made[n], self.kinds[n] = counts, board.kind
        self.boards.append(board)
        self.master.add(counts, board.kind, float(self.costs[board.kind]))
        return True

    def _counts(self, board: Board) -> Ints:
        import numpy as np

        return np.bincount(board.root.parts(), minlength=len(self.task.pieces))

    def relaxed(self, left: Left) -> Relaxed:
        """The programme for what is left, over the sheets with no part too many."""
        import numpy as np

        n = len(self.boards)
        barred = (self.made[:n] > left.parts).any(axis=1) | (left.stock[self.kinds[:n]] < 1)
        for j in np.flatnonzero(barred != self.barred[:n]).tolist():
            self.master.bar(j, barred=bool(barred[j]))
        self.barred[:n] = barred
        self.master.change(left.parts, left.stock)
        return self.master.solve()

    def widen(self, relaxed: Relaxed, left: Left, threads: Executor, late: Callable[[], bool] = never) -> int:
        """Sheets worth more than they cost by the programme's values; how many were new. The threads, too, stop when it is late."""
        starts = self._patterns(relaxed, left, late) + self._used(relaxed)
        for board in starts:
            self._worthy(board, relaxed)
        before = len(self.boards)
        seeds = [self.rng.randrange(1 << 40) for _ in starts]
        better = partial(self._bettered, relaxed=relaxed, left=left, late=late)
        for board in threads.map(better, starts, seeds):
            self._worthy(board, relaxed)
        return len(self.boards) - before

    def _worthy(self, board: Board, relaxed: Relaxed) -> None:
        counts = self._counts(board)
        cost = self.costs[board.kind] - relaxed.stock[board.kind]
        if float(relaxed.value @ counts) > cost * (1 + GAIN):
            self.keep(board, counts)

    def _patterns(self, relaxed: Relaxed, left: Left, late: Callable[[], bool]) -> list[Board]:
        """The columns' best patterns at these values, with no more of a part than is left."""
        found: list[Board] = []
        for side in self.columns.sides:
            if not side.usable or left.stock[side.kind] < 1:
                continue
            cost = float(self.costs[side.kind] - relaxed.stock[side.kind])
            answer = side.price(relaxed.value, cost * (1 + GAIN), cost * (1 + 10 * GAIN), late)
            for pattern in answer.patterns:
                column = Column(made(pattern, len(left.parts)), side.kind, pattern)
                board = cut_column(self.task, column, left.parts.tolist())
                if board.root.children:
                    found.append(board)
        return found[:TRIES]

    def _used(self, relaxed: Relaxed) -> list[Board]:
        used = [j for j, amount in enumerate(relaxed.amount.tolist()) if amount > 1e-6]
        self.rng.shuffle(used)
        return [self.boards[j] for j in used[:TRIES]]

    def _bettered(
        self, board: Board, seed: int, relaxed: Relaxed, left: Left, late: Callable[[], bool]
    ) -> Board:
        """The sheet after some steps of ruin that go by the values; at the first that is worth more than it costs."""
        import numpy as np

        if late():
            return board
        values = np.maximum(relaxed.value * SCALE, 1.0)
        counts = self._counts(board)
        spare = np.clip(np.minimum(left.parts, ALIKE) - counts, 0, None)
        loose = np.repeat(np.arange(len(spare)), spare).tolist()
        cost = float(self.costs[board.kind] - relaxed.stock[board.kind])
        ruin = Ruin(self.task, [board], loose, 2, seed, MEMORY, values)
        goal = float(values @ (spare + counts)) - cost * (1 + GAIN) * SCALE
        ruin.search(self.kernel_costs[board.kind], TRY_STEPS, goal, late)
        return next(iter(ruin.boards()), board)

    def take(self, left: Left, which: Sequence[int]) -> tuple[Left, list[int]]:
        """What is left once these sheets are cut, and those of them for which parts and stock sufficed."""
        parts, stock = left.parts.copy(), left.stock.copy()
        taken: list[int] = []
        for j in which:
            kind = int(self.kinds[j])
            if stock[kind] >= 1 and (self.made[j] <= parts).all():
                parts -= self.made[j]
                stock[kind] -= 1
                taken.append(j)
        return Left(parts, stock), taken


def _key(counts: Ints) -> bytes:
    import numpy as np

    return counts.astype(np.int16).tobytes()
