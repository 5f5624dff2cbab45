"""May a thing stand on a level, how many of it, and at what cost: the limits that must hold, and the score that is made small."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from wallwright.core.limit import Limits
from wallwright.storage.reach import effort
from wallwright.storage.record import Demand, Failing, Level, Reach

SEEN = frozenset({"open", "glass"})
OFTEN = ("daily", "weekly")


@dataclass(frozen=True, slots=True)
class Terms:
    """What an allotment is judged by: the reach, clearances [mm], most mass lifted from a step [kg], and the weights [points].

    heavy : a kilogram a metre up · effort : 100 mm of a thing used weekly, at the highest reach · split : each level that a kind is
    spread over · left : a thing without a place, and 100 mm of it, once and once more by its use · uses : how each use counts against weekly
    """

    reach: Reach
    pile_clear: float
    step_mass: float
    heavy: float
    effort: float
    split: float
    left: float
    uses: tuple[tuple[str, float], ...]


@dataclass(frozen=True, slots=True)
class Fit:
    """How a kind goes on a level: so many a column, the run of a column [mm], the most there is room for, and points for each."""

    per: int
    each: float
    most: int
    cost: float


def terms_of(reach: Reach, limits: Limits) -> Terms:
    """The terms of the rule set."""
    v = limits.value
    uses = tuple((use, v(f"storage.use_{use}")) for use in ("daily", "weekly", "monthly", "seldom"))
    return Terms(
        reach, v("storage.pile_clear"), v("storage.step_mass"), v("storage.weight_heavy"), v("storage.weight_effort"),
        v("storage.weight_split"), v("storage.weight_left"), uses,
    )  # fmt: skip


def failing(demand: Demand, level: Level, terms: Terms) -> tuple[tuple[Failing, float], ...]:
    """Which limits keep one such thing out of the empty level, and by how much [mm, kg; 0 where there is no measure]."""
    out = _limits(demand, level, terms)
    if not out and not _columns(demand, level, terms):
        out.append(("room", demand.each - level.run))
    return tuple(out)


def _limits(demand: Demand, level: Level, terms: Terms) -> list[tuple[Failing, float]]:
    """All but the room along the shelf."""
    reach = terms.reach
    out: list[tuple[Failing, float]] = []
    if demand.depth > level.depth:
        out.append(("depth", demand.depth - level.depth))
    if demand.height > level.height:
        lying = _lying_height(demand, terms)
        if not lying or lying > level.height:
            out.append(("height", min(demand.height, lying or demand.height) - level.height))
    if demand.low and level.z > reach.child:
        out.append(("child", level.z - reach.child))
    if demand.care in ("fragile", "dangerous") and level.z < reach.out:
        out.append(("child", reach.out - level.z))
    highest = reach.step if _from_a_step(demand, terms) else reach.standing
    if level.z > highest:
        out.append(("reach", level.z - highest))
    if reach.seated and demand.use in OFTEN:
        low, high = reach.seated
        off = max(low - (level.z + demand.height / 2), level.z - high)
        if off > 0:
            out.append(("seated", off))
    if level.warm and not demand.warm:
        out.append(("warm", 0.0))
    if demand.one > level.load:
        out.append(("load", demand.one - level.load))
    if demand.shown and level.front not in SEEN:
        out.append(("hidden", 0.0))
    return out


def _from_a_step(demand: Demand, terms: Terms) -> bool:
    return demand.use not in OFTEN and demand.one <= terms.step_mass


def _lying_height(demand: Demand, terms: Terms) -> float:
    """Clear height that one takes lying [mm]: its thickness and the clearance of a pile; 0 where it is never laid flat."""
    return demand.thickness + terms.pile_clear if demand.flat else 0.0


def _columns(demand: Demand, level: Level, terms: Terms) -> tuple[int, float] | None:
    """Things a column and the run of a column [mm], the way more of them go on the empty level; None where none does."""
    ways: list[tuple[int, float]] = []
    if demand.height <= level.height:
        more = int((level.height - terms.pile_clear) / demand.upright + 1e-9) if demand.stacks > 1 else 1
        ways.append((max(1, min(demand.stacks, more)), demand.each))
    if demand.flat:
        pile = int((level.height - terms.pile_clear) / demand.thickness + 1e-9)
        if pile >= 1:
            ways.append((min(demand.flat, pile), demand.along))
    best = max(
        ways, key=lambda way: (way[0] * int(level.run / way[1] + 1e-9), -way[1] / way[0]), default=None
    )
    return best if best and best[1] <= level.run + 1e-9 else None


def fit(demand: Demand, level: Level, terms: Terms) -> Fit | None:
    """How a kind goes on the empty level; None where a limit fails."""
    if not demand.count or _limits(demand, level, terms):
        return None
    way = _columns(demand, level, terms)
    if way is None:
        return None
    per, each = way
    most = per * int(level.run / each + 1e-9)
    if demand.one > 0:
        most = min(most, int(level.load / demand.one + 1e-9))
    return Fit(per, each, most, cost(demand, level.z, terms))


def cost(demand: Demand, z: float, terms: Terms) -> float:
    """Points of one thing on a level at a height: heavy low, what is used often where it is reached without effort."""
    lift = terms.heavy * demand.one * z / 1000
    return lift + terms.effort * use_weight(demand, terms) * demand.each / 100 * effort(z, terms.reach)


def use_weight(demand: Demand, terms: Terms) -> float:
    """How often it is used, against weekly."""
    asked = demand.use
    for use, weight in terms.uses:
        if use == asked:
            return weight
    raise KeyError(asked)


def left_cost(demand: Demand, terms: Terms) -> float:
    """Points of one thing without a place, more where it is used often: always more than any place costs."""
    return terms.left * (1.0 + demand.each / 100) * (1.0 + use_weight(demand, terms))


def score(
    wanted: Sequence[Demand], levels: Sequence[Level], counts: Sequence[dict[int, int]], terms: Terms
) -> float:
    """The points of an allotment, the fewer the better. counts : for each kind, how many on each level (by its place)."""
    total = 0.0
    for demand, held in zip(wanted, counts, strict=True):
        there = {i: n for i, n in held.items() if n}
        total += sum(n * cost(demand, levels[i].z, terms) for i, n in there.items())
        total += terms.split * len(there)
        total += (demand.count - sum(there.values())) * left_cost(demand, terms)
    return total
