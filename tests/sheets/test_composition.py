"""The composition sheet: every guide drawn where the record has it and listed once; feeds where the strips are fed."""

from __future__ import annotations

from itertools import combinations, pairwise
from math import hypot

import pytest

from wallwright.core.drawing import Leader, Line, Symbol, Text
from wallwright.derive import derive
from wallwright.job.demos import demo_jobs
from wallwright.job.read import read_job
from wallwright.sheets import composition
from wallwright.sheets.ink import text_box


@pytest.mark.parametrize("name", ["living", "bedroom", "living_faults"])
def test_every_guide_is_drawn_numbered_and_listed(name: str) -> None:
    wall = derive(read_job(demo_jobs()[name]))
    marks = composition.drawing(wall, 20.0).marks
    drawn = {mark.ref: mark.points for mark in marks if isinstance(mark, Line) and mark.layer == "guides"}
    rows = composition.guide_table(wall).rows
    face = wall.face.box
    on = [g for g in wall.look.guides if (0 <= g.at <= face.width if g.upright else 0 <= g.at <= face.height)]
    assert len(drawn) == len(rows) == len(on) > 4
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
    placed = {run.driver_at: run.ref for run in wall.light.runs if run.driver_at is not None}
    drivers = [mark for mark in signs if mark.kind == "driver"]
    assert {placed[mark.at] for mark in drivers} <= set(placed.values())
    said = " ".join(m.text for m in composition.drawing(wall, 20.0).marks if isinstance(m, Leader))
    assert all(ref in said for ref in placed.values())
    assert all(
        hypot(a.at[0] - b.at[0], a.at[1] - b.at[1]) > 6 * 20 for a, b in combinations(drivers, 2)
    )  # signs that would lie on one another are one


def test_guides_off_the_wall_are_left_out() -> None:
    wall = derive(read_job(demo_jobs()["living_faults"]))
    off = [g for g in wall.look.guides if g.upright and not 0 <= g.at <= wall.face.width]
    assert off  # the tower's twin would stand beyond the corner
    assert not {g.at for g in off} & {row[2] for row in composition.guide_table(wall).rows}


@pytest.mark.parametrize("name", ["living", "bedroom", "living_faults"])
def test_numbers_stand_apart(name: str) -> None:
    """In a row, at least 1.2 mm of paper from one another, each at the end of a line from its guide."""
    wall = derive(read_job(demo_jobs()[name]))
    marks = composition.drawing(wall, 20.0).marks
    numbers = [m for m in marks if isinstance(m, Text) and m.anchor == "middle"]
    boxes = sorted((text_box(m, 20.0) for m in numbers), key=lambda box: box.x)
    assert len(boxes) > 4
    assert all(b.x - a.right > 1.2 * 20 for a, b in pairwise(boxes))
    leaders = {m.ref: m.points for m in marks if isinstance(m, Line) and m.ref.startswith("leader ")}
    at = {number: guide.at for number, guide in composition.numbered_guides(wall)}
    for mark in numbers:
        path = leaders[f"leader {mark.text}"]
        assert (path[0][0], path[-1][0]) == (at[int(mark.text)], mark.at[0])


def test_every_line_style_means_one_thing() -> None:
    assert len(set(composition.PENS.values()) | {"dashed"}) == len(composition.PENS) + 1
