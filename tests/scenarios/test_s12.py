"""A late change of screen: 55 in in a niche, first fix done; the client buys 75 in.

Invented; worked by hand beforehand. x is from the wall's middle in the scenario, from its left corner (middle 1800) here. The
cost, the dead parts, the days and what is issued again are tried in test_s12_change.py.
"""

from __future__ import annotations

import math

import pytest

from tests.change.plain import MIDDLE, hung, socket, surveyed
from wallwright.core.finding import Finding
from wallwright.derive import Wall, derive
from wallwright.job.document import Job
from wallwright.job.edits import apply
from wallwright.job.read import read_job
from wallwright.rules import check
from wallwright.rules.screen_room import later
from wallwright.sight.compare import compare

AWAY = 2900
LIFT_AND_BAR = """[survey.access]
lift_width = 1100
lift_depth = 1400
lift_height = 2100
[[brief.devices]]
ref = "bar"
kind = "soundbar"
place = "on_console"
height = 130                # 90 high on feet of 40: from 560 to 690
"""
NICHE = "niche_width = 1400\nniche_height = 850\n"
CONSOLE = """[[design.units]]
ref = "C1"
kind = "console"
z = 260
height = 300
width = 1800
bays = [{ front = "drawers" }, { front = "open" }]
"""
JOB = (
    surveyed("Late change", 2700, AWAY + 100)
    + LIFT_AND_BAR
    + hung(55, (1230, 710), (300, 300), (400, 400), NICHE)
    + CONSOLE
    + socket(1280)
)
BOUGHT = {"width": 1673, "height": 960, "depth": 40, "mass": 33, "source": "maker_drawing"}


@pytest.fixture(scope="module")
def job() -> Job:
    return read_job(JOB)


def bought(job: Job) -> Job:
    """The 75 in in the old place: its frame, holes and carton, and a plate 650 × 420."""
    job = apply(job, "set_screen_size", {"diagonal": 75})
    job = apply(job, "set_screen_frame", BOUGHT)
    job = apply(job, "set_screen_holes", {"width": 400, "height": 400})
    job = apply(job, "set_screen_box", {"width": 1830, "height": 1130, "depth": 200})
    return apply(job, "set_mount", {"plate_width": 650, "plate_height": 420})


def without_niche(job: Job) -> Job:
    for name in ("niche_width", "niche_height"):
        job = apply(job, "release", {"field": f"design.screen.{name}"})
    return job


def found(wall: Wall, rule: str) -> list[Finding]:
    return [item for item in check(wall) if item.rule == rule]


def test_before_the_change(job: Job) -> None:
    wall = derive(job)
    assert wall.sight.seats[0].picture_angle == pytest.approx(23.7, abs=0.05)
    assert not found(wall, "screen.niche") and not found(wall, "sight.console_gap")
    # the box at (250, 1280) ends at 207, 7 from the plate's 200: fine for the scenario, but not the 25 mm a plug wants there
    assert [item.measured for item in found(wall, "services.behind_plate")] == [pytest.approx(7, abs=0.5)]
    assert [item.severity for item in found(wall, "screen.niche_later")] == [
        "note"
    ]  # it could have been said then
    ahead = later(wall)
    assert (ahead.largest, ahead.next) == (55, 65)
    assert "the niche is 170 mm too narrow" in ahead.stops  # 1450 + 120 − 1400


def test_the_picture_gets_better(job: Job) -> None:
    """23.7 → 31.9°; 65 in would be 27.9°."""
    assert derive(bought(job)).sight.seats[0].picture_angle == pytest.approx(31.9, abs=0.1)
    rows = {row.diagonal: row for row in compare(job)}
    assert rows[65].seats[0].picture_angle == pytest.approx(
        27.9, abs=0.5
    )  # the library's frame is 75 deep, not 40: 0.4° more


