"""Cutting plans: nothing runs through a name, every part is named once, and what is printed is what the plan holds."""

from __future__ import annotations

from dataclasses import replace

import pytest

from wallwright.core.drawing import Leader, Line, Text
from wallwright.cutting.freed import freed
from wallwright.cutting.model import to_mm
from wallwright.derive import Wall, derive
from wallwright.job.demos import demo_jobs
from wallwright.job.read import read_job
from wallwright.sheets import cutting
from wallwright.sheets.crossed import crossed
from wallwright.sheets.ink import text_box
from wallwright.sheets.paper import Sheet, numbered

DEMOS = ("living", "bedroom", "living_faults")


@pytest.fixture(scope="module", params=DEMOS)
def wall(request: pytest.FixtureRequest) -> Wall:
    return derive(read_job(demo_jobs()[request.param]))


def test_nothing_runs_through_a_name(wall: Wall) -> None:
    sheets = numbered(cutting.sheets(wall))
    assert len(sheets) >= 4
    assert {sheet.name: hits for sheet in sheets if (hits := crossed(sheet))} == {}


def test_the_measure_sees_a_hatch_without_its_white_ground(wall: Wall) -> None:
    """The grounds do the work: taken away, the offcuts' hatches run through their names."""
    sheet = cutting.sheets(wall)[0]
    view = sheet.views[0]
    bare = tuple(m for m in view.drawing.marks if not (isinstance(m, Line) and m.pen == "none"))
    stripped = replace(sheet, views=(replace(view, drawing=replace(view.drawing, marks=bare)),))
    assert len(bare) < len(view.drawing.marks)
    assert any(hit.by.startswith("hatch") for hit in crossed(stripped))


def test_every_part_is_named_inside_its_own_outline_or_led_to(wall: Wall) -> None:
    sheets = cutting.sheets(wall)
    plans = [plan for _, made in wall.cuts.plans for plan in made.sheets]
    for sheet, plan in zip(sheets, plans, strict=True):
        marks = sheet.views[0].drawing.marks
        for placed in plan.placed:
            x, z = to_mm(placed.x), to_mm(placed.y)
            named = [
                m.at if isinstance(m, Text) else m.points[0]
                for m in marks
                if isinstance(m, (Text, Leader)) and m.text.split("  ")[0] == placed.name
            ]
            assert len(named) == 1, placed.name
            assert x <= named[0][0] <= x + to_mm(placed.length), placed.name
            assert z <= named[0][1] <= z + to_mm(placed.width), placed.name


def test_every_cut_has_its_number_at_its_line(wall: Wall) -> None:
    """In the line, or half beside it; a trim cut's number outside the sheet, nearer to its own edge than to any other."""
    sheets = cutting.sheets(wall)
    plans = [plan for _, made in wall.cuts.plans for plan in made.sheets]
    led = total = 0
    for sheet, plan in zip(sheets, plans, strict=True):
        drawing = sheet.views[0].drawing
        marks = [m for m in drawing.marks if isinstance(m, (Text, Leader)) and m.layer == "cuts"]
        assert sorted(int(m.text) for m in marks) == list(range(1, len(plan.cuts) + 1))
        total += len(marks)
        for mark in marks:
            cut = plan.cuts[int(mark.text) - 1]
            at, start, end = to_mm(cut.at), to_mm(cut.start), to_mm(cut.end)
            if isinstance(mark, Leader):
                led += 1
                across, along = mark.points[0] if cut.axis == "x" else mark.points[0][::-1]
                assert across == at and start <= along <= end
                continue
            box = text_box(mark, drawing.scale)
            low, high = (box.x, box.right) if cut.axis == "x" else (box.z, box.top)
            if cut.stage:
                assert low - 0.1 * drawing.scale <= at <= high + 0.1 * drawing.scale, mark
                continue
            size = to_mm(plan.sheet.length if cut.axis == "x" else plan.sheet.width)
            assert (high < 0) if at < size / 2 else (low > size), mark
    assert led <= total / 20  # a number at the end of a pointer is the exception


def test_the_list_names_the_cut_that_frees_each_part(wall: Wall) -> None:
    sheets = cutting.sheets(wall)
    plans = [plan for _, made in wall.cuts.plans for plan in made.sheets]
    for sheet, plan in zip(sheets, plans, strict=True):
        lines: dict[float, list[Text]] = {}
        for mark in sheet.marks:
            if isinstance(mark, Text):
                lines.setdefault(round(mark.at[1], 2), []).append(mark)
        read = {min(line, key=_left).text: max(line, key=_left).text for line in lines.values()}
        assert {p.name: read[p.name] for p in plan.placed} == {
            p.name: str(freed(plan)[p].cut) for p in plan.placed
        }


def _left(text: Text) -> float:
    return text.at[0]


def test_matched_fronts_show_their_mark_and_place_in_the_plan_and_their_order_beside_it() -> None:
    wall = derive(read_job(demo_jobs()["living"]))
    marked = [part for part in wall.carcass.parts if part.match]
    assert len(marked) == 2
    (sheet,) = [s for s in cutting.sheets(wall) if any("Matched" in line for line in _notes(s))]
    said = [m.text for m in sheet.views[0].drawing.marks if isinstance(m, Text) and m.ref == marked[1].id]
    assert any(text.endswith(f"{marked[1].match}, 2 of 2") for text in said)
    order = f"{marked[0].id}, {marked[1].id} in this order"
    assert order in " ".join(_notes(sheet))


def _notes(sheet: Sheet) -> list[str]:
    return [m.text for m in sheet.paper.marks if isinstance(m, Text)]
