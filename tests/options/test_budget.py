"""Back into the budget, against every set of swaps tried on the real wall."""

from __future__ import annotations

from dataclasses import replace
from itertools import combinations

import pytest

from wallwright.derive import Wall, derive, derive_to_issue
from wallwright.job.demos import demo_jobs
from wallwright.job.edits import apply
from wallwright.job.read import read_job
from wallwright.options.budget import WayBack, in_order, way_back
from wallwright.options.effect import edited, price_effect
from wallwright.options.search import Found
from wallwright.options.swaps import Swap, swaps
from wallwright.rules import check
from wallwright.rules.check import MUST
from wallwright.tables.options import way_back_table

FEW = 6


@pytest.fixture(scope="module")
def few(bedroom_swaps: tuple[Swap, ...]) -> list[Swap]:
    """A short list that interacts: faces, bays and a light of one wall."""
    may = [swap for swap in bedroom_swaps if not swap.refused]
    kinds = (
        "panel_face",
        "fewer_drawers",
        "open_bay",
        "bias_light_out",
        "smaller_panel",
        "plain_panel",
        "plain_mount",
        "no_dimmer",
    )
    return sorted(
        (swap for swap in may if swap.kind in kinds), key=lambda swap: (kinds.index(swap.kind), swap.key)
    )[: FEW + 2]


@pytest.fixture(scope="module")
def by_hand(bedroom: Wall, few: list[Swap]) -> dict[frozenset[int], tuple[int, bool]]:
    """The true saving of every set, and whether it may be made."""
    had = {(i.rule, i.where) for i in check(bedroom) if i.severity in MUST}
    out: dict[frozenset[int], tuple[int, bool]] = {}
    for size in range(len(few) + 1):
        for chosen in combinations(range(len(few)), size):
            if len({few[i].slot for i in chosen}) < size:
                continue
            wall = derive(edited(bedroom.job, in_order(few[i] for i in chosen)))
            must = {(i.rule, i.where) for i in check(wall) if i.severity in MUST}
            out[frozenset(chosen)] = bedroom.money.total - wall.money.total, not must - had
    return out


@pytest.fixture(scope="module")
def near(bedroom: Wall, few: list[Swap]) -> WayBack:
    """Back to 97 % of the price."""
    return way_back(bedroom, round(bedroom.money.total * 0.97), few)


@pytest.mark.parametrize("share", [0.01, 0.03, 0.05, 0.1, 0.19, 0.22, 0.25])
def test_no_list_loses_less(
    bedroom: Wall, few: list[Swap], by_hand: dict[frozenset[int], tuple[int, bool]], share: float
) -> None:
    goal = round(bedroom.money.total * (1 - share))
    found = way_back(bedroom, goal, few)
    fit = [
        chosen for chosen, (saving, may) in by_hand.items() if may and saving >= bedroom.money.total - goal
    ]
    best = min((sum(few[i].loss for i in chosen), len(chosen)) for chosen in fit) if fit else None
    assert found.proven
    assert found.reached == (best is not None)
    if best is not None:
        assert found.loss == pytest.approx(best[0])
        assert len(found.steps) == best[1]
        assert found.after <= goal
    else:
        assert found.least == bedroom.money.total - max(saving for saving, may in by_hand.values() if may)


def test_the_edits_lead_to_the_price_that_is_told(bedroom: Wall) -> None:
    found = way_back(bedroom, round(bedroom.money.total * 0.82))
    assert len(found.steps) > 1
    wall = derive(edited(bedroom.job, found.edits))
    assert wall.money.total == found.after == found.steps[-1].price
    assert not [item for item in check(wall) if item.severity in MUST]


def test_within_the_budget_nothing_is_swapped(living: Wall) -> None:
    found = way_back(living)
    assert found.within
    assert (found.steps, found.after) == ((), living.money.total)


