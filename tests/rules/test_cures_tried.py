"""Cures that are tried before they are said: fewer holes, a board for a bent niche, a move onto the screen's line, a fixing's way out."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from typing import Any

import pytest

from wallwright.carcass.record import BayBox
from wallwright.cooling import plan as cooling
from wallwright.cooling.record import Cooling
from wallwright.core.finding import Finding
from wallwright.derive import Wall, derive
from wallwright.job.demos import demo_jobs
from wallwright.job.document import Job
from wallwright.job.edits import apply
from wallwright.job.read import read_job
from wallwright.rules import RULES
from wallwright.rules.rented_cures import holes
from wallwright.services.record import PlacedDevice
from wallwright.structure.record import FixingCheck

Step = tuple[str, dict[str, Any]]
RENT: Step = ("set_tenure", {"tenure": "rent"})
NICHE: Step = ("add_unit", {"ref": "N1", "kind": "arched_niche", "x": 3000, "z": 1500, "width": 700})


def room(*steps: Step, name: str = "living") -> Wall:
    job = read_job(demo_jobs()[name])
    for edit, values in steps:
        job = apply(job, edit, values)
    return derive(job)


def told(rule: str, wall: Wall, where: str = "") -> list[Finding]:
    return [item for item in RULES[rule].find(wall) if where in ("", item.where)]


def cured(wall: Wall, item: Finding) -> Wall:
    job = wall.job
    for call in item.edits:
        job = apply(job, call.edit, dict(call.values))
    return derive(job)


def test_a_rented_wall_is_told_only_what_leaves_fewer_holes() -> None:
    """Its console on the floor would want two batten screws more: not a word of it. Without the panel there are fewer, still too many."""
    wall = room(RENT)
    (item,) = told("structure.rented", wall)
    now = sum(holes(wall).values())
    floor = derive(apply(wall.job, "set_unit_hung", {"ref": "C1", "hung": False}))
    assert sum(holes(floor).values()) >= now and "on the floor" not in item.cure
    bare = derive(apply(wall.job, "remove_panel", {"ref": "W1"}))
    assert 12 < sum(holes(bare).values()) < now
    assert f"leave the panel off ({sum(holes(bare).values())} are left)" in item.cure and not item.edits


def test_a_rented_wall_is_offered_the_edits_that_keep_to_the_number() -> None:
    bare = sum(holes(room(RENT, ("remove_panel", {"ref": "W1"}))).values())
    wall = room(RENT, ("set_limit", {"name": "rule.holes_rented", "value": bare}))
    (item,) = told("structure.rented", wall)
    assert item.edits and not told("structure.rented", cured(wall, item))


@pytest.mark.parametrize("board", ["ply18", "blockboard19"])
def test_a_bent_niche_is_not_told_to_change_the_board_it_is_not_bent_of(board: str) -> None:
    """Bending plywood lines its arch whatever the niche is built of: a kerfed lining is of the niche's own board."""
    wall = room(NICHE, ("set_unit_board", {"ref": "N1", "board": board}))
    (item,) = told("materials.emission_board", wall, "N1")
    assert "kerf" in item.cure and item.edits
    after = cured(wall, item)
    assert not told("materials.emission_board", after, "N1")
    sags = [one.where for one in told("structure.shelf_sag", after) if one.where.startswith("N1")]
    assert sags == [one.where for one in told("structure.shelf_sag", wall) if one.where.startswith("N1")]


def test_where_no_board_suits_nothing_is_offered(monkeypatch: pytest.MonkeyPatch) -> None:
    """A board that lets the unit sag more than it does is none."""
    wall = room(("set_unit_board", {"ref": "T1", "board": "blockboard19"}))
    assert told("materials.emission_board", wall, "T1")[0].edits
    real = RULES["structure.shelf_sag"]
    (like, *_) = told("structure.shelf_sag", room(("set_unit_load", {"ref": "T1", "load": 200})))
    worse = [replace(like, where="T1.1-S1", measured=1.0)]

    def sags(one: Wall) -> list[Finding]:
        return list(real.find(one)) if one is wall else worse

    monkeypatch.setitem(RULES, "structure.shelf_sag", replace(real, find=sags))
    (item,) = told("materials.emission_board", wall, "T1")
    assert not item.edits and "no other board" in item.cure


