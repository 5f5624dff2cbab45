"""Cures of structure that must be possible to make, and what is said where fixings would go into a column."""

from __future__ import annotations

import pytest

from wallwright.core.finding import Finding
from wallwright.derive import Wall, derive
from wallwright.job.demos import demo_jobs
from wallwright.job.edits import apply
from wallwright.job.read import read_job
from wallwright.rules import RULES, check

Edit = tuple[str, dict[str, object]]


def living(*edits: Edit) -> Wall:
    job = read_job(demo_jobs()["living"])
    for name, values in edits:
        job = apply(job, name, values)
    return derive(job)


def bench(height: float, shelves: int = 0) -> Wall:
    """A console of 760 on legs of 120, of ply 18, 60 kg on a metre of its boards."""
    bays = [{"front": "open", "shelves": shelves}]
    return living(
        ("remove_unit", {"ref": "C1"}),
        ("add_unit", {"ref": "B1", "kind": "console", "x": 1600, "width": 760, "height": height}),
        ("set_unit_hung", {"ref": "B1", "hung": False}),
        ("set_unit_base", {"ref": "B1", "base": "legs"}),
        ("set_unit_board", {"ref": "B1", "board": "ply18"}),
        ("set_unit_bays", {"ref": "B1", "bays": bays}),
        ("set_unit_load", {"ref": "B1", "load": 60}),
    )  # fmt: skip


def sags(wall: Wall) -> list[Finding]:
    return [item for item in RULES["structure.shelf_sag"].find(wall) if item.where.startswith("B1")]


@pytest.mark.parametrize(
    ("height", "shelves", "goes"), [(183, 0, False), (500, 0, True), (345, 3, False), (500, 3, True)]
)
def test_a_thicker_board_is_offered_only_where_the_unit_can_be_made_of_it(height, shelves, goes):
    """By hand, boards of 18 and 25 faced with 0.8 on both sides are 19.6 and 26.6 thick. 183 less legs of 120 leaves 63: two of 18
    leave 24, two of 25 leave 10 and no inside. 345 leaves 225: three shelves of 19.6 in 185.8 leave 31.8 between, 30 wanted; three
    of 26.6 in 171.8 leave 23.
    """
    wall = bench(height, shelves)
    found = sags(wall)
    assert found and all("upright" in item.cure for item in found)
    thick = [edit for item in found for edit in item.edits if dict(edit.values)["board"] == "blockboard25"]
    assert bool(thick) == goes
    for item in found:
        for edit in item.edits:
            cured = derive(apply(wall.job, edit.edit, dict(edit.values)))  # raises nothing
            assert item.where not in {still.where for still in sags(cured)}


COLUMN: Edit = (
    "add_obstacle",
    {"ref": "CO", "kind": "column", "x": 0, "z": 0, "width": 480, "height": 2700, "projection": 100},
)


def test_a_tower_s_restraints_are_not_set_out_in_a_column():
    """The demo's left tower stands from 25 to 475: behind all of it the column."""
    wall = living(("move_unit", {"ref": "T1", "x": 25}), COLUMN)
    (item,) = [one for one in check(wall) if one.rule == "structure.fixing" and one.where == "T1"]
    assert item.severity == "danger" and "CO" in item.says and "find out what CO is" in item.cure
    assert not [one for one in check(living()) if one.rule == "structure.fixing"]
    aside = living(("move_unit", {"ref": "T1", "x": 25}), ("add_obstacle", {**COLUMN[1], "width": 120}))
    assert not [one for one in check(aside) if one.rule == "structure.fixing" and one.where == "T1"]


def test_screws_that_bend_across_a_panel_are_told_so():
    """On studs the demo's console before its panel: leave the panel out behind it, more screws alone do not help."""
    studs: Edit = ("set_studs", {"spacing": 600, "studs": [300, 900, 1500, 2100, 2700, 3300, 3900]})
    behind: Edit = ("resize_panel", {"ref": "W1", "height": 2300})
    wall = living(
        ("set_substrate", {"kind": "metal_stud", "leaf": 100}),
        studs,
        ("move_panel", {"ref": "W1", "z": 100}),
        behind,
    )
    (item,) = [one for one in RULES["structure.fixing"].find(wall) if one.where == "C1"]
    assert "bend across" in item.cure and "leave the panel out" in item.cure
