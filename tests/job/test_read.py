"""A job is read whole, or refused with the field, the value and what would do; never a traceback."""

from __future__ import annotations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from wallwright.job.demos import demo_jobs
from wallwright.job.read import LARGEST_FILE, JobError, job_from, read_job

LIVING = demo_jobs()["living"]
SMALL = """\
wallwright-job = 1
title = "Small"
[survey.room]
[survey.wall]
widths = [{ at = 100, value = "13'-9 3/8\\"" }]
heights = [{ at = 100, value = { value = "2.75 m", state = "measured", tolerance = 3 } }]
"""

UNIT = "[[design.units]]\nref = 'T1'\nkind = 'tower'\n"
SEAT = "[[survey.seats]]\nref = 'A'\nkind = 'sofa'\nx = 1\n"
WINDOW = "[[survey.windows]]\nref = 'W'\nwall = 'left'\nalong = 1\nsill = 1\nwidth = 1\nheight = 1\n"


def problem(text: str | bytes) -> tuple[str, str, str]:
    with pytest.raises(JobError) as caught:
        read_job(text, "wall.toml")
    assert str(caught.value).startswith("wall.toml: ")
    first = caught.value.problems[0]
    return first.field, first.value, first.says


def test_a_small_job_is_read_as_written() -> None:
    job = read_job(SMALL)
    width, height = job.survey.wall.widths[0].value, job.survey.wall.heights[0].value
    assert (width.mm, width.written, width.state) == (4200.525, "13'-9 3/8\"", "assumed")
    assert (height.mm, height.written, height.state, height.tolerance) == (2750.0, "2.75 m", "measured", 3.0)
    assert job.design.screen.diagonal is None
    assert read_job(SMALL.encode()) == read_job(b"\xef\xbb\xbf" + SMALL.encode()) == job


