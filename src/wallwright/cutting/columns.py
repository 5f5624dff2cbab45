"""Column generation: the sheets worth cutting, and how cheap any plan could be at best.

The linear programme over the patterns known so far gives every part a value; pricing finds patterns worth more than
their sheet costs; they join, and the values move, until no pattern is worth more. Then the programme's cost is a lower
bound on every plan of these stages, and before that the values shrunk by the most any pattern is worth give one too
(A. A. Farley, "A note on bounding a class of linear programming problems, including cutting stock problems",
Operations Research 38, 1990; from memory). The method: P. C. Gilmore and R. E. Gomory, "A linear programming approach
to the cutting-stock problem", Operations Research 9 (1961) (from memory).
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from typing import TYPE_CHECKING, NamedTuple

from wallwright.cutting.improve import always, never
from wallwright.cutting.master import Master, Relaxed
from wallwright.cutting.model import Grain, Proof, Shares, Worth
from wallwright.cutting.price import Pattern, made, sides
from wallwright.cutting.tree import UNLIMITED, Board, Task

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

    Ints = NDArray[np.int64]
    Floats = NDArray[np.float64]

TRIFLE = 1e-9  # cost of a free sheet, in dearest sheets: taken off the bound again
NOISE = 1e-5  # of a unit: a cost so little above a whole number proves no more than that number
GAIN = 1e-6  # a pattern must be worth this much more than its sheet, as a share, to join
CLOSE = 2e-5  # heights are measured until no pattern can be worth more than this above its sheet


class Column(NamedTuple):
    """A pattern in the programme: how many of each part, the kind of sheet, and how it is cut."""

    made: Ints
    kind: int
    source: Pattern | Board


class Witness(NamedTuple):
    """Values of the parts, and what a sheet of each kind can be worth at most by them; in dearest sheets."""

    value: Floats
    worth: Floats


class Columns:
    """The patterns of one task and its linear programme."""

    def __init__(self, task: Task) -> None:
        import numpy as np

        self.task = task
        prices = [s.cost >> 64 for s in task.stock]
        self.prices = prices if any(prices) else [s.sheet.length * s.sheet.width for s in task.stock]
        self.dearest = max(self.prices)
        self.costs: Floats = np.array([max(p / self.dearest, TRIFLE) for p in self.prices])
        parts = sum(p.quantity for p in task.pieces)  # no plan has use for more sheets
        trifles = (
            (TRIFLE - p / self.dearest) * min(s.most, parts)
            for p, s in zip(self.prices, task.stock, strict=True)
        )
        self.trifles = sum(max(t, 0.0) for t in trifles)
        self.demand: Ints = np.array([p.quantity for p in task.pieces], dtype=np.int64)
        self.stock: Floats = np.array([np.inf if s.most >= UNLIMITED else s.most for s in task.stock], float)
        room = max(s.x * s.y for s in task.stock)
        self.master = Master(self.demand, np.array(task.areas, float) / room, self.stock)
        self.columns: list[Column] = []
        self.known: set[tuple[int, bytes]] = set()
        self.sides = sides(task)
        self.exact = bool(self.sides) and task.levels <= 3 and all(s.usable for s in self.sides)
        cells = sum(len(s.wide) * s.height for s in self.sides if s.usable)
        self.work = 20 * len(task.pieces) + cells // 4000  # what a round counts in steps of the ruin, about
        self.least = 0.0  # proven least cost, in dearest sheets
        self.witness: Witness | None = None  # what proves it
        self.relaxed: Relaxed | None = None
        self.converged = False

    def seed(self, boards: Sequence[Board]) -> None:
        """Start from the sheets of a plan."""
        import numpy as np

        for board in {id(b): b for b in boards}.values():
            own = np.bincount(board.root.parts(), minlength=len(self.demand))
            self._add(Column(own, board.kind, board))

    def _add(self, column: Column) -> bool:
        """Take the pattern in, unless one that makes the same is known: rounding may find it worth asking for again."""
        key = (column.kind, column.made.tobytes())
        if key in self.known:
            return False
        self.known.add(key)
        self.columns.append(column)
        self.master.add(column.made, column.kind, float(self.costs[column.kind]))
        return True

    def ask(self, demand: Ints | None = None, stock: Floats | None = None) -> None:
        """Go on with other demands and stock (None: the task's own); bounds are then not noted."""
        own = demand is None or stock is None
        self.master.change(self.demand if demand is None else demand, self.stock if stock is None else stock)
        self._asked = None if own else demand
        self.converged = False

    _asked: Ints | None = None

    def settle(self, most: int, go_on: Callable[[], bool] = always, late: Callable[[], bool] = never) -> int:
        """Rounds until nothing is worth adding, at most so many, or until ``go_on``, asked after each, says no; how many were made."""
        for number in range(1, most + 1):
            if not self.round(late) or not go_on():
                return number
        return most

    def amounts(self) -> tuple[list[float], float]:
        """How much of every column the programme uses, and its cost in dearest sheets."""
        relaxed = self.relaxed or self.master.solve()
        amount = [*relaxed.amount.tolist(), *([0.0] * (len(self.columns) - len(relaxed.amount)))]
        return amount, relaxed.cost

    def left_after(
        self, step: Sequence[tuple[int, int]], left: Ints, stock: Floats
    ) -> tuple[Ints, Floats] | None:
        """Demands and stock once these patterns are cut as well; None where the stock does not suffice."""
        import numpy as np

        left, stock = left.copy(), stock.copy()
        for j, times in step:
            left -= times * self.columns[j].made
            stock[self.columns[j].kind] -= times
        return None if (stock < 0).any() else (np.maximum(left, 0), stock)

    def round(self, late: Callable[[], bool] = never) -> bool:
        """Solve the programme and price once; False when no pattern was worth adding, or it grew late. Then no bound is noted."""
        import numpy as np

        self.relaxed = relaxed = self.master.solve()
        added, most = 0, [0.0] * len(self.costs)
        for side in self.sides:
            if not side.usable:
                continue
            cost = float(self.costs[side.kind] - relaxed.stock[side.kind])
            answer = side.price(relaxed.value, cost * (1 + GAIN), cost * (1 + CLOSE), late)
            most[side.kind] = max(most[side.kind], answer.most)
            for pattern in answer.patterns:
                added += self._add(Column(made(pattern, len(self.demand)), side.kind, pattern))
        if self.exact and self._asked is None and not np.isinf(most).any():
            least, witness = self._farley(relaxed, most)
            if least > self.least:
                self.least, self.witness = least, witness
        self.converged = added == 0
        return added > 0

    def _farley(self, relaxed: Relaxed, most: Sequence[float]) -> tuple[float, Witness]:
        """Least cost by these part values: shrunk until no sheet in free supply is worth more than it costs.

        A kind in short supply may be worth more; what it is worth above its cost is then lost once for every one.
        """
        import numpy as np

        total = float(relaxed.value @ self.demand)
        ratio = np.array(most) / self.costs
        plenty = np.isinf(self.stock)
        floor = max(float(ratio[plenty].max(initial=0.0)), 1e-12)
        best, shrunk = 0.0, 1.0
        for shrink in sorted({max(floor, float(r)) for r in (*ratio, 1.0)}):
            over = np.maximum(np.array(most) / shrink - self.costs, 0.0)
            least = total / shrink - float((over * np.where(plenty, 0.0, self.stock)).sum())
            if least > best:
                best, shrunk = least, shrink
        return best, Witness(relaxed.value / shrunk, np.maximum(np.array(most) / shrunk, self.costs))

    def proof(self, shares: tuple[Shares, ...]) -> Proof:
        """What the bound rests on, for the verifier: the values in the sheets' own prices, and the shares as well."""
        task, own = self.task, self.witness
        material = task.pieces[0].material
        if own is None:
            return Proof(material, shares)
        values: dict[tuple[str, int, int, Grain], float] = {
            (piece.name if task.sets[kind] else "", piece.length, piece.width, piece.grain): float(value)
            for kind, value in enumerate(own.value * self.dearest)
            for piece in task.owners[kind]
        }
        worth = zip(task.stock, (own.worth * self.dearest).tolist(), strict=True)
        return Proof(
            material,
            shares,
            tuple(Worth(*shape, value) for shape, value in values.items()),
            tuple((stock.sheet.name, most) for stock, most in worth),
        )

    def least_cost(self) -> int:
        """Proven least cost in the task's own units: rounded up to what whole sheets can cost, at most all of the stock."""
        from math import ceil, gcd

        unit = gcd(*self.prices)
        units = max(0, ceil((self.least - self.trifles) * self.dearest / unit * (1 - 1e-9) - NOISE))
        if all(s.most < UNLIMITED for s in self.task.stock):
            units = min(
                units, sum(p * s.most for p, s in zip(self.prices, self.task.stock, strict=True)) // unit
            )
        priced = any(s.cost >> 64 for s in self.task.stock)
        return (units * unit) << 64 if priced else units * unit

    def least_sheets(self) -> int:
        """Proven least number of sheets, at most all of the stock; only where all kinds cost the same."""
        from math import ceil

        if len(set(self.prices)) > 1:
            return 0
        return min(
            ceil((self.least - self.trifles) * (1 - 1e-9) - NOISE), sum(s.most for s in self.task.stock)
        )