@pytest.mark.parametrize("width", [1460, 1470, 1434])
def test_a_shelf_that_misses_with_both_ends_is_not_moved_from_one_to_the_other(width: int) -> None:
    wall = room(("resize_unit", {"ref": "S1", "width": width}))
    (item,) = told("look.near_miss", wall, "S1")
    assert item.edits and not told("look.near_miss", cured(wall, item), "S1")


def test_a_unit_that_no_edit_moves_onto_the_line_is_told_in_words(monkeypatch: pytest.MonkeyPatch) -> None:
    """What stands where it stood after the edit is not said to have moved."""
    from wallwright.rules import look_line

    wall = room(("move_unit", {"ref": "S1", "x": 1662}))
    assert told("look.near_miss", wall, "S1")[0].edits

    def unmoved(_job: Job) -> Wall:
        return wall

    monkeypatch.setattr(look_line, "boards_of", unmoved)
    (item,) = told("look.near_miss", wall, "S1")
    assert not item.edits and "move S1 well away" in item.cure


def with_check(wall: Wall, ref: str, **values: Any) -> Wall:
    def new(check: FixingCheck) -> FixingCheck:
        return replace(check, **values) if check.ref == ref else check

    return replace(wall, structure=replace(wall.structure, fixings=tuple(map(new, wall.structure.fixings))))


TOO_FEW: dict[str, Any] = {"used": 1.6, "group": 1.0, "uneven": 1.0, "bending": 0.0, "count": 4, "needed": 7}


def test_a_screen_is_never_made_longer() -> None:
    wall = room()
    (item,) = told("structure.fixing", with_check(wall, "screen", **TOO_FEW), "screen")
    assert "longer" not in item.cure and "widen" not in item.cure
    assert "stronger kind of fixing" in item.cure and "backing board" in item.cure and "engineer" in item.cure
    (one,) = told(
        "structure.fixing",
        with_check(wall, "screen", **TOO_FEW, holes=((2000.0, 900.0), (2000.0, 1100.0))), "screen",
    )  # fmt: skip
    assert "two lines of holes" in one.cure and "widen" not in one.cure


def test_a_screen_on_studs_gets_a_backer() -> None:
    wall = room(("set_substrate", {"kind": "metal_stud", "leaf": 100}),
                ("set_studs", {"spacing": 400, "studs": [200 + 400 * k for k in range(10)]}))  # fmt: skip
    (item,) = told("structure.fixing", with_check(wall, "screen", **TOO_FEW, backer=None), "screen")
    assert "let a backer into the wall" in item.cure and "longer" not in item.cure


def test_towers_and_rods_have_their_own_way_out() -> None:
    wall = room()
    held = {check.ref for check in wall.structure.fixings}
    tower = next(unit.ref for unit in wall.setout.units if unit.tall and unit.ref in held)
    (item,) = told("structure.fixing", with_check(wall, tower, **TOO_FEW), tower)
    assert "longer" not in item.cure and "neighbour" in item.cure and "engineer" in item.cure
    (shelf,) = told("structure.fixing", with_check(wall, "S1", **TOO_FEW, rods=True), "S1")
    assert "brackets" in shelf.cure and "shallower" in shelf.cure and "longer" not in shelf.cure
    (console,) = told("structure.fixing", with_check(wall, "C1", **TOO_FEW), "C1")
    assert "make it longer or lighter" in console.cure  # a console can be


def test_ways_to_cool_are_reckoned_once_and_only_for_a_bay_that_is_told(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    tried: list[str] = []
    real = cooling.plan

    def counted(
        job: Job, bays: Sequence[BayBox], devices: Sequence[PlacedDevice], *rest: Any, **named: Any
    ) -> Cooling:
        tried.append(repr((bays, devices)))
        return real(job, bays, devices, *rest, **named)

    cool = room(name="bedroom")
    warm, other = room(), room(("resize_unit", {"ref": "T1", "width": 700}))
    monkeypatch.setattr(cooling, "plan", counted)
    assert not told("services.hot_bay", cool) + told("cooling.device_air", cool)
    assert not tried
    first = told("services.hot_bay", warm)
    many = len(tried)
    assert first and many
    assert told("cooling.device_air", warm) and len(tried) == len(set(tried)) == many
    assert told("services.hot_bay", other)
    assert len(tried) > many  # another wall is reckoned anew
