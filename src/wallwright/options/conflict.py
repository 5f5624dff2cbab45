"""Wishes that cannot all be met: the smallest set in conflict, told with what would resolve it.

A wish is met by a sound wall that was found: its price within the budget, this kind of thing all placed, this box housed, a screen
of this size, nothing hung in a rented home's wall. A set of wishes is in conflict where no sound wall meets all of them and each
smaller set is met by one; of all such sets the one with the fewest wishes is told, exactly. What is exact is the choice among the
wishes: the walls asked are those that the search found sound, not every wall there could be.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass, replace
from itertools import combinations
from typing import TYPE_CHECKING

from wallwright.options.directions import wished
from wallwright.storage import best as storage_best
from wallwright.storage import plan as storage_plan

if TYPE_CHECKING:
    from wallwright.options.hunt import Candidate
    from wallwright.options.site import Site


@dataclass(frozen=True, slots=True)
class Wish:
    """A wish of the brief: its key, and how it is said."""

    key: str
    says: str


@dataclass(frozen=True, slots=True)
class Conflict:
    """The fewest wishes that cannot all be met, over the sound walls that were found. says : in words · way_out : what would
    resolve it.
    """

    wishes: tuple[Wish, ...]
    says: str
    way_out: str


def minimal(wishes: Sequence[str], met: Callable[[frozenset[str]], bool]) -> frozenset[str]:
    """The fewest wishes that cannot all be met, while each smaller set can; empty where all are met, or where not even none is.

    A set that cannot be met holds a wish that is missing from each of the largest sets that can: so the smallest set that does is
    asked for, and where it is met after all, grown to a largest one more. After A. Ignatiev and others, "Smallest MUS extraction
    with minimal hitting set dualization", CP 2015 (from memory).

    met : monotone: what meets a set meets each part of it.
    """
    every = frozenset(wishes)
    if met(every):
        return frozenset()
    missing: list[frozenset[str]] = []
    while True:
        few = _hitting(wishes, missing)
        if not met(few):
            return few
        grown = few
        for wish in wishes:
            if wish not in grown and met(grown | {wish}):
                grown = grown | {wish}
        missing.append(every - grown)


def _hitting(wishes: Sequence[str], missing: Sequence[frozenset[str]]) -> frozenset[str]:
    """The fewest wishes of which each of the sets holds one; the first such in the order of the brief."""
    for size in range(len(wishes) + 1):
        for few in combinations(wishes, size):
            if all(one.intersection(few) for one in missing):
                return frozenset(few)
    raise ValueError("a set of no wishes is met by nothing")


def conflict_of(site: Site, found: Sequence[Candidate]) -> Conflict | None:
    """The conflict among the wishes of a brief, over all sound walls that were found; None where one wall meets all of them."""
    wishes = {wish.key: wish for wish in _wishes(site)}
    oracle = _Oracle(site, found)
    keys = minimal(tuple(wishes), oracle.met)
    if not keys and oracle.met(frozenset(wishes)):
        return None
    those = tuple(wish for key, wish in wishes.items() if key in keys)
    return Conflict(those, _says(those, found), oracle.way_out(those))


def _wishes(site: Site) -> Iterable[Wish]:
    job = site.job
    if job.brief.budget is not None:
        yield Wish("budget", f"a budget of {site.bare.money.shown(site.bare.money.budget)}")
    if job.design.screen.diagonal is not None:
        yield Wish("screen", f"a screen of {job.design.screen.diagonal:g} inch")
    for demand in site.bare.storage.demands:
        yield Wish(f"thing:{demand.kind}", f"a place for {demand.count} × {demand.name.lower()}")
    asked = [key.replace("_", " ") for key in wished(job.brief.style)[1]]
    if asked:
        yield Wish("look", f"the look you name ({' or '.join(asked)})")
    if job.brief.tenure == "rent":
        yield Wish("no_drill", "as few holes as a rented home bears: furniture that stands")


class _Oracle:
    """Which sets of wishes some sound wall meets."""

    def __init__(self, site: Site, found: Sequence[Candidate]) -> None:
        self.site, self.found = site, found
        rooms = [one.sound.wall.storage.room for one in found]
        self.alike = [rooms.index(room) for room in rooms]
        """For each wall the first with the same room to keep things in: another face holds no more."""
        self.known: dict[tuple[int, frozenset[str]], bool] = {}

    def met(self, wishes: frozenset[str]) -> bool:
        """Whether one wall meets all of them. No wall at all meets not even none."""
        return any(self._meets(i, wishes) for i in range(len(self.found)))

    def _meets(self, i: int, wishes: frozenset[str]) -> bool:
        one = self.found[i]
        wall = one.sound.wall
        if "budget" in wishes and one.price > self.site.bare.money.budget:
            return False
        if "screen" in wishes and wall.sight.screen.diagonal != self.site.job.design.screen.diagonal:
            return False
        if "no_drill" in wishes and any(unit.hung for unit in wall.setout.units):
            return False
        if "look" in wishes and one.shape.key not in wished(self.site.job.brief.style)[1]:
            return False
        things = frozenset(wish.removeprefix("thing:") for wish in wishes if wish.startswith("thing:"))
        return not things or self._kept(i, things)

    def _kept(self, i: int, things: frozenset[str]) -> bool:
        """Whether these things, and none besides, all find a place on a wall."""
        i = self.alike[i]
        at = (i, things)
        if at not in self.known:
            wall = self.found[i].sound.wall
            left = {kind for kind, _ in wall.storage.leftovers}
            self.known[at] = not (things & left) or self._allotted(i, things)
        return self.known[at]

    def _allotted(self, i: int, things: frozenset[str]) -> bool:
        wall = self.found[i].sound.wall
        brief = replace(
            wall.job.brief, things=tuple(thing for thing in wall.job.brief.things if thing.kind in things)
        )
        job = replace(wall.job, brief=brief)
        made = storage_plan.plan(job, wall.storage.room, wall.limits)
        if made.leftovers and sum(demand.run for demand in made.demands) <= made.capacity:
            made = storage_plan.plan(
                job, wall.storage.room, wall.limits, storage_best.allotment(made, wall.limits)
            )
        return not made.leftovers

    def way_out(self, wishes: tuple[Wish, ...]) -> str:
        """What would resolve a conflict: for each of its wishes what the others together allow."""
        if not self.found:
            return "no wall here is sound: see what stands in the way of each"
        keys = frozenset(wish.key for wish in wishes)
        said: list[str] = []
        for wish in wishes:
            others = keys - {wish.key}
            serving = [one for i, one in enumerate(self.found) if self._meets(i, others)]
            if not serving:
                continue
            if wish.key == "budget":
                least = min(serving, key=lambda one: one.price)
                need = self.site.bare.money.shown(least.price)
                said.append(f"raise the budget to {need}: {least.shape.name.lower()} then meets the rest")
            else:
                said.append(f"or let go of {wish.says}" if said else f"let go of {wish.says}")
        return "; ".join(said) or "let go of one of them"


def _says(wishes: tuple[Wish, ...], found: Sequence[Candidate]) -> str:
    if not found:
        return "No wall can be built here that has nothing left to fix."
    if len(wishes) == 1:
        return f"No wall that fits here gives {wishes[0].says}."
    return f"These cannot all be met on this wall: {'; '.join(wish.says for wish in wishes)}."
