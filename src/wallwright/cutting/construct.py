"""A first valid plan at once: parts by falling size, each into the slab it fills best.

Also holds the one question that the improver asks a hundred thousand times: where does this part go?
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from itertools import groupby
from math import inf
from operator import attrgetter
from typing import NamedTuple

from wallwright.cutting.tree import Board, Slab, Task

LAST = 20  # sheets considered for a smaller size
TWICE = 300  # with more parts sheets are repeated instead of filled one by one
_LOSS = attrgetter("loss")


class Spot(NamedTuple):
    """A place for a part and how much it harms: loss in the sum of squared free areas (less is better)."""

    loss: float
    board: Board
    slab: Slab
    lie: tuple[int, int, bool]
    across: bool


def find_spot(boards: Sequence[Board], lies: Sequence[tuple[int, int, bool]], levels: int) -> Spot | None:
    """The spot on the boards that keeps the free areas largest, the first of equals; None where the part fits nowhere."""
    spots = (spot_on(board, board.slabs(levels), lies) for board in boards)
    return min((spot for spot in spots if spot is not None), key=_LOSS, default=None)


def spot_on(board: Board, slabs: Iterable[Slab], lies: Sequence[tuple[int, int, bool]]) -> Spot | None:
    """The best spot in these slabs of one board.

    Squares make one large rest worth more than two small ones.
    """
    best = None
    least = inf
    area = lies[0][0] * lies[0][1]
    for slab in slabs:
        left, thick, axis, spare, _ = slab
        if left * thick < area:
            continue
        for lie in lies:
            along, cross = (lie[0], lie[1]) if axis == 0 else (lie[1], lie[0])
            if along > left or cross > thick:
                continue
            rest, side = left - along, thick - cross
            whole = float(left * thick) ** 2
            loss = whole - float(rest * thick) ** 2 - (float(along * side) ** 2 if spare else 0.0)
            if loss < least:
                least, best = loss, (board, slab, lie, False)
            if spare and rest and side:
                loss = whole - float(left * side) ** 2 - (float(rest * cross) ** 2 if spare > 1 else 0.0)
                if loss < least:
                    least, best = loss, (board, slab, lie, True)
    return None if best is None else Spot(least, *best)


def open_board(task: Task, kind: int, part: int) -> Board | None:
    """A new sheet of this kind with the part in its corner, divided the way that keeps the free areas largest."""
    stock = task.stock[kind]
    best: tuple[float, int, tuple[int, int, bool]] | None = None
    for lie in task.lies[part]:
        x, y, _ = lie
        if x > stock.x or y > stock.y:
            continue
        first_x = float((stock.x - x) * stock.y) ** 2 + float(x * (stock.y - y)) ** 2
        first_y = float((stock.y - y) * stock.x) ** 2 + float(y * (stock.x - x)) ** 2
        for kept, axis in ((first_x, 0), (first_y, 1)):
            if best is None or kept > best[0]:
                best = (kept, axis, lie)
    if best is None:
        return None
    _, axis, lie = best
    board = Board.empty(task, kind, axis)
    board.insert(board.slabs(task.levels)[0], part, lie, across=False, area=task.areas[part])
    return board


def kinds_by_value(task: Task) -> list[int]:
    """Kinds of sheet, cheapest for their area first."""
    return sorted(
        range(len(task.stock)), key=lambda i: (task.stock[i].cost / (task.stock[i].x * task.stock[i].y), i)
    )


def first_plan(task: Task) -> tuple[list[Board], list[int]]:
    """The better of two greedy plans (longer side first, larger girth first), last sheets exchanged for smaller ones."""
    if sum(piece.quantity for piece in task.pieces) > TWICE:
        return repeated(task)
    kinds = kinds_by_value(task)
    tries: list[tuple[int, int, list[Board], list[int]]] = []
    for measure in (max, sum):
        most = None
        if tries and len(task.stock) == 1 and not tries[0][0]:
            most = len(tries[0][2]) - 1  # of one kind of sheet another plan is better only if it needs fewer
            if most < _least_sheets(task):
                break
        made = greedy(task, _by_size(task, measure), kinds, most)
        if made is None:
            break
        boards, unplaced = downsize(task, made[0]), made[1]
        lost = sum(task.areas[kind] for kind in unplaced)
        tries.append((lost, sum(task.stock[b.kind].cost for b in boards), boards, unplaced))
    return min(tries, key=lambda t: t[:2])[2:]


def _least_sheets(task: Task) -> int:
    """Sheets that the parts take by their area alone, where there is one kind of sheet."""
    area = sum(own * piece.quantity for own, piece in zip(task.areas, task.pieces, strict=True))
    return -(-area // (task.stock[0].x * task.stock[0].y))


class _Taker:
    """A board that may still take a part, its slabs wide enough for the smallest, and where the part in hand goes best."""

    __slots__ = ("board", "loss", "slabs", "spot")

    def __init__(self, board: Board) -> None:
        self.board = board
        self.slabs: list[Slab] = []
        self.spot: Spot | None = None
        self.loss = inf

    def look(self, lies: Sequence[tuple[int, int, bool]]) -> None:
        """Find the part's best spot, and what it loses."""
        self.spot = spot_on(self.board, self.slabs, lies)
        self.loss = self.spot.loss if self.spot else inf


