"""The bound of a plan priced again, by nothing the search has used: what can be shown that no plan may undercut.

Everything is measured with the blade added to every part and once to the trimmed sheet. Four grounds, the best counts:

* **area** and **big parts** (no two lie side by side in any sheet): worked out here from the problem alone;
* **shares** the plan hands over: a number for every side such that no row of sides that fits a sheet sums to more than
  one; then no packing holds more than one sheetful of products (S. P. Fekete and J. Schepers, "A combinatorial
  characterization of higher-dimensional orthogonal packing", Mathematics of Operations Research 29, 2004; from
  memory). Whether the rows hold is worked out here, and what they exceed one by is taken off;
* **values** the plan hands over: a price for every part and for every sheet, such that no sheet cut in the stages
  allowed makes more than its price. That is worked out here (P. C. Gilmore and R. E. Gomory, "Multistage cutting stock
  problems of two and more dimensions", Operations Research 13, 1965; from memory): stacks of parts, strips of stacks,
  sheets of strips. A strip a little lower is worth no more than the higher one, so few heights need to be measured.
  Where that takes too much work the ground is left out and its material named.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from fractions import Fraction
from math import ceil, gcd
from typing import TYPE_CHECKING, Any, NamedTuple

from wallwright.cutting.model import Grain, Piece, Plan, Problem, Proof, Sheet

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

    Ints = NDArray[np.int64]
    Floats = NDArray[np.float64]

NOISE = 1e-9  # relative: sums of the same floats in another order
WHOLE = 1e-6  # of a unit: a sum so little above a whole number is that number
CELLS = 20_000_000  # of a table of stacks, 160 MB; a larger one is not made
WORK = 1_500_000_000  # cells of strips for one material, about five seconds; beyond it the ground is left out
FIRST = 40  # heights of strips measured to begin with

Shape = tuple[str, int, int, Grain]  # matched set or "", length, width, grain


class Shown(NamedTuple):
    """What was shown: least sheets, least price, and the materials whose values took too much work to price again."""

    sheets: int
    price: float
    unchecked: tuple[str, ...]


class Grounds(NamedTuple):
    """One bound: sheets, and price in hundredths."""

    sheets: int
    cents: int


@dataclass(frozen=True, slots=True)
class Room:
    """A kind of sheet with its blade added: extents, price in hundredths, how many (None = any number)."""

    sheet: Sheet
    x: int
    y: int
    cents: int
    most: int | None


@dataclass(frozen=True, slots=True)
class Work:
    """One material: the shapes wanted with the ways they may lie, and the sheets that hold at least one of them."""

    wanted: dict[Shape, int]
    ways: dict[Shape, tuple[tuple[int, int], ...]]
    rooms: tuple[Room, ...]
    stages: int | None


def shown(problem: Problem, plan: Plan) -> Shown:
    """The bound that can be shown for the problem with the help of the plan's own proofs."""
    proofs = {proof.material: proof for proof in plan.proofs}
    sheets = cents = 0
    unchecked: list[str] = []
    for material in problem.materials():
        work = _work(problem, material)
        grounds = [_by_area(work), _by_big_parts(work)]
        proof = proofs.get(material)
        if proof is not None:
            grounds += [_by_shares(work, proof)] if proof.shares else []
            priced = _by_values(work, proof) if proof.values else Grounds(0, 0)
            if priced is None:
                unchecked.append(material)
            else:
                grounds.append(priced)
        sheets += max(g.sheets for g in grounds)
        cents += max(g.cents for g in grounds)
    return Shown(sheets, cents / 100, tuple(unchecked))


# --- the problem with the blade added --------------------------------------------------------------------------------


