"""What stands on the wall where a unit is set: columns, pipes, skirting; and walls that are not true."""

from math import hypot

import pytest

from tests.carcass.test_every_kind import meets, solid
from wallwright.carcass.room import taper
from wallwright.core.shape import Block, Box
from wallwright.core.units import Length
from wallwright.job.brief import Brief
from wallwright.job.design import Bay, Unit
from wallwright.job.face import obstacle_box
from wallwright.job.survey import Obstacle, Reading, Room, Survey, SurveyedWall

L = Length
COLUMN = Obstacle("CO", "column", L(0), L(0), L(400), L(2750), L(250))
BEAM = Obstacle("BE", "beam", L(0), L(2450), L(2850), L(300), L(250))
PIPE = Obstacle("PI", "pipe", L(2770), L(0), L(80), L(2450), L(80))
SKIRTING = Obstacle("SK", "skirting", L(0), L(0), L(4200), L(100), L(18))


def narrow(wall, depth=350, **more):
    """A wall 2850 × 2750 with a column in its left corner, a beam over all of it and a pipe in its right corner; a 75 in screen
    in the middle, and a tower of 400 over each corner.
    """
    towers = (
        Unit("T1", "tower", "left", x=L(0), width=L(400), depth=L(depth), bays=(Bay("open", shelves=2), Bay("open", shelves=3))),
        Unit("T2", "tower", "right", x=L(2450), width=L(400), depth=L(depth), bays=(Bay("open", shelves=2), Bay("open", shelves=3))),
    )  # fmt: skip
    return wall(
        *towers, Unit("C1", "console"), width=2850, height=2750, frame=Box(1425 - 1673 / 2, 590, 1673, 960),
        obstacles=(COLUMN, BEAM, PIPE), **more,
    )  # fmt: skip


def test_a_column_is_wrapped_by_one_tower_and_matched_by_the_other(wall):
    """By hand: 2050 between the towers, 188 beside a frame of 1673; 350 − 250 less 5 of
    clearance and a back of 9 is 86 in front of the column; the tower ends under
    the beam at 2450, and 2400 × 350 is stood up on its diagonal of 2425, within the 2455 of 2430 × 350 and the 2750 there are.
    """
    made = narrow(wall)
    left, right = made.setout.unit("T1"), made.setout.unit("T2")
    assert right.box.x - left.box.right == 2050
    assert made.frame.x - left.box.right == pytest.approx(188.5) == right.box.x - made.frame.right
    assert left.box.top == right.box.top == 2450 - 50
    assert hypot(2430, 350) == pytest.approx(2455, abs=0.5)
    assert hypot(left.box.height, left.depth) < 2455 < 2750
    (column,) = (item for item in made.carcass.behind if item.unit == "T1")
    assert (column.thing, column.proud, column.left) == ("CO", 250, 350 - 250 - 5 - 9)
    (pipe,) = (item for item in made.carcass.behind if item.unit == "T2")
    assert (pipe.thing, pipe.left) == ("PI", 350 - 80 - 5 - 9)
    whys = {why.name: why.value for why in made.carcass.whys}
    assert whys["unit T1.before_CO"] == 86


def test_no_board_of_a_wrapped_tower_stands_in_the_column_or_the_pipe(wall):
    made = narrow(wall)
    solid(made)
    for thing in (COLUMN, PIPE):
        box = obstacle_box(thing)
        stands = Block(box.x, -thing.projection.mm, box.z, box.width, thing.projection.mm, box.height)
        for part in made.carcass.parts:
            common = meets(part.block, stands)
            if common:
                assert any(
                    hole.overlap(stands) >= common[0] * common[1] * common[2] - 1 for hole in part.cuts
                ), part.id


def test_the_bays_before_the_column_are_as_shallow_as_they_come_out(wall):
    """100 in front of the column, less 5 clear of it and a back of 9: 86 (by hand)."""
    made = narrow(wall)
    depths = {bay.ref: bay.depth for bay in made.carcass.bays}
    assert depths["T1.1"] == pytest.approx(100 - 5 - 9)
    assert depths["T2.1"] == pytest.approx(350 - 80 - 5 - 9)


def test_boards_that_meet_the_pipe_are_notched_and_lighter(wall):
    made = narrow(wall)
    parts = {part.id: part for part in made.carcass.parts}
    bottom = next(part for part in made.carcass.parts if part.unit == "T2" and part.role == "bottom")
    (notch,) = bottom.cuts
    assert notch.dx == pytest.approx(85 - 19.6) and notch.dy == pytest.approx(
        85
    )  # 80 and 5 clear; the side takes the rest
    whole = bottom.length * bottom.width
    free = next(
        part
        for part in made.carcass.parts
        if (part.unit == "T2" and part.role == "division") or part.name == "top"
    )
    assert free.mass > 0
    assert bottom.mass == pytest.approx(
        (whole - notch.dx * notch.dy) * (0.6 * 18 + 2 * 0.8 * 1.4) / 1e6, rel=0.05
    )
    side = next(part for part in parts.values() if part.unit == "T2" and part.id.endswith("-R"))
    assert side.width == pytest.approx(350 - 85)  # it ends in front of the pipe


