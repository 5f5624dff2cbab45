"""Cures of structure that must be possible to make, and what is said where fixings would go into a column."""

from __future__ import annotations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from wallwright.carcass.record import Shelf, UnitBox
from wallwright.carcass.straight import inside_depth, longest
from wallwright.core.finding import Finding
from wallwright.core.shape import Box
from wallwright.derive import Wall, derive
from wallwright.job.demos import demo_jobs
from wallwright.job.edits import apply
from wallwright.job.read import read_job
from wallwright.library import load
from wallwright.rules import RULES, check
from wallwright.structure import group
from wallwright.structure.shelves import check as structure_check
from wallwright.structure.shelves import sag_limits
from wallwright.tables.fixings import fixings

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
    thick = [
        edit for item in found for edit in item.edits if dict(edit.values).get("board") == "blockboard25"
    ]
    assert bool(thick) == goes
    for item in found:
        assert item.edits  # a thicker board, else an upright
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


def test_a_column_known_to_be_concrete_clears_the_stop():
    """Saying what it is clears it, and the fixings table says whose leave is asked; half a plate on it does not."""
    onto = ("move_unit", {"ref": "T1", "x": 25})
    said: Edit = ("set_obstacle_substrate", {"ref": "CO", "substrate": "concrete"})
    assert [one for one in check(living(onto, COLUMN)) if one.rule == "structure.fixing"]
    wall = living(onto, COLUMN, said)
    assert not [one for one in check(wall) if one.rule == "structure.fixing"]
    assert any("T1" in note and "CO (concrete)" in note for note in fixings(wall).notes)
    assert not any("CO" in note for note in fixings(living()).notes)
    plate = living().sight.screen.plate
    half = {**COLUMN[1], "x": plate.centre[0], "projection": 0}
    held: Edit = ("set_screen_x", {"centre_x": plate.centre[0]})
    wall = living(held, ("add_obstacle", half), said)
    (item,) = [one for one in check(wall) if one.rule == "structure.fixing" and one.where == "screen"]
    assert item.where == "screen" and "partly on CO" in item.says and "wholly" in item.cure


def alone(kind: str, width: float, **values: object) -> Wall:
    """A unit alone on the demo's wall, kept clear of its screen by its own place."""
    job = read_job(demo_jobs()["living"])
    for unit in job.design.units:
        job = apply(job, "remove_unit", {"ref": unit.ref})
    for light in job.design.lights:
        job = apply(job, "remove_light", {"ref": light.ref})
    at = max(0.0, 2100 - width / 2)
    job = apply(job, "add_unit", {"ref": "U1", "kind": kind, "x": at, "width": width})
    for name, value in values.items():
        edit, _, field = name.partition("__")
        job = apply(job, edit, {"ref": "U1", field: value})
    return derive(job)


@pytest.mark.parametrize("kind", ["loft", "console", "open_shelves"])
@pytest.mark.parametrize("width", [500, 700, 800, 900, 1200, 1500, 1700, 2400, 3000, 3600])
def test_an_automatic_unit_divides_itself_before_its_boards_sag(kind, width):
    wall = alone(kind, width)
    assert wall.structure.shelves
    assert not [one for one in check(wall) if one.rule in ("structure.shelf_sag", "structure.shelf_breaks")]


@settings(max_examples=25, deadline=None)
@given(
    st.sampled_from(["loft", "console", "open_shelves"]), st.floats(450, 3800),
    st.sampled_from(["ply18", "mdf18", "particleboard18", "ply25", "blockboard19"]), st.floats(5, 60), st.booleans(),
)  # fmt: skip
def test_the_span_that_automatic_bays_are_divided_by_is_one_that_passes(kind, width, board, kg, humid):
    """The carcass's closed form against the check of structure, of the same board at its least depth, and at more."""
    limits = load.limits()
    unit = UnitBox("U1", kind, "centre", Box(0, 0, width, 400), 350.0, True, True, board, "", frozenset())
    least = longest(unit, inside_depth(unit), kg, limits, humid=humid)
    held_to = sag_limits(limits, humid=humid)
    for depth in (inside_depth(unit), 310.0, 350.0):
        thick = load.boards()[board].thickness
        shelf = Shelf("U1.1-bottom", "U1", 500.0, depth, thick, board, kg, Box(0, 0, 500, thick))
        assert least <= structure_check(shelf, kg, held_to).longest * (1 + 1e-9)
    if not humid:
        same = Shelf("U1.1-bottom", "U1", 500.0, inside_depth(unit), thick, board, kg, Box(0, 0, 500, thick))
        assert least == pytest.approx(structure_check(same, kg, held_to).longest)


def test_a_wide_flap_is_cured_by_an_upright():
    """No board of the library holds 1160 mm straight: the bay is put in two, with an edit, and then holds."""
    wall = alone("loft", 1200, set_unit_bays__bays=[{"front": "flap"}])
    (item,) = RULES["structure.shelf_sag"].find(wall)
    (edit,) = item.edits
    assert edit.edit == "set_unit_bays"
    cured = derive(apply(wall.job, edit.edit, dict(edit.values)))
    assert [bay.front for bay in cured.carcass.bays] == ["flap", "flap"]
    assert not list(RULES["structure.shelf_sag"].find(cured))


STUDS = (300, 900, 1500, 2100, 2700, 3300, 3900)


def framed(substrate: str, studs: tuple[float, ...], *edits: Edit) -> Edit | tuple[Edit, ...]:
    return (
        ("set_substrate", {"kind": substrate, "leaf": 100}),
        ("set_studs", {"spacing": 600, "studs": list(studs)}),
        *edits,
    )


def found(wall: Wall, rule: str, where: str) -> list[Finding]:
    return [one for one in RULES[rule].find(wall) if one.where == where]


