"""The set of least loss, against every set tried by hand."""

from __future__ import annotations

import math
from itertools import chain, combinations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from wallwright.options.lumps import Lump, Share
from wallwright.options.search import Choice, least_loss, most_saved

Sets = list[frozenset[int]]


def every(choices: list[Choice]) -> Sets:
    """All sets in which each slot is used once at most."""
    n = range(len(choices))
    sets = (frozenset(c) for c in chain.from_iterable(combinations(n, k) for k in range(len(choices) + 1)))
    return [s for s in sets if len({choices[i].slot for i in s}) == len(s)]


class Shop:
    """A made-up truth: sheets are bought whole (with some more than the area asks for), some pairs save less together, some sets are
    forbidden, and a pair may save more together than apart.
    """

    def __init__(
        self,
        choices: list[Choice],
        lumps: dict[str, Lump],
        poor: int,
        forbidden: frozenset[int],
        clash: int,
        bonus: int = 0,
    ) -> None:
        self.choices, self.lumps, self.poor, self.forbidden, self.clash, self.bonus = (
            choices,
            lumps,
            poor,
            forbidden,
            clash,
            bonus,
        )

    def __call__(self, chosen: frozenset[int]) -> tuple[int, bool]:
        total = sum(self.choices[i].share.plain for i in chosen)
        for ref, lump in self.lumps.items():
            used = sum(less for i in chosen for name, less in self.choices[i].share.lumps if name == ref)
            if used:
                sheets = math.ceil((lump.used - used + self.poor) / lump.whole - 1e-9)
                total += lump.paid - lump.whole * max(sheets, 0)
        if {0, 1} <= chosen:
            total += self.bonus - self.clash
        return round(total), not (self.forbidden and self.forbidden <= chosen)


def alone(shop: Shop, choices: list[Choice]) -> list[Choice]:
    return [Choice(c.share, c.loss, shop(frozenset([i]))[0], c.slot) for i, c in enumerate(choices)]


def best_by_hand(shop: Shop, choices: list[Choice], need: int) -> tuple[int, int] | None:
    """(loss, number) of the best set."""
    fit = [s for s in every(choices) if shop(s)[0] >= need and shop(s)[1]]
    return min(((sum(round(choices[i].loss * 1000) for i in s), len(s)) for s in fit), default=None)


choice = st.builds(
    lambda plain, less, loss, slot: Choice(Share(float(plain), (("board", float(less)),) if less else ()), loss / 10, 0, f"slot{slot}"),
    st.integers(0, 900), st.sampled_from([0, 0, 150, 400, 700]), st.integers(10, 90), st.integers(0, 20),
)  # fmt: skip
LUMPS = {"board": Lump(3000.0, 2600.0, 1000.0)}


@settings(max_examples=120, deadline=None)
@given(
    st.lists(choice, min_size=1, max_size=7), st.integers(1, 4000), st.integers(0, 300),
    st.sets(st.integers(0, 6), max_size=2).map(frozenset), st.integers(0, 300),
)  # fmt: skip
def test_no_set_loses_less(
    choices: list[Choice], need: int, poor: int, forbidden: frozenset[int], clash: int
) -> None:
    shop = Shop(choices, LUMPS, poor, forbidden, clash)
    choices = alone(shop, choices)
    found = least_loss(choices, LUMPS, 0.0, need, shop, 5000)
    by_hand = best_by_hand(shop, choices, need)
    assert found.proven
    if by_hand is None:
        assert found.chosen is None
    else:
        assert found.chosen is not None
        assert shop(found.chosen) == (found.saving, True)
        assert found.saving >= need
        assert (sum(round(choices[i].loss * 1000) for i in found.chosen), len(found.chosen)) == by_hand


