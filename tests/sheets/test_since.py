"""Sheets of two issues compared mark by mark, and how a change is marked on paper."""

from __future__ import annotations

from dataclasses import replace
from itertools import pairwise

import pytest

from wallwright.core.drawing import TEXT_SMALL, Line, Text
from wallwright.core.shape import Box, around
from wallwright.core.units import Length
from wallwright.derive import derive
from wallwright.job.demos import demo_jobs
from wallwright.job.document import Job
from wallwright.job.edits import apply
from wallwright.job.read import read_job
from wallwright.sheets import elevation
from wallwright.sheets.clouds import LAYER, cloud, framed
from wallwright.sheets.crossed import crossed
from wallwright.sheets.paper import Sheet, numbered
from wallwright.sheets.since import (
    MOST,
    SheetChange,
    differing,
    joined,
    marked,
    reworded,
    sheet_changes,
)
from wallwright.sheets.taken import Taken


@pytest.fixture(scope="module")
def job() -> Job:
    return read_job(demo_jobs()["living"])


@pytest.fixture(scope="module")
def sheet(job: Job) -> Sheet:
    return elevation.sheet(derive(job))


def test_the_same_sheet_drawn_again_is_the_same_whatever_its_revision(job: Job, sheet: Sheet) -> None:
    again = elevation.sheet(derive(apply(job, "set_revision", {"revision": "D"})))
    assert differing(sheet, replace(again, number=9, of=40)) == ((), ())


def test_one_mark_that_moved_is_clouded_at_both_its_places(sheet: Sheet) -> None:
    view = sheet.views[0]
    word = next(m for m in view.drawing.marks if isinstance(m, Text) and m.text == "W1")
    moved = replace(word, at=(word.at[0] + 2000, word.at[1] - 1500))
    marks = tuple(moved if m is word else m for m in view.drawing.marks)
    new = replace(sheet, views=(replace(view, drawing=replace(view.drawing, marks=marks)), *sheet.views[1:]))
    areas, lines = differing(sheet, new)
    assert len(areas) == 2 and lines == ()
    for at in (word.at, moved.at):
        x, z = view.on_paper(at)
        assert any(box.grown(1).holds(Box(x, z, 0, 0)) for box in areas)


def test_a_note_that_changed_is_told_apart_from_the_view(sheet: Sheet) -> None:
    note = next(m for m in sheet.marks if isinstance(m, Text) and m.height == TEXT_SMALL and len(m.text) > 20)
    new = replace(sheet, marks=tuple(replace(m, text="Other words") if m is note else m for m in sheet.marks))
    areas, lines = differing(sheet, new)
    assert areas == () and len(lines) == 1
    assert lines[0].z <= note.at[1] + 0.1 and lines[0].top <= note.at[1] + 5
    foot = replace(sheet, cautions=("Another caution.",))
    assert len(differing(sheet, foot)[1]) == 1


def test_less_than_a_pen_can_draw_is_no_change(sheet: Sheet) -> None:
    view = sheet.views[0]
    marks = tuple(
        replace(m, points=tuple((x + 1e-6, z) for x, z in m.points)) if isinstance(m, Line) else m
        for m in view.drawing.marks
    )
    new = replace(sheet, views=(replace(view, drawing=replace(view.drawing, marks=marks)), *sheet.views[1:]))
    assert differing(sheet, new) == ((), ())


def test_sheets_keep_the_numbers_they_are_out_under(sheet: Sheet) -> None:
    a, b, c = (replace(sheet, name=name, title=name) for name in "abc")
    old, new = numbered((a, b)), numbered((c, replace(b, title="B, other")))
    told = {one.name: (one.number, one.what) for one in sheet_changes(old, new)}
    assert told == {"a": (1, "withdrawn"), "b": (2, "changed"), "c": (3, "new")}
    out = sheet_changes(old, new, {"a": 1, "b": 2, "d": 7})
    assert {one.name: one.number for one in out} == {"a": 1, "b": 2, "c": 8}


