"""The score that no allotment can be better than, found from below by a second solver (HiGHS): its bound proves, it places nothing."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import timedelta
from math import isfinite
from typing import Any

from wallwright.storage.fit import Fit, Terms, left_cost
from wallwright.storage.record import Demand, Level


def least_score(
    wanted: Sequence[Demand],
    levels: Sequence[Level],
    fits: Sequence[dict[int, Fit]],
    terms: Terms,
    seconds: float,
) -> float:
    """A score that no allotment is better than [points]: the mixed-integer programme's bound after so many seconds."""
    from ortools.math_opt.python import mathopt

    cost: list[float] = []
    most: list[float] = []
    rows: list[tuple[list[int], list[float], float]] = []
    run: list[tuple[list[int], list[float]]] = [([], []) for _ in levels]
    load: list[tuple[list[int], list[float]]] = [([], []) for _ in levels]

    def variable(points: float, up: float) -> int:
        cost.append(points)
        most.append(up)
        return len(cost) - 1

    fixed = 0.0
    for k, demand in enumerate(wanted):
        lost = left_cost(demand, terms)
        fixed += lost * demand.count
        whole: list[int] = []
        for i, how in fits[k].items():
            up = min(how.most, demand.count)
            number = variable(how.cost - lost + (terms.split if up == 1 else 0.0), up)
            if up > 1:
                rows.append(([number, variable(terms.split, 1)], [1.0, -float(up)], 0.0))
            column = number
            if how.per > 1:
                column = variable(0.0, -(-up // how.per))
                rows.append(([number, column], [1.0, -float(how.per)], 0.0))
            whole.append(number)
            run[i][0].append(column)
            run[i][1].append(how.each)
            load[i][0].append(number)
            load[i][1].append(demand.one)
        if whole:
            rows.append((whole, [1.0] * len(whole), float(demand.count)))
    for i, level in enumerate(levels):
        if run[i][0]:
            rows += [(*run[i], level.run), (*load[i], level.load)]
    if not cost:
        return fixed
    model: Any = mathopt.Model()
    columns: list[Any] = [model.add_integer_variable(lb=0.0, ub=float(up)) for up in most]
    for ats, values, top in rows:
        row: Any = model.add_linear_constraint(ub=top)
        for at, value in zip(ats, values, strict=True):
            row.set_coefficient(columns[at], value)
    objective: Any = model.objective
    objective.is_maximize = False
    for column, points in zip(columns, cost, strict=True):
        objective.set_linear_coefficient(column, points)
    asked: Any = mathopt.SolveParameters(
        time_limit=timedelta(seconds=seconds), relative_gap_tolerance=NEAR_ENOUGH, enable_output=False
    )
    solved: Any = mathopt.solve(model, mathopt.SolverType.HIGHS, params=asked)
    bound = float(solved.termination.objective_bounds.dual_bound)
    return max(0.0, fixed + bound) if isfinite(bound) else 0.0


NEAR_ENOUGH = 0.002
"""A bound within this share is near enough: the rest of the time is better spent on placing."""
