"""What goes where, found fast: the kinds with the least choice first, each to its best levels, then every move that helps.

Used at every change of the design; the proven best, which takes longer, is in `best`.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from functools import lru_cache

from wallwright.storage.fit import Fit, Terms, fit, left_cost
from wallwright.storage.record import Demand, Level, Placed

ROUNDS = 4
EPS = 1e-9


@dataclass(slots=True)
class Filling:
    """Levels being filled: how each kind fits each level, how many of it are there, and what is free [mm, kg].

    by_cost : the levels that each kind may stand on, the best first · one : the mass of one of each kind [kg] · puts : how often
    something was put or taken · settled : at which of these each kind was found to have no move that helps
    """

    wanted: Sequence[Demand]
    fits: list[dict[int, Fit]]
    run: list[float]
    load: list[float]
    by_cost: list[list[int]]
    one: list[float]
    held: list[dict[int, int]]
    settled: list[int]
    puts: int = 0

    def left(self, kind: int) -> int:
        """How many of a kind have no place yet."""
        return self.wanted[kind].count - sum(self.held[kind].values())

    def room(self, kind: int, level: int) -> int:
        """How many more of a kind the level takes."""
        how = self.fits[kind][level]
        per = how.per
        spare = -self.held[kind].get(level, 0) % per if per > 1 else 0
        more = spare + per * int(self.run[level] / how.each + EPS)
        if not more:
            return 0
        one = self.one[kind]
        return min(more, int(self.load[level] / one + EPS)) if one > 0 else more

    def put(self, kind: int, level: int, count: int) -> None:
        """Put so many there; take them away where count is below 0."""
        how = self.fits[kind][level]
        there = self.held[kind].get(level, 0)
        columns = -(-(there + count) // how.per) + (-there // how.per)
        self.puts += 1
        self.run[level] -= columns * how.each
        self.load[level] -= count * self.one[kind]
        if there + count:
            self.held[kind][level] = there + count
        else:
            self.held[kind].pop(level, None)


Alike = dict[tuple[float, float, float, float, float, str, bool], list[Fit | None]]
"""How each kind fits levels of one make: height of floor, clear height, depth, run, load, front, warm."""
MOST_KNOWN = 4000
"""So many makes of level are remembered, then it starts anew."""


@lru_cache(maxsize=8)
def known_fits(wanted: tuple[Demand, ...], terms: Terms) -> Alike:
    """What was asked already of these kinds on these terms; it grows, and serves the next trial and the next edit too."""
    return {}


def fits_of(wanted: Sequence[Demand], levels: Sequence[Level], terms: Terms) -> list[dict[int, Fit]]:
    """For each kind, how it goes on each level where any of it does. Asked once of levels that are alike."""
    alike = known_fits(tuple(wanted), terms)
    if len(alike) > MOST_KNOWN:
        alike.clear()
    out: list[dict[int, Fit]] = [{} for _ in wanted]
    for i, level in enumerate(levels):
        box = level.box
        like = box.z, box.height, level.depth, level.run, level.load, level.front, level.warm
        known = alike.get(like)
        if known is None:
            known = alike[like] = [fit(demand, level, terms) for demand in wanted]
        for row, how in zip(out, known, strict=True):
            if how and how.most:
                row[i] = how
    return out


def allot(
    wanted: Sequence[Demand], levels: Sequence[Level], terms: Terms, fits: list[dict[int, Fit]] | None = None
) -> tuple[Placed, ...]:
    """What each level holds. Nothing stands where a limit fails, and no level holds more than its run and its load.

    fits : how each kind goes on each level, where that is known already
    """
    return placed(wanted, levels, held(wanted, levels, terms, fits))


def held(
    wanted: Sequence[Demand], levels: Sequence[Level], terms: Terms, fits: list[dict[int, Fit]] | None = None
) -> list[dict[int, int]]:
    """What `allot` gives as counts: for each kind, how many on each level (by its place)."""
    fits = fits_of(wanted, levels, terms) if fits is None else fits
    by_cost = [sorted(row, key=lambda i: (row[i].cost, i)) for row in fits]
    best = _tried(wanted, levels, fits, by_cost, terms, _least_choice(wanted, fits), by_cost)
    if not any(best.left(kind) for kind in range(len(wanted))):
        return best.held
    tight = _tightest(fits, len(levels))
    missed = [left_cost(demand, terms) for demand in wanted]
    most_missed = _most_missed(wanted, missed)
    points = _points(best, missed, terms)
    for order, choice in (
        (_fewest_levels(wanted, levels, fits), tight),
        (most_missed, by_cost),
        (most_missed, tight),
    ):
        other = _tried(wanted, levels, fits, by_cost, terms, order, choice)
        others = _points(other, missed, terms)
        if others < points:
            best, points = other, others
        if not any(best.left(kind) for kind in range(len(wanted))):
            break
    return best.held


def _tightest(fits: list[dict[int, Fit]], levels: int) -> list[list[int]]:
    """For each kind the levels where it takes the least run first, and of these those where the fewest kinds could stand."""
    kinds = [0] * levels
    for row in fits:
        for i in row:
            kinds[i] += 1
    return [sorted(row, key=lambda i: (row[i].each / row[i].per, kinds[i], row[i].cost, i)) for row in fits]


def _points(filling: Filling, missed: list[float], terms: Terms) -> float:
    """The score of a filling, by what each fit costs; as `score` gives it. missed : points of one of each kind without a place"""
    total = 0.0
    for demand, row, held, lost in zip(filling.wanted, filling.fits, filling.held, missed, strict=True):
        total += sum(n * row[i].cost for i, n in held.items())
        total += terms.split * len(held)
        total += (demand.count - sum(held.values())) * lost
    return total


def _tried(  # noqa: PLR0913
    wanted: Sequence[Demand], levels: Sequence[Level], fits: list[dict[int, Fit]], by_cost: list[list[int]], terms: Terms,
    order: list[int], choice: list[list[int]],
) -> Filling:  # fmt: skip
    """The levels filled in that order of kinds, each kind's in the order of its choice, and then every move that helps."""
    filling = Filling(
        wanted, fits, [level.run for level in levels], [level.load for level in levels], by_cost,
        [demand.one for demand in wanted], [{} for _ in wanted], [-1] * len(wanted),
    )  # fmt: skip
    for kind in order:
        _fill(filling, kind, choice[kind])
    for _ in range(ROUNDS):
        if not (_make_room(filling, terms) | _move(filling, terms)):
            break
    return filling


