"""No line, hatch or dark ground runs through a text of the sheets that show what is seen; and the measure finds what it should."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace

import pytest

from wallwright.core.drawing import Circle, Dim, Drawing, Hatch, Leader, Line, Mark, Text, rectangle
from wallwright.core.shape import Box
from wallwright.core.units import Length
from wallwright.derive import Wall, derive
from wallwright.job.demos import demo_jobs
from wallwright.job.read import read_job
from wallwright.sheets import composition, reflections, seat_plan, seat_view
from wallwright.sheets.crossed import Crossed, crossed, inside, pinched
from wallwright.sheets.paper import Fields, Sheet, View, numbered

DEMOS = ("living", "bedroom", "living_faults")


def on_arm(job_name: str = "living_faults") -> Wall:
    job = read_job(demo_jobs()[job_name])
    mount = replace(job.design.mount, kind="arm", reach=Length(600), swivel_most=40.0, swivel=None)
    return derive(replace(job, design=replace(job.design, mount=mount)))


def unmeasured() -> Wall:
    """The room's depth not surveyed."""
    job = read_job(demo_jobs()["living"])
    return derive(replace(job, survey=replace(job.survey, room=replace(job.survey.room, depth=None))))


MADE: dict[str, Callable[[], Wall]] = {"on_arm": on_arm, "unmeasured": unmeasured}


def seen_sheets(wall: Wall) -> tuple[Sheet, ...]:
    return numbered(
        (
            seat_plan.sheet(wall),
            *seat_view.sheets(wall),
            *reflections.sheets(wall),
            *composition.sheets(wall),
        ),
        wall,
    )


@pytest.mark.parametrize("name", [*DEMOS, *MADE])
def test_nothing_runs_through_a_text(name: str, sheet_faults: Callable[[Sheet], list[str]]) -> None:
    """Zero: neither lines, hatches nor dark grounds, and no text over another or over a dimension's figure."""
    wall = MADE[name]() if name in MADE else derive(read_job(demo_jobs()[name]))
    sheets = seen_sheets(wall)
    assert len(sheets) >= 4
    found = {sheet.name: crossed(sheet) for sheet in sheets}
    assert {sheet: hits for sheet, hits in found.items() if hits} == {}
    assert {sheet.name: faults for sheet in sheets if (faults := sheet_faults(sheet))} == {}


# --- the measure itself -------------------------------------------------------------------------------------------------
WORD = Text((0.0, 0.0), "word")


def measured(*marks: Mark) -> tuple[Crossed, ...]:
    """A sheet with one view of these marks in its middle, at 1:10."""
    drawing = Drawing("made", "Made", 10.0, marks, Box(-500, -500, 1000, 1000))
    fields = Fields("-", "-", "1", "A", "-", "-", "-", "Preliminary")
    return crossed(Sheet("made", "Made", "Plan", (View(drawing, 150.0, 180.0),), (), fields))


def test_the_papers_own_frame_and_title_block_are_clear() -> None:
    assert measured() == measured(WORD) == ()


@pytest.mark.parametrize(
    ("mark", "by"),
    [
        (Line(((-50.0, 10.0), (300.0, 10.0)), layer="L", ref="r"), "L r"),
        (Line(((10.0, -90.0), (60.0, 200.0)), layer="L"), "L"),
        (Circle((0.0, -300.0), 310.0, layer="C"), "C"),
        (Hatch(((-50.0, -50.0), (200.0, -50.0), (200.0, 60.0), (-50.0, 60.0)), "cut", layer="H"), "hatch H"),
        (rectangle(Box(-50, -50, 300, 200), "none", fill="#222", layer="G"), "ground G"),
        (Leader(((-300.0, 10.0), (400.0, 10.0)), "other", layer="O"), "O"),
    ],
)
def test_what_runs_through_is_found_and_named(mark: Mark, by: str) -> None:
    assert measured(mark, WORD) == (Crossed("word", by),)


def test_a_line_beside_it_is_none_of_its() -> None:
    assert measured(Line(((-50.0, -20.0), (300.0, -20.0))), WORD) == ()
    assert measured(Circle((0.0, -300.0), 200.0), WORD) == ()
    assert measured(Line(((-50.0, 10.0), (300.0, 10.0)), "none"), WORD) == ()


def test_its_own_leader_is_none_either() -> None:
    assert measured(Leader(((-300.0, 0.0), (-10.0, 0.0)), "word")) == ()


def test_what_is_painted_over_does_not_count() -> None:
    line = Line(((-50.0, 10.0), (300.0, 10.0)), layer="L")
    hatch = Hatch(((-50.0, -50.0), (200.0, -50.0), (200.0, 60.0), (-50.0, 60.0)), "cut")
    white = rectangle(Box(-60, -60, 300, 150), "none", fill="#fff")
    assert measured(line, hatch, white, WORD) == ()
    assert measured(white, line, WORD) == (Crossed("word", "L"),)
    half = rectangle(Box(-60, -60, 100, 150), "none", fill="#fff")  # covers only the word's beginning
    assert measured(line, half, WORD) == (Crossed("word", "L"),)


def test_inside_by_hand() -> None:
    hook = ((0.0, 0.0), (4.0, 0.0), (4.0, 4.0), (3.0, 4.0), (3.0, 1.0), (0.0, 1.0))
    assert inside((3.5, 3.0), hook)
    assert inside((1.0, 0.5), hook)
    assert not inside((1.0, 3.0), hook)
    assert not inside((5.0, 0.5), hook)


def on_a_sheet(*marks: Mark) -> Sheet:
    drawing = Drawing("d", "d", 2.0, marks, Box(0, 0, 200, 200))
    return Sheet(
        "d", "d", "Detail", (View(drawing, 100.0, 100.0),), (), Fields.of(read_job(demo_jobs()["living"])), ()
    )


ROW = [Dim((0, 0), (25, 0), "x", 0, -8), Dim((25, 0), (37, 0), "x", 0, -8), Dim((37, 0), (41, 0), "x", 0, -8)]


@pytest.mark.parametrize(
    ("marks", "found"),
    [
        ((ROW[0],), set()),
        ((ROW[1],), {("12", "tick")}),  # 6 paper mm: its ticks reach into a figure that stands as low as usual
        ((replace(ROW[1], lift=1.7),), set()),
        ((ROW[2],), {("4", "tick"), ("4", "extension")}),
        ((replace(ROW[2], lift=-4.9),), set()),  # beyond the ends of the extension lines
        ((ROW[0], replace(ROW[1], shift=-9.0)), {("12", "beside 25")}),
        (
            (replace(ROW[0], lift=-4.5), Dim((0, 0), (50, 0), "x", 0, -11, lift=-4.0)),
            {("25", "line")},
        ),  # the next chain's line
        ((Dim((0, 0), (0, 25), "z", 0, -8), Dim((0, 12), (0, 90), "z", 0, -16)), {("25", "extension")}),
    ],
)  # fmt: skip
def test_a_figure_on_a_stroke_of_a_dimension_is_found(
    marks: tuple[Dim, ...], found: set[tuple[str, str]]
) -> None:
    """Though a white ground is painted between them: `crossed` counts what is seen, this what is meant."""
    assert {(one.text, one.by) for one in pinched(on_a_sheet(*marks))} == found
