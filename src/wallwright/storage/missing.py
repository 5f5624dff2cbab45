"""What found no place, and why: the limit that fails on the level where least fails, and by how much."""

from __future__ import annotations

from collections.abc import Sequence

from wallwright.storage.fit import Terms, failing
from wallwright.storage.record import Demand, Failing, Level, Missing, Placed

ORDER: tuple[Failing, ...] = (
    "room", "depth", "height", "load", "hidden", "child", "reach", "seated", "warm", "nothing",
)  # fmt: skip
"""Among levels where one limit fails, the one that the joinery can put right most easily is told."""


def missing(
    wanted: Sequence[Demand], levels: Sequence[Level], found: Sequence[Placed], terms: Terms
) -> tuple[Missing, ...]:
    """Every kind that is not wholly placed, in the order of the list."""
    count: dict[str, int] = {}
    for item in found:
        count[item.kind] = count.get(item.kind, 0) + item.count
    return tuple(
        why(demand, demand.count - count.get(demand.kind, 0), levels, terms)
        for demand in wanted
        if demand.count > count.get(demand.kind, 0)
    )


def why(demand: Demand, count: int, levels: Sequence[Level], terms: Terms) -> Missing:
    """Why so many of a kind have no place."""
    nearest: tuple[tuple[int, int, float], Failing, float, Level] | None = None
    for level in levels:
        fails = failing(demand, level, terms)
        if not fails:
            return Missing(
                demand.kind, count, "room", 0.0, level.ref, "every level they may stand on is full"
            )
        name, short = min(fails, key=lambda one: (ORDER.index(one[0]), one[1]))
        if len(fails) > 1:  # what is told is the hardest of the limits that fail there
            name, short = max(fails, key=lambda one: (ORDER.index(one[0]), one[1]))
        rank = len(fails), ORDER.index(name), short
        if nearest is None or rank < nearest[0]:
            nearest = rank, name, short, level
    if nearest is None:
        return Missing(demand.kind, count, "nothing", 0.0, "", "there is no bay to keep anything in")
    _, name, short, level = nearest
    return Missing(demand.kind, count, name, short, level.ref, words(demand, name, short, level, terms))


def words(demand: Demand, name: Failing, short: float, level: Level, terms: Terms) -> str:  # noqa: PLR0911
    """The failing limit in words."""
    match name:
        case "depth":
            return f"too deep by {short:.0f} mm for {level.ref} ({level.depth:.0f} mm there, {demand.depth:.0f} needed)"
        case "height":
            return f"too high by {short:.0f} mm for {level.ref} ({level.height:.0f} mm clear there)"
        case "load":
            return f"too heavy for {level.ref}: one weighs {demand.one:g} kg, {level.load:.0f} kg may stand there"
        case "room":
            return f"too wide by {short:.0f} mm for {level.ref} ({level.run:.0f} mm of run there)"
        case "hidden":
            return "to be seen, and no open or glazed bay is free of other limits"
        case "child":
            if demand.low:
                return f"for children, and nothing suitable is at {terms.reach.child:.0f} mm or below"
            return f"not for small hands, and nothing suitable is at {terms.reach.out:.0f} mm or above"
        case "reach":
            return f"{level.ref} is {short:.0f} mm higher than it can be reached for these"
        case "seated":
            return f"used often, and nothing suitable is within reach from a wheelchair ({level.ref} is off by {short:.0f} mm)"
        case "warm":
            return f"harmed by heat, and {level.ref} is beside a warm device"
        case _:
            return "there is no bay to keep anything in"
