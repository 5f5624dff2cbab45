"""Reflections and sun: the outlines are the record's, areas agree with an independent clip, the grid adds up."""

from __future__ import annotations

from dataclasses import replace
from itertools import combinations
from math import cos, radians, sin
from typing import Any

import pytest

from wallwright.core.drawing import Circle, Hatch, Line, Text
from wallwright.core.why import Why
from wallwright.derive import Wall, derive, derive_to_issue
from wallwright.job.demos import demo_jobs
from wallwright.job.read import read_job
from wallwright.sheets import reflections, sun_hours
from wallwright.sheets.crossed import inside
from wallwright.sheets.ink import text_box
from wallwright.sheets.reflections import hits_table, seat_hatch, ways_out
from wallwright.sight.reflect import Glass, area
from wallwright.sight.season import Pane
from wallwright.sight.sun_patch import sun_patch, to_sun


@pytest.fixture(scope="module")
def faults() -> Wall:
    return derive(read_job(demo_jobs()["living_faults"]))


def shoelace(points: Any) -> float:
    return (
        abs(sum(a[0] * b[1] - b[0] * a[1] for a, b in zip(points, (*points[1:], points[0]), strict=True))) / 2
    )


def test_outlines_are_hatched_by_seat_and_cover_their_share(faults: Wall) -> None:
    marks = reflections.drawing(faults, 10.0).marks
    found = {m.ref: m for m in marks if isinstance(m, Hatch)}
    picture = faults.sight.screen.picture
    flat = picture.area * cos(
        radians(faults.sight.screen.tilt)
    )  # the elevation sees the tilted picture foreshortened
    panes = [hit for hit in faults.sight.reflections if hit.kind == "window"]
    assert len(panes) == 3
    assert {mark.ref for mark in found.values()} == {
        f"{hit.seat} {hit.window}" for hit in faults.sight.reflections
    }
    for hit in panes:
        hatch = found[f"{hit.seat} {hit.window}"]
        assert hatch.pattern == seat_hatch(faults, hit.seat)
        assert shoelace(hatch.points) / flat == pytest.approx(hit.share, rel=1e-6)
    assert len({m.pattern for m in found.values()}) == 3


def test_one_label_a_source_led_to_every_outline_of_it(faults: Wall) -> None:
    marks = reflections.drawing(faults, 10.0).marks
    labels = [m for m in marks if isinstance(m, Text)]
    assert [m.text for m in labels] == ["WN1: seats A, B, C"]
    dots = [m.centre for m in marks if isinstance(m, Circle)]
    hits = faults.sight.reflections
    assert len(dots) == len(hits) == 3
    for hit in hits:  # each outline has a dot that lies in no other
        own = [dot for dot in dots if inside(dot, hit.polygon)]
        assert any(not any(inside(dot, o.polygon) for o in hits if o is not hit) for dot in own)
    assert labels[0].at[1] > faults.sight.screen.frame.top


def test_many_sources_stand_in_one_row_apart(faults: Wall) -> None:
    hits = faults.sight.reflections
    more = tuple(replace(hit, window=f"WN{i}") for i in range(1, 6) for hit in hits)
    wall = replace(faults, sight=replace(faults.sight, reflections=more))
    texts = [m for m in reflections.drawing(wall, 10.0).marks if isinstance(m, Text)]
    boxes = [text_box(m, 10.0) for m in texts]
    assert len(boxes) == 5
    assert not any(a.meets(b) for a, b in combinations(boxes, 2))


def test_the_table_has_shares_and_ratios(faults: Wall) -> None:
    for row, hit in zip(hits_table(faults).rows, faults.sight.reflections, strict=True):
        assert row[:2] == (hit.seat, hit.window)
        assert row[3] == 100 * hit.share
        assert row[4] == hit.ratio


def test_ways_out_are_ranked_those_that_do_first(faults: Wall) -> None:
    ((ref, ways),) = ways_out(faults)
    assert ref == "WN1"
    does = [way.solves for way in ways]
    assert does == sorted(does, reverse=True)
    assert does[0]
    said = " ".join(m.text for m in reflections.sheet(faults).marks if isinstance(m, Text))
    assert " ".join(ways[0].says.split()[:4]) in said


def test_no_ways_out_for_a_window_too_faint_to_matter(faults: Wall) -> None:
    """Behind a cloth that lets 1 % through, the same window is still mirrored as large, and nobody need do anything."""
    from wallwright.job.edits import apply
    from wallwright.rules import RULES

    dark = derive(apply(faults.job, "set_window_blind", {"ref": "WN1", "blind": 0.01}))
    assert [hit for hit in dark.sight.reflections if hit.window == "WN1" and hit.share > 0.05]
    assert not list(RULES["sight.reflection"].find(dark))
    assert ways_out(dark) == []
    assert "Ways out" not in " ".join(m.text for m in reflections.sheet(dark).marks if isinstance(m, Text))


