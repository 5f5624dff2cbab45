"""The smallest set of wishes in conflict, against brute force, and told for impossible briefs."""

from __future__ import annotations

from collections.abc import Callable
from itertools import combinations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from tests.options.briefs import boxes, brief, head, plain_brief, proposed, sofa, things
from wallwright.job.read import read_job
from wallwright.options import conflict
from wallwright.options.conflict import minimal

WISHES = tuple("abcdefg")
WALLS = st.lists(st.frozensets(st.sampled_from(WISHES)), max_size=6)


def smallest_by_force(walls: list[frozenset[str]]) -> int | None:
    """Size of the smallest set of wishes that no wall meets; None where one wall meets all."""
    for size in range(len(WISHES) + 1):
        for few in combinations(WISHES, size):
            if not any(set(few) <= wall for wall in walls):
                return size
    return None


@given(WALLS)
def test_no_set_in_conflict_is_smaller(walls: list[frozenset[str]]) -> None:
    def met(some: frozenset[str]) -> bool:
        return any(some <= wall for wall in walls)

    found = minimal(WISHES, met)
    least = smallest_by_force(walls)
    if least is None:
        assert found == frozenset()
        assert met(frozenset(WISHES))
        return
    assert not met(found)
    assert all(met(found - {one}) for one in found)
    assert len(found) == least


def test_a_long_conflict_is_found_and_a_shorter_one_beside_it_wins() -> None:
    walls = [frozenset(WISHES) - {one} for one in "abcde"]
    assert minimal(WISHES, lambda some: any(some <= wall for wall in walls)) == frozenset("abcde")
    # cut down wish by wish from the front, b to e would be left: g with f is shorter
    none = {frozenset("bcde"), frozenset("fg")}
    assert minimal(WISHES, lambda some: not any(one <= some for one in none)) == frozenset("fg")


@pytest.mark.parametrize(("budget", "more"), [(1150, ""), (1000, "vacuum")])
def test_over_all_wishes_of_a_brief_none_smaller(
    budget: int, more: str, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Every subset of a brief's wishes asked of the walls that were found, against the set that is told."""
    asked: list[tuple[tuple[str, ...], Callable[[frozenset[str]], bool]]] = []

    def noted(wishes: tuple[str, ...], met: Callable[[frozenset[str]], bool]) -> frozenset[str]:
        asked.append((wishes, met))
        return minimal(wishes, met)

    monkeypatch.setattr(conflict, "minimal", noted)
    wanted = {"paperback": 280, "board_game": 4} | ({more: 1} if more else {})
    text = head() + sofa(3000) + boxes("set_top_box") + things(**wanted) + brief(budget=budget)
    found = proposed(read_job(text))
    ((wishes, met),) = asked
    unmet = [
        frozenset(few)
        for size in range(len(wishes) + 1)
        for few in combinations(wishes, size)
        if not met(frozenset(few))
    ]
    told = frozenset(wish.key for wish in found.conflict.wishes) if found.conflict else frozenset[str]()
    assert bool(told) == bool(unmet)
    if unmet:
        assert told in unmet and len(told) == min(map(len, unmet))
        assert not any(
            met(some | {wish}) for some in unmet for wish in wishes
        )  # what meets a set meets each part of it


def test_a_brief_that_can_be_met_has_no_conflict() -> None:
    assert proposed(plain_brief()).conflict is None


def test_too_little_money_for_anything() -> None:
    found = proposed(plain_brief(300))
    assert found.options == ()
    assert found.least > 30000
    assert found.conflict is not None
    assert [wish.key for wish in found.conflict.wishes] == ["budget"]
    assert f"raise the budget to {found.bare.money.shown(found.least)}" in found.conflict.way_out


def test_money_and_books_are_in_conflict_only_together() -> None:
    many = head() + sofa(3000) + boxes("set_top_box") + things(paperback=280)
    found = proposed(read_job(many + brief(budget=1150)))
    assert found.conflict is not None
    assert {wish.key for wish in found.conflict.wishes} == {"budget", "thing:paperback"}
    assert found.options
    assert proposed(read_job(many + brief(budget=5000))).conflict is None
    need = float(
        found.conflict.way_out.split("raise the budget to ¤")[1].split(":")[0].strip().replace(",", "")
    )
    assert proposed(read_job(many + brief(budget=need + 1))).conflict is None
    assert proposed(read_job(many + brief(budget=need - 1))).conflict is not None


def test_a_thing_that_no_wall_holds_stands_alone() -> None:
    found = proposed(
        read_job(
            head() + sofa(3000) + brief(budget=4000) + boxes("set_top_box") + things(vacuum=1, paperback=20)
        )
    )
    assert found.conflict is not None
    assert [wish.key for wish in found.conflict.wishes] == ["thing:vacuum"]
    assert all("1 vacuum cleaner" in one.give_up for one in found.options)


def test_a_look_that_the_wall_does_not_bear() -> None:
    """A niche of boards on a partition with one layer of boarding: its studs bear no more."""
    stud = (
        head(3000, substrate="metal_stud", leaf=100)
        + 'finish = "skim"\nstud_spacing = 600\nstuds = [300, 900, 1500, 2100, 2700]\n'
    )
    found = proposed(
        read_job(stud + sofa(3000, 1500) + brief(budget=6000, style=("niche",)) + boxes("set_top_box"))
    )
    assert "partition" in dict(found.dropped)["recessed"]
    assert found.conflict is not None
    assert [wish.key for wish in found.conflict.wishes] == ["look"]
    assert found.options