@pytest.mark.parametrize(
    ("lines", "field", "value", "says"),
    [
        ("[design.screen]\ncentre_hieght = 1100", "design.screen.centre_hieght", "1100", "'centre_height'"),
        ("[design.screen]\ncentre_height = -1100", "design.screen.centre_height", "-1100", "more than 0"),
        ("[design.screen]\ncentre_height = nan", "design.screen.centre_height", "nan", "cannot be nan"),
        ("[design.screen]\ncentre_height = inf", "design.screen.centre_height", "inf", "cannot be inf"),
        ("[design.screen]\ncentre_height = '285 kg'", "design.screen.centre_height", "285 kg", "not a unit of length"),
        ("[design.screen]\ncentre_height = true", "design.screen.centre_height", "true", "not a length"),
        ("[design.screen]\ncentre_height = [1]", "design.screen.centre_height", "[1]", "not a length"),
        ("[design.screen]\ncentre_height = { mm = 3 }", "design.screen.centre_height", "mm", "value, state and tolerance"),
        ("[design.screen]\nmass = { value = 3 }", "design.screen.mass", "value", "not a number"),
        ("[design.screen]\ncentre_height = { value = 3, tolerance = -1 }", "design.screen.centre_height", "-1", "tolerance"),
        ("[design.screen]\ncentre_height = '1200 m'", "design.screen.centre_height", "1200 m", "more than any room"),
        ("[design.screen]\ncentre_height = ''", "design.screen.centre_height", "", "empty"),
        ("[design.screen]\ndiagonal = '65'", "design.screen.diagonal", "65", "not a number"),
        ("[design.screen]\ndiagonal = true", "design.screen.diagonal", "true", "not a number"),
        ("[design.screen]\ndiagonal = 0", "design.screen.diagonal", "0", "more than 0"),
        ("[design.screen]\ndiagonal = 9999", "design.screen.diagonal", "9999", "20 to 130 in"),
        ("[design.screen]\ndiagonal = 1651", "design.screen.diagonal", "1651", "did you mean 65 for 1651 mm"),
        ("[design.screen]\ndiagonal = 19.9", "design.screen.diagonal", "19.9", "no screen's size"),
        ("[design.screen]\nmass = -inf", "design.screen.mass", "-inf", "finite"),
        ("[design.screen]\npanel = 'ipss'", "design.screen.panel", "ipss", "one of 'va'"),
        ("[design.screen]\nlines = 2000", "design.screen.lines", "2000", "1080, 2160, 4320"),
        ("[design]\nscreen = 5", "design.screen", "5", "table"),
        ("[design]\nunits = 5", "design.units", "5", "list"),
        ("[[design.units]]\nkind = 'tower'", "design.units[0].ref", "", "missing"),
        ("[[design.units]]\nref = 'T 1'\nkind = 'tower'", "design.units[0].ref", "T 1", "begin with a letter"),
        (UNIT + "bord = 'ply18'", "design.units[0].bord", "ply18", "'board'"),
        (UNIT + "board = 'ply19'", "design.units[0].board", "ply19", "did you mean 'ply"),
        (UNIT + "front_finish = 'laminate_oka'", "design.units[0].front_finish", "oka", "'laminate_oak'"),
        (UNIT + "anchored = 1", "design.units[0].anchored", "1", "true or false"),
        (UNIT + "bays = [{ drawers = 1.5 }]", "design.units[0].bays[0].drawers", "1.5", "whole number"),
        (UNIT + "bays = [{ drawers = -1 }]", "design.units[0].bays[0].drawers", "-1", "0 or more"),
        (UNIT + "[[design.panels]]\nref = 'T1'", "design.panels[0].ref", "T1", "design.units[0]"),
        ("[[design.lights]]\nref = 'G1'\nalong = 'behind_panel'\nof = 'W1'", "design.lights[0].of", "W1", "no unit or panel"),
        ("[design.finishes]\nwall = 'paint_warm_wite'", "design.finishes.wall", "paint_warm_wite", "'paint_warm_white'"),
        ("[design.finishes]\nwall_colour = 'red'", "design.finishes.wall_colour", "red", "#RRGGBB"),
        ("[design]\nrates = 'mine'", "design.rates", "mine", "demo"),
        (SEAT + "distance = 3000\nperson = 'zed'", "survey.seats[0].person", "zed", "brief.people"),
        (SEAT + "distance = 3000\nhours = 200", "survey.seats[0].hours", "200", "168"),
        (SEAT + "distance = 0", "survey.seats[0].distance", "0", "more than 0"),
        (WINDOW + "blind = 1.5", "survey.windows[0].blind", "1.5", "1 or less"),
        ("[survey.place]\nlatitude = 95", "survey.place.latitude", "95", "-90 to 90"),
        ("[[brief.devices]]\nref = 'a'\nkind = 'soundbarr'", "brief.devices[0].kind", "soundbarr", "'soundbar'"),
        ("[[brief.things]]\nkind = 'paperbak'\ncount = 3", "brief.things[0].kind", "paperbak", "'paperback'"),
        ("[[brief.things]]\nkind = 'paperback'\ncount = '3'", "brief.things[0].count", "3", "whole number"),
        ("[brief]\nstyle = [3]", "brief.style[0]", "3", "text in quotes"),
        ("[rules]\n'rule.console_gop' = 3", "rules.rule.console_gop", "console_gop", "'rule.console_gap'"),
        ("[rules]\n'rule.console_gap' = nan", "rules.rule.console_gap", "nan", "finite"),
        ("[brief.budget]\namount = 99999999999999999999", "brief.budget.amount", "9999", "too large"),
        ("[brief]\nrobot_height = 1e999", "brief.robot_height", "inf", "finite"),
    ],
)  # fmt: skip
def test_a_wrong_field_is_named_with_its_value_and_a_way_out(
    lines: str, field: str, value: str, says: str
) -> None:
    found = problem(SMALL + lines)
    assert found[0] == field
    assert value in found[1] or value in found[2]
    assert says in found[2]


@pytest.mark.parametrize(
    ("head", "field", "says"),
    [
        ("title = 'x'", "wallwright-job", "missing"),
        ("wallwright_job = 1\ntitle = 'x'", "wallwright-job", "'wallwright_job'"),
        ("wallwright-job = 2\ntitle = 'x'", "wallwright-job", "newer"),
        ("wallwright-job = 0\ntitle = 'x'", "wallwright-job", "not a version"),
        ("wallwright-job = true\ntitle = 'x'", "wallwright-job", "not a version"),
        ("wallwright-job = '1'\ntitle = 'x'", "wallwright-job", "not a version"),
        ("wallwright-job = 1\ntitel = 'x'", "titel", "'title'"),
        ("wallwright-job = 1\ntitle = 'x'\ndate = '2026-02-30'", "date", "no day"),
        ("wallwright-job = 1\ntitle = 'x'\ndate = 'today'", "date", "YYYY-MM-DD"),
        ("wallwright-job = 1\ntitle = 'x'\nrevision = 'b'", "revision", "capital"),
        ("wallwright-job = 1\ntitle = ''", "title", "at least 1"),
    ],
)
def test_the_head_of_the_document(head: str, field: str, says: str) -> None:
    text = head + "\n" + SMALL.split("\n", 2)[2]
    with pytest.raises(JobError) as caught:
        read_job(text)
    assert any(found.field == field and says in found.says for found in caught.value.problems), str(
        caught.value
    )


