"""Whole numbers of the known patterns: the cheapest mix, by branch and bound.

Worth asking where sheets come in several sizes and parts in high numbers: there the right mix of sizes is what rounding
gets wrong. For one size the ruin is better by far, since the mix can only use patterns that the programme has met.
"""

# pyright: reportUnknownMemberType=false, reportMissingTypeStubs=false, reportUnknownVariableType=false
# pyright: reportUnknownArgumentType=false

from __future__ import annotations

from collections.abc import Callable
from math import gcd, isinf
from threading import Thread
from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from wallwright.cutting.columns import Column, Columns

NODES = 300  # of the search tree: counted, so that the same columns give the same mix
MOST = 3000  # columns; with more, the tree's first node takes too long
LOOK = 0.1  # seconds between two questions whether to go on
DEAF = 10  # looks after which a solver that does not heed its interruption is left alone


def best_mix(
    columns: Columns, seconds: float | None, go_on: Callable[[], bool]
) -> list[tuple[Column, int]] | None:
    """Patterns and how often each is cut; None where no mix was found in time, or before `go_on` said no."""
    from ortools.linear_solver import pywraplp

    if not columns.columns or len(columns.columns) > MOST:
        return None
    solver: Any = pywraplp.Solver.CreateSolver("SCIP")
    solver.SetSolverSpecificParametersAsString(f"limits/nodes = {NODES}\nmisc/catchctrlc = FALSE")
    if seconds is not None:
        solver.SetTimeLimit(max(1, int(seconds * 1000)))
    unit = gcd(*columns.prices)
    amount = [solver.IntVar(0, float(columns.demand.sum()), "") for _ in columns.columns]
    for part, wanted in enumerate(columns.demand.tolist()):
        row = solver.Constraint(float(wanted), solver.infinity())
        for column, number in zip(columns.columns, amount, strict=True):
            if column.made[part]:
                row.SetCoefficient(number, float(column.made[part]))
    for kind, most in enumerate(columns.stock.tolist()):
        if not isinf(most):
            row = solver.Constraint(0.0, most)
            for column, number in zip(columns.columns, amount, strict=True):
                if column.kind == kind:
                    row.SetCoefficient(number, 1.0)
    least = solver.Objective()
    least.SetMinimization()
    for column, number in zip(columns.columns, amount, strict=True):
        least.SetCoefficient(number, columns.prices[column.kind] / unit)
    if solved(solver, go_on) not in (solver.OPTIMAL, solver.FEASIBLE):
        return None
    whole = [round(number.solution_value()) for number in amount]
    return [(column, n) for column, n in zip(columns.columns, whole, strict=True) if n]


def solved(solver: Any, go_on: Callable[[], bool]) -> int:
    """The solver's verdict. It works in a thread of its own: meanwhile Python hears a Ctrl-C, which else waits for it to end."""
    verdict: list[int] = []
    interrupted = 0
    work = Thread(target=lambda: verdict.append(solver.Solve()), daemon=True)
    work.start()
    while work.is_alive():
        work.join(LOOK)
        if not go_on():
            solver.InterruptSolve()
            interrupted += 1
        if interrupted > DEAF:
            return int(solver.NOT_SOLVED)
    return verdict[0]
