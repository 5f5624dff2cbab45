"""Which sheets to fill, where they come in several sizes: first a mix that is just cheaper than the best plan, then the filling.

A search that may open any sheet it can pay for wanders between mixes and fills none of them well. With the mix settled
all its sheets lie open at once, and what waits tells how near it is: the nearest two are worked on side by side.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from dataclasses import replace
from typing import NamedTuple

from wallwright.cutting.improve import never
from wallwright.cutting.ruin import MOST_COST, Ruin
from wallwright.cutting.tree import Board, Task

WINDOW = 8  # mixes in play: the dearest of those that are cheaper than the best plan
MOST = 40  # sheets of a mix
STEPS = 60_000  # looked at while mixes are listed; beyond it there are too many to choose from
MEMORY = 1000  # length of the history: of 300, 1000 and 2000 the one that fills best in some 100 000 steps
TURNS = 0.5  # a mix worked on so often counts as this much farther for every turn


def mixes(task: Task, below: int) -> list[tuple[int, ...]]:
    """How many of each kind of sheet, for all mixes cheaper than ``below`` that have the parts' area; dearest first.

    Empty where there are too many to choose from.
    """
    need = sum(a * p.quantity for a, p in zip(task.areas, task.pieces, strict=True))
    stock = [(price_of(task, kind), s.x * s.y, s.most) for kind, s in enumerate(task.stock)]
    best_value = [max((a / max(c, 1) for c, a, _ in stock[k:]), default=0.0) for k in range(len(stock) + 1)]
    looked = 0

    def more(kind: int, cost: int, area: int, sheets: int) -> Iterator[tuple[int, ...]]:
        nonlocal looked
        looked += 1
        if kind == len(stock):
            if area >= need:
                yield ()
            return
        price, own, most = stock[kind]
        for n in range(min(most, MOST - sheets) + 1):
            spent = cost + n * price
            if spent >= below or looked > STEPS:
                return
            if area + n * own + (below - spent) * best_value[kind + 1] < need:
                continue
            for rest in more(kind + 1, spent, area + n * own, sheets + n):
                yield (n, *rest)

    found = sorted(more(0, 0, 0, 0), key=lambda mix: (-_cost(task, mix), mix))
    return [] if looked > STEPS else found


def price_of(task: Task, kind: int) -> int:
    """What a sheet of this kind costs; its area where no sheet has a price."""
    if any(s.cost >> 64 for s in task.stock):
        return task.stock[kind].cost >> 64
    return task.stock[kind].cost


def _cost(task: Task, mix: Sequence[int]) -> int:
    return sum(n * price_of(task, kind) for kind, n in enumerate(mix))


class Filling(NamedTuple):
    """A mix being filled."""

    mix: tuple[int, ...]
    ruin: Ruin


class Mixes:
    """The mixes in play, each with the search that fills it."""

    def __init__(self, task: Task, seed: int) -> None:
        self.task, self.seed = task, seed
        self.ruins: dict[tuple[int, ...], Ruin] = {}
        self.turns: dict[tuple[int, ...], int] = {}

    def nearest(self, below: int, most: int) -> list[Filling]:
        """The mixes to work on next: cheaper than ``below``, with the least area waiting; none = too many or none left."""
        window = mixes(self.task, below)[:WINDOW]
        chosen = sorted(window, key=self._distance)[:most]
        for mix in chosen:
            self.turns[mix] = self.turns.get(mix, 0) + 1
            if mix not in self.ruins:
                self.ruins[mix] = self._begun(mix)
        return [Filling(mix, self.ruins[mix]) for mix in chosen]

    def _distance(self, mix: tuple[int, ...]) -> float:
        ruin = self.ruins.get(mix)
        return -1.0 if ruin is None else ruin.waiting() * (1 + TURNS * self.turns[mix])

    def _begun(self, mix: tuple[int, ...]) -> Ruin:
        stock = tuple(replace(s, most=n) for s, n in zip(self.task.stock, mix, strict=True))
        loose = [kind for kind, piece in enumerate(self.task.pieces) for _ in range(piece.quantity)]
        seed = self.seed + len(self.ruins)
        return Ruin(replace(self.task, stock=stock), [], loose, sum(mix) + 1, seed, MEMORY)


def fill(filling: Filling, steps: int, late: Callable[[], bool] = never) -> list[Board] | None:
    """So many steps on a mix, fewer when it is late: its boards, once nothing waits."""
    _, waiting = filling.ruin.search(MOST_COST, steps, late=late)
    return filling.ruin.boards() if waiting < 0.5 else None
