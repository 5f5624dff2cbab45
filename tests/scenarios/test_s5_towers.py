"""A narrow wall with a column in its left corner, a pipe in its right one and a beam over all of it: a tower over each corner.

Invented; worked by hand beforehand: 2850 × 2750, beam soffit 2450, column 400 wide and 250 proud, pipe 80 × 80; a 75 in screen of
1673 × 960 in the middle at 1425. Towers 400 wide: 2050 between them, 188 beside the frame; 350 − 250 = 100 in front of the column;
a tower of 2430 × 350 needs a diagonal of 2455 to be stood up, under 2750.
"""

from __future__ import annotations

from math import hypot

import pytest

from wallwright.derive import Wall, derive
from wallwright.job.edits import apply
from wallwright.job.read import read_job
from wallwright.rules import check

JOB = """wallwright-job = 1
title = "Narrow wall with a column"
[survey]
date = "2026-02-16"
finish_complete = true
[survey.room]
depth = 4000
floor_finished = true
[survey.wall]
widths = [{ at = 1000, value = { value = 2850, state = "verified" } }]
heights = [{ at = 1400, value = { value = 2750, state = "verified" } }]
substrate = "brick"
leaf = 230
damp = "dry"
[survey.access]
door_width = 850
door_height = 2050
[[survey.obstacles]]
ref = "CO"
kind = "column"
x = 0
z = 0
width = 400
height = 2750
projection = 250
[[survey.obstacles]]
ref = "BE"
kind = "beam"
x = 0
z = 2450
width = 2850
height = 300
projection = 250
[[survey.obstacles]]
ref = "PI"
kind = "pipe"
x = 2770
z = 0
width = 80
height = 2450
projection = 80
[[survey.seats]]
ref = "A"
kind = "sofa"
x = 1425
distance = 3000
eye_height = 1070
[design.screen]
diagonal = 75
centre_x = 1425
centre_height = 1070
frame_width = 1673
frame_height = 960
frame_depth = 60
mass = 33
source = "measured"
[[design.units]]
ref = "T1"
kind = "tower"
side = "left"
x = 0
width = 400
depth = 350
bays = [{ front = "open", shelves = 2, width = 1000 }, { front = "open", shelves = 3 }]
[[design.units]]
ref = "T2"
kind = "tower"
side = "right"
x = 2450
width = 400
depth = 350
bays = [{ front = "open", shelves = 2, width = 1000 }, { front = "open", shelves = 3 }]
[[design.units]]
ref = "C1"
kind = "console"
"""


@pytest.fixture(scope="module")
def wall() -> Wall:
    return derive(read_job(JOB))


def test_the_two_towers_wrap_both_corners_about_the_screen(wall: Wall) -> None:
    left, right = wall.setout.unit("T1").box, wall.setout.unit("T2").box
    frame = wall.sight.screen.frame
    assert right.x - left.right == 2050
    assert round(frame.x - left.right) == round(right.x - frame.right) == 188
    assert left.top == right.top == 2400  # under the soffit with a filler of 50; by hand 2430 and 20
    assert {part.id for part in wall.carcass.parts if part.name == "top filler"} == {"T1-XT", "T2-XT"}


def test_what_is_left_in_front_of_the_column_is_said(wall: Wall) -> None:
    """Clear inside, by hand: 350 less what stands proud (250 and 80), 5 of clearance and a back of 9."""
    behind = {item.unit: (item.thing, item.left) for item in wall.carcass.behind}
    assert behind == {"T1": ("CO", 86), "T2": ("PI", 256)}
    said = [item for item in check(wall) if item.rule == "carcass.column_depth"]
    assert [(item.where, item.measured) for item in said] == [("T1", 86)]
    deeper = derive(apply(read_job(JOB), said[0].edits[0].edit, dict(said[0].edits[0].values)))
    assert not [item for item in check(deeper) if item.rule == "carcass.column_depth"]
    assert not [item for item in check(wall) if item.rule == "carcass.unit_obstacle"]


def test_the_towers_stand_up_in_front_of_the_beam(wall: Wall) -> None:
    assert hypot(2430, 350) == pytest.approx(2455, abs=0.5)
    for tower in wall.structure.towers:
        assert tower.tilt_up < 2455 < wall.face.height
    assert not [item for item in check(wall) if item.rule == "carcass.tilt_up"]


def test_the_boxes_come_in_by_the_door(wall: Wall) -> None:
    assert {item.unit for item in wall.carcass.carried} == {"T1", "T2", "C1"}
    assert all(item.passes for item in wall.carcass.carried)
