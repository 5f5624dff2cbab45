"""Whole numbers of the known patterns: the cheapest mix, by branch and bound.

Worth asking where sheets come in several sizes and parts in high numbers: there the right mix of sizes is what rounding
gets wrong. For one size the ruin is better by far, since the mix can only use patterns that the programme has met.
"""

# pyright: reportUnknownMemberType=false, reportMissingTypeStubs=false, reportUnknownVariableType=false
# pyright: reportUnknownArgumentType=false

from __future__ import annotations

from math import gcd, isinf
from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from wallwright.cutting.columns import Column, Columns

NODES = 300  # of the search tree: counted, so that the same columns give the same mix
MOST = 3000  # columns; with more, the tree's first node takes too long


def best_mix(columns: Columns, seconds: float | None) -> list[tuple[Column, int]] | None:
    """Patterns and how often each is cut; None where no mix was found in time."""
    from ortools.linear_solver import pywraplp

    if not columns.columns or len(columns.columns) > MOST:
        return None
    solver: Any = pywraplp.Solver.CreateSolver("SCIP")
    solver.SetSolverSpecificParametersAsString(f"limits/nodes = {NODES}")
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
    if solver.Solve() not in (solver.OPTIMAL, solver.FEASIBLE):
        return None
    whole = [round(number.solution_value()) for number in amount]
    return [(column, n) for column, n in zip(columns.columns, whole, strict=True) if n]