def _work(problem: Problem, material: str) -> Work:
    kerf = problem.saw.kerf
    wanted: dict[Shape, int] = {}
    ways: dict[Shape, tuple[tuple[int, int], ...]] = {}
    sets: dict[str, list[Piece]] = {}
    for piece in problem.pieces:
        if piece.material != material:
            continue
        if piece.match:
            sets.setdefault(piece.match, []).append(piece)
            continue
        shape = ("", piece.length, piece.width, piece.grain)
        wanted[shape] = wanted.get(shape, 0) + piece.quantity
    for match, members in sets.items():
        wanted[_strip(match, members, kerf)] = 1
    for shape in wanted:
        x, y, grain = shape[1] + kerf, shape[2] + kerf, shape[3]
        ways[shape] = {"length": ((x, y),), "width": ((y, x),), "none": ((x, y), (y, x))}[grain]
    rooms = tuple(
        room
        for sheet in problem.sheets
        if sheet.material == material
        and (room := _room(sheet, problem.saw.trim, kerf))
        and any(x <= room.x and y <= room.y for own in ways.values() for x, y in own)
    )
    return Work(wanted, ways, rooms, None if problem.saw.stages == "any" else problem.saw.stages)


def _strip(match: str, members: Sequence[Piece], kerf: int) -> Shape:
    """A matched set as the one piece it is sawn out as: side by side where all are of one length, else (or asked by ``>``) end to end."""
    blades = (sum(p.quantity for p in members) - 1) * kerf
    first = members[0]
    ends = match.endswith(">") and len({p.width for p in members}) == 1  # asked to lie end to end
    if len({p.length for p in members}) == 1 and not ends:
        return (match, first.length, sum(p.width * p.quantity for p in members) + blades, first.grain)
    return (match, sum(p.length * p.quantity for p in members) + blades, first.width, first.grain)


def _room(sheet: Sheet, trim: int, kerf: int) -> Room:
    edge = trim if sheet.trim is None else sheet.trim
    x, y = sheet.length - 2 * edge + kerf, sheet.width - 2 * edge + kerf
    return Room(sheet, x, y, round(sheet.price * 100), sheet.quantity)


# --- area, big parts -------------------------------------------------------------------------------------------------


def _by_area(work: Work) -> Grounds:
    need = sum(ways[0][0] * ways[0][1] * work.wanted[shape] for shape, ways in work.ways.items())
    return _filled(work, Fraction(need), [Fraction(r.x * r.y) for r in work.rooms])


def _filled(work: Work, need: Fraction, holds: Sequence[Fraction]) -> Grounds:
    """Sheets and price when parts of sheets could be bought; all of the stock where it does not hold the need."""
    cents = [r.cents for r in work.rooms]
    least = _least(work.rooms, need, holds, cents)
    sheets = ceil(_least(work.rooms, need, holds, [1] * len(holds)))
    return Grounds(sheets, _whole(least, cents))


def _least(
    rooms: Sequence[Room], need: Fraction, holds: Sequence[Fraction], costs: Sequence[int]
) -> Fraction:
    total = Fraction(0)
    for i in sorted(range(len(rooms)), key=lambda i: costs[i] / holds[i]):
        take = need / holds[i]
        most = rooms[i].most
        if most is not None:
            take = min(take, Fraction(most))
        total += take * costs[i]
        need -= take * holds[i]
    return total


def _whole(cents: Fraction, prices: Iterable[int]) -> int:
    """The least sum of whole sheets' prices that is not less."""
    unit = gcd(*prices)
    return ceil(cents / unit) * unit if unit else 0


def _by_big_parts(work: Work) -> Grounds:
    """Parts longer than half of every sheet that holds them, and wider: each takes a sheet."""
    big = 0
    for shape, count in work.wanted.items():
        fits = [(x, y, r) for x, y in work.ways[shape] for r in work.rooms if x <= r.x and y <= r.y]
        if all(2 * x > r.x and 2 * y > r.y for x, y, r in fits):
            big += count
    prices = sorted(r.cents for r in work.rooms for _ in range(big if r.most is None else min(big, r.most)))
    return Grounds(len(prices[:big]), sum(prices[:big]))


