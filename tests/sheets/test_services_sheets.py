"""The electrical sheets: nothing runs through a text, every run, point and circuit is there, and measured where it lies."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from functools import cache
from itertools import pairwise

import pytest

from wallwright.core.drawing import Dim, Drawing, Hatch, Leader, Line, Text
from wallwright.core.shape import Box, around
from wallwright.derive import Wall, derive
from wallwright.job.demos import DEMOS, demo_jobs
from wallwright.job.edits import apply
from wallwright.job.read import read_job
from wallwright.sheets import cable_map, electrician, hidden_services, services
from wallwright.sheets.crossed import crossed
from wallwright.sheets.ink import text_box, texts
from wallwright.sheets.paper import Sheet, numbered
from wallwright.sheets.services_marks import grouped, longest, run_labels, run_lines
from wallwright.sheets.taken import strokes
from wallwright.tables.no_drill import found
from wallwright.tables.plugs import plug_list


@cache
def wall(name: str) -> Wall:
    return derive(read_job(demo_jobs()[name]))


def all_of(made: Wall) -> tuple[Sheet, ...]:
    return numbered(
        (
            services.sheets(made)[0],
            *electrician.sheets(made),
            *cable_map.sheets(made),
            *hidden_services.sheets(made),
        ),
        made,
    )


def words(sheet: Sheet) -> str:
    texts = [m.text for v in sheet.layers for m in v.drawing.marks if isinstance(m, Text)]
    return " ".join(texts)


@pytest.mark.parametrize("name", DEMOS)
def test_nothing_runs_through_a_text(name: str, sheet_faults: Callable[[Sheet], list[str]]) -> None:
    sheets = all_of(wall(name))
    assert [sheet.name for sheet in sheets if not sheet.name[-1].isdigit()] == [
        "services", "electrician", "cable_map", "hidden_services", "no_drill_map",
    ]  # fmt: skip
    assert {sheet.name: hits for sheet in sheets if (hits := crossed(sheet))} == {}
    assert {sheet.name: faults for sheet in sheets if (faults := sheet_faults(sheet))} == {}


@pytest.mark.parametrize("name", DEMOS)
def test_every_sheet_is_a_design_aid_at_a_scale_of_iso_5455(name: str) -> None:
    for sheet in all_of(wall(name)):
        assert "checked, sized, installed and tested by the locally licensed electrician" in words(sheet)
        assert sheet.scale in ("1:10", "1:20", "1:50", "none")  # ISO 5455; the cable map is not to scale


@pytest.mark.parametrize("name", DEMOS)
def test_zones_that_only_hidden_boxes_tell_of_look_different(name: str) -> None:
    made = wall(name)
    marks = services.drawing(made, 20).marks
    areas: dict[str, list[Box]] = {"no_drill": [], "hidden": []}
    for mark in marks:
        if isinstance(mark, Hatch) and mark.pattern in areas:
            areas[mark.pattern].append(around(mark.points))
    both = [*areas["no_drill"], *areas["hidden"]]
    assert not any(a.meets(b) for i, a in enumerate(both) for b in both[i + 1 :])  # each place once
    if made.services.hidden_zones:
        assert areas["hidden"]
    hidden = set(made.services.hidden_zones)
    for zone in made.services.zones:
        if zone not in hidden:
            assert not any(zone.grown(-1).meets(area) for area in areas["hidden"])


@pytest.mark.parametrize("name", DEMOS)
def test_every_leg_of_every_run_is_drawn_and_measured(name: str) -> None:
    made = wall(name)
    marks = hidden_services.hidden(made, 20).marks
    lines = {
        m.ref: m.points for m in marks if isinstance(m, Line) and m.layer == "runs" and m.pen == "dashed"
    }
    dims = [m for m in marks if isinstance(m, Dim)]
    x = {round(end[0], 1) for m in dims if m.along == "x" for end in (m.start, m.end)}
    z = {round(end[1], 1) for m in dims if m.along == "z" for end in (m.start, m.end)}

    def measured(value: float, stops: set[float]) -> bool:
        return any(abs(value - stop) < 0.6 for stop in stops)

    for run in made.services.runs:
        if len(run.path) < 2:
            continue
        assert lines[run.ref] == run.path
        for a, b in pairwise(run.path):
            if abs(a[0] - b[0]) < 1.0 and abs(a[1] - b[1]) > 1.0:
                assert measured(a[0], x)
            elif abs(a[1] - b[1]) < 1.0 and abs(a[0] - b[0]) > 1.0:
                assert measured(a[1], z)
    said = {row[0] for row in hidden_services.run_table(made).rows}
    assert said == {run.ref for run in made.services.runs}


@pytest.mark.parametrize("name", DEMOS)
def test_the_map_covers_all_that_must_not_be_drilled_and_no_more(name: str) -> None:
    made = wall(name)
    marks = hidden_services.drill_map(made, 20).marks
    dots = [around(m.points) for m in marks if isinstance(m, Hatch) and m.pattern == "no_drill"]
    every = [around(m.points) for m in marks if isinstance(m, Hatch)]
    assert not any(a.meets(b) for i, a in enumerate(every) for b in every[i + 1 :])  # each place hatched once
    bands = [around(item.outline) for item in found(made) if item.sort != "zone"]
    from shapely import union_all
    from shapely.geometry import box

    def union(boxes: list[Box]) -> object:
        return union_all([box(b.x, b.z, b.right, b.top) for b in boxes])

    assert union(dots).symmetric_difference(union(bands)).area < 1.0  # type: ignore[attr-defined]
    assert {row[0] for row in hidden_services.band_table(made).rows} == {
        item.ref for item in found(made) if item.sort != "zone"
    }


@pytest.mark.parametrize("name", DEMOS)
def test_the_cable_map_draws_what_goes_from_box_to_box_and_names_the_rest(name: str) -> None:
    made = wall(name)
    (sheet,) = cable_map.sheets(made)
    said = words(sheet)
    lines = {m.ref: m for m in sheet.marks if isinstance(m, Line) and m.layer == "cables" and not m.closed}
    for plug in plug_list(made):
        assert (plug.ref in lines) != plug.outlet
        if plug.outlet:
            assert f"{plug.ref} {plug.start_port} > {plug.end} {plug.end_port}" in said
        else:
            assert f"{plug.ref}, {plug.bought / 1000:g} m" in said
    paths = [lines[ref].points for ref in lines]
    uprights = [
        (a[0], min(a[1], b[1]), max(a[1], b[1]))
        for p in paths
        for a, b in pairwise(p)
        if a[0] == b[0] and a != b
    ]
    for i, one in enumerate(uprights):  # no two cables share a way
        assert not any(
            abs(one[0] - other[0]) < 0.5 and min(one[2], other[2]) - max(one[1], other[1]) > 0.5
            for other in uprights[i + 1 :]
        )


def test_many_boxes_make_more_than_one_sheet() -> None:
    job = read_job(demo_jobs()["living"])
    for n in range(9):
        job = apply(job, "add_device", {"ref": f"disc{n}", "kind": "disc_player"})
    made = derive(job)
    sheets = cable_map.sheets(made)
    assert len(sheets) == 2 and [sheet.name for sheet in sheets] == ["cable_map", "cable_map2"]
    said = words(sheets[0]) + words(sheets[1])
    assert all(f"disc{n}  Disc player" in said for n in range(9))
    for sheet in numbered(sheets, made):
        assert crossed(sheet) == ()


@pytest.mark.parametrize("name", DEMOS)
def test_the_electricians_page_has_every_point_circuit_and_load(name: str) -> None:
    made = wall(name)
    said = words(electrician.sheets(made)[0])
    for point in made.services.points:
        assert f"{point.x:.0f}" in said and point.ref in said
    for circuit in made.services.circuits:
        assert circuit.ref in said and f"{circuit.carries:.1f}" in said
    assert "Rule set" in said and "Tests, in this order" in said
    left_out = said[said.index("Not checked here") :]
    for check in ("curve", "disconnection time", "fault loop", "Prospective fault current", "earthing"):
        assert check in left_out
    heads = (
        "Reference method",
        "Ambient [°C]",
        "Circuits grouped",
        "Rating there [A]",
        "Longest run [m]",
        "Standby [W]",
    )
    assert all(head in said for head in heads)
    texts = {
        m.text for v in electrician.sheets(made)[0].layers for m in v.drawing.marks if isinstance(m, Text)
    }
    assert {"Circuits grouped", "Longest run [m]"} <= texts and not {
        "Lies",
        "Beside",
        "Most [m]",
        "Asleep [W]",
    } & texts


def test_runs_side_by_side_share_a_label() -> None:
    runs = wall("living").services.runs
    groups = grouped(runs)
    assert sorted(run.ref for _, members in groups for run in members) == sorted(
        run.ref for run in runs if longest(run)
    )
    assert any(len(members) > 1 for _, members in groups)
    for (x, z), members in groups:
        for run in members:
            leg = longest(run)
            assert leg is not None
            (x0, z0), (x1, z1) = leg
            near = min(x0, x1) - 61 <= x <= max(x0, x1) + 61 and min(z0, z1) - 61 <= z <= max(z0, z1) + 61
            assert near, run.ref


@pytest.mark.parametrize("name", DEMOS)
def test_for_handover_every_run_and_every_band_is_listed(name: str) -> None:
    made = wall(name)
    sheets = hidden_services.sheets(made)
    for start, table in (
        ("hidden", hidden_services.run_table(made)),
        ("no_drill", hidden_services.band_table(made)),
    ):
        marks = [m for sheet in sheets if sheet.name.startswith(start) for m in sheet.marks]
        said = [m.text for m in marks if isinstance(m, Text)]
        assert not [text for text in said if "more in the schedules" in text]
        assert all(row[0] in said for row in table.rows)


def test_a_conduit_is_labelled_by_its_name_size_and_trunking_by_its_own() -> None:
    made = wall("living")
    said = " ".join(m.text for m in run_labels(made, 20) if isinstance(m, Leader))
    assert "H1: 40" in said and "X1: 25" in said and "Ø" not in said
    rented = derive(apply(made.job, "set_tenure", {"tenure": "rent"}))
    assert "M6: 16×16" in " ".join(m.text for m in run_labels(rented, 20) if isinstance(m, Leader)).replace(
        "M1, M6", "M6"
    )


@pytest.mark.parametrize(
    ("edits", "says"),
    [
        ((("set_tenure", {"tenure": "rent"}),), "Nothing is cut into a rented wall"),
        ((("set_substrate", {"kind": "concrete"}),), "Structural concrete is not chased"),
        (
            (("set_substrate", {"kind": "brick", "leaf": 115}), ("set_wiring", {"lay": "mixed"})),
            "The leaf bears no such chase",
        ),
        ((("set_wiring", {"lay": "surface"}),), "As chosen, nothing is cut"),
    ],
)
def test_the_note_on_trunking_says_why(edits: tuple[tuple[str, dict[str, object]], ...], says: str) -> None:
    job = wall("living").job
    for edit, values in edits:
        job = apply(job, edit, values)
    made = derive(job)
    notes = words_of(made)
    others = ("rented wall", "concrete is not", "leaf bears", "As chosen")
    assert says in notes and sum(other in notes for other in others) == 1
    trunked = {run.ref for run in made.services.runs if run.lies == "surface"}
    for run in made.services.runs:
        if run.ref in trunked and run.on_surface == run.length:
            assert not run.protect


def words_of(made: Wall) -> str:
    """The notes of the services sheet as running text."""
    (sheet,) = numbered((services.sheets(made)[0],), made)
    return " ".join(m.text for m in sheet.marks if isinstance(m, Text))


@pytest.mark.parametrize("leaf", [230, 115])
@pytest.mark.parametrize("sheet", [services.drawing, hidden_services.hidden])
def test_no_label_of_a_run_lies_on_a_run_or_a_box(leaf: int, sheet: Callable[[Wall, float], Drawing]) -> None:
    made = derive(apply(wall("living").job, "set_substrate", {"kind": "brick", "leaf": leaf}))
    lines = [m for m in run_lines(made) if isinstance(m, Line) and m.pen == "dashed"]
    still = [*strokes(lines, 20), *(point.box for point in made.services.points)]
    labels = [m for m in sheet(made, 20).marks if isinstance(m, Leader) and m.layer == "runs"]
    assert labels
    for label in labels:
        for text in texts(label, 20):
            assert not any(text_box(text, 20).meets(box) for box in still), text.text


def test_a_list_of_many_runs_goes_on_over_as_many_sheets_as_it_needs() -> None:
    made = wall("living")
    runs = tuple(replace(run, ref=f"{run.ref}-{n}") for n in range(12) for run in made.services.runs)
    sheets = hidden_services.sheets(replace(made, services=replace(made.services, runs=runs)))
    lists = [
        sheet for sheet in sheets if sheet.name.startswith("hidden_services") and sheet.name[-1].isdigit()
    ]
    assert len(lists) > 1
    said = [m.text for sheet in lists for m in sheet.marks if isinstance(m, Text)]
    assert all(run.ref in said for run in runs)


def test_what_is_still_free_behind_the_next_plate_is_crossed_and_explained() -> None:
    made = wall("living")
    marks = services.drawing(made, 20).marks
    drawn = [mark.points for mark in marks if isinstance(mark, Hatch) and mark.pattern == "later"]
    assert drawn == list(made.services.region_later) and drawn
    free = [around(piece) for piece in made.services.region_polygons]
    for piece in drawn:  # it is part of what is free today, so that the two hatches cross there
        box = around(piece)
        held = sum(there.area for one in free if (there := one.shared(box)) is not None)
        assert held == pytest.approx(box.area)
    assert "crossed so: also behind a plate" in words_of(made).replace("- ", "")
    none = replace(made, services=replace(made.services, region_later=()))
    assert "next larger" not in words_of(none)
