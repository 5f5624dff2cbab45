"""The heights strip: the graph's least is the recommended height, the lines drawn are the record's."""

from __future__ import annotations

from math import atan2, degrees, sqrt
from typing import Any

import pytest

from wallwright.core.drawing import Level, Line, Symbol, Text
from wallwright.sheets import heights_strip
from wallwright.sheets.heights_graph import MOST, curves, graph_drawing, within
from wallwright.sheets.paper import Sheet
from wallwright.sheets.section_cut import screen_section

DEMOS = ("living", "bedroom", "living_faults")


@pytest.fixture(params=DEMOS)
def demo_wall(request: pytest.FixtureRequest) -> Any:
    from wallwright.derive import derive
    from wallwright.job.demos import demo_jobs
    from wallwright.job.read import read_job

    return derive(read_job(demo_jobs()[request.param]))


def test_the_least_of_the_curve_is_the_recommended_height(demo_wall: Any) -> None:
    points = curves(demo_wall)
    least = min(points, key=lambda p: p.regret)
    assert least.height == pytest.approx(demo_wall.sight.heights.best, abs=0.01)


def test_a_seat_is_off_by_its_own_angle_at_the_height_used(demo_wall: Any) -> None:
    """By hand from eye and middle of the screen, and against the record."""
    used = demo_wall.sight.heights.used
    points = curves(demo_wall)
    screen = demo_wall.sight.screen
    for i, seat in enumerate(demo_wall.sight.seats):
        run = sqrt(
            (seat.eye[0] - screen.centre[0]) ** 2 + (-seat.eye[1] - screen.stand_off - screen.depth) ** 2
        )
        for p in points[::10]:
            assert p.offs[i] == pytest.approx(
                degrees(atan2(p.height - seat.eye[2], run)) - seat.wanted, abs=1e-6
            )
        below = max((p for p in points if p.height <= used), key=lambda p: p.height)
        above = min((p for p in points if p.height >= used), key=lambda p: p.height)
        assert below.offs[i] - 1e-9 <= seat.off <= above.offs[i] + 1e-9


def test_the_wide_line_touches_its_least_at_the_recommended_level(demo_wall: Any) -> None:
    marks = graph_drawing(demo_wall, 25.0).marks
    ends = [p for m in marks if isinstance(m, Line) and m.ref == "curve all" for p in m.points]
    nearest = min(ends, key=lambda p: p[0])
    assert nearest[1] == pytest.approx(demo_wall.sight.heights.best, abs=0.01)
    for seat in demo_wall.sight.seats:
        assert any(isinstance(m, Line) and m.ref == f"curve {seat.ref}" for m in marks)
        assert any(isinstance(m, Text) and m.text == seat.ref for m in marks)


def test_curves_are_cut_at_the_edge_of_the_graph() -> None:
    over = MOST + 5
    pieces = within([(over, 0.0), (5.0, 100.0), (0.0, 200.0), (over, 300.0), (over, 400.0)], 10.0)
    assert len(pieces) == 1
    start, end = pieces[0][0], pieces[0][-1]
    assert start == pytest.approx((MOST * 10, 100.0 * 5 / (over - 5)))
    assert end == pytest.approx((MOST * 10, 200.0 + 100.0 * MOST / over))


def test_every_eye_and_both_lines_of_it_are_drawn(demo_wall: Any) -> None:
    marks = heights_strip.drawing(demo_wall, 25.0, 4000.0).marks
    eyes = [m for m in marks if isinstance(m, Symbol) and m.kind == "eye"]
    assert sorted(ref for m in eyes for ref in m.label.split(", ")) == sorted(
        s.ref for s in demo_wall.sight.seats
    )
    corners = screen_section(demo_wall)
    middle = ((corners[2][0] + corners[3][0]) / 2, (corners[2][1] + corners[3][1]) / 2)
    for seat in demo_wall.sight.seats:
        ends = [m.points for m in marks if isinstance(m, Line) and m.layer == "sight" and m.ref == seat.ref]
        assert all(points[0] == (seat.eye[1], seat.eye[2]) for points in ends)
        assert middle in [points[1] for points in ends]
        assert len(ends) == 2