# --- shares ----------------------------------------------------------------------------------------------------------


def _by_shares(work: Work, proof: Proof) -> Grounds:
    """Every part weighs the least product of its sides' shares, in sheets' areas; a sheet holds one area of that."""
    tables = {s.sheet: (dict(s.along), dict(s.across)) for s in proof.shares}
    weight = dict.fromkeys(work.wanted, float("inf"))
    holds: list[Fraction] = []
    for room in work.rooms:
        along, across = tables.get(room.sheet.name, ({}, {}))
        area = room.sheet.length * room.sheet.width
        fits = {s: [(x, y) for x, y in own if x <= room.x and y <= room.y] for s, own in work.ways.items()}
        xs, ys = {x for own in fits.values() for x, _ in own}, {y for own in fits.values() for _, y in own}
        row = _row({x: max(along.get(x, 0.0), 0.0) for x in xs}, room.x)
        column = _row({y: max(across.get(y, 0.0), 0.0) for y in ys}, room.y)
        holds.append(Fraction(area) * Fraction(max(1.0, row)) * Fraction(max(1.0, column)))
        for shape, own in fits.items():
            for x, y in own:
                product = area * max(along.get(x, 0.0), 0.0) * max(across.get(y, 0.0), 0.0)
                weight[shape] = min(weight[shape], product)
    need = sum(weight[shape] * count for shape, count in work.wanted.items())
    return _filled(work, Fraction(need * (1 - NOISE)), holds)


def _row(shares: dict[int, float], room: int) -> float:
    """The most that a row of sides sums to; 1 where it is only noise above it."""
    import numpy as np

    best = np.zeros((1, room + 1))
    for side, share in sorted(shares.items()):
        if share > 0.0:
            best = _as_often(best, side, np.array([share]))
    most = float(best[0, -1])
    return 1.0 if most <= 1 + NOISE / 10 else most


# --- values ----------------------------------------------------------------------------------------------------------


def _by_values(work: Work, proof: Proof) -> Grounds | None:
    """Parts' values less what the sheets in short supply are worth above their price; None where it is too much work.

    Where no sheet has a price, its area stands for it; the number of sheets follows where all cost the same.
    """
    if work.stages is None:
        return Grounds(0, 0)
    value: dict[Shape, float] = {
        (w.match, w.length, w.width, w.grain): max(w.value, 0.0) for w in proof.values
    }
    priced = any(r.cents for r in work.rooms)
    costs = [r.cents if priced else r.sheet.length * r.sheet.width for r in work.rooms]
    total = sum(value.get(shape, 0.0) * count for shape, count in work.wanted.items())
    claims = dict(proof.worth)
    parts, left, over = sum(work.wanted.values()), WORK, 1.0
    for room, cost in zip(work.rooms, costs, strict=True):
        limit = max(claims.get(room.sheet.name, 0.0), float(cost))
        for axis in (0, 1):
            found, used = _most_worth(work, value, room, axis, limit, left)
            left -= used
            if found is None:
                return None
            limit = max(limit, found)
        if room.most is not None or not cost:  # of free sheets no plan needs more than one a part
            most = parts if room.most is None else room.most
            total -= max(0.0, limit - cost) * most
        elif limit > cost * (1 + NOISE / 10):
            over = max(over, limit / cost)
    unit = gcd(*costs)
    # dear values only scale down as a whole where no stock is short: the sum taken off then only falls
    whole = ceil(max(0.0, total / over) / unit * (1 - NOISE) - WHOLE) if unit else 0
    sheets = whole if len(set(costs)) == 1 else 0
    return Grounds(sheets, whole * unit if priced else 0)