def test_a_bare_toml_date_is_a_date() -> None:
    assert (
        read_job(SMALL.replace('title = "Small"', 'title = "Small"\ndate = 2026-05-04')).date == "2026-05-04"
    )


def test_an_empty_survey_says_what_it_needs() -> None:
    assert (
        problem("wallwright-job = 1\ntitle = 'x'\n[survey.room]\n[survey.wall]\nwidths = []\nheights = []")[0]
        == "survey.wall.widths"
    )
    assert problem("wallwright-job = 1\ntitle = 'x'")[::2] == (
        "survey",
        "is missing and has no default; give it",
    )


def test_every_problem_is_said_not_only_the_first() -> None:
    with pytest.raises(JobError) as caught:
        read_job(SMALL + "[design.screen]\ndiagonal = -1\nmass = -1\ncolour = 3")
    assert {found.field for found in caught.value.problems} == {
        "design.screen.diagonal", "design.screen.mass", "design.screen.colour",
    }  # fmt: skip


@pytest.mark.parametrize(
    ("text", "field", "says"),
    [
        (b"x" * (LARGEST_FILE + 1), "file", "MB"),
        ("x" * 10_000_000, "file", "10.0 MB"),
        (b"PK\x03\x04\0\0\0", "file", "binary"),
        ("a = '\0'", "file", "NUL"),
        (b"title = '\xff\xfe'", "file", "line 1"),
        ("title = 'x'\nwall = \na = 1", "line 2, column 8", "not TOML"),
        ("title = [1, 2", "end of file", "not TOML"),
        ("title = 'x'\ntitle = 'y'\n\n", "line 2, column 12", "not TOML"),
        ("x = " + "[" * 1500 + "]" * 1500, "file", "nests"),
        ("x = " + "1" * 3900, "x", "too large"),
        ("a" + ".a" * 100 + " = 1", "a.a.a.a", "nests deeper"),
        ("x = '" + "y" * 5000 + "'", "line 1", "characters"),
        ("x = [" + "1,\n" * 600 + "]", "x", "600 entries"),
        ("\n".join(f"x{i} = 1" for i in range(60_000)), "file", "more than"),
    ],
)
def test_hostile_text_is_refused_before_it_costs(text: str | bytes, field: str, says: str) -> None:
    found = problem(text)
    assert found[0] == field
    assert says in found[2]


def test_a_message_never_carries_a_page() -> None:
    found = problem(SMALL + "[design.screen]\npanel = '" + "x" * 3000 + "'")
    assert len(found[1]) <= 80


def test_plain_tables_are_read_as_a_file_is() -> None:
    import tomllib

    assert job_from(tomllib.loads(LIVING)) == read_job(LIVING)
    with pytest.raises(JobError, match="nothing that a job can hold"):
        job_from({"wallwright-job": 1, "title": object()})


@settings(max_examples=60, deadline=None)
@given(st.data())
def test_a_spoilt_job_is_read_or_refused_never_a_crash(data: st.DataObject) -> None:
    """Replace a stretch of a good job by anything."""
    at = data.draw(st.integers(0, len(LIVING)))
    upto = data.draw(st.integers(at, min(len(LIVING), at + 60)))
    text = LIVING[:at] + data.draw(st.text(max_size=20)) + LIVING[upto:]
    try:
        read_job(text)
    except JobError as error:
        assert all(found.field and found.says for found in error.problems)