def placed(
    wanted: Sequence[Demand], levels: Sequence[Level], held: Sequence[dict[int, int]]
) -> tuple[Placed, ...]:
    """The counts as records, in the order of the list and of the levels."""
    return tuple(
        Placed(demand.kind, levels[i].ref, there[i])
        for demand, there in zip(wanted, held, strict=True)
        for i in sorted(there)
        if there[i]
    )


def counts_of(
    wanted: Sequence[Demand], levels: Sequence[Level], found: Sequence[Placed]
) -> list[dict[int, int]]:
    """The records as counts: for each kind, how many on each level. KeyError where a level or kind is not there."""
    kinds = {demand.kind: k for k, demand in enumerate(wanted)}
    at = {level.ref: i for i, level in enumerate(levels)}
    out: list[dict[int, int]] = [{} for _ in wanted]
    for item in found:
        out[kinds[item.kind]][at[item.level]] = item.count
    return out


def run_used(demand: Demand, how: Fit, count: int) -> float:
    """The run that so many take on a level [mm]."""
    return -(-count // how.per) * how.each


def _fewest_levels(
    wanted: Sequence[Demand], levels: Sequence[Level], fits: list[dict[int, Fit]]
) -> list[int]:
    """Those with the least run of levels to choose from first, and of these the thickest."""
    run = [sum(levels[i].run for i in row) for row in fits]
    return sorted(range(len(wanted)), key=lambda k: (run[k], -wanted[k].each, wanted[k].kind))


def _most_missed(wanted: Sequence[Demand], missed: list[float]) -> list[int]:
    """Those missed most for the run they take first: the order where there is too little room."""
    return sorted(
        range(len(wanted)),
        key=lambda k: (-missed[k] / max(wanted[k].each, 1.0), wanted[k].kind),
    )


def _least_choice(wanted: Sequence[Demand], fits: list[dict[int, Fit]]) -> list[int]:
    """Those with the least choice of levels for their number first, then the heaviest a metre."""

    def choice(kind: int) -> tuple[float, float, str]:
        demand = wanted[kind]
        most = sum(how.most for how in fits[kind].values())
        return most / max(demand.count, 1), -demand.one / max(demand.each, 1.0), demand.kind

    return sorted(range(len(wanted)), key=choice)


def _fill(filling: Filling, kind: int, choice: list[int] | None = None) -> int:
    """Put what is left of a kind on its best levels, or on those of the choice in its order; how many found a place."""
    before = left = filling.left(kind)
    for level in choice or filling.by_cost[kind]:
        if not left:
            break
        count = min(left, filling.room(kind, level))
        if count > 0:
            filling.put(kind, level, count)
            left -= count
    return before - left


def _move(filling: Filling, terms: Terms) -> bool:
    """Move each kind from a level to a better one wherever that lowers the score."""
    helped, run, split = False, filling.run, terms.split
    for kind, fits in enumerate(filling.fits):
        if filling.settled[kind] == filling.puts:
            continue
        before = filling.puts
        held, by_cost = filling.held[kind], filling.by_cost[kind]
        for level in sorted(held, key=lambda i: -fits[i].cost):
            now, there = fits[level].cost, held[level]
            for better in by_cost:
                how = fits[better]
                worse = how.cost - now
                # a dearer level pays only where all of it joins more of its kind, and then by no more than a split
                if worse >= split:
                    break
                if better == level or (worse >= 0 and better not in held):
                    continue
                if run[better] / how.each + EPS < 1 and not held.get(better, 0) % how.per:  # it is full
                    continue
                count = min(there, filling.room(kind, better))
                if count <= 0:
                    continue
                gain = split * ((count == there) - (better not in held)) - count * worse
                if gain > EPS:
                    filling.put(kind, level, -count)
                    filling.put(kind, better, count)
                    helped = True
                    there -= count
                    if not there:
                        break
        if filling.puts == before:
            filling.settled[kind] = before
    return helped


def _make_room(filling: Filling, terms: Terms) -> bool:
    """Give what is left over a place by moving other kinds from it to levels where they fit too."""
    helped = False
    waiting = [kind for kind in range(len(filling.wanted)) if filling.left(kind)]
    for kind in sorted(waiting, key=lambda k: -left_cost(filling.wanted[k], terms)):
        if _fill(filling, kind):
            helped = True
        for level in filling.by_cost[kind]:
            while filling.left(kind) and _clear(filling, kind, level):
                helped = True
    return helped


def _clear(filling: Filling, kind: int, level: int) -> bool:
    """Move others off a level until one more of the kind goes in; all back where that does not come about."""
    moved: list[tuple[int, int, int]] = []
    others = [k for k in range(len(filling.wanted)) if k != kind and level in filling.held[k]]
    for other in sorted(others, key=lambda k: -len(filling.fits[k])):
        for to in filling.by_cost[other]:
            if to == level:
                continue
            while filling.room(kind, level) < 1:
                count = min(1, filling.held[other].get(level, 0), filling.room(other, to))
                if count < 1:
                    break
                filling.put(other, level, -count)
                filling.put(other, to, count)
                moved.append((other, to, count))
        if filling.room(kind, level) >= 1:
            break
    count = min(filling.left(kind), filling.room(kind, level))
    if count > 0:
        filling.put(kind, level, count)
        return True
    for other, to, amount in reversed(moved):
        filling.put(other, to, -amount)
        filling.put(other, level, amount)
    return False
