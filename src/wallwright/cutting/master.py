"""The linear programme over the patterns known so far: how much of each, and what every part is worth.

Least cost so that every part is made at least as often as wanted and no kind of sheet is used beyond its stock. The
duals of the part rows are the values that the next pattern is priced with.
"""

# pyright: reportUnknownMemberType=false, reportUnknownVariableType=false, reportUnknownArgumentType=false
# pyright: reportMissingTypeStubs=false

from __future__ import annotations

from math import isinf
from typing import TYPE_CHECKING, Any, NamedTuple

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

    Ints = NDArray[np.int64]
    Floats = NDArray[np.float64]

DEAR = 50.0  # cost of a part that no pattern makes, in dearest sheets for a sheetful of area


class Relaxed(NamedTuple):
    """The optimum over the known patterns: amount of each, worth of each part, worth of each kind of sheet's stock (<= 0)."""

    cost: float
    amount: Floats
    value: Floats
    stock: Floats


class Master:
    """Patterns as columns; solved again from where it stood whenever some were added."""

    def __init__(self, demand: Ints, share: Floats, stock: Floats) -> None:
        """Demand of each part, share of a sheet it fills (for the price of not making it), sheets in stock (inf = any)."""
        from ortools.linear_solver import pywraplp

        self.parts = len(demand)
        self.lp: Any = pywraplp.Solver.CreateSolver("GLOP")
        self.afresh: Any = pywraplp.MPSolverParameters()
        self.afresh.SetIntegerParam(self.afresh.INCREMENTALITY, self.afresh.INCREMENTALITY_OFF)
        self.rows: list[Any] = [self.lp.Constraint(float(n), self.lp.infinity()) for n in demand]
        self.rows += [self.lp.Constraint(-self.lp.infinity(), _most(n)) for n in stock]
        self.least: Any = self.lp.Objective()
        self.least.SetMinimization()
        self.lacking = [self._column(DEAR * float(share[part]), {part: 1.0}) for part in range(self.parts)]
        self.patterns: list[Any] = []

    def _column(self, cost: float, entries: dict[int, float]) -> Any:
        column = self.lp.NumVar(0.0, self.lp.infinity(), "")
        self.least.SetCoefficient(column, cost)
        for row, number in entries.items():
            self.rows[row].SetCoefficient(column, number)
        return column

    def add(self, made: Ints, kind: int, cost: float) -> None:
        """One more pattern: what it makes, of which kind of sheet, at what cost."""
        entries = {part: float(n) for part, n in enumerate(made.tolist()) if n}
        self.patterns.append(self._column(cost, {**entries, self.parts + kind: 1.0}))

    def bar(self, pattern: int, *, barred: bool) -> None:
        """Keep a pattern out of the programme, or let it in again."""
        self.patterns[pattern].SetUb(0.0 if barred else self.lp.infinity())

    def change(self, demand: Ints, stock: Floats) -> None:
        """Other demands and stock for the same patterns."""
        for row, wanted in zip(self.rows, demand.tolist(), strict=False):
            row.SetLb(float(wanted))
        for row, most in zip(self.rows[self.parts :], stock.tolist(), strict=True):
            row.SetUb(_most(most))

    def solve(self) -> Relaxed:
        """The optimum now. Where the arithmetic fails, nothing is worth anything: no bound, no pattern."""
        import numpy as np

        if self.lp.Solve() != 0 and self.lp.Solve(self.afresh) != 0:
            none = np.zeros(len(self.rows))
            return Relaxed(0.0, np.zeros(len(self.patterns)), none[: self.parts], none[self.parts :])
        dual = np.array([row.dual_value() for row in self.rows])
        amount = np.array([column.solution_value() for column in self.patterns], dtype=np.float64)
        return Relaxed(
            float(self.least.Value()),
            np.maximum(amount, 0.0),
            np.maximum(dual[: self.parts], 0.0),
            np.minimum(dual[self.parts :], 0.0),
        )


def _most(stock: float) -> float:
    return 1e9 if isinf(stock) else float(stock)