KEYS = st.sampled_from(
    ["title", "survey", "wall", "widths", "at", "value", "design", "units", "ref", "rules"]
)
VALUES = st.none() | st.booleans() | st.floats() | st.integers() | st.text(max_size=5) | st.binary(max_size=3)
TABLES = st.recursive(
    VALUES,
    lambda inner: st.lists(inner, max_size=3) | st.dictionaries(KEYS, inner, max_size=4),
    max_leaves=12,
)


@settings(max_examples=60, deadline=None)
@given(TABLES)
def test_any_tables_are_read_or_refused(value: object) -> None:
    with pytest.raises(JobError):
        job_from({"wallwright-job": 1, "title": "x", "survey": value})


@pytest.mark.parametrize(
    ("entry", "field", "value"),
    [
        ("[survey.supply]\ncomes = 'wall'\nx = 90000\nz = 300", "survey.supply.x", "90000"),
        ("[survey.supply]\ncomes = 'left'\nz = 9000", "survey.supply.z", "9000"),
        ("[survey.lines_in]\ncomes = 'ceiling'\nx = -400", "survey.lines_in.x", "-400"),
        (
            "[survey.lines_in]\ncomes = 'floor'\nx = 4300",
            "survey.lines_in.x",
            "4300",
        ),  # the wall is 4200.5 wide
    ],
)
def test_cables_that_come_in_beside_the_wall_are_refused(entry: str, field: str, value: str) -> None:
    found, shown, says = problem(f"{SMALL}{entry}\n")
    assert (found, shown) == (field, value) and "off this wall: 0 to " in says
    assert read_job(f"{SMALL}[survey.supply]\ncomes = 'wall'\nx = 4200\nz = 2750\n").survey.supply is not None


KEPT = "[brief.budget]\namount = 5000\nkeep = ['fronts', 'panel']\n"


def test_what_is_kept_from_swaps_must_be_there() -> None:
    found, shown, says = problem(f"{SMALL}{KEPT}")
    assert (found, shown) == ("brief.budget.keep[1]", "'panel'") and "did you mean 'panels'?" in says
    console = "[[design.units]]\nref = 'C1'\nkind = 'console'\n"
    assert read_job(f"{SMALL}{KEPT.replace('panel', 'C1')}{console}").brief.budget is not None
    assert problem(f"{SMALL}{KEPT.replace('panel', 'C1')}")[1] == "'C1'"


def test_how_sure_a_reading_is_stands_with_its_length() -> None:
    beside = "heights = [{ at = 1000, value = 2750, state = 'measured', tolerance = 3 }]"
    wall = f"wallwright-job = 1\n[survey.wall]\nwidths = [{{ at = 100, value = 4200 }}]\n{beside}\n"
    with pytest.raises(JobError) as caught:
        read_job(wall)
    says = {one.field: one.says for one in caught.value.problems}
    assert {"survey.wall.heights[0].state", "survey.wall.heights[0].tolerance"} <= set(says)
    form = 'value = { value = 4200, state = "measured", tolerance = 3 }'
    assert all(form in one for field, one in says.items() if field.startswith("survey.wall.heights"))
    head = "wallwright-job = 1\ntitle = 'T'\n[survey.room]\nname = 'R'\ndepth = 4000\n[survey.wall]\n"
    read = read_job(f"{head}widths = [{{ at = 100, {form} }}]\nheights = [{{ at = 1, value = 2750 }}]\n")
    assert (read.survey.wall.widths[0].value.state, read.survey.wall.widths[0].value.tolerance) == (
        "measured",
        3.0,
    )


@pytest.mark.parametrize(
    ("typed", "says"),
    [
        ('[brief.budget]\namount = "1,80,000"', "is not a number; write 180000, without quotes or commas"),
        ('[brief.budget]\namount = "much"', "is not a number"),
        ('[[brief.devices]]\nref = "box"\nkind = "set top box"', "; did you mean 'set_top_box'?"),
        ('[[brief.devices]]\nref = "box"\nkind = "*"', "hold only letters, digits, and . _ -"),
    ],
)
def test_a_slip_of_writing_is_told_with_what_was_meant(typed: str, says: str) -> None:
    wall = "[survey.room]\n[survey.wall]\nwidths = [{ at = 100, value = 3000 }]\nheights = [{ at = 200, value = 2700 }]"
    with pytest.raises(JobError) as caught:
        read_job(f'wallwright-job = 1\ntitle = "T"\n{wall}\n{typed}\n')
    assert str(caught.value.problems[0]).endswith(says)