@settings(max_examples=60, deadline=None)
@given(
    st.lists(choice, min_size=1, max_size=7),
    st.integers(0, 300),
    st.sets(st.integers(0, 6), max_size=2).map(frozenset),
)
def test_the_least_price_is_the_least(choices: list[Choice], poor: int, forbidden: frozenset[int]) -> None:
    shop = Shop(choices, LUMPS, poor, forbidden, 0)
    choices = alone(shop, choices)
    found = most_saved(choices, LUMPS, 0.0, shop, 5000)
    assert found.proven
    assert found.saving == max(max(shop(s)[0] for s in every(choices) if shop(s)[1]), 0)


class Cured(Shop):
    """A shop in which what one pair forbids another choice puts right, and a fee is paid for every sheet there is."""

    def __init__(
        self, choices: list[Choice], lumps: dict[str, Lump], poor: int, pair: frozenset[int], cure: int, fee: float
    ) -> None:  # fmt: skip
        super().__init__(choices, lumps, poor, pair, 0)
        self.cure, self.fee = cure, fee

    def waste(self, chosen: frozenset[int]) -> float:
        count = 0
        for ref, lump in self.lumps.items():
            used = sum(less for i in chosen for name, less in self.choices[i].share.lumps if name == ref)
            count += max(math.ceil((lump.used - used + (self.poor if used else 0)) / lump.whole - 1e-9), 0)
        return self.fee * count

    def __call__(self, chosen: frozenset[int]) -> tuple[int, bool]:
        saved, may = super().__call__(chosen)
        return round(saved + self.waste(frozenset()) - self.waste(chosen)), may or self.cure in chosen


TWO = {"board": Lump(3000.0, 2600.0, 1000.0), "face": Lump(1500.0, 1100.0, 500.0)}
two_lumps = st.builds(
    lambda plain, board, face, loss, slot: Choice(
        Share(float(plain), tuple((name, float(less)) for name, less in (("board", board), ("face", face)) if less)),
        loss / 10, 0, f"slot{slot}",
    ),
    st.integers(0, 900), st.sampled_from([0, 0, 150, 400, 700]), st.sampled_from([0, 0, 90, 300]), st.integers(10, 90), st.integers(0, 20),
)  # fmt: skip


@settings(max_examples=50, deadline=None)
@given(
    st.lists(two_lumps, min_size=2, max_size=6), st.integers(1, 4000), st.integers(0, 200),
    st.sets(st.integers(0, 6), min_size=1, max_size=3).map(frozenset), st.integers(0, 6), st.sampled_from([0.0, 40.0, 150.0]),
)  # fmt: skip
def test_what_is_put_off_is_not_left_out(
    choices: list[Choice], need: int, poor: int, pair: frozenset[int], cure: int, fee: float
) -> None:
    """Also where a third choice puts right what a pair does, and the fees of all sheets can be saved once."""
    shop = Cured(choices, TWO, poor, pair, cure, fee)
    choices = alone(shop, choices)
    loose = shop.waste(frozenset())
    found = least_loss(choices, TWO, loose, need, shop, 5000)
    by_hand = best_by_hand(shop, choices, need)
    assert found.proven
    assert (found.chosen is None) == (by_hand is None)
    if found.chosen is not None:
        assert found.saving >= need and shop(found.chosen)[1]
        assert (sum(round(choices[i].loss * 1000) for i in found.chosen), len(found.chosen)) == by_hand
    most = most_saved(choices, TWO, loose, shop, 5000)
    best = max(max(shop(s)[0] for s in every(choices) if shop(s)[1]), 0)
    assert most.proven and most.saving == best
    some = most_saved(choices, TWO, loose, shop, 5000, enough=need)
    assert some.saving >= min(need, best) and (some.proven or some.saving >= need)


