"""Boxes that crowd are drawn large: which they are, where their measures are counted from, and whose runs are named."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

from wallwright.core.drawing import Leader, Symbol, Text
from wallwright.core.shape import Box, box_around
from wallwright.derive import Wall, derive
from wallwright.job.demos import demo_jobs
from wallwright.job.read import read_job
from wallwright.sheets.close_up import crowds, drawing, sheets
from wallwright.sheets.drawing_set import drawing_set
from wallwright.sheets.roles import ROLES, sheets_for


def living() -> Wall:
    return derive(read_job(demo_jobs()["living"], "living"))


def test_only_three_that_stand_close_are_a_crowd(handmade: Any) -> None:
    """By hand: boxes 86 wide, 59 mm between two is close and 61 is not; a chain of neighbours is one crowd."""
    one = handmade.services.points[1]

    def row(*lefts: float) -> list[list[str]]:
        points = tuple(
            replace(one, ref=f"D{i}", x=x + 43, box=box_around((x + 43, one.z), 86, 86))
            for i, x in enumerate(lefts, 1)
        )
        return [[p.ref for p in group] for group in crowds(points)]

    assert row(0, 145) == []
    assert row(0, 145, 290) == [["D1", "D2", "D3"]]
    assert row(0, 145, 292) == []
    assert row(290, 0, 145) == [["D1", "D2", "D3"]]
    assert row(5000, 5100, 5200, 0, 100, 200) == [["D4", "D5", "D6"], ["D1", "D2", "D3"]]


def test_the_figures_are_the_places_of_the_boxes() -> None:
    wall = living()
    for group in crowds(wall.services.points):
        made = drawing(wall, group, 5.0)
        assert {m.ref for m in made.marks if isinstance(m, Symbol)} == {p.ref for p in group}
        for axis, ref in (("x", "across"), ("z", "up")):
            read = {float(m.text) for m in made.marks if isinstance(m, Text) and m.ref == ref}
            assert read == {float(round(getattr(p, axis))) for p in group}
        for mark in made.marks:
            if isinstance(mark, Leader) and mark.layer == "runs":  # never led from where a box hides the run
                assert not any(p.box.holds(Box(*mark.points[0], 0, 0)) for p in wall.services.points)


def test_a_wall_without_a_crowd_has_no_such_sheet(handmade: Any) -> None:
    sparse = replace(handmade.services, points=handmade.services.points[:2])
    assert sheets(replace(handmade, services=sparse), ()) == ()


def test_who_sets_boxes_gets_the_sheet() -> None:
    made = drawing_set(living())
    assert {r for r in ROLES if any(s.name == "services_close" for s in sheets_for(r, made))} == {
        "electrician",
        "site_engineer",
    }


def test_they_are_drawn_as_large_as_the_sheet_takes_and_listed() -> None:
    """Four boxes of 86 and 146 beside three of 86 go on A3 at 1:2 where the words stand below them; at 1:5 most of it was white."""
    wall = living()
    (sheet,) = sheets(wall, ())
    assert {view.drawing.scale for view in sheet.views} == {2.0}
    assert len(sheet.views) == len(crowds(wall.services.points)) == 2
    written = {m.text for m in sheet.marks if isinstance(m, Text)}
    for point in (p for group in crowds(wall.services.points) for p in group):
        assert point.ref in written
    for mark in sheet.marks:
        for view in sheet.views if isinstance(mark, Text) else ():
            low = view.y + view.drawing.extent.z / view.drawing.scale
            assert mark.at[1] < low or mark.at[0] > view.x + view.drawing.extent.right / view.drawing.scale
