"""What no plan can beat: lower bounds on the sheets used and on their price, for each material.

All bounds are for the inflated problem (part + kerf, trimmed sheet + kerf), in which kerf has vanished, and hold for
any packing at all, so for every number of stages.

* **Area**: the parts' area over the sheets' area.
* **Big parts**: parts of which no two lie side by side in any sheet take a sheet each.
* **Dual-feasible functions** (S. P. Fekete and J. Schepers, "New classes of fast lower bounds for bin packing
  problems", Mathematical Programming 91, 2001): replace each side by a function f of its share of the sheet's side for
  which "shares sum to at most 1" implies "f(shares) sum to at most 1". The product of two such functions is an area
  that no sheet can hold more than 1 of, often much larger than the true area. A part that may turn counts with the
  smaller of its two products, with several sizes of sheet with the smallest over all of them.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from fractions import Fraction
from math import ceil, gcd
from typing import NamedTuple

from wallwright.cutting.model import Shares
from wallwright.cutting.tree import Task

GRID = 40  # thresholds of the function families, in shares of a sheet's side
GUARD = 1e-9  # relative, for sums of float products: a bound is never rounded up by noise
Dff = Callable[[int, int], float]


class Bound(NamedTuple):
    """Least sheets, least cost in the task's own cost units, and the shares it rests on (none: area or big parts)."""

    sheets: int
    cost: int
    shares: tuple[Shares, ...] = ()


def quick_bound(task: Task) -> Bound:
    """Area and big parts only: fast enough for every change of a drawing."""
    need = Fraction(sum(a * p.quantity for a, p in zip(task.areas, task.pieces, strict=True)))
    return _at_least(task, _fill(task, need, [s.x * s.y for s in task.stock]), _big_parts(task))


def bound(task: Task) -> Bound:
    """The best of the area, big-parts and dual-feasible bounds."""
    fast = quick_bound(task)
    areas = [s.sheet.length * s.sheet.width for s in task.stock]
    need, along, across = _dual_need(task)
    strong = _at_least(task, _fill(task, need, areas), 0)
    if strong.sheets <= fast.sheets and strong.cost <= fast.cost:
        return fast
    return Bound(max(fast.sheets, strong.sheets), max(fast.cost, strong.cost), _shares(task, along, across))


def _at_least(task: Task, filled: Bound, big: int) -> Bound:
    """The larger of a bound by area and the bound by ``big`` parts that need a sheet each."""
    cheapest = sorted(s.cost for s in task.stock for _ in range(min(s.most, big)))[:big]
    return Bound(
        min(max(filled.sheets, big), sum(s.most for s in task.stock)), max(filled.cost, sum(cheapest))
    )


def _fill(task: Task, need: Fraction, sizes: Sequence[int]) -> Bound:
    """Sheets and cost that hold ``need`` of area, fractional sheets allowed, best value first; then rounded up.

    Where the stock does not hold it, all the stock.
    """
    sheets = _spread(need, sizes, [1] * len(sizes), [s.most for s in task.stock])
    cost = _spread(need, sizes, [s.cost for s in task.stock], [s.most for s in task.stock])
    unit = gcd(*(s.cost for s in task.stock))
    return Bound(ceil(sheets), ceil(cost / unit) * unit)


def _spread(need: Fraction, sizes: Sequence[int], costs: Sequence[int], most: Sequence[int]) -> Fraction:
    total = Fraction(0)
    for i in sorted(range(len(sizes)), key=lambda i: costs[i] / sizes[i]):
        take = min(Fraction(most[i]), need / sizes[i])
        total += take * costs[i]
        need -= take * sizes[i]
    return total


def _big_parts(task: Task) -> int:
    """How many parts are more than half of every sheet in both directions, however they lie."""
    return sum(
        piece.quantity
        for piece, lies in zip(task.pieces, task.lies, strict=True)
        if all(2 * x > s.x and 2 * y > s.y for s in task.stock for x, y, _ in lies if x <= s.x and y <= s.y)
    )


def dual_functions() -> list[Dff]:
    """The families of 2001, each a function of (side, sheet's side), on a fixed grid of thresholds.

    A fixed grid keeps the bound monotone: each function never falls as its share rises, so more kerf or trim can
    never lower the bound.
    """
    functions: list[Dff] = [lambda w, W: w / W]
    functions += [_rounded(k) for k in range(1, 11)]
    functions += [_threshold(j) for j in range(1, GRID // 2 + 1)]
    functions += [_counted(j) for j in range(1, GRID // 2)]
    return functions


def _rounded(k: int) -> Dff:
    """u(k): shares of whole (k+1)ths stay, the others round to kths: down where small, up where large."""

    def f(w: int, W: int) -> float:
        whole, rest = divmod((k + 1) * w, W)
        return w / W if rest == 0 else whole / k

    return f


def _threshold(j: int) -> Dff:
    """U(e), e = j/GRID: shares below e vanish, shares above 1 - e become 1."""

    def f(w: int, W: int) -> float:
        if w * GRID > (GRID - j) * W:
            return 1.0
        return w / W if w * GRID >= j * W else 0.0

    return f


def _counted(j: int) -> Dff:
    """phi(e), e = j/GRID: a share counts how many pieces of size e it takes away."""
    room = GRID // j

    def f(w: int, W: int) -> float:
        if 2 * w == W:
            return 0.5
        if 2 * w < W:
            return (w * GRID // (j * W)) / room
        return 1.0 - ((W - w) * GRID // (j * W)) / room

    return f


def _shares(task: Task, along: Dff, across: Dff) -> tuple[Shares, ...]:
    """What the two functions make of every side, sheet by sheet: what the verifier checks."""
    lies = [(x, y) for way in task.lies for x, y, _ in way]
    return tuple(
        Shares(
            s.sheet.name,
            tuple((x, along(x, s.x)) for x in sorted({x for x, y in lies if x <= s.x and y <= s.y})),
            tuple((y, across(y, s.y)) for y in sorted({y for x, y in lies if x <= s.x and y <= s.y})),
        )
        for s in task.stock
    )


def _dual_need(task: Task) -> tuple[Fraction, Dff, Dff]:
    """The most area that any pair of functions makes the parts need, and the pair; a shade low so that noise cannot raise it.

    Measured in the sheets' own areas as delivered, which do not move with kerf or trim.
    """
    import numpy as np

    functions = dual_functions()
    count = np.array([p.quantity for p in task.pieces], dtype=float)
    weight = np.full((len(functions), len(functions), len(task.pieces)), np.inf)
    for stock in task.stock:
        area = float(stock.sheet.length * stock.sheet.width)
        fx = {x: [f(x, stock.x) for f in functions] for way in task.lies for x, _, _ in way if x <= stock.x}
        fy = {y: [f(y, stock.y) for f in functions] for way in task.lies for _, y, _ in way if y <= stock.y}
        for kind, way in enumerate(task.lies):
            for x, y, _ in way:
                if x <= stock.x and y <= stock.y:
                    weight[:, :, kind] = np.minimum(weight[:, :, kind], area * np.outer(fx[x], fy[y]))
    needs = weight @ count
    along, across = divmod(int(needs.argmax()), len(functions))
    return Fraction(float(needs.max()) * (1.0 - GUARD)), functions[along], functions[across]