def _smallest_side(task: Task) -> int:
    """Of all parts: a slab that is narrower takes none of them."""
    return min((min(lie[:2]) for lies in task.lies for lie in lies), default=1)


def greedy(
    task: Task, parts: Sequence[int], kinds: Sequence[int], most: int | None = None
) -> tuple[list[Board], list[int]] | None:
    """Boards that hold the parts, placed in this order, and those for which the stock did not suffice.

    ``kinds``: which sheets to open, best first. ``most``: boards to be used; None is the answer where they do not suffice.
    """
    free = [stock.most for stock in task.stock]
    boards: list[Board] = []
    unplaced: list[int] = []
    smallest = _smallest_side(task)
    takers: list[_Taker] = []
    for part, run in groupby(parts):
        lies, area = task.lies[part], task.areas[part]
        for taker in takers:
            taker.look(lies)
        for _ in run:  # of equal parts only the board that took the last one is looked at anew
            taker = min(takers, key=_LOSS, default=None)
            if taker is not None and (spot := taker.spot) is not None:
                taker.board.insert(spot.slab, part, spot.lie, across=spot.across, area=area)
            else:
                new = (b for k in kinds if free[k] > 0 and (b := open_board(task, k, part)) is not None)
                board = next(new, None)
                if board is None:
                    unplaced.append(part)
                    continue
                if len(boards) == most:
                    return None
                free[board.kind] -= 1
                boards.append(board)
                takers.append(taker := _Taker(board))
            taker.slabs = taker.board.walk(task.levels, smallest)
            taker.look(lies)
            if not taker.slabs:
                takers.remove(taker)
    return boards, unplaced


def repeated(task: Task) -> tuple[list[Board], list[int]]:
    """Boards for many parts of few sizes: fill one sheet, cut it as often as the demand allows, then the next.

    The same board then stands in the list many times. Takes time by the number of sizes, not of parts.
    """
    left = [piece.quantity for piece in task.pieces]
    free = [stock.most for stock in task.stock]
    order = sorted(range(len(left)), key=lambda kind: (-max(task.lies[kind][0][:2]), -task.areas[kind], kind))
    boards: list[Board] = []
    by_value, smallest = kinds_by_value(task), _smallest_side(task)
    for part in order:
        while left[part]:
            kinds = (k for k in by_value if free[k] > 0)
            board = next((b for k in kinds if (b := open_board(task, k, part)) is not None), None)
            if board is None:
                break
            left[part] -= 1
            used = {part: 1}
            slabs = board.walk(task.levels, smallest)
            for other in order:
                while left[other] and (spot := spot_on(board, slabs, task.lies[other])) is not None:
                    board.insert(spot.slab, other, spot.lie, across=spot.across, area=task.areas[other])
                    slabs = board.walk(task.levels, smallest)
                    left[other] -= 1
                    used[other] = used.get(other, 0) + 1
            times = min(free[board.kind], 1 + min(left[kind] // n for kind, n in used.items()))
            for kind, n in used.items():
                left[kind] -= n * (times - 1)
            free[board.kind] -= times
            boards += [board] * times
    return downsize(task, boards), [kind for kind, n in enumerate(left) for _ in range(n)]


def downsize(task: Task, boards: list[Board]) -> list[Board]:
    """The emptiest sheets, each exchanged for the cheapest kind in stock that still takes all its parts."""
    if len(task.stock) < 2:
        return boards
    free = [stock.most - sum(b.kind == i for b in boards) for i, stock in enumerate(task.stock)]
    result = list(boards)
    for place in sorted(range(len(boards)), key=lambda i: boards[i].area)[:LAST]:
        old = result[place]
        parts = sorted(old.root.parts(), key=lambda kind: -max(task.lies[kind][0][:2]))
        for kind in sorted(range(len(task.stock)), key=lambda i: task.stock[i].cost):
            if task.stock[kind].cost >= task.stock[old.kind].cost:
                break
            if free[kind] < 1:
                continue
            tried = greedy(task, parts, [kind], most=1)
            if tried is not None and not tried[1]:
                free[kind] -= 1
                free[old.kind] += 1
                result[place] = tried[0][0]
                break
    return result


def _by_size(task: Task, measure: Callable[[tuple[int, int]], int]) -> list[int]:
    """Every part, the largest by this measure of its two sides first."""

    def key(kind: int) -> tuple[int, int, int]:
        sides = task.lies[kind][0][:2]
        return (-measure(sides), -task.areas[kind], kind)

    return [
        kind for kind in sorted(range(len(task.pieces)), key=key) for _ in range(task.pieces[kind].quantity)
    ]
