"""The composition sheet: every guide drawn where the record has it and listed once; feeds where the strips are fed."""

from __future__ import annotations

import pytest

from wallwright.core.drawing import Line, Symbol, Text
from wallwright.derive import derive
from wallwright.job.demos import demo_jobs
from wallwright.job.read import read_job
from wallwright.sheets import composition


@pytest.mark.parametrize("name", ["living", "bedroom", "living_faults"])
def test_every_guide_is_drawn_numbered_and_listed(name: str) -> None:
    wall = derive(read_job(demo_jobs()[name]))
    marks = composition.drawing(wall, 20.0).marks
    drawn = {mark.ref: mark.points for mark in marks if isinstance(mark, Line) and mark.layer == "guides"}
    rows = composition.guide_table(wall).rows
    assert len(drawn) == len(rows) == len(wall.look.guides) > 4
    for number, along, at, _ in rows:
        ends = drawn[str(number)]
        assert {end[0 if along == "x" else 1] for end in ends} == {at}
    assert {mark.text for mark in marks if isinstance(mark, Text)} >= {str(row[0]) for row in rows}


def test_the_axis_is_the_screens_middle_and_thirds_are_thirds() -> None:
    wall = derive(read_job(demo_jobs()["living"]))
    guides = [guide for _, guide in composition.numbered_guides(wall)]
    (axis,) = (guide for guide in guides if guide.kind == "axis")
    assert axis.at == pytest.approx(wall.sight.screen.centre[0])
    thirds = sorted(guide.at for guide in guides if guide.kind == "third" and guide.upright)
    assert thirds == pytest.approx([wall.face.width / 3, 2 * wall.face.width / 3])


def test_feeds_and_drivers_stand_where_the_light_has_them() -> None:
    wall = derive(read_job(demo_jobs()["living"]))
    signs = [mark for mark in composition.drawing(wall, 20.0).marks if isinstance(mark, Symbol)]
    fed = {(mark.ref, mark.at) for mark in signs if mark.kind == "led_feed"}
    assert fed == {(run.ref, point) for run in wall.light.runs for point in run.feed_points}
    assert {mark.ref for mark in signs if mark.kind == "driver"} == {
        run.ref for run in wall.light.runs if run.driver_at is not None
    }
