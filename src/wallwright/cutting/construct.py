"""A first valid plan at once: parts by falling size, each into the slab it fills best.

Also holds the one question that the improver asks a hundred thousand times: where does this part go?
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from typing import NamedTuple

from wallwright.cutting.tree import Board, Slab, Task

REACH = 400  # newest sheets looked back on: keeps jobs of many thousand parts linear
LAST = 20  # sheets considered for a smaller size
TWICE = 300  # with more parts sheets are repeated instead of filled one by one


class Spot(NamedTuple):
    """A place for a part and how much it harms: loss in the sum of squared free areas (less is better)."""

    loss: float
    board: Board
    slab: Slab
    lie: tuple[int, int, bool]
    across: bool


def find_spot(boards: Sequence[Board], lies: Sequence[tuple[int, int, bool]], levels: int) -> Spot | None:
    """The spot on the boards that keeps the free areas largest; None where the part fits nowhere.

    Squares make one large rest worth more than two small ones.
    """
    best = None
    least = float("inf")
    for board in boards:
        for slab in board.slabs(levels):
            left, thick, axis, spare, _ = slab
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
    tries: list[tuple[int, int, list[Board], list[int]]] = []
    for measure in (max, sum):
        boards, unplaced = greedy(task, _by_size(task, measure), kinds_by_value(task))
        boards = downsize(task, boards)
        lost = sum(task.areas[kind] for kind in unplaced)
        tries.append((lost, sum(task.stock[b.kind].cost for b in boards), boards, unplaced))
    return min(tries, key=lambda t: t[:2])[2:]


def greedy(task: Task, parts: Sequence[int], kinds: Sequence[int]) -> tuple[list[Board], list[int]]:
    """Boards that hold the parts, placed in this order, and those for which the stock did not suffice.

    ``kinds``: which sheets to open, best first.
    """
    free = [stock.most for stock in task.stock]
    boards: list[Board] = []
    unplaced: list[int] = []
    smallest = min((min(lie[:2]) for lies in task.lies for lie in lies), default=0)
    takers: list[Board] = []  # boards that may still take a part
    full_for = -1  # kind of part for which all of them but the newest are known to be full
    for part in parts:
        spot = find_spot(takers[-1:] if part == full_for else takers[-REACH:], task.lies[part], task.levels)
        if spot is not None:
            spot.board.insert(spot.slab, part, spot.lie, across=spot.across, area=task.areas[part])
            if all(min(s.left, s.thick) < smallest for s in spot.board.slabs(task.levels)):
                takers.remove(spot.board)
            continue
        full_for = part
        board = next((b for k in kinds if free[k] > 0 and (b := open_board(task, k, part)) is not None), None)
        if board is None:
            unplaced.append(part)
            continue
        free[board.kind] -= 1
        boards.append(board)
        takers.append(board)
    return boards, unplaced


def repeated(task: Task) -> tuple[list[Board], list[int]]:
    """Boards for many parts of few sizes: fill one sheet, cut it as often as the demand allows, then the next.

    The same board then stands in the list many times. Takes time by the number of sizes, not of parts.
    """
    left = [piece.quantity for piece in task.pieces]
    free = [stock.most for stock in task.stock]
    order = sorted(range(len(left)), key=lambda kind: (-max(task.lies[kind][0][:2]), -task.areas[kind], kind))
    boards: list[Board] = []
    for part in order:
        while left[part]:
            kinds = (k for k in kinds_by_value(task) if free[k] > 0)
            board = next((b for k in kinds if (b := open_board(task, k, part)) is not None), None)
            if board is None:
                break
            left[part] -= 1
            used = {part: 1}
            for other in order:
                while left[other] and (spot := find_spot([board], task.lies[other], task.levels)) is not None:
                    board.insert(spot.slab, other, spot.lie, across=spot.across, area=task.areas[other])
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
            tried, rest = greedy(task, parts, [kind])
            if len(tried) == 1 and not rest:
                free[kind] -= 1
                free[old.kind] += 1
                result[place] = tried[0]
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