def test_neither_75_nor_65_goes_into_the_niche(job: Job) -> None:
    """1400 < 1673 + 120, and the 65 in frame of 1450 does not go in at all."""
    (width, height) = found(derive(bought(job)), "screen.niche")
    assert width.says.startswith("the niche's width is 1400 mm; a frame of 1673 mm needs 1793")
    assert height.where == "niche height"
    rows = {row.diagonal: row for row in compare(job)}
    assert rows[65].niche_short == 170 and not rows[65].possible
    assert [d for d, row in rows.items() if row.possible] and max(
        d for d, row in rows.items() if row.possible
    ) == 55


def test_without_the_niche_it_hangs_into_the_soundbar(job: Job) -> None:
    """At 1100 its bottom is 620, 70 into the bar's 690. The scenario moves it to 1200, 30 above the bar; the program asks for at
    least 20 and puts it at 1190. Both hold; 1200 is the rounder height."""
    wall = derive(without_niche(bought(job)))
    assert wall.sight.screen.frame.z == 620
    assert wall.sight.screen.frame.z - (560 + 130) == -70
    (gap,) = found(wall, "sight.console_gap")
    assert gap.severity == "fix" and gap.measured == 60  # to the console; the bar stands 130 in it
    free = apply(without_niche(bought(job)), "release", {"field": "design.screen.centre_height"})
    assert derive(free).sight.screen.centre[1] == pytest.approx(1190)


def test_at_1200(job: Job) -> None:
    """α +2.4°, top edge 11.7°: the frame's. The picture ends 13 mm lower, at 11.4°; both are below the 15° that worry."""
    wall = derive(apply(without_niche(bought(job)), "set_screen_height", {"centre_height": 1200}))
    (seat,) = wall.sight.seats
    assert wall.sight.screen.frame.z == 720
    assert seat.centre_up == pytest.approx(2.37, abs=0.01)
    assert math.degrees(math.atan2(wall.sight.screen.frame.top - 1080, AWAY)) == pytest.approx(11.7, abs=0.05)
    assert seat.top_up == pytest.approx(11.44, abs=0.02)
    assert not found(wall, "sight.top_edge") and not found(wall, "sight.console_gap")


def test_the_old_box_lies_behind_the_new_plate(job: Job) -> None:
    """The plate is x ±325, z 990 to 1410 about 1200: the box at (250, 1280) is behind it. At (430, 1280) its edge is at 387, past
    325 + 25."""
    at = apply(without_niche(bought(job)), "set_screen_height", {"centre_height": 1200})
    wall = derive(at)
    plate = wall.sight.screen.plate
    assert (plate.x - MIDDLE, plate.right - MIDDLE, plate.z, plate.top) == (-325, 325, 990, 1410)
    assert [item.where for item in found(wall, "services.behind_plate")] == ["PX"]
    moved = derive(apply(at, "move_point", {"ref": "PX", "x": MIDDLE + 430}))
    assert not found(moved, "services.behind_plate")


def test_weight_on_brick(job: Job) -> None:
    """16 → 33 kg: brick holds it."""
    wall = derive(apply(without_niche(bought(job)), "set_screen_height", {"centre_height": 1200}))
    assert wall.sight.screen.mass == 33
    assert not [item for item in found(wall, "structure.fixing") if item.where == "screen"]


def test_the_lift(job: Job) -> None:
    """1830 × 1130 × 200: the car's floor has a diagonal of 1780, too short for it level. The scenario tilts it in the car's
    height, √(2100² + 1100²) = 2371, with the carrier's word: true, but no tilt is needed: it stands on its end, 1830 in 2100."""
    wall = derive(without_niche(bought(job)))
    carried = wall.sight.route
    assert carried is not None
    assert math.hypot(1100, 1400) == pytest.approx(1780, abs=1)
    assert carried.passes and carried.on_end and [step.how for step in carried.steps] == ["on end"]
    (note,) = found(wall, "screen.way_in")
    assert note.severity == "note" and "carrier" in note.cure
    stairs = derive(
        apply(without_niche(bought(job)), "set_access", {"stair_width": 1100, "stair_headroom": 2100})
    )
    assert not found(stairs, "screen.way_in")  # or up the stair, upright
