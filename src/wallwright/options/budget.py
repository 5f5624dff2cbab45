"""Back into the budget: the list of swaps with the least loss of value, each shown with what it saves and what it does to the findings.

Every wall is priced with the cutting plans that would be issued, so that the price told here is the one that is quoted. What is proved
is proved of swaps that may be made alone: one that brings something to fix is left out, also where another would put that right.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING

from wallwright.core.finding import EditCall, Finding
from wallwright.derive import Wall, derive, derive_to_issue
from wallwright.options.effect import Effect, edited, effect, priced
from wallwright.options.lumps import lumps_of, offcuts
from wallwright.options.search import Choice, Found, least_loss, most_saved
from wallwright.options.swaps import Swap, swaps
from wallwright.rules import check

if TYPE_CHECKING:
    from wallwright.job.document import Job


FAR_OFF = 0.4
"""Where more is wanted than so much of all savings together, it is asked first what can be saved at most."""


@dataclass(frozen=True, slots=True)
class SwapStep:
    """A chosen swap in its place in the list: what it saves alone, and the price once it and those before it are made."""

    swap: Swap
    price: int


@dataclass(frozen=True, slots=True)
class WayBack:
    """A way back into the budget. Amounts in minor units.

    within : the price is inside already · steps : the swaps, the most saving first; () where none is needed or none leads back ·
    reached : whether they lead inside · least : the least price that any set of swaps reaches, where none leads back · proven : no list
    of less loss, of swaps that may be made alone, does it (or none at all), wall and list cost the same when issued, and no swap of
    the list can be spared when it is priced anew; it rests on what `search` assumes of savings that are combined ·
    offered : all swaps that were weighed, refused ones among them · tries : walls derived for it
    """

    budget: int
    price: int
    within: bool
    steps: tuple[SwapStep, ...]
    after: int
    loss: float
    reached: bool
    proven: bool
    least: int
    new: tuple[Finding, ...]
    gone: tuple[Finding, ...]
    offered: tuple[Swap, ...]
    tries: int

    @property
    def edits(self) -> tuple[EditCall, ...]:
        """All edits of the way back, in the order in which they are made."""
        return in_order(step.swap for step in self.steps)


def way_back(
    wall: Wall,
    budget: int | None = None,
    offered: Sequence[Swap] | None = None,
    tell: Callable[[str], None] | None = None,
) -> WayBack:
    """The way back into the budget (minor units; absent = the brief's) by the swaps that are offered (absent = all there are).

    tell : hears what is measured and tried.

    Raises:
        ValueError: there is no budget.
    """
    goal = wall.money.budget if budget is None else budget
    if goal <= 0:
        raise ValueError(
            "brief.budget: there is none to come back into; set it with [brief.budget] amount, or say it with --amount"
        )
    wall = priced(wall)
    price = wall.money.total
    every = tuple(swaps(wall, tell=tell) if offered is None else offered)
    if price <= goal:
        return WayBack(goal, price, True, (), price, 0.0, True, True, price, (), (), every, 0)
    may = [swap for swap in every if not swap.refused]
    trials = _Trials(wall, may)
    found = _searched(wall, may, price - goal, trials, tell)
    chosen = found.chosen if found.chosen is not None else found.best
    lean = _lean(found.chosen, price - goal, trials) if found.chosen is not None else chosen
    steps = _steps(trials, lean)
    done = trials.of(lean)
    surer = (
        found.chosen is None and price - done.after > found.most
    )  # what was spared by hand, the search took for lost
    proven = found.proven and lean == chosen and not surer and _as_issued(wall) and _as_issued(done.wall)
    return WayBack(
        goal, price, False, steps, done.after,
        round(sum(step.swap.loss for step in steps), 3), found.chosen is not None, proven, min(price - found.most, done.after),
        done.new, done.gone, every, found.tries,
    )  # fmt: skip


def _as_issued(wall: Wall) -> bool:
    """Whether the wall costs the same once its things are allotted the best way too: what they weigh may ask for other fixings."""
    return derive_to_issue(wall.job).money.total == wall.money.total


def _searched(
    wall: Wall, may: Sequence[Swap], need: int, trials: _Trials, tell: Callable[[str], None] | None
) -> Found:
    def hear(chosen: frozenset[int], tries: int) -> None:
        if tell is not None:
            tell(f"{tries} walls tried, now: {'; '.join(may[i].says for i in sorted(chosen))}")

    choices = [Choice(swap.share, swap.loss, swap.saving, swap.slot) for swap in may]
    lumps, loose, most = lumps_of(wall), offcuts(wall), int(wall.limits.value("money.swap_tries"))
    alone = sum(max(choice.saving, 0) for choice in choices)
    best = (
        most_saved(choices, lumps, loose, trials.truth, most, hear, need) if need > FAR_OFF * alone else None
    )
    if best is not None and best.proven and best.saving < need:
        return Found(None, 0, True, best.tries, best.saving, _bare(best.best, trials))
    found = least_loss(choices, lumps, loose, need, trials.truth, most, hear)
    if found.chosen is not None:
        return found
    best = best or most_saved(choices, lumps, loose, trials.truth, most, hear)
    return Found(
        None, 0, found.proven and best.proven, found.tries + best.tries, best.saving, _bare(best.best, trials)
    )


def _lean(chosen: frozenset[int], need: int, trials: _Trials) -> frozenset[int]:
    """The list with each swap tried without, priced anew and whole: what reaches it with one fewer is taken, the most loss first.

    The search takes it that no such list is left; here that is seen, not taken.
    """
    for i in sorted(chosen, key=lambda i: (-trials.may[i].loss, trials.may[i].key)):
        saving, may = trials.truth(chosen - {i})
        if may and saving >= need:
            return _lean(chosen - {i}, need, trials)
    return chosen


def _bare(chosen: frozenset[int], trials: _Trials) -> frozenset[int]:
    """The set without what adds nothing to its saving."""
    saving, _ = trials.truth(chosen)
    for i in sorted(chosen, key=lambda i: (trials.may[i].saving, trials.may[i].key)):
        fewer = chosen - {i}
        less, may = trials.truth(fewer)
        if may and less >= saving:
            chosen = fewer
    return chosen


def in_order(chosen: Iterable[Swap]) -> tuple[EditCall, ...]:
    """The edits of several swaps, so that what is taken out goes last: what was changed on it before is no error."""
    edits = [call for swap in chosen for call in swap.edits]
    return (
        *(c for c in edits if not c.edit.startswith("remove_")),
        *(c for c in edits if c.edit.startswith("remove_")),
    )


class _Trials:
    """Sets of swaps tried on the real wall, each once."""

    def __init__(self, wall: Wall, may: Sequence[Swap]) -> None:
        self.wall, self.may, self.found = wall, may, check(wall, cures=False)
        self.done: dict[frozenset[int], Effect | None] = {}

    def of(self, chosen: frozenset[int]) -> Effect:
        """What a set does. ValueError where its edits cannot all be made."""
        made = self._tried(chosen)
        if made is None:
            raise ValueError(
                f"swaps {', '.join(self.may[i].key for i in sorted(chosen))} cannot be made together"
            )
        return made

    def truth(self, chosen: frozenset[int]) -> tuple[int, bool]:
        """What a set saves, and whether it brings nothing that must be fixed."""
        made = self._tried(chosen)
        return (-made.difference, not made.worse) if made else (0, False)

    def _tried(self, chosen: frozenset[int]) -> Effect | None:
        if chosen not in self.done:
            self.done[chosen] = self._derived(chosen)
        return self.done[chosen]

    def _derived(self, chosen: frozenset[int]) -> Effect | None:
        job: Job = self.wall.job
        try:
            return effect(
                self.wall,
                self.found,
                derive(edited(job, in_order(self.may[i] for i in sorted(chosen))), searched=True),
            )
        except ValueError:
            return None


def _steps(trials: _Trials, chosen: frozenset[int]) -> tuple[SwapStep, ...]:
    """The swaps, the most saving first, with the true price after each."""
    order = sorted(chosen, key=lambda i: (-trials.may[i].saving, trials.may[i].key))
    out: list[SwapStep] = []
    for number, i in enumerate(order, 1):
        so_far = trials.of(frozenset(order[:number]))
        out.append(SwapStep(trials.may[i], so_far.after))
    return tuple(out)
