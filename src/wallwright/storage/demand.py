"""What the things to keep need: shelf run, mass, clear height and depth, and the shelf run to spare."""

from __future__ import annotations

from collections.abc import Sequence
from difflib import get_close_matches

from wallwright.core.limit import Limits
from wallwright.job.brief import Thing
from wallwright.library import load
from wallwright.storage.record import Demand


def shelf_run(count: int, each: float, slack: float) -> float:
    """The shelf run [mm] of so many things of that thickness, with slack so that one can be taken out and more come in."""
    return count * each * slack


def load_per_metre(mass: float, run: float) -> float:
    """The load of a shelf full of such things [kg/m]: mass [kg] and thickness [mm] of one."""
    return mass / run * 1000.0


def demand_of(thing: Thing, index: int, limits: Limits) -> Demand:
    """The demand of one kind of thing. ValueError names the field and the nearest known kind."""
    known = load.things()
    if thing.kind not in known:
        near = get_close_matches(thing.kind, known, 1) or sorted(known)[:1]
        raise ValueError(
            f"brief.things.{index}.kind: no kind of thing {thing.kind!r} in the library; the nearest is {near[0]!r}"
        )
    kind = known[thing.kind]
    return Demand(
        kind=thing.kind,
        name=kind.name,
        count=thing.count,
        run=shelf_run(thing.count, kind.run, limits.value("storage.slack")),
        mass=thing.count * kind.mass,
        depth=kind.depth + limits.value("storage.depth_clear"),
        height=kind.height + limits.value("storage.height_clear"),
        low=thing.low,
    )


def demands(things: Sequence[Thing], limits: Limits) -> tuple[Demand, ...]:
    """The demand of everything on the list, in its order."""
    return tuple(demand_of(thing, index, limits) for index, thing in enumerate(things))


def storage_class(run: float, moderate: float, much: float) -> str:
    """A little, moderate or much storage, by the shelf run needed [mm]."""
    return "much" if run >= much else "moderate" if run >= moderate else "little"