def test_a_column_that_leaves_no_inside_is_not_built_round(wall):
    made = narrow(wall, depth=300)
    assert not [item for item in made.carcass.behind if item.unit == "T1"]


def test_a_hung_console_over_a_pipe_hangs_on_two_lengths_of_cleat(wall):
    pipe = Obstacle("PI", "pipe", L(2000), L(0), L(60), L(2700), L(60))
    made = wall(Unit("C1", "console", x=L(1200), width=L(1800)), obstacles=(pipe,))
    cleats = sorted(
        (part.block for part in made.carcass.parts if part.role == "cleat"), key=lambda block: block.x
    )
    assert len(cleats) == 2
    assert cleats[0].x + cleats[0].dx == 2000 - 5 and cleats[1].x == 2060 + 5
    solid(made)


def test_the_sides_are_notched_over_the_skirting_where_it_is_kept(wall):
    def tower(unit, brief=Brief()):
        return wall(unit, obstacles=(SKIRTING,), brief=brief).carcass

    notched = tower(Unit("T1", "tower", "left", skirting="notch"))
    cut = tower(Unit("T1", "tower", "left"))
    side = next(part for part in notched.parts if part.id == "T1a-L")
    (hole,) = side.cuts
    assert hole.dy == 18 + 5 and hole.z + hole.dz == 100 + 5
    assert not [item for item in notched.hardware if item.kind == "skirting_cut"]
    assert [item for item in cut.hardware if item.kind == "skirting_cut"]
    assert not [part for part in cut.parts if part.cuts]
    rear = {part.id: part.block.y + part.block.dy for part in notched.parts}
    assert rear["T1-P2"] == -(18 + 5)  # the plinth stands in front of it
    rented = tower(Unit("T1", "tower", "left"), Brief(tenure="rent"))
    assert not [item for item in rented.hardware if item.kind == "skirting_cut"]


def test_a_filler_is_cut_for_the_widest_place_of_the_wall():
    """4200 at the foot, 4230 at 1 m, 4215 at 2.2 m: straight between; over all of it 30 mm more than the narrowest."""
    wall = SurveyedWall(
        (Reading(L(100), L(4200)), Reading(L(1000), L(4230)), Reading(L(2200), L(4215))),
        (Reading(L(0), L(2700)),),
    )
    survey = Survey(Room(), wall)
    assert taper(survey, 0, 2500) == 30
    assert taper(survey, 1500, 2200) == pytest.approx(30 - 15 * 500 / 1200)
    assert taper(survey, 100, 550) == pytest.approx(15)  # half way up to 1 m
    assert taper(survey, 2300, 2500) == 15  # the unit is set out to the narrowest, 4200


def test_in_a_handleless_bay_loose_shelves_keep_below_the_rail(wall):
    made = wall(Unit("C1", "console", height=L(400), opening="gap", bays=(Bay("shutter", shelves=5),) * 2))
    solid(made)
    rail = min(part.block.z for part in made.carcass.parts if part.role == "gap_rail")
    assert max(part.block.z + part.block.dz for part in made.carcass.parts if part.role == "shelf") < rail


def test_a_screen_off_the_wall_still_lets_the_console_be_set_out(wall):
    for x in (-6000.0, -800.0, 3900.0, 9000.0):
        made = wall(
            Unit("C1", "console", bays=(Bay("drawers"), Bay("flap"), Bay("drawers"))), Unit("T1", "tower", "left"),
            Unit("T2", "tower", "right"), frame=Box(x, 735, 1450, 830),
        )  # fmt: skip
        assert made.setout.unit("C1").box.width >= 600
        assert made.carcass.parts


def test_a_unit_is_packed_off_the_highest_spot_of_its_wall(wall):
    """A grid of plumb readings: 9 mm between the highest and the deepest behind the tower, 2 behind the console."""
    from dataclasses import replace

    from wallwright.carcass import plan as carcass_plan
    from wallwright.job.survey import Relief

    made = wall(Unit("T1", "tower", "left"), Unit("C1", "console"))
    grid = tuple(
        Relief(L(x), L(z), L(out)) for x, z, out in
        [(0, 0, 0), (0, 2700, -3), (600, 0, 6), (600, 2700, 2), (1000, 0, 4), (1000, 2700, 4), (3500, 0, 4), (3500, 2700, 6)]
    )  # fmt: skip
    survey = replace(made.job.survey, wall=replace(made.job.survey.wall, relief=grid))
    carcass = carcass_plan.plan(replace(made.job, survey=survey), made.face, made.setout, made.limits)
    packers = {item.unit: item.note for item in carcass.hardware if item.kind == "packer"}
    assert list(packers) == ["T1"] and "up to 9 mm" in packers["T1"]
    assert {why.name: why.value for why in carcass.whys}["unit T1.wall_relief"] == 9
    leaning = replace(made.job.survey, wall=replace(made.job.survey.wall, out_of_plumb=L(-14)))
    carcass = carcass_plan.plan(replace(made.job, survey=leaning), made.face, made.setout, made.limits)
    assert [item.unit for item in carcass.hardware if item.kind == "packer"] == [
        "T1"
    ]  # 14 over 2700, 2 over the console