def test_a_partition_of_which_nobody_counted_the_layers_carries_as_one():
    """0.4 kN/m on one layer, 0.7 on two (DIN 18183-1); the person on it counts in the rule as in its working."""
    job = alone("console", 1800).job
    for name, values in framed("metal_stud", STUDS, ("set_unit_load", {"ref": "U1", "load": 0})):
        job = apply(job, name, values)
    job = apply(job, "set_limit", {"name": "structure.lean_sit", "value": 10})
    job = apply(job, "set_limit", {"name": "structure.lean", "value": 10})
    job = apply(job, "set_limit", {"name": "carcass.load_top", "value": 70})
    wall = derive(job)
    (item,) = found(wall, "structure.stud_bench", "U1")
    assert 0.4 < item.measured < 0.7 and item.limit == 0.4 and "1 layer of boarding" in item.says
    assert "second layer" in item.cure
    why = next(one for one in wall.structure.whys if one.name == "fixing U1.line_load")
    assert why.value == pytest.approx(item.measured, abs=0.01)
    assert not found(derive(apply(job, "set_boarding", {"layers": 2})), "structure.stud_bench", "U1")
    sat = derive(apply(job, "set_limit", {"name": "structure.lean", "value": 1000}))
    sat = derive(apply(sat.job, "set_limit", {"name": "structure.lean_sit", "value": 1000}))
    (more,) = found(sat, "structure.stud_bench", "U1")
    assert more.measured == pytest.approx(item.measured + 990 / 1800, abs=0.02)


def test_nothing_under_the_ceiling_is_told_to_stand_on_the_floor():
    wall = alone("loft", 1800, set_unit_load__load=400)
    job = wall.job
    for name, values in framed("metal_stud", STUDS):
        job = apply(job, name, values)
    told = [
        *found(derive(job), "structure.fixing", "U1"), *found(derive(job), "structure.stud_bench", "U1"),
        *found(derive(apply(job, "set_substrate", {"kind": "aac_block", "leaf": 200})), "structure.fixing", "U1"),
    ]  # fmt: skip
    assert len(told) >= 2
    for item in told:
        assert "floor" not in item.cure and not [edit for edit in item.edits if edit.edit == "set_unit_hung"]


def test_a_cure_names_its_cause():
    """A fixing used too far by its neighbours, by too few with no room for more, by one side: each is told so, none what is so."""
    job = alone("console", 900, set_unit_load__load=60).job
    (few,) = found(derive(job), "structure.fixing", "U1")
    check_ = next(one for one in derive(job).structure.fixings if one.ref == "U1")
    assert (
        check_.needed > check_.count
        and f"asks for {check_.needed} fixings and {check_.count} have room" in few.cure
    )
    job = apply(job, "move_unit", {"ref": "U1", "z": 1000})  # where nobody leans on it
    for name, values in framed("timber_stud", (1700, 1790)):
        job = apply(job, name, values)
    (aside,) = found(derive(job), "structure.fixing", "U1")
    assert "to one side" in aside.cure and "studs" in aside.cure
    assert all(f"use {one.count} fixings" not in aside.cure for one in derive(job).structure.fixings)


def test_one_line_of_holes_is_a_danger():
    """A box so narrow that a single hole has room, though it takes hardly any of its load."""
    wall = alone("console", 110, set_unit_bays__bays=[{"front": "shutter"}], move_unit__z=1000)
    (item,) = found(wall, "structure.fixing", "U1")
    assert item.severity == "danger" and "one line of holes" in item.cure
    assert found(wall, "structure.overhang", "U1")


def test_rods_that_no_wall_holds_are_a_danger_and_said_once():
    job = apply(read_job(demo_jobs()["living"]), "set_substrate", {"kind": "aac_block", "leaf": 200})
    wall = derive(job)
    (item,) = RULES["structure.rods"].find(wall)
    assert item.severity == "danger" and not found(wall, "structure.fixing", item.where)
    bracket = next(one for one in derive(read_job(demo_jobs()["living"])).structure.fixings if one.rods)
    assert (bracket.hole_depth, bracket.hole_diameter) == (100, 14)


@pytest.mark.parametrize(
    ("studs", "aside"),
    [
        ([1200, 1400, 1600, 1800, 2000], True),  # five lines at one end of 1159 to 3041
        ([1200, 1700, 2200, 2700], False),  # the mean would do, the worst of four set evenly would not
        ([1200, 1650, 2100], False),
        ([900, 1500, 2100], False),
    ],
)
def test_fixings_stand_to_one_side_only_where_evenly_set_they_would_do(studs: list[int], aside: bool) -> None:
    """The worst of so many lines evenly along the unit, as supports of a beam, is what they could give: under 1, and their place is the
    cause; over 1, and more or stronger ones are asked for."""
    room = "bedroom" if studs[0] == 900 else "living"
    job = read_job(demo_jobs()[room])
    job = apply(job, "set_substrate", {"kind": "timber_stud", "leaf": 100})
    wall = derive(apply(job, "set_studs", {"spacing": 600, "studs": studs}))
    check = next(item for item in wall.structure.fixings if item.ref == "C1")
    unit = wall.setout.unit("C1").box
    lines = len({x for x, _ in check.holes})
    pitch = (unit.width - 80) / (lines - 1)
    evenly = group.worst_share([unit.x + 40 + k * pitch for k in range(lines)], (unit.x, unit.right))
    assert check.used > 1
    assert (check.used / check.uneven * min(evenly, check.uneven) <= 1) is aside
    (found,) = [item for item in RULES["structure.fixing"].find(wall) if item.where == "C1"]
    assert ("to one side" in found.cure) is aside
