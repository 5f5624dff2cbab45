"""What goes where, proven best: the same limits and the same score as `allot`, solved by CP-SAT as an integer programme.

Worth its second or two where a wall is issued; at every change of the design the fast way will do. First a few levels at a time
are emptied and filled anew in the best way, all else as it is; then the whole is solved, which also says what none can beat.
"""

from __future__ import annotations

import math
import random
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING

from wallwright.core.limit import Limits
from wallwright.storage.allot import allot, counts_of, fits_of, placed
from wallwright.storage.fit import Fit, Terms, left_cost, score, terms_of
from wallwright.storage.record import Demand, Level, Placed, Storage
from wallwright.storage.relaxed import least_score

if TYPE_CHECKING:
    from ortools.sat.python.cp_model import CpModel, IntVar

Counts = list[dict[int, int]]
POINTS = 1000
"""Points are counted in thousandths, runs and masses in thousandths of a mm and kg: the solver takes whole numbers."""
SMALL = 150
"""Up to so many places (a kind on a level) the whole is solved at once."""
FEW = 160
"""So many places are filled anew together."""
PATIENCE = 30
"""So many times in a row that changes nothing before the whole is solved."""
WHOLE = 0.3
"""The share of the solver's work that is kept for the whole."""
PART = 0.02
"""The solver's work on a few levels, as a share of that on the whole."""


@dataclass(frozen=True, slots=True)
class Best:
    """An allotment, its score, and the score that none can be better than [points]; proven where the two are the same."""

    placed: tuple[Placed, ...]
    score: float
    bound: float

    @property
    def gap(self) -> float:
        """How far it may be from the best, as a share of its score."""
        return max(0.0, self.score - self.bound) / self.score if self.score > 0 else 0.0


@dataclass(frozen=True, slots=True)
class _Problem:
    wanted: Sequence[Demand]
    levels: Sequence[Level]
    fits: list[dict[int, Fit]]
    terms: Terms

    def score(self, counts: Counts) -> float:
        return score(self.wanted, self.levels, counts, self.terms)


def allot_best(  # noqa: PLR0913
    wanted: Sequence[Demand],
    levels: Sequence[Level],
    terms: Terms,
    seconds: float = 0.6,
    *,
    prove: bool = True,
) -> Best:
    """The best allotment found in that time, never worse than the fast one; the same input gives the same answer.

    seconds : the solver's own count of work, about so many seconds on a common machine: no clock, so that it repeats itself.
    prove : ask a second solver for a better bound too (that one goes by the clock; it places nothing)
    """
    problem = _Problem(wanted, levels, fits_of(wanted, levels, terms), terms)
    now = counts_of(wanted, levels, allot(wanted, levels, terms))
    if sum(map(len, problem.fits)) > SMALL:
        now = _by_parts(problem, now, seconds)
    found, bound, _ = _solved(problem, frozenset(range(len(levels))), now, seconds * WHOLE)
    now = min(found, now, key=problem.score)
    points = problem.score(now)
    if prove and bound < points - 1e-6 * points:
        bound = max(bound, least_score(wanted, levels, problem.fits, terms, seconds * WHOLE * 2))
    return Best(placed(wanted, levels, now), points, min(bound, points))


def allotment(storage: Storage, limits: Limits) -> tuple[Placed, ...]:
    """The best allotment of a wall's things to its levels, to derive the wall with."""
    if not storage.demands or not storage.levels:
        return storage.placed
    return allot_best(storage.demands, storage.levels, terms_of(storage.reach, limits), prove=False).placed


def _by_parts(problem: _Problem, now: Counts, seconds: float) -> Counts:
    """Levels filled anew a few at a time, as long as that helps."""
    points, idle, work = problem.score(now), 0, 0.0
    for few in _parts(problem, now):
        found, _, took = _solved(problem, few, now, seconds * PART)
        work += took
        better = problem.score(found)
        if better < points - 1e-6:
            points, idle = better, 0
            for kind, row in enumerate(found):
                now[kind] = row
        else:
            idle += 1
        if idle >= PATIENCE or work > seconds * (1 - WHOLE):
            break
    return now