def test_near_changes_share_a_cloud_and_a_sheet_is_not_littered() -> None:
    assert joined([Box(0, 0, 5, 5), Box(8, 0, 5, 5)]) == (Box(0, 0, 13, 5),)
    apart = [Box(30.0 * i, 20.0 * j, 2, 2) for i in range(10) for j in range(8)]
    few = joined(apart)
    assert len(few) <= MOST
    assert all(any(box.holds(small) for box in few) for small in apart)
    assert joined([Box(0, 0, 1, 1), Box(50, 0, 1, 1)]) == (Box(0, 0, 1, 1), Box(50, 0, 1, 1))


def test_a_cloud_bulges_outwards_and_holds_its_area() -> None:
    area = Box(100, 100, 40, 20)
    outline, arrow, letter = cloud(area, "B")
    assert isinstance(outline, Line) and outline.closed
    whole = around(outline.points)
    assert whole.holds(area) and whole.x < area.x - 4 and whole.top > area.top + 4
    inner = area.grown(1.0)
    assert not any(inner.x < x < inner.right and inner.z < z < inner.top for x, z in outline.points)
    assert (
        isinstance(arrow, Line) and arrow.fill == "#fff" and isinstance(letter, Text) and letter.text == "B"
    )
    assert {mark.layer for mark in (outline, arrow, letter, *framed(area, "B"))} == {LAYER}


def test_a_cloud_goes_round_a_text_and_is_broken_where_it_cannot() -> None:
    """Words 3 mm beyond the right side: that side goes past them. A field of words there: it breaks off. The triangle covers none."""
    area = Box(100, 100, 40, 20)
    small, wide = Box(141, 105, 3, 3), Box(141, 90, 20, 40)
    (past, *_) = cloud(area, "B", Taken(1.0, [small]))
    assert isinstance(past, Line) and past.closed and around(past.points).right > 144 + 2
    *pieces, arrow, _ = cloud(area, "B", Taken(1.0, [wide]))
    assert pieces and not any(isinstance(piece, Line) and piece.closed for piece in pieces)
    for mark in (*pieces, arrow):
        assert isinstance(mark, Line)
        assert not any(around(two).meets(wide) for two in pairwise(mark.points))
    frame = framed(Box(100, 100, 40.9, 20), "B", Taken(1.0, [wide]))
    runs = [around(mark.points) for mark in frame if isinstance(mark, Line) and not mark.closed]
    assert len(runs) == len(frame) == 2  # broken off on both ways to the words; the left side is whole
    assert not any(run.meets(wide) for run in runs) and max(run.height for run in runs) > 20


def test_no_cloud_strikes_a_text_of_a_changed_elevation(job: Job, sheet: Sheet) -> None:
    narrow = [replace(u, width=Length(1700.0)) if u.ref == "C1" else u for u in job.design.units]
    new = elevation.sheet(derive(replace(job, design=replace(job.design, units=tuple(narrow)))))
    areas, lines = differing(sheet, new)
    made = marked(new, SheetChange("elevation", "", 1, "changed", areas, lines), "B", "A", 1)
    assert len(areas) > 1 and lines
    assert not [one for one in crossed(made) if one.by.startswith("revisions")]


def test_lines_are_framed_close_so_that_no_neighbour_is_crossed() -> None:
    (frame,) = framed(Box(320, 200, 40, 8), "B")
    assert isinstance(frame, Line) and frame.fill == ""
    box = around(frame.points)
    assert (box.x, box.z, box.right, box.top) == pytest.approx(
        (319.4, 199.4, 360.6, 208.6)
    )  # a line of text is 4.1, its letters 2.5


def test_the_new_sheet_says_which_print_is_void_and_no_letter_is_too_small(sheet: Sheet) -> None:
    change = SheetChange(
        sheet.name, sheet.title, 3, "changed", (Box(100, 100, 30, 20),), (Box(320, 200, 40, 8),)
    )
    new = marked(sheet, change, "C", "B", 40)
    assert (new.number, new.of) == (3, 40)
    words = [mark.text for mark in new.over if isinstance(mark, Text)]
    assert (
        "Revision C: changes are clouded, words framed. Replaces revision B of this sheet: mark the old print VOID."
        in words
    )
    assert words.count("C") == 2  # cloud, title block
    assert all(mark.height >= TEXT_SMALL for mark in new.over if isinstance(mark, Text))
    assert new.layers[-1].drawing.marks == new.over  # drawn last: no fill hides it
    assert marked(replace(sheet, size=(210.0, 297.0)), change, "C", "B", 40).over == ()


