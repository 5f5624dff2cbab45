"""A fan, a repeater or a box elsewhere is offered only where it and its plug bring nothing that must be mended."""

from __future__ import annotations

import pytest

from wallwright.core.finding import EditCall, Finding, edit_call
from wallwright.derive import Wall, derive
from wallwright.job.demos import demo_jobs
from wallwright.job.edits import apply
from wallwright.job.read import read_job
from wallwright.rules import RULES, check, reach_cures
from wallwright.rules.box_added import brings


def after(wall: Wall, *edits: EditCall) -> Wall:
    job = wall.job
    for call in edits:
        job = apply(job, call.edit, dict(call.values))
    return derive(job)


def room(name: str, *edits: EditCall) -> Wall:
    return after(derive(read_job(demo_jobs()[name])), *edits)


def must(wall: Wall) -> set[tuple[str, str]]:
    return {(item.rule, item.where) for item in check(wall) if item.severity in ("danger", "fix")}


@pytest.fixture(scope="module")
def shut() -> Wall:
    """A hot receiver in a console of flaps whose fixings have no room beside one cable more."""
    bays = [{"front": "flap"}, {"front": "flap"}, {"front": "drawers"}]
    return room(
        "living",
        edit_call("add_device", ref="amp", kind="av_receiver", place="cabinet"),
        edit_call("set_unit_bays", ref="C1", bays=bays),
    )


def test_fans_whose_cable_takes_the_fixings_away_are_not_offered(shut: Wall) -> None:
    fans = [edit_call("add_device", ref=f"f{i}", kind="cabinet_fan", place="cabinet") for i in range(3)]
    assert brings(shut, fans) == ""
    crowded = after(shut, edit_call("resize_unit", ref="C1", width=1850))
    said = brings(crowded, fans)
    assert said and said.startswith("console C1: 5 fixings")
    assert ("structure.fixing", "C1") in must(after(crowded, *fans)) - must(crowded)
    (item,) = (one for one in RULES["services.hot_bay"].find(crowded) if one.where == "C1.1")
    assert "would do it, and would bring this: console C1: 5 fixings" in item.cure
    assert not any(call.edit == "add_device" for call in item.edits)


@pytest.mark.parametrize("name", ["shut", "living_faults"])
def test_a_box_that_is_offered_brings_nothing_that_must_be_mended(name: str, shut: Wall) -> None:
    wall = shut if name == "shut" else room(name)
    offered = [
        item
        for rule in ("services.hot_bay", "cooling.device_air", "services.remote_blocked")
        for item in RULES[rule].find(wall)
        if any(call.edit == "add_device" for call in item.edits)
    ]
    assert offered
    before = must(wall)
    for item in offered:
        assert not must(after(wall, *item.edits)) - before, item.cure


def test_a_repeater_goes_to_the_first_place_where_its_plug_reaches_a_socket() -> None:
    """By the console its lead would end at a socket that somebody pinned elsewhere, through the wall."""
    wall = room("living_faults")

    def told(there: Wall) -> list[Finding]:
        return [item for item in RULES["services.remote_blocked"].find(there) if item.edits]

    (item,) = told(wall)
    (edit,) = item.edits
    assert dict(edit.values)["place"] != "auto" and "its box" in item.cure and not told(after(wall, edit))
    usual = brings(wall, (edit_call("add_device", ref="eye1", kind="infrared_repeater"),))
    assert usual and "could only go through the wall" in usual


def test_where_no_place_is_clean_the_repeater_is_told_in_words(
    shut: Wall, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(reach_cures, "brings", lambda *_: "its outlet P9 lies behind the wall cleat")
    found = list(RULES["services.remote_blocked"].find(shut))
    assert found and not any(item.edits for item in found)
    assert all(
        "now it would bring this: its outlet P9 lies behind the wall cleat" in item.cure for item in found
    )


def test_an_edit_that_cannot_be_made_is_none(shut: Wall) -> None:
    assert brings(shut, (edit_call("add_device", ref="amp", kind="cabinet_fan"),)) is None  # the ref is taken
    assert brings(shut, ()) == ""


def test_a_fan_behind_its_grille_needs_no_air_over_it(shut: Wall) -> None:
    def low(kind: str) -> list[str]:
        there = after(shut, edit_call("add_device", ref="f", kind=kind, place="cabinet", height=340))
        bay = max(bay.box.height for bay in there.carcass.bays if bay.unit == "C1")
        assert 340 < bay < 390
        return [item.where for item in RULES["reach.device_height"].find(there)]

    assert low("cabinet_fan") == [] and low("media_player") == ["f"]