def test_what_cannot_be_reached_is_said_with_the_least_price(
    bedroom: Wall, bedroom_swaps: tuple[Swap, ...]
) -> None:
    found = way_back(bedroom, 100, bedroom_swaps[::2])
    assert not found.reached
    assert 100 < found.least < bedroom.money.total
    assert derive(edited(bedroom.job, found.edits)).money.total == found.least


def test_without_a_budget_it_asks_for_one(living: Wall) -> None:
    job = apply(living.job, "set_budget", {"amount": 1})
    with pytest.raises(ValueError, match=r"brief\.budget"):
        way_back(derive(job), 0)


@pytest.fixture(scope="module")
def loose() -> Wall:
    """A wall whose quick cutting plan buys a sheet more than the plan that is issued."""
    wall = derive(read_job(demo_jobs()["living_faults"]))
    assert wall.cuts.at_most
    return wall


@pytest.fixture(scope="module")
def issued(loose: Wall) -> int:
    """Its price as it is quoted."""
    return derive_to_issue(loose.job).money.total


def test_the_budget_is_held_against_the_price_that_is_issued(loose: Wall, issued: int) -> None:
    assert issued < loose.money.total
    between = (issued + loose.money.total) // 2
    found = way_back(loose, between)
    assert (found.price, found.within, found.steps) == (
        issued,
        True,
        (),
    )  # nothing is taken out of a wall that costs less when quoted


def test_what_a_swap_saves_is_saved_in_the_quote(loose: Wall, issued: int) -> None:
    found = way_back(loose, issued - 100, swaps(loose)[:6])
    assert found.reached
    assert found.price == issued
    assert found.after == derive_to_issue(edited(loose.job, found.edits)).money.total
    made = price_effect(loose.job, found.edits)
    assert (made.before, made.after) == (found.price, found.after)


def test_nothing_is_proved_where_the_issued_price_is_another(
    bedroom: Wall, few: list[Swap], near: WayBack, monkeypatch: pytest.MonkeyPatch
) -> None:
    goal = round(bedroom.money.total * 0.97)
    assert near.proven
    dearer = replace(bedroom.money, total=bedroom.money.total + 1)
    monkeypatch.setattr(
        "wallwright.options.budget.derive_to_issue", lambda job: replace(bedroom, money=dearer)
    )
    assert not way_back(bedroom, goal, few).proven


def test_the_proof_says_of_which_swaps_it_is(bedroom: Wall, few: list[Swap], near: WayBack) -> None:
    for found, says in (
        (near, "of the swaps that may be made alone no list loses less"),
        (
            way_back(bedroom, round(bedroom.money.total * 0.01), few),
            "No set of the swaps that may be made alone",
        ),
    ):
        notes = way_back_table(bedroom, found).notes
        assert any(says in note for note in notes)


def test_a_list_with_one_swap_too_many_is_priced_anew_and_not_called_proved(
    bedroom: Wall, few: list[Swap], near: WayBack, monkeypatch: pytest.MonkeyPatch
) -> None:
    goal, true = round(bedroom.money.total * 0.97), near
    more = [i for i, swap in enumerate(few) if swap.slot not in {step.swap.slot for step in true.steps}]
    chosen = frozenset(few.index(step.swap) for step in true.steps)
    fat = next(
        trial
        for i in more
        if (trial := chosen | {i}) and way_back(bedroom, goal, [few[k] for k in sorted(trial)]).reached
    )

    def too_much(*_: object) -> Found:
        return Found(fat, 0, True, 1, 0, fat)

    monkeypatch.setattr("wallwright.options.budget.least_loss", too_much)
    found = way_back(bedroom, goal, few)
    assert not found.proven and found.reached and len(found.steps) < len(fat)
    assert found.after == price_effect(bedroom.job, found.edits).after <= goal


def test_the_proof_says_what_it_rests_on(bedroom: Wall, near: WayBack) -> None:
    notes = " ".join(way_back_table(bedroom, near).notes)
    assert "so long as savings" in notes and "priced anew whole" in notes
