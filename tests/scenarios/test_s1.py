"""A bedroom watched lying back: 3300 × 3900, bed opposite, A reclines 35° for 60 % of the hours, B sits up at 15°; 55 in.

Invented; the expectations were worked by hand beforehand. Where the program's number differs, the test says which is right and
why. Money and the light's colour are no matter of sight; they are tested with their own trades.
"""

from __future__ import annotations

import math
from dataclasses import replace
from decimal import Decimal

import pytest

from wallwright.derive import Wall, derive
from wallwright.job.document import Job
from wallwright.job.edits import apply
from wallwright.job.read import read_job
from wallwright.rules import check
from wallwright.rules.screen_room import sight_lines
from wallwright.sight.compare import compare
from wallwright.sight.eyes import leaned
from wallwright.sight.heights import Watcher, least_squares, penalty, smallest_worst

MIDDLE = 1650  # x from the wall's middle in the scenario, from its left corner here
AWAY = 3520
OUT = 60 + 75  # a tilting mount's stand-off and the frame's depth, so that the eye is 3520 from the picture
JOB = f"""wallwright-job = 1
title = "Bedroom, reclined"
[survey]
date = "2026-02-16"
finish_complete = true
[survey.room]
kind = "bedroom"
depth = 3900
floor_finished = true
[survey.wall]
widths = [{{ at = 1000, value = {{ value = 3300, state = "verified" }} }}]
heights = [{{ at = 1650, value = {{ value = 2700, state = "verified" }} }}]
substrate = "brick"
leaf = 115
damp = "dry"
[[survey.obstacles]]
ref = "AC"
kind = "ac"
x = 1200
z = 2250
width = 900
height = 300
projection = 200
[[survey.obstacles]]
ref = "EX"
kind = "socket"
x = {MIDDLE - 600 - 43}
z = {1500 - 43}
width = 86
height = 86
[[survey.seats]]
ref = "A"
kind = "bed"
x = {MIDDLE}
distance = {AWAY + OUT}
seat_height = 550
posture = "reclined"
recline = 35.0
hours = 6.0
eye_height = 1116
[[survey.seats]]
ref = "B"
kind = "bed"
x = {MIDDLE}
distance = {AWAY + OUT}
seat_height = 550
posture = "upright"
recline = 15.0
hours = 4.0
eye_height = 1225
[[brief.devices]]
ref = "stb"
kind = "set_top_box"
[design.screen]
diagonal = 55
[design.mount]
kind = "tilt"
[[design.units]]
ref = "C1"
kind = "console"
width = 1800
height = 250
z = 300
depth = 300
bays = [{{ front = "drawers" }}, {{ front = "open" }}]
"""


@pytest.fixture(scope="module")
def job() -> Job:
    return read_job(JOB)


@pytest.fixture(scope="module")
def wall(job: Job) -> Wall:
    return derive(job)


def test_eyes(job: Job) -> None:
    """1116 and 1225: 510 + 740 cos ρ, the trunk turned about the mattress as a stick.

    Measured eyes are entered above so that the rest compares. Without them the program finds 1140 and 1228: the trunk turns about
    the hip joint, 90 above the mattress, and the pillow lifts the head; the stick is 24 mm low for who lies back. The hip joint
    is from memory, so neither is law; the difference is 0.4° at 3520.
    """
    assert 510 + leaned(740, 620, 0, 35, 0)[0] == pytest.approx(1116, abs=0.5)
    assert 510 + leaned(740, 620, 0, 15, 0)[0] == pytest.approx(1225, abs=0.5)
    free = replace(
        job, survey=replace(job.survey, seats=tuple(replace(s, eye_height=None) for s in job.survey.seats))
    )
    assert [round(seat.eye[2]) for seat in derive(free).sight.seats] == [1140, 1228]


def test_targets_and_heights(wall: Wall) -> None:
    """A wants +10° → 1737, B 0° → 1225; equal regret at 1479, both 4.1° off; by hours 1532. The program weighs angles, not
    heights: looking up 10° a degree is worth 3 % more height than at eye level, so its least squares are 1529. Both are right for
    what they minimise; angles are what necks feel."""
    a, b = wall.sight.seats
    assert (a.wanted, b.wanted) == (10, 0)
    assert (a.best_height, b.best_height) == (pytest.approx(1737, abs=0.5), pytest.approx(1225, abs=0.5))
    assert wall.sight.heights.minimax == pytest.approx(1479, abs=2)
    pair = [Watcher(seat.eye[2], AWAY, seat.wanted, seat.share) for seat in (a, b)]
    assert penalty(pair, smallest_worst(pair)).offs == pytest.approx((-4.1, 4.1), abs=0.1)
    assert 0.6 * a.best_height + 0.4 * b.best_height == pytest.approx(1532, abs=0.5)
    assert least_squares(pair) == pytest.approx(1529, abs=0.5)