def apart() -> Any:
    """One lies far back and one sits up, and no height is good for both."""
    from wallwright.derive import derive
    from wallwright.job.demos import demo_jobs
    from wallwright.job.edits import apply
    from wallwright.job.read import read_job

    return derive(apply(read_job(demo_jobs()["bedroom"]), "set_seat", {"ref": "A", "recline": 45}))


def test_no_band_is_drawn_or_told_where_no_height_is_good_for_all() -> None:
    wall = apart()
    assert not wall.sight.heights.serves_all
    marks = heights_strip.drawing(wall, 25.0, 4000.0).marks
    assert {m.ref for m in marks if isinstance(m, Line) and m.layer == "bands"} == {"usual"}
    words = " ".join(m.text for m in heights_strip.sheet(wall).marks if isinstance(m, Text))
    assert "No height is good for all seats" in words
    assert "Good for all seats" not in words and "centre heights good for all seats" not in words
    for seat in wall.sight.seats:
        assert f"seat {seat.ref} {abs(seat.off):.1f}°" in words
    (why,) = [why for why in wall.sight.whys if why.name == "heights.band"]
    assert why.value == "none"


def test_the_bedroom_hangs_where_it_is_good_for_both_and_says_why() -> None:
    from wallwright.derive import derive
    from wallwright.job.demos import demo_jobs
    from wallwright.job.read import read_job

    wall = derive(read_job(demo_jobs()["bedroom"]))
    h = wall.sight.heights
    assert h.low <= h.used <= h.high < h.best
    words = " ".join(m.text for m in heights_strip.sheet(wall).marks if isinstance(m, Text))
    assert f"Least squares by hours {h.best:,.0f}" in words.replace("\u2009", ",") or f"{h.best:.0f}" in words
    assert "the nearest to the least squares" in words
    marks = graph_drawing(wall, 25.0).marks
    across = {m.points[0][1] for m in marks if isinstance(m, Line) and m.ref == "height"}
    assert across == {h.used}  # to the step of setting out it is the recommended one


def test_bands_lie_at_their_heights(demo_wall: Any) -> None:
    h = demo_wall.sight.heights
    marks = heights_strip.drawing(demo_wall, 25.0, 4000.0).marks
    bands = {m.ref: m.points for m in marks if isinstance(m, Line) and m.layer == "bands"}
    assert (bands["good for all"][0][1], bands["good for all"][2][1]) == pytest.approx((h.low, h.high))
    assert (bands["usual"][0][1], bands["usual"][2][1]) == pytest.approx((h.rule_low, h.rule_high))
    levels = {m.text: m.mm for m in marks if isinstance(m, Level)}
    assert levels["centre used"] == h.used


def test_strip_and_graph_share_their_heights_on_the_paper(demo_wall: Any) -> None:
    sheet: Sheet = heights_strip.sheet(demo_wall)
    strip, graph = sheet.views
    assert strip.drawing.scale == graph.drawing.scale
    assert strip.on_paper((0, 1500))[1] == graph.on_paper((0, 1500))[1]


def test_a_wall_just_too_high_takes_room_from_tables_that_need_less() -> None:
    """2900 high: 155 mm of paper at 1:20, six more than its tables leave when they have all their room; one seat needs less."""
    from pathlib import Path

    from wallwright.derive import derive
    from wallwright.job.read import read_job
    from wallwright.sheets.long_table import whole

    made = Path(__file__).parent / "made" / "every_unit.toml"
    sheet = heights_strip.sheet(derive(read_job(made.read_text(encoding="utf-8"))))
    assert sheet.scale == "1:20"
    assert whole(sheet.marks)
