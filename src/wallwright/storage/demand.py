"""What the things to keep need: shelf run, mass, clear height and depth, and the shelf run to spare."""

from __future__ import annotations

from collections.abc import Sequence
from difflib import get_close_matches

from wallwright.core.limit import Limits
from wallwright.job.brief import Thing
from wallwright.library import load
from wallwright.library.load import ThingKind
from wallwright.storage.record import Demand

CLASS_ASKS = {
    "little": "a shelf or a small hung unit",
    "moderate": "a unit with drawers",
    "much": "towers and tall shelves on both sides of the screen",
}
"""What each class of storage asks for. Source: common practice."""


def shelf_run(count: int, each: float, slack: float, most: float = float("inf")) -> float:
    """The shelf run [mm] of so many things of that thickness, with slack so that one can be taken out and more come in.

    most : the most room beside one thing [mm], however thick it is
    """
    return count * min(each * slack, each + most)


def load_per_metre(mass: float, run: float) -> float:
    """The load of a shelf full of such things [kg/m]: mass [kg] and thickness [mm] of one."""
    return mass / run * 1000.0


def kind_of(thing: Thing, index: int = 0) -> ThingKind:
    """The kind with the household's own sizes laid over the library's. ValueError names the field where neither has them.

    A kind that the library has not needs a width, depth, height and mass of its own.
    """
    row = load.things().get(thing.kind)
    own = (thing.width, thing.depth, thing.height, thing.mass)
    if row is None and None in own:
        near = get_close_matches(thing.kind, load.things(), 1) or sorted(load.things())[:1]
        raise ValueError(
            f"brief.things.{index}.kind: no kind of thing {thing.kind!r} in the library; the nearest is {near[0]!r}; "
            "a kind of your own needs its width, depth, height and mass"
        )
    if row is not None and all(value is None for value in (*own, thing.name, thing.use, thing.care)):
        return row
    return ThingKind(
        key=thing.kind,
        name=thing.name or (row.name if row else thing.kind.replace("_", " ").capitalize()),
        run=thing.width.mm if thing.width else row.run if row else 0.0,
        depth=thing.depth.mm if thing.depth else row.depth if row else 0.0,
        height=thing.height.mm if thing.height else row.height if row else 0.0,
        mass=thing.mass if thing.mass is not None else row.mass if row else 0.0,
        use=thing.use or (row.use if row else "monthly"),
        source="the brief",
        certainty="your rule set",
        care=row.care if thing.care is None and row else "" if thing.care in (None, "none") else thing.care,
        warm=row.warm if row else True,
        shown=row.shown if row else False,
        stacks=row.stacks if row else 1,
        flat=row.flat if row else 0,
    )


def demand_of(thing: Thing, index: int, limits: Limits, children: bool = False) -> Demand:
    """The demand of one kind of thing. children : small ones live here, so that toys are kept within their reach.

    ValueError names the field and the nearest known kind.
    """
    kind = kind_of(thing, index)
    v = limits.value
    return Demand(
        kind=thing.kind,
        name=kind.name,
        count=thing.count,
        run=shelf_run(thing.count, kind.run, v("storage.slack"), v("storage.gap_most")),
        mass=thing.count * kind.mass,
        depth=kind.depth + v("storage.depth_clear"),
        height=kind.height + v("storage.height_clear"),
        low=thing.low or (children and kind.care == "toy"),
        use=kind.use,
        care=kind.care,
        warm=kind.warm,
        shown=kind.shown,
        stacks=kind.stacks,
        flat=kind.flat,
        bare=kind.run,
        tall=kind.height,
    )


def demands(things: Sequence[Thing], limits: Limits, children: bool = False) -> tuple[Demand, ...]:
    """The demand of everything on the list, in its order."""
    return tuple(demand_of(thing, index, limits, children) for index, thing in enumerate(things))


def storage_class(run: float, moderate: float, much: float) -> str:
    """A little, moderate or much storage, by the shelf run needed [mm]."""
    return "much" if run >= much else "moderate" if run >= moderate else "little"