def test_recommended_height_and_tilt(job: Job, wall: Wall) -> None:
    """Recommended 1500 ± 30 with 4 to 5° of tilt. The program hangs it at 1530, its edge, by the hours.

    The tilt of 4 to 5° is right for B only: at 1500 the picture's normal meets B at atan(275/3520) = 4.5°, and A, who watches
    most, at atan(384/3520) = 6.2°. The program tilts to the main seat.
    """
    assert wall.sight.screen.centre[1] == 1530
    at = derive(apply(job, "set_screen_height", {"centre_height": 1500}))
    assert at.sight.seats[1].centre_up == pytest.approx(4.47, abs=0.01)
    assert at.sight.seats[0].centre_up == pytest.approx(6.23, abs=0.01)
    assert at.sight.screen.tilt == 6.0


def test_sizes(job: Job, wall: Wall) -> None:
    """43 in 15.4° and 50 in 17.9° fall short of a bed's 18°, 55 in 19.6° and 65 in 23.1° do not."""
    rows = {row.diagonal: row for row in compare(job)}
    for diagonal, angle in ((43, 15.4), (50, 17.9), (55, 19.6), (65, 23.1)):
        assert rows[diagonal].seats[0].picture_angle == pytest.approx(angle, abs=0.05)
    assert all("too small" in rows[d].seats[0].verdict for d in (43, 50))
    assert all("too small" not in rows[d].seats[0].verdict for d in (55, 65))
    assert wall.sight.seats[0].picture_angle == pytest.approx(19.6, abs=0.05)


def test_edges_at_1500(job: Job) -> None:
    """Bottom 1145, top 1855, 395 below the air conditioner; top edge 10.1° above B.

    That is the frame's top. The picture's own, 12 mm lower, is what is watched: 9.9°, less a little for the tilt.
    """
    at = derive(apply(apply(job, "set_screen_height", {"centre_height": 1500}), "set_tilt", {"tilt": 0}))
    frame = at.sight.screen.frame
    assert (frame.z, frame.top) == (1145, 1855)
    assert 2250 - frame.top == 395
    assert math.degrees(math.atan2(frame.top - 1225, AWAY)) == pytest.approx(10.15, abs=0.01)
    assert at.sight.seats[1].top_up == pytest.approx(9.95, abs=0.02)


def test_the_foot_of_the_bed_hides_nothing(wall: Wall) -> None:
    """A blanket 800 high at the foot: the sight line from 1116 to the picture's foot passes more than 300 above it."""
    seen = [line for line in sight_lines(wall) if line.over == "the foot of the bed"]
    assert {line.seat for line in seen} == {"A", "B"}
    assert all(line.top == 800 and line.clear > 300 and line.good for line in seen)
    (a,) = [line for line in seen if line.seat == "A"]
    foot = 1530 - 684.9 / 2 * math.cos(math.radians(wall.sight.screen.tilt))
    assert a.ray == pytest.approx(
        1116 + (foot - 1116) * 1750 / (AWAY + 684.9 / 2 * math.sin(math.radians(6.5))), abs=0.5
    )


def test_what_the_rules_say(wall: Wall) -> None:
    """The air conditioner drips on the screen below it, and the old socket at (−600, 1500) would show at the frame's edge."""
    found = {(item.rule, item.where) for item in check(wall)}
    assert ("sight.below_ac", "AC") in found
    assert ("services.existing_outlet", "EX") in found
    assert (
        "screen.bracket_unverified",
        "screen",
    ) in found  # the sizes are typical: no bracket height may rest on them
    assert not any(rule in ("screen.sight_line", "screen.hand_access", "sight.top_edge") for rule, _ in found)
    assert wall.sight.hanging is not None and wall.sight.hanging.drill.startswith("DO NOT DRILL")


def test_the_way_past_the_bed_and_the_hand_s_price(job: Job) -> None:
    """3900 − 2100 of bed − 300 of console leave 1500 to walk; by the hand's own rates 480, a tenth more 528, all in 571 of 600.

    The hand adds a fee of 8 % on the price with its reserve; the demo rates are others, so only the arithmetic can be compared.
    """
    at = derive(job)
    front = max(unit.depth for unit in at.setout.units)
    assert at.job.survey.room.depth is not None
    assert at.job.survey.room.depth.mm - 2100 - front == 1500
    hand = [Decimal("173.25"), *map(Decimal, ("43", "44", "59", "30", "64", "8", "28", "32"))]
    assert round(sum(hand), -1) == 480
    assert round(480 * Decimal("1.10")) == 528
    assert (
        round(528 * Decimal("1.08"), 1) == Decimal("570.2") < 600
    )  # the scenario's 571 rounds up on the way


def test_the_light_is_dimmed_and_no_strip_meets_the_lying_eye(job: Job) -> None:
    """By hand: at most 2700 K, dimmed, switched at the bedside, no strip seen from the pillow.

    What is proposed for a bedroom is 2700 K (test_options.py); where the design gives a colour, that is the designer's: no rule. A
    switch at the bed is on no screen wall, and is asked for by nobody here. A strip let into the open in front of the lying eye is told.
    """
    lit = apply(job, "add_panel", {"ref": "W1", "kind": "flat"})
    at = derive(apply(lit, "add_light", {"ref": "G1", "along": "behind_panel", "of": "W1", "colour": 2700}))
    (run,) = at.light.runs
    assert run.dimmable and run.seen_by == ()
    assert not [item for item in check(at) if item.rule == "light.seen"]
