"""The set of swaps with the least loss of value that saves enough: exact, though savings do not simply add up.

A relaxation (areas instead of cutting plans, whole sheets only) says which sets can save enough at best. CP-SAT gives them in
the order of their loss; each is tried on the real wall. The first that truly saves enough has the least loss of all: every set
of less loss was tried, or cannot. What was tried and failed is cut away and it is solved again. Two assumptions, both watched:
savings that are no lumps never grow by being combined (where one is seen to, the bound is widened by as much), and a swap that
saves money alone, and uses no more of anything bought whole, never makes its set dearer. What is searched and proved is what
the choices make: a swap that may not be made alone is no choice.

Where a set may not be made, the few of its swaps that alone forbid it are looked for, and sets that hold them are put off to the
end: more of them are tried than not, else. Put off, not left out: another swap may put right what those do, so each of them that
could still win is tried before anything counts as proved.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from wallwright.options.lumps import Lump, Share

SCALE = 1000
"""Losses are whole thousandths of a point to the solver."""
MANY = 64
"""More swaps than any list has: the loss comes first, then the length of the list."""
Truth = Callable[[frozenset[int]], tuple[int, bool]]
"""What a set really saves (minor units), and whether it may be made at all."""
Tell = Callable[[frozenset[int], int], None]
"""Hears the set that is tried next, and how many were tried before it."""


def silent(chosen: frozenset[int], tries: int) -> None:
    """Nobody listens."""


@dataclass(frozen=True, slots=True)
class Choice:
    """What may be chosen: its share of savings, its loss in points, what it saves alone, and its slot."""

    share: Share
    loss: float
    saving: int
    slot: str


@dataclass(frozen=True, slots=True)
class Found:
    """The set found. None where nothing reaches it; then `most` is the most that could be saved, by `best`. proven : exact · tries :
    sets tried on the real wall.
    """

    chosen: frozenset[int] | None
    saving: int
    proven: bool
    tries: int
    most: int = 0
    best: frozenset[int] = frozenset()


def least_loss(
    choices: Sequence[Choice], lumps: Mapping[str, Lump], loose: float, need: int, truth: Truth, most_tries: int, tell: Tell = silent,
) -> Found:  # fmt: skip
    """The set of least loss (then the fewest) that truly saves `need`.

    loose : what may be saved besides once any lump changes · truth : asked for each set that the bound allows · tell : hears which
    set is tried next, and how many were
    """
    best, best_saving, widened = frozenset[int](), 0, 0
    reached: frozenset[int] | None = None
    reaching, tries = 0, 0
    model = _Model(choices, lumps, loose)
    while tries < most_tries:
        chosen = model.solve(need - widened, least=True)
        if chosen is None or (reached is not None and model.loss_of(chosen) >= model.loss_of(reached)):
            if model.look_at_all():
                continue
            return Found(reached, reaching, True, tries, best_saving, best)
        tell(chosen, tries)
        saving, may = truth(chosen)
        tries += 1
        widened = max(widened, saving - model.bound(chosen))
        if may and saving > best_saving:
            best, best_saving = chosen, saving
        if may and saving >= need:
            reached, reaching = chosen, saving
            if not widened and not model.look_at_all():
                return Found(reached, reaching, True, tries, best_saving, best)
        model.cut(chosen, subsets=may and saving < need)
        if not may:
            tries += model.put_off(chosen, truth)
    return Found(reached, reaching, False, tries, best_saving, best)


def most_saved(
    choices: Sequence[Choice], lumps: Mapping[str, Lump], loose: float, truth: Truth, most_tries: int, tell: Tell = silent,
    enough: float = math.inf,
) -> Found:  # fmt: skip
    """The set that truly saves the most; with `enough`, unproven, the first that saves so much."""
    best, best_saving, widened = frozenset[int](), 0, 0
    model, tries = _Model(choices, lumps, loose), 0
    while tries < most_tries and best_saving < enough:
        chosen = model.solve(best_saving + 1 - widened, least=False)
        if chosen is None:
            if model.look_at_all():
                continue
            return Found(best, best_saving, True, tries, best_saving, best)
        tell(chosen, tries)
        saving, may = truth(chosen)
        tries += 1
        widened = max(widened, saving - model.bound(chosen))
        if may and saving > best_saving:
            best, best_saving = chosen, saving
        model.cut(chosen, subsets=may)
        if not may:
            tries += model.put_off(chosen, truth)
    return Found(best, best_saving, False, tries, best_saving, best)


class _Model:
    """The relaxation as the solver sees it, with the sets that were tried cut away."""

    def __init__(self, choices: Sequence[Choice], lumps: Mapping[str, Lump], loose: float) -> None:
        from ortools.sat.python import cp_model

        self.cp: Any = cp_model
        self.choices = choices
        self.model: Any = cp_model.CpModel()
        self.x = [self.model.new_bool_var(f"x{i}") for i in range(len(choices))]
        for slot in dict.fromkeys(choice.slot for choice in choices):
            same = [x for x, choice in zip(self.x, choices, strict=True) if choice.slot == slot]
            if len(same) > 1:
                self.model.add_at_most_one(same)
        terms: list[Any] = [_up(choice.share.plain) * x for x, choice in zip(self.x, choices, strict=True)]
        touched: list[Any] = []
        for ref in dict.fromkeys(ref for choice in choices for ref, _ in choice.share.lumps):
            saved, by = self._lump(ref, lumps.get(ref))
            terms.append(saved)
            touched.append(by)
        if (
            touched
        ):  # what goes with the lumps is paid once in all, so it can be saved once, whichever of them change
            terms.append(_up(loose) * self._any_of(touched))
        self.saved: Any = sum(terms)
        self.loss: Any = sum(
            (round(choice.loss * SCALE) * MANY + 1) * x for x, choice in zip(self.x, choices, strict=True)
        )
        self.lumps, self.loose = lumps, loose
        self.few: Any = self.model.new_bool_var("without_what_is_put_off")
        self.holding_back, self.any_put_off = True, False

    def put_off(self, chosen: frozenset[int], truth: Truth) -> int:
        """Of a set that may not be made, the few that alone forbid it: sets that hold them come last. How many sets were tried for it."""
        if not self.holding_back:
            return 0
        core = chosen
        for i in sorted(chosen):
            if len(core) > 1 and not truth(core - {i})[1]:
                core = core - {i}
        self.model.add_bool_or([self.x[i].negated() for i in core]).only_enforce_if(self.few)
        self.any_put_off = True
        return len(chosen)

    def look_at_all(self) -> bool:
        """From now on also what was put off; False where nothing was, or it is looked at already."""
        held = self.holding_back and self.any_put_off
        self.holding_back = False
        return held

    def _touching(self, ref: str) -> list[tuple[int, int]]:
        return [
            (i, _up(less)) for i, choice in enumerate(self.choices) for name, less in choice.share.lumps if name == ref
        ]  # fmt: skip

    def _any_of(self, flags: list[Any]) -> Any:
        one = self.model.new_bool_var("")
        self.model.add_max_equality(one, flags)
        return one

    def _lump(self, ref: str, lump: Lump | None) -> tuple[Any, Any]:
        """What of a lump can be saved: no more than is used less and was slack, whole ones only, nothing where nobody touches it.

        And whether anybody does.
        """
        touching = self._touching(ref)
        slack = _up(lump.slack) if lump else 0
        far = sum(abs(less) for _, less in touching) + slack + 1
        saved = self.model.new_int_var(-far, far, f"saved_{ref}")
        touched = self._any_of([self.x[i] for i, _ in touching])
        used = sum(less * self.x[i] for i, less in touching)
        self.model.add(saved <= used + slack * touched)
        if lump and lump.whole >= 1:
            one, least = (
                _up(lump.whole),
                math.floor(lump.whole),
            )  # the coins of rounding never cost a whole one
            count = self.model.new_int_var(-(far // one) - 1, far // one + 1, f"whole_{ref}")
            self.model.add(saved <= one * count)
            self.model.add(least * count <= used + slack * touched)
        return saved, touched

    def solve(self, need: int, *, least: bool) -> frozenset[int] | None:
        """The set that the bound allows to save `need`: of least loss, or the one that could save most. None where there is none."""
        model = self.model.clone()
        model.add(self.saved >= need)
        if self.holding_back:
            model.add(self.few == 1)
        if least:
            model.minimize(self.loss)
        else:
            model.maximize(self.saved)
        solver = self.cp.CpSolver()
        solver.parameters.num_workers = 1
        solver.parameters.random_seed = 1
        status = solver.solve(model)
        if status not in (self.cp.OPTIMAL, self.cp.FEASIBLE):
            return None
        return frozenset(i for i, x in enumerate(self.x) if solver.value(x))

    def loss_of(self, chosen: frozenset[int]) -> int:
        """The loss of a set as the solver counts it."""
        return sum(round(self.choices[i].loss * SCALE) * MANY + 1 for i in chosen)

    def bound(self, chosen: frozenset[int]) -> int:
        """The most that the relaxation allows a set to save."""
        total = sum(_up(self.choices[i].share.plain) for i in chosen)
        for ref in dict.fromkeys(ref for i in chosen for ref, _ in self.choices[i].share.lumps):
            lump = self.lumps.get(ref)
            used = sum(less for i, less in self._touching(ref) if i in chosen)
            room = used + (_up(lump.slack) if lump else 0)
            if lump and lump.whole >= 1:
                room = math.floor(room / math.floor(lump.whole)) * _up(lump.whole)
            total += room
        return total + (_up(self.loose) if any(self.choices[i].share.lumps for i in chosen) else 0)

    def _only_saves(self, i: int) -> bool:
        choice = self.choices[i]
        return choice.saving > 0 and all(less >= 0 for _, less in choice.share.lumps)

    def cut(self, chosen: frozenset[int], *, subsets: bool) -> None:
        """Away with a set that was tried; with its subsets too, where what they leave out saves money: not what saves alone but uses
        more of a thing bought whole, for in a set that may ask for one more of it.
        """
        others = [x for i, x in enumerate(self.x) if i not in chosen]
        stays = [i for i in chosen if not subsets or not self._only_saves(i)]
        self.model.add_bool_or([*others, *(self.x[i].negated() for i in stays)])


def _up(amount: float) -> int:
    """Rounded up, with a coin for the rounding of the lines: a bound must never be too low."""
    return math.ceil(amount) + (1 if amount else 0)