def test_no_sheet_without_anything_to_mirror() -> None:
    job = read_job(demo_jobs()["living"])
    assert reflections.sheets(derive(replace(job, survey=replace(job.survey, windows=())))) == ()
    assert reflections.sheets(derive(replace(job, survey=replace(job.survey, seats=())))) == ()


# --- the sun ------------------------------------------------------------------------------------------------------------
GLASS = Glass((2000.0, -100.0, 1200.0), 1400.0, 800.0, 0.0)
PANE = Pane("WZ", (1500.0, -4000.0, 900.0), (1.0, 0.0, 0.0), (0.0, -1.0, 0.0), 1200.0, 1300.0)


def test_low_sun_straight_through_the_window_by_hand() -> None:
    """Sun level behind the seats: the window's own outline falls on the picture, unshifted."""
    shape = sun_patch(GLASS, PANE, to_sun(180.0, 0.0, 0.0), 0.5)
    want = {
        (1500 - 2000, 900 - 1200),
        (700, -300),
        (700, 400),
        (-500, 400),
    }  # cut at the picture's right and top
    assert {(round(x), round(z)) for x, z in shape} == want


def test_a_higher_sun_moves_the_light_down() -> None:
    """3900 mm from window to picture at 10° of elevation: down by 3900 tan 10° = 687.7."""
    shape = sun_patch(GLASS, PANE, to_sun(180.0, 10.0, 0.0), 10.0)
    assert max(z for _, z in shape) == pytest.approx(2200 - 687.68 - 1200, abs=0.01)
    assert min(z for _, z in shape) == -400


def test_overhang_and_horizon_keep_it_out() -> None:
    sun = to_sun(180.0, 10.0, 0.0)
    lower = sun_patch(GLASS, replace(PANE, overhang=1000.0), sun, 10.0)
    assert max(z for _, z in lower) == pytest.approx(
        2200 - 1000 * sin(radians(10)) / cos(radians(10)) - 687.68 - 1200, abs=0.01
    )
    assert sun_patch(GLASS, replace(PANE, horizon=12.0), sun, 10.0) == ()
    assert sun_patch(GLASS, PANE, to_sun(0.0, 10.0, 0.0), 10.0) == ()  # behind the wall


@pytest.mark.parametrize("tilt", [0.0, 8.0])
@pytest.mark.parametrize("turned", [150.0, 170.0, 195.0, 215.0])
def test_areas_against_shapely(tilt: float, turned: float) -> None:
    """The lit part thrown corner by corner on to the plane and clipped by another library."""
    shapely = pytest.importorskip("shapely")
    glass = replace(GLASS, tilt=tilt)
    pane = replace(PANE, reveal=200.0)
    sun = to_sun(turned, 6.0, 0.0)
    right, up, out = glass.axes()
    aside = pane.reveal * sun[0] / -sun[1]
    left, far = max(0.0, -aside), min(pane.width, pane.width - aside)
    high = pane.height - pane.reveal * sun[2] / -sun[1]
    points: list[tuple[float, float]] = []
    for u, v in ((left, 0), (far, 0), (far, high), (left, high)):
        corner = (
            pane.corner[0] + u - glass.middle[0],
            pane.corner[1] - glass.middle[1],
            pane.corner[2] + v - glass.middle[2],
        )
        way = sum(c * o for c, o in zip(corner, out, strict=True)) / sum(
            s * o for s, o in zip(sun, out, strict=True)
        )
        met = [c - way * s for c, s in zip(corner, sun, strict=True)]
        points.append(
            (
                sum(m * r for m, r in zip(met, right, strict=True)),
                sum(m * w for m, w in zip(met, up, strict=True)),
            )
        )
    want = shapely.Polygon(points).intersection(shapely.box(-700, -400, 700, 400)).area
    assert area(sun_patch(glass, pane, sun, 6.0)) == pytest.approx(want, rel=1e-9, abs=1e-6)


def test_outlines_by_hour_agree_with_the_year(faults: Wall) -> None:
    """The year's own answer for a day of four whole-hour moments has the same largest share."""
    from wallwright.sight.year import year

    asked = sun_hours.sun_year(faults)
    assert isinstance(asked, tuple)
    question = replace(asked[0], step=60.0, days=(21,))
    shares = []
    for month in range(1, 13):
        for hour, lit in sun_hours.patches(question, month, 21):
            if hour % 1 == 0.5:  # the year looks at the middle of each step
                shares.append(
                    sum(area(shape) for _, shape in lit) / (question.glass.width * question.glass.height)
                )
    answer = year(question)
    assert max(shares) == pytest.approx(answer.on().most, rel=1e-6)
    assert len(shares) == sum(hours > 0 for row in answer.on().table for hours in row)


