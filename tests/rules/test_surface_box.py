"""Boxes that stand on the wall behind a slim screen, worked by hand."""

from __future__ import annotations

import pytest

from wallwright.core.finding import Finding
from wallwright.derive import Wall, derive
from wallwright.job.demos import demo_jobs
from wallwright.job.edits import apply
from wallwright.job.read import read_job
from wallwright.rules.registry import RULES


def rented(stand_off: float, panel: bool = False, tenure: str = "rent") -> Wall:
    job = read_job(demo_jobs()["living"])
    if not panel:
        job = apply(apply(job, "remove_light", {"ref": "G1"}), "remove_panel", {"ref": "W1"})
    job = apply(job, "set_tenure", {"tenure": tenure})
    return derive(apply(job, "set_mount", {"kind": "fixed", "stand_off": stand_off}))


def told(wall: Wall) -> list[Finding]:
    return list(RULES["services.surface_box"].find(wall))


@pytest.mark.parametrize(("stand_off", "left"), [(55, 8), (81, 34), (82, None), (110, None)])
def test_a_box_on_the_wall_and_a_flat_plug(stand_off: float, left: int | None) -> None:
    """The data box is 47 deep and a flat plug takes 35: the screen's back must stand 82 off the wall's face (common practice)."""
    found = told(rented(stand_off))
    if left is None:
        assert not found
        return
    (item,) = found
    assert (item.measured, item.limit, item.severity) == (left, 35, "fix")
    (edit,) = item.edits
    assert dict(edit.values) == {"stand_off": 82}


def test_boxes_let_into_the_wall_and_into_a_deep_panel_are_none() -> None:
    assert not told(rented(55, tenure="own"))
    behind = rented(90, panel=True)  # the panel builds up 43.8; the data box 47: 3 mm proud, 43 left
    assert not told(behind)
    (item,) = told(rented(80, panel=True))
    assert item.measured == 33


def test_no_box_is_let_into_a_wall_that_is_not_cut() -> None:
    """Behind a slim mount boxes are recessed, 70 deep; in a rented home there is no recess to put them in."""
    hidden = [p for p in rented(40).services.points if p.zone == "behind_screen"]
    assert hidden and all(p.box_depth < 70 for p in hidden)
    cut = [p for p in rented(40, tenure="own").services.points if p.zone == "behind_screen"]
    assert {p.box_depth for p in cut} == {70}
