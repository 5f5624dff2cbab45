"""A change of a type goes to exactly the flats concerned: issued again, or asked for by state; exceptions keep their own value."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

import pytest

from wallwright.change.impact import impact
from wallwright.derive import derive
from wallwright.job.edits import apply
from wallwright.tower.record import Exception_
from wallwright.tower.rollout import in_force, rollout
from wallwright.tower.run import run

pytestmark = pytest.mark.usefixtures("strips_alone")
OWN = (Exception_("resize_unit", {"ref": "C1", "depth": 350}, "own"),)
ELSE = (Exception_("set_storage", {"storage": "much"}),)


@pytest.fixture(scope="module")
def towers(make: Any, flat: Any, jobs: Any, tape: Any) -> Any:
    flats = (
        flat("0101", state="built"),
        flat("0102", hand="right", state="set"),
        flat("0103", state="cut"),
        flat("0104", state="ordered"),
        flat("0105"),
        flat("0106", kind="B", state="cut"),
        flat("0107", exceptions=OWN),
        flat("0108", exceptions=ELSE, state="cut"),
        flat("0109", measured=tape(4210), state="cut"),
    )
    new = apply(jobs["L"], "resize_unit", {"ref": "C1", "depth": 430})
    old_tower = make(*flats)
    return old_tower, make(*flats, kinds={"L": new, "B": jobs["B"]}, revision="B")


@pytest.fixture(scope="module")
def rolled(towers: Any) -> Any:
    return rollout(*towers)


def test_only_the_flats_concerned_are_named_by_how_far_they_are(rolled: Any) -> None:
    assert {one.flat.id: one.what for one in rolled.flats} == {
        "0101": "ask", "0102": "ask", "0103": "ask", "0104": "ask", "0105": "issue again", "0107": "own value",
        "0108": "ask", "0109": "ask",
    }  # fmt: skip
    assert rolled.untouched == 1


def test_parts_and_money_are_those_of_a_single_wall_in_that_state(rolled: Any, towers: Any) -> None:
    old, new = towers
    for ident in ("0103", "0104"):
        one = next(one for one in rolled.flats if one.flat.id == ident)
        before = apply(old.jobs["L"], "set_progress", {"joinery": one.flat.state})
        found = impact(
            derive(before), derive(apply(new.jobs["L"], "set_progress", {"joinery": one.flat.state}))
        )
        assert one.struck is not None
        assert (one.struck.lost, one.struck.price, one.struck.days) == (found.lost, found.price, found.days)
        assert [part.fate for part in one.struck.parts] == [part.change.fate for part in found.parts]
        assert one.struck.parts
    lost = {one.flat.id: one.struck.lost for one in rolled.flats if one.struck}
    assert lost["0101"] >= lost["0103"] > lost["0104"] >= lost["0105"] == 0
    assert next(one for one in rolled.flats if one.flat.id == "0101").struck.take_out > 0


def test_an_exception_on_the_same_value_is_listed_and_kept(rolled: Any, towers: Any) -> None:
    own = next(one for one in rolled.flats if one.flat.id == "0107")
    (kept,) = own.kept
    assert (kept.path, kept.own, kept.type_now) == ("design.units.C1.depth", "350 mm", "430 mm")
    assert not next(one for one in rolled.flats if one.flat.id == "0108").kept
    (done,) = run(few(in_force(*towers, rolled), "0107")).flats
    assert max(part.block.dy for part in done.parts if part.id == "C1-L") < 350


def few(tower: Any, *idents: str) -> Any:
    return replace(
        tower, file=replace(tower.file, flats=tuple(one for one in tower.file.flats if one.id in idents))
    )


def test_what_asks_stays_as_it_is_out_until_it_is_accepted(towers: Any) -> None:
    old, new = (few(one, "0105", "0109") for one in towers)
    waiting = run(in_force(old, new, rollout(old, new)))
    before, after = ({done.flat.id: done.parts for done in run(one).flats} for one in (old, new))
    now = {done.flat.id: done.parts for done in waiting.flats}
    assert now["0109"] == before["0109"] != after["0109"]
    assert now["0105"] == after["0105"] != before["0105"]


def test_an_accepted_flat_is_made_by_the_new_type(towers: Any) -> None:
    old, new = (few(one, "0103") for one in towers)
    (flat,) = new.file.flats

    def at(accepted: str) -> Any:
        return replace(
            new, file=replace(new.file, flats=(replace(flat, accepted=accepted, accepted_by="N. N."),))
        )

    rolled = rollout(old, at("B"))
    assert [one.what for one in rolled.flats] == ["accepted"]
    assert rolled.asks == ()
    assert in_force(old, at("B"), rolled).file.flats[0].type == "L"
    stale = rollout(old, at("A"))
    assert [one.flat.id for one in stale.asks] == ["0103"]
    assert in_force(old, at("A"), stale).file.flats[0].type == "L.A"


def test_nothing_changed_is_nothing_to_do_and_new_and_gone_flats_are_told(make: Any, flat: Any) -> None:
    same = rollout(
        make(flat("0101"), flat("0102", state="cut")),
        make(flat("0101"), flat("0102", state="set"), revision="B"),
    )
    assert (same.flats, same.untouched) == ((), 2)
    moved = rollout(make(flat("0101")), make(flat("0102")))
    assert {one.flat.id: one.what for one in moved.flats} == {"0101": "gone", "0102": "new"}


def test_a_flat_whose_exception_no_longer_can_be_made_is_named(make: Any, flat: Any, jobs: Any) -> None:
    own = flat("0101", exceptions=(Exception_("set_unit_load", {"ref": "S1", "load": 12}),))
    without = apply(jobs["L"], "remove_unit", {"ref": "S1"})
    (one,) = rollout(make(own), make(own, kinds={"L": without})).flats
    assert one.what == "failed"
    assert "set_unit_load" in one.says


def test_what_was_decided_of_one_flat_is_not_taken_for_another_of_the_same_measures(
    make: Any, flat: Any, tape: Any
) -> None:
    """Two flats alike, too narrow for the series, cut: of one it is now said that it was made as drawn, of the other nothing new."""
    one, two = (
        flat(ident, measured=tape(4140, height=2750), state="cut", to_measure=True)
        for ident in ("0101", "0102")
    )
    rolled = rollout(make(one, two), make(replace(one, to_measure=False), two, revision="B"))
    assert [(each.flat.id, each.what) for each in rolled.flats] == [("0101", "ask")]
    assert rolled.untouched == 1


def test_an_acceptance_of_the_revision_that_is_out_accepts_no_further_change(towers: Any) -> None:
    old, new = (few(each, "0103") for each in towers)
    (flat,) = new.file.flats
    again = replace(new, file=replace(new.file, revision="A", flats=(replace(flat, accepted="A"),)))
    assert [one.what for one in rollout(old, again).flats] == ["ask"]


def test_what_was_cut_does_not_become_uncut(towers: Any) -> None:
    old, new = (few(each, "0103") for each in towers)
    back = replace(new, file=replace(new.file, flats=(replace(new.file.flats[0], state="drawn"),)))
    rolled = rollout(old, back)
    assert [(one.what, one.flat.state) for one in rolled.flats] == [("ask", "cut")]
    assert in_force(old, back, rolled).file.flats[0].state == "cut"


def test_a_flat_that_is_gone_though_something_was_made_for_it_is_told(make: Any, flat: Any) -> None:
    left = flat("0103")
    rolled = rollout(make(flat("0101", state="cut"), flat("0102"), left), make(left, revision="B"))
    assert [(one.flat.id, one.what) for one in rolled.flats] == [("0101", "gone"), ("0102", "gone")]
    assert [one.flat.id for one in rolled.lost] == ["0101"]
    assert "its boards are cut already" in rolled.lost[0].says
