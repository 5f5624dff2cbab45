"""A narrow wall with a column in its left corner, a pipe in its right one and a beam over all of it: a tower over each corner.

Invented; worked by hand beforehand: 2850 × 2750, beam soffit 2450, column 400 wide and 250 proud, pipe 80 × 80; a 75 in screen of
1673 × 960 in the middle at 1425. Towers 400 wide: 2050 between them, 188 beside the frame; 350 − 250 = 100 in front of the column;
a tower of 2430 × 350 needs a diagonal of 2455 to be stood up, under 2750.
"""

from __future__ import annotations

from decimal import Decimal
from math import atan2, degrees, hypot

import pytest

from wallwright.derive import Wall, derive
from wallwright.job.edits import apply
from wallwright.job.read import read_job
from wallwright.rules import check
from wallwright.sight.compare import compare

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


def test_in_the_middle_of_the_free_width_it_would_hang_beside_the_seats(wall: Wall) -> None:
    """The hand's first way: at 1625, 200 beside the seat, 3.8°: harmless, but it looks shifted. The towers keep it on the axis: 0°."""
    aside = derive(apply(wall.job, "set_screen_x", {"centre_x": 1625}))
    assert degrees(atan2(200, 3000)) == pytest.approx(3.8, abs=0.02)
    assert abs(aside.sight.seats[0].sideways) == pytest.approx(
        degrees(atan2(200, 3000 - 120)), abs=0.01
    )  # 60 off the wall, 60 deep
    assert not [item for item in check(aside) if item.rule in ("sight.sideways", "sight.axis")]
    assert wall.sight.seats[0].sideways == pytest.approx(0, abs=1e-6)


def test_the_sizes(wall: Wall) -> None:
    """75 in 30.9°, 65 in 27.0° from 3000. The picture stands off the wall, so the eye is nearer to it than that: a little more."""
    away = {row.diagonal: row.seats[0].picture_angle for row in compare(wall.job)}
    for diagonal, width, angle in ((75, 1660.3, 30.9), (65, 1438.9, 27.0)):
        assert 2 * degrees(atan2(width / 2, 3000)) == pytest.approx(angle, abs=0.05)
        assert angle < away[diagonal] < angle + 1.5


@pytest.mark.parametrize(
    ("direct", "all_in", "fits"), [(579, 688, True), (794, 943, True), (1072, 1273, False)]
)
def test_the_hands_prices(direct: int, all_in: int, fits: bool) -> None:
    """Direct, a tenth of reserve, 8 % on top, of 950: laminate, with flutes (7 left), with veneer and stone. Rates of the hand's own, so
    here only its arithmetic; in the demo rates the way back is tried in tests/options/test_budget.py."""
    price = (Decimal(direct) * Decimal("1.10") * Decimal("1.08")).quantize(Decimal(1))
    assert abs(price - all_in) <= 1
    assert (price <= 950) == fits