def test_the_grid_hatches_the_hours_of_the_year(faults: Wall) -> None:
    asked = sun_hours.sun_year(faults)
    assert isinstance(asked, tuple)
    _, answer = asked
    grid = sun_hours.month_grid(answer)
    hatched = {m.ref for m in grid if isinstance(m, Hatch)}
    want = {f"sun {m + 1} {h}" for m in range(12) for h in range(24) if answer.on().table[m][h] > 0}
    assert hatched == want
    assert want
    rings = {m.ref for m in grid if isinstance(m, Circle)}
    assert rings == {
        f"eye {m + 1} {h}"
        for m in range(12)
        for h in range(24)
        if any(s.table[m][h] > 0 for s in answer.mirrored)
    }
    lines = [m for m in grid if isinstance(m, Line)]
    assert len(lines) == 13 + 25


def test_what_is_missing_for_the_sun_is_named() -> None:
    job = read_job(demo_jobs()["living_faults"])
    survey = replace(job.survey, place=replace(job.survey.place, bearing=None))
    wall = derive(replace(job, survey=survey))
    assert isinstance(sun_hours.sun_year(wall), Why)
    assert sun_hours.sheets(wall) == ()
    assert "survey.place.bearing" in reflections.sun_says(wall)


@pytest.mark.parametrize("room", ["bedroom", "living_faults"])
def test_the_most_that_is_told_is_drawn(room: str) -> None:
    wall = derive(read_job(demo_jobs()[room]))
    asked = sun_hours.sun_year(wall)
    assert isinstance(asked, tuple)
    question, answer = asked
    assert question.days == ()  # every day: those that are drawn are among them
    whole = question.glass.width * question.glass.height
    drawn = {
        (month, day, hour): sum(area(shape) for _, shape in lit) / whole
        for month, day in sun_hours.days_drawn(answer)
        for hour, lit in sun_hours.chosen(sun_hours.patches(question, month, day))
    }
    together = answer.on()
    assert max(drawn.values()) == pytest.approx(together.most, rel=1e-6)
    assert together.at is not None
    assert drawn[together.at] == pytest.approx(together.most, rel=1e-6)
    (sheet,) = sun_hours.sheets(wall)
    words = " ".join(m.text for m in sheet.marks if isinstance(m, Text))
    assert f"{together.most:.0%}, {together.when}" in words
    clocks = [m.text for m in sheet.views[0].drawing.marks if isinstance(m, Text)]
    clock = together.when.split()[-1].removeprefix("0")
    assert f"{clock}: {100 * together.most:.0f} %" in clocks


def test_an_issued_wall_is_looked_at_on_every_day(faults: Wall) -> None:
    """The year day by day is the sum over its days asked one at a time; two days a month only stand for it."""
    from wallwright.rules import RULES
    from wallwright.sight.year import year

    asked = sun_hours.sun_year(faults)
    assert isinstance(asked, tuple)
    question, answer = asked
    by_day = 0.0
    for day in range(1, 32):  # asked for alone, a day stands for its whole month
        table = year(replace(question, days=(day,))).on().table
        lengths = enumerate(sun_hours.DAYS_OF_MONTH)
        by_day += sum(sum(table[month]) / length for month, length in lengths if day <= length)
    assert answer.on().total == pytest.approx(by_day)
    (sheet,) = sun_hours.sheets(faults)
    assert "every day, every 15 minutes" in " ".join(m.text for m in sheet.marks if isinstance(m, Text))

    assert derive_to_issue(read_job(demo_jobs()["bedroom"])).sun_days == ()
    issued = replace(faults, sun_days=())
    (quick,) = RULES["sight.sun_on_screen"].find(faults)
    (told,) = RULES["sight.sun_on_screen"].find(issued)
    hours = answer.on(told.where)
    assert told.measured == round(hours.total)
    assert hours.when in told.says
    assert "every day, every 15 minutes" in told.says
    assert "days 8 and 23 of each month, every 15 minutes" in quick.says
    assert quick.measured == round(year(replace(question, days=(8, 23))).on(told.where).total)


def test_moments_are_chosen_evenly_with_both_ends() -> None:
    found: list[sun_hours.Lit] = [(8 + i / 2, ()) for i in range(20)]
    picked = sun_hours.chosen(found)
    assert len(picked) == 8
    assert (picked[0], picked[-1]) == (found[0], found[-1])
    assert sun_hours.chosen(found[:5]) == found[:5]
    square = ((0.0, 0.0), (1.0, 0.0), (1.0, 1.0), (0.0, 1.0))
    found[10] = (found[10][0], (("W", square),))
    full = sun_hours.chosen(found)
    assert found[10] in full and len(full) == 8 and (full[0], full[-1]) == (found[0], found[-1])
    assert full == sorted(full, key=lambda moment: moment[0])