# --- words that only stand elsewhere ------------------------------------------------------------------------------------


def table(rows: list[tuple[str, ...]], top: float = 200.0, left: float = 20.0) -> list[Line | Text]:
    """Rows of cells 25 mm apart with a rule under each and one at the side."""
    out: list[Line | Text] = [Line(((left - 2, top + 4), (left - 2, top - 6 * len(rows))))]
    for i, row in enumerate(rows):
        z = top - 6 * i
        out += [Text((left + 25 * k, z), cell) for k, cell in enumerate(row)]
        out.append(Line(((left - 2, z - 2), (left + 60, z - 2))))
    return out


ROWS = [("P1", "twin socket", "1165"), ("D1", "data", "1165"), ("R1", "aerial", "877")]


def said(marks: list[Line | Text]) -> set[str]:
    return {mark.text if isinstance(mark, Text) else "rule" for mark in marks}


def test_a_row_put_in_is_told_and_what_it_pushes_down_is_not() -> None:
    old, new = table(ROWS), table([ROWS[0], ("D9", "data", "300"), *ROWS[1:]])
    was, now = reworded(old, new)
    assert said(was) == set() and {"D9", "300"} <= said(now) <= {"D9", "data", "300"}
    gone, left = reworded(new, old)  # and the other way about: taken out
    assert {"D9", "300"} <= said(gone) <= {"D9", "data", "300"} and said(left) == set()


def test_a_figure_that_changed_in_a_pushed_row_is_told_with_its_row() -> None:
    was, now = reworded(table(ROWS), table([("X", "new", "1"), *ROWS[:2], ("R1", "aerial", "880")]))
    assert {"880", "R1"} <= said(now) and "P1" not in said(now)
    assert "877" in said(was)


def test_figures_that_changed_places_are_told() -> None:
    """Both stand in the sheet as before, under one another's name."""
    was, now = reworded(table(ROWS), table([("P1", "twin socket", "877"), ROWS[1], ("R1", "aerial", "1165")]))
    assert {"877", "1165"} <= said(now) and said(was) == said(now)


def test_two_tables_side_by_side_of_which_one_is_pushed() -> None:
    other = table([("C1", "console", "1882"), ("T1", "tower", "450")], 200.0, 200.0)
    pushed = [("X", "new", "1"), *ROWS]
    was, now = reworded([*table(ROWS), *other], [*table(pushed), *other])
    assert said(was) == set() and said(now) == {"X", "new", "1"}
    was, now = reworded(
        [*table(ROWS), *other],
        [
            *table(pushed),
            *table([("Y", "more", "2"), ("C1", "console", "1882"), ("T1", "tower", "450")], 200.0, 200.0),
        ],
    )
    assert said(was) == set() and said(now) == {"X", "new", "1", "Y", "more", "2"}


def test_a_sentence_that_moved_is_the_same_and_a_line_that_moved_alone_is_not() -> None:
    note = Text((20, 100), "Nothing is closed before it is signed.")
    assert reworded([note], [replace(note, at=(20, 88))]) == ([], [])
    assert said(reworded([Text((20, 100), "12")], [Text((20, 88), "12")])[1]) == {"12"}
    line = Line(((0, 0), (50, 0)))
    assert reworded([line], [replace(line, points=((0, 9), (50, 9)))])[
        1
    ]  # no word differs: the line itself is told


def test_a_longer_list_frames_only_what_came(job: Job) -> None:
    """One outlet more: the electrician's sheet frames fewer places than rows of its schedule that it pushed down."""
    from wallwright.sheets import services

    old = services.sheets(derive(job))
    new = services.sheets(
        derive(apply(job, "add_point", {"ref": "A9", "kind": "socket", "x": 1000, "z": 300}))
    )
    framed_ones = [differing(a, b)[1] for a, b in zip(old, new, strict=False)]
    assert any(framed_ones)
    for a, b in zip(old, new, strict=False):
        was, now = reworded(a.marks, b.marks)
        assert not {m.text for m in was if isinstance(m, Text) and len(m.text) > 30} & {
            m.text for m in now if isinstance(m, Text)
        }
