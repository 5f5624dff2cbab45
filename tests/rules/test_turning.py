"""What a screen on an arm may meet as it turns: side walls, niche cheeks, and an arm whose furthest swivel nobody entered.

Hand figures on the living-room demo: frame 1448 wide and 60 deep, head 40: its front corner swings on a radius of
√(724² + 100²) = 730.9 about the axis.
"""

from __future__ import annotations

import pytest

from wallwright.core.finding import Finding
from wallwright.derive import Wall, derive
from wallwright.job.demos import demo_jobs
from wallwright.job.edits import apply
from wallwright.job.read import read_job
from wallwright.rules import RULES
from wallwright.rules.screen_room import later, turning


def on_arm(*edits: tuple[str, dict[str, object]]) -> Wall:
    job = read_job(demo_jobs()["living"])
    for name, values in (("set_mount", {"kind": "arm", "reach": 900}), *edits):
        job = apply(job, name, values)
    return derive(job)


def found(wall: Wall) -> list[Finding]:
    return list(RULES["screen.turning"].find(wall))


def test_the_side_wall_is_met() -> None:
    """The middle 745 from the left wall: 745 − 730.9 = 14.1 mm are left as it turns to the left, 20 are wanted."""
    near = (
        ("remove_unit", {"ref": "T1"}),
        ("set_screen_x", {"centre_x": 745}),
        ("set_arm", {"swivel_most": 30}),
    )
    wall = on_arm(*near)
    met = {angle: swept for angle, swept in turning(wall) if swept.near == "the left side wall"}
    assert met[-30].clear == pytest.approx(14.1, abs=0.1)
    (item,) = [item for item in found(wall) if "the left side wall" in item.says]
    assert item.severity == "fix" and item.measured == pytest.approx(14.1, abs=0.1)
    far = on_arm(near[0], ("set_screen_x", {"centre_x": 760}), near[2])
    assert not [item for item in found(far) if "side wall" in item.says]


def test_the_cheeks_of_a_niche_are_met() -> None:
    """A niche 1500 wide and deeper than the arm reaches: 750 − 730.9 = 19.1 mm; 1502 wide 20.1 mm, enough."""

    def wall(width: float) -> Wall:
        return on_arm(
            ("set_arm", {"swivel_most": 10}),
            ("set_screen_niche", {"width": width, "height": 950, "depth": 1200}),
        )

    said = found(wall(1500))
    assert {item.measured for item in said} == {19.1}
    assert {"left", "right"} == {item.says.split("niche's ")[1].split()[0] for item in said}
    assert not found(wall(1502))


def test_an_arm_of_unknown_swivel_is_taken_to_turn_as_far_as_arms_do() -> None:
    """30° on a reach of 300: 300 − 40 − 724 sin 30° + 40 cos 30° = −67.4, through the wall; said as an assumption, not as a fault."""
    wall = on_arm(("set_mount", {"reach": 300}))
    assert [angle for angle, _ in turning(wall)] == [-30, 30]
    said = found(wall)
    assert [item.severity for item in said] == ["consider", "consider"]
    assert all(
        item.measured == pytest.approx(-67.4, abs=0.1) and "30° is assumed" in item.says for item in said
    )
    assert all("enter how far it turns" in item.cure for item in said)
    known = on_arm(("set_mount", {"reach": 300}), ("set_arm", {"swivel_most": 30}))
    assert [item.severity for item in found(known)] == ["fix", "fix"]
    assert not found(on_arm(("set_mount", {"reach": 300}), ("set_arm", {"swivel_most": 0})))


def test_the_later_screen_hangs_on_the_same_plate() -> None:
    """75 in, 960 high about 1165, begins at 685 and must keep off what the console wants clear, up to 690: 5 mm, which the plate
    gives. A plate that gives 2 does not; the move is then said."""
    job = read_job(demo_jobs()["living"])
    wall = derive(job)
    ahead = later(wall)
    needed = 480 - ahead.room[1] / 2
    assert (ahead.largest, ahead.next) == (75, 85) and "in its way" in ahead.stops[0] and 2 < needed < 20
    stiff = later(derive(apply(job, "set_limit", {"name": "sight.plate_slack", "value": 2})))
    assert (stiff.largest, stiff.next, stiff.stops) == (65, 75, ("C1 stands in its way",))
    assert stiff.move is not None and (stiff.move.right, stiff.move.up) == pytest.approx((0, needed))
    assert stiff.move.says == f"with the middle of the screen moved {needed:.0f} mm up, 75 in would go"