def _most_worth(
    work: Work, value: dict[Shape, float], room: Room, axis: int, limit: float, left: int
) -> tuple[float | None, int]:
    """The most that a sheet first divided along this axis makes, or anything below the limit; and the work it took."""
    import numpy as np

    height, width = (room.x, room.y) if axis == 0 else (room.y, room.x)
    lays: dict[tuple[int, int], float] = {}
    for shape, ways in work.ways.items():
        for way in ways:
            wide, deep = way[1 - axis], way[axis]
            if wide <= width and deep <= height and value.get(shape, 0.0) > 0.0:
                lays[wide, deep] = max(lays.get((wide, deep), 0.0), value[shape])
    if not lays:
        return 0.0, 0
    wides = sorted({wide for wide, _ in lays})
    if len(wides) * (height + 1) > CELLS:
        return None, 0
    kernel = _kernel()
    stacks = _stacks(lays, wides, height, single=work.stages == 2)
    rise = np.flatnonzero((stacks[:, 1:] > stacks[:, :-1]).any(axis=0)) + 1  # no other height is worth more
    at = np.unique(np.linspace(0, len(rise) - 1, min(FIRST, len(rise))).astype(np.int64))
    worth = np.empty(0)
    fresh, used = at, 0
    at = at[:0]
    while True:
        used += len(fresh) * (width + 1) * len(wides)
        if used > left:
            return None, used
        order = np.argsort(np.concatenate([at, fresh]), kind="stable")
        measured = kernel.strips(np.ascontiguousarray(stacks[:, rise[fresh]].T), np.array(wides), width)
        worth = np.concatenate([worth, measured])[order]
        at = np.concatenate([at, fresh])[order]
        before = np.concatenate([[-1], at[:-1]])
        low = rise[before + 1]  # the least height that is worth no more than the one measured
        sheet = _sheet(low, worth, height)
        if sheet[height] <= limit * (1 + NOISE / 100):
            return float(limit), used
        wide_open = np.flatnonzero((at - before > 1) & (worth + sheet[height - low] > limit))
        if not len(wide_open):
            return float(sheet[height]), used
        fresh = (at[wide_open] + before[wide_open]) // 2


def _kernel() -> Any:
    """The compiled loop, loaded when first needed."""
    from wallwright.cutting import reprice_kernel

    return reprice_kernel


def _stacks(lays: dict[tuple[int, int], float], wides: Sequence[int], height: int, *, single: bool) -> Floats:
    """Row by width, column by height: the most that one stack makes; ``single``: a stack is one part."""
    import numpy as np

    table = np.zeros((len(wides), height + 1))
    row = np.zeros((1, height + 1))
    for i, wide in enumerate(wides):
        for (_, deep), worth in ((lay, v) for lay, v in lays.items() if lay[0] == wide):
            if single:
                row[0, deep:] = np.maximum(row[0, deep:], worth)
            else:
                row = _as_often(row, deep, np.array([worth]))
        table[i] = row[0]
    return table


def _sheet(low: Ints, worth: Floats, height: int) -> Floats:
    """By height: the most that strips of these heights make together."""
    import numpy as np

    best = np.zeros((1, height + 1))
    for size, gain in zip(low.tolist(), worth.tolist(), strict=True):
        if gain > best[0, size]:
            best = _as_often(best, size, np.array([gain]))
    return best[0]


def _as_often(best: Floats, size: int, gain: Floats) -> Floats:
    """By row and length: the most there is when one more thing may be taken as often as it fits.

    Along steps of ``size`` the best of "i - j times, on top of what was at j" is a running maximum.
    """
    import numpy as np

    rows, length = best.shape
    steps = -(-length // size)
    padded = np.zeros((rows, steps * size))
    padded[:, :length] = best
    if steps * size > length:
        padded[:, length:] = best[:, -1:]
    grid = padded.reshape(rows, steps, size)
    gained: Floats = np.multiply.outer(gain, np.arange(steps, dtype=np.float64))[:, :, None]
    best_so_far: Floats = np.maximum.accumulate(grid - gained, axis=1)
    return (best_so_far + gained).reshape(rows, -1)[:, :length]
