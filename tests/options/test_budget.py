"""Back into the budget, against every set of swaps tried on the real wall."""

from __future__ import annotations

from itertools import combinations

import pytest

from wallwright.derive import Wall, derive
from wallwright.job.edits import apply
from wallwright.options.budget import in_order, way_back
from wallwright.options.effect import edited
from wallwright.options.swaps import Swap, swaps
from wallwright.rules import check
from wallwright.rules.check import MUST

FEW = 6


@pytest.fixture(scope="module")
def few(bedroom: Wall) -> list[Swap]:
    """A short list that interacts: faces, bays and a light of one wall."""
    may = [swap for swap in swaps(bedroom) if not swap.refused]
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
    found = way_back(bedroom, round(bedroom.money.total * 0.8))
    wall = derive(edited(bedroom.job, found.edits))
    assert wall.money.total == found.after == found.steps[-1].price
    assert not [item for item in check(wall) if item.severity in MUST]


def test_within_the_budget_nothing_is_swapped(living: Wall) -> None:
    found = way_back(living)
    assert found.within
    assert (found.steps, found.after) == ((), living.money.total)


def test_what_cannot_be_reached_is_said_with_the_least_price(bedroom: Wall) -> None:
    found = way_back(bedroom, 100)
    assert not found.reached
    assert 100 < found.least < bedroom.money.total
    assert derive(edited(bedroom.job, found.edits)).money.total == found.least


def test_without_a_budget_it_asks_for_one(living: Wall) -> None:
    job = apply(living.job, "set_budget", {"amount": 1})
    with pytest.raises(ValueError, match=r"brief\.budget"):
        way_back(derive(job), 0)