def _parts(problem: _Problem, now: Counts) -> Iterator[frozenset[int]]:
    """Levels to fill anew together: those where some kind that lacks a place, or stands dear, could stand."""
    draw = random.Random(1)
    places = [[k for k, row in enumerate(problem.fits) if i in row] for i in range(len(problem.levels))]
    while True:
        lacking = [
            k for k, d in enumerate(problem.wanted) if d.count > sum(now[k].values()) and problem.fits[k]
        ]
        kind = draw.choice(lacking if lacking and draw.random() < 0.7 else range(len(problem.wanted)))
        wish = list(problem.fits[kind]) or list(range(len(problem.levels)))
        draw.shuffle(wish)
        rest = [i for i in range(len(problem.levels)) if i not in wish]
        draw.shuffle(rest)
        few: list[int] = []
        size = 0
        for i in (*wish[:6], *rest):
            size += len(places[i])
            if few and size > FEW and len(few) >= 3:
                break
            few.append(i)
        yield frozenset(few)


def _solved(
    problem: _Problem, among: frozenset[int], start: Counts, seconds: float
) -> tuple[Counts, float, float]:
    """The best filling of these levels, all else staying as at the start; the bound on the score of the whole; the work done."""
    from ortools.sat.python import cp_model

    wanted, levels, terms = problem.wanted, problem.levels, problem.terms
    model = cp_model.CpModel()
    count: list[dict[int, IntVar]] = []
    points: list[IntVar] = []
    weights: list[int] = []
    fixed = 0
    run: dict[int, list[tuple[IntVar, int]]] = {i: [] for i in among}
    load: dict[int, list[tuple[IntVar, int]]] = {i: [] for i in among}
    for k, demand in enumerate(wanted):
        stay = sum(n for i, n in start[k].items() if i not in among)
        free = demand.count - stay
        lost = round(left_cost(demand, terms) * POINTS)
        fixed += lost * free
        row: dict[int, IntVar] = {}
        for i, how in problem.fits[k].items() if free else ():
            if i not in among:
                continue
            most = min(how.most, free)
            number = model.new_int_var(0, most, f"n{k}_{i}")
            used = _used(model, number, most, start[k].get(i, 0), (k, i))
            points += (number, used)
            weights += (round(how.cost * POINTS) - lost, round(terms.split * POINTS))
            run[i].append((_columns(model, number, how, most, (k, i)), _up(how.each)))
            load[i].append((number, _up(demand.one)))
            model.add_hint(number, start[k].get(i, 0))
            row[i] = number
        if row:
            model.add(sum(row.values()) <= free)
        count.append(row)
    for i in among:
        for taken, most_of in ((run[i], levels[i].run), (load[i], levels[i].load)):
            if taken:
                model.add(sum(var * size for var, size in taken) <= int(most_of * POINTS + 1e-3))
    model.minimize(sum(point * weight for point, weight in zip(points, weights, strict=True)) + fixed)
    solver = cp_model.CpSolver()
    solver.parameters.num_workers = 1
    solver.parameters.random_seed = 1
    solver.parameters.max_deterministic_time = seconds
    status = solver.solve(model)
    bound, work = solver.best_objective_bound / POINTS, solver.response_proto.deterministic_time
    if status not in (cp_model.OPTIMAL, cp_model.FEASIBLE):
        return start, bound, work
    found = [
        {
            **{i: n for i, n in start[k].items() if i not in among},
            **{i: n for i, var in row.items() if (n := solver.value(var))},
        }
        for k, row in enumerate(count)
    ]
    return found, bound, work


def _used(model: CpModel, number: IntVar, most: int, now: int, at: tuple[int, int]) -> IntVar:
    """Whether any of a kind stands on a level."""
    if most == 1:
        return number
    used = model.new_bool_var(f"y{at[0]}_{at[1]}")
    model.add(number <= most * used)
    model.add_hint(used, int(now > 0))
    return used


def _columns(model: CpModel, number: IntVar, how: Fit, most: int, at: tuple[int, int]) -> IntVar:
    """How many columns so many things stand in."""
    if how.per == 1:
        return number
    columns = model.new_int_var(0, -(-most // how.per), f"c{at[0]}_{at[1]}")
    model.add(number <= how.per * columns)
    return columns


def _up(size: float) -> int:
    """A size in thousandths, never too small."""
    return math.ceil(size * POINTS - 1e-6)