def test_what_forbids_is_found_and_its_sets_come_last() -> None:
    """Of 10 alike, two must not go together: without putting off, hundreds of sets that hold both would be tried first."""
    choices = [Choice(Share(100.0, ()), 1.0 + i / 100, 100, f"s{i}") for i in range(10)]
    shop, told = Shop(choices, {}, 0, frozenset({0, 1}), 0), list[tuple[frozenset[int], int]]()
    found = most_saved(choices, {}, 0.0, shop, 60, lambda chosen, tries: told.append((chosen, tries)), 900)
    assert found.saving == 900 and len(found.best) == 9
    assert found.tries == told[-1][1] + 1 <= 13
    assert all(not {0, 1} <= chosen for chosen, _ in told[1:])


def test_half_a_sheet_and_half_a_sheet_are_a_sheet() -> None:
    half = Share(0.0, (("board", 500.0),))
    choices = [Choice(half, 1.0, 0, "a"), Choice(half, 1.0, 0, "b"), Choice(Share(900.0, ()), 5.0, 900, "c")]
    lumps = {"board": Lump(3000.0, 3000.0, 1000.0)}
    shop = Shop(choices, lumps, 0, frozenset(), 0)
    assert [shop(frozenset([i]))[0] for i in (0, 1)] == [0, 0]  # neither saves a thing alone
    found = least_loss(choices, lumps, 0.0, 900, shop, 100)
    assert found.chosen == {0, 1}
    assert found.saving == 1000


def test_the_coins_of_rounding_cost_no_whole_sheet() -> None:
    """Four sheets at 1942.1 of which nothing is used any more: all four are saved, though four times 1943 is more than was paid."""
    lump = Lump(7768.4, 3435.2, 1942.1)
    choices = [
        Choice(Share(0.0, (("board", 3435.2),)), 1.0, 7768, "a"),
        Choice(Share(9000.0, ()), 5.0, 9000, "b"),
    ]
    found = least_loss(
        choices,
        {"board": lump},
        0.0,
        7700,
        lambda chosen: (7768 * (0 in chosen) + 9000 * (1 in chosen), True),
        9,
    )
    assert found.chosen == {0}


def test_what_was_slack_counts_once_a_sheet_is_touched() -> None:
    choices = [
        Choice(Share(0.0, (("board", 700.0),)), 1.0, 1000, "a"),
        Choice(Share(1000.0, ()), 5.0, 1000, "b"),
    ]
    lumps = {"board": Lump(3000.0, 2600.0, 1000.0)}  # 700 less used, and 400 of the third sheet never were
    shop = Shop(choices, lumps, 0, frozenset(), 0)
    assert shop(frozenset([0]))[0] == 1000
    assert least_loss(choices, lumps, 0.0, 1000, shop, 100).chosen == {0}


def test_savings_that_grow_together_are_seen_and_the_bound_widened() -> None:
    choices = [
        Choice(Share(300.0, ()), loss, 300, name) for loss, name in ((2.0, "a"), (2.0, "b"), (9.0, "c"))
    ]
    shop = Shop(choices, {}, 0, frozenset(), 0, bonus=500)  # 0 and 1 together save 1100, not 600
    found = least_loss(choices, {}, 0.0, 550, shop, 100)
    assert found.chosen == {0, 1}
    assert found.saving == 1100
    assert found.proven


def test_it_says_when_it_stopped_before_it_was_proved() -> None:
    choices = [Choice(Share(100.0, ()), 1.0 + i / 10, 100, f"s{i}") for i in range(12)]
    truth = {"tries": 0}

    def poor(chosen: frozenset[int]) -> tuple[int, bool]:
        truth["tries"] += 1
        return 50 * len(chosen), True

    found = least_loss(choices, {}, 0.0, 550, poor, 5)
    assert (found.chosen, found.proven, found.tries, truth["tries"]) == (None, False, 5, 5)


@pytest.mark.parametrize("most", [1, 3])
def test_a_slot_is_used_once(most: int) -> None:
    choices = [Choice(Share(400.0, ()), 1.0, 400, "face") for _ in range(most)]
    found = least_loss(choices, {}, 0.0, 500, lambda chosen: (400 * len(chosen), True), 50)
    assert found.chosen is None
    assert found.proven
