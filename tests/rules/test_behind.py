"""What the screen hangs before, and the axis it stands on: rules of the look on whole walls."""

from __future__ import annotations

import pytest

from wallwright.derive import Wall, derive
from wallwright.job.demos import demo_jobs
from wallwright.job.edits import apply
from wallwright.job.read import read_job
from wallwright.rules import RULES


def living(*edits: tuple[str, dict[str, object]]) -> Wall:
    job = read_job(demo_jobs()["living"])
    for name, values in edits:
        job = apply(job, name, values)
    return derive(job)


def two_panels(finish: str, share: float) -> Wall:
    """A calm panel from the left, and at its side another one that takes `share` of the screen's outline."""
    frame = living().sight.screen.frame
    seam = frame.right - share * frame.width
    calm = {"ref": "W1", "x": 1000.0}
    return living(
        ("move_panel", calm),
        ("resize_panel", {"ref": "W1", "width": round(seam - 1000, 1)}),
        (
            "add_panel",
            {
                "ref": "W2",
                "x": round(seam, 1),
                "z": 690.0,
                "width": 700.0,
                "height": 1900.0,
                "finish": finish,
            },
        ),
    )


@pytest.mark.parametrize(
    ("rule", "finish"),
    [("look.bold_behind", "paint_saffron"), ("look.gloss_behind", "sprayed_gloss_black")],
)
def test_a_panel_behind_less_than_half_of_the_screen_is_looked_at(rule: str, finish: str) -> None:
    wall = two_panels(finish, 0.45)
    assert wall.look.behind is not None and wall.look.behind.ref == "W1"
    (found,) = RULES[rule].find(wall)
    assert found.where == "W2"
    assert "behind 45% of the screen" in found.says
    (call,) = found.edits
    cured = derive(apply(wall.job, call.edit, dict(call.values)))
    assert not list(RULES[rule].find(cured))
    assert not list(RULES[rule].find(two_panels(finish, 0.03)))  # less than a twentieth


def test_the_automatic_place_is_on_the_axis_that_the_rule_asks_for() -> None:
    """A stool far aside that is hardly ever sat on draws the mean of all seats, but neither the screen nor the rule."""
    aside = {"ref": "Z", "kind": "sofa", "x": 300, "distance": 1500, "hours": 3.0}
    wall = living(("release", {"field": "design.screen.centre_x"}), ("add_seat", aside))
    mean = sum(seat.share * seat.eye[0] for seat in wall.sight.seats)
    assert abs(wall.sight.screen.centre[0] - mean) > 50
    assert wall.look.axis_offset == pytest.approx(wall.sight.screen.centre[0] - wall.sight.axis)
    assert abs(wall.look.axis_offset) < 1
    assert not list(RULES["sight.axis"].find(wall))
    main = [seat for seat in wall.sight.seats if seat.ref in ("A", "B")]
    assert wall.sight.away == pytest.approx(
        sum(seat.share * seat.distance for seat in main) / sum(seat.share for seat in main)
    )
