"""What a site needs of a sheet: no stamp missing, whole mm that close, cut-outs, fixings, hinges, seams that join."""

from __future__ import annotations

import itertools
from dataclasses import replace
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from wallwright.core.drawing import Circle, Dim, Leader, Level, Line, Symbol, Text
from wallwright.core.shape import Box
from wallwright.core.units import Length
from wallwright.derive import Wall, derive
from wallwright.job.demos import demo_jobs
from wallwright.job.read import read_job
from wallwright.job.survey import Obstacle
from wallwright.sheets import (
    detail,
    elevation,
    elevation_words,
    fixings,
    fronts,
    joinery,
    panels,
    section,
    services,
)
from wallwright.sheets.boring import boring_notes, cups
from wallwright.sheets.chains import chain, closing
from wallwright.sheets.cutouts import crowded, cut_out_table, cut_outs
from wallwright.sheets.drawing_set import drawing_set
from wallwright.sheets.ink import figure, inked
from wallwright.sheets.paper import Sheet, open_dangers
from wallwright.sheets.point_table import point_table
from wallwright.sheets.templates import templates
from wallwright.sheets.tiles import seams
from wallwright.sheets.words import count, finish_name, point_words


def demo(name: str) -> Wall:
    return derive(read_job(demo_jobs()[name].encode(), name))


@pytest.fixture(scope="module")
def living() -> Wall:
    return demo("living")


@pytest.fixture(scope="module")
def faults() -> Wall:
    return demo("living_faults")


def words(sheet: Sheet) -> str:
    out: list[str] = []
    for view in sheet.layers:
        for mark in view.drawing.marks:
            out += [part.text for part in inked(mark, view.drawing.scale) if isinstance(part, Text)]
    return " ".join(out)


# --- the stamp ---------------------------------------------------------------------------------------------------------


def test_every_sheet_of_a_dangerous_wall_is_stamped(faults: Wall) -> None:
    n = open_dangers(faults)
    assert n > 1
    for sheet in (*drawing_set(faults), *templates(faults)):
        assert f"NOT FOR CONSTRUCTION: {n} dangers open" in words(sheet), sheet.name
        assert any(isinstance(m, Line) and m.ref == "stamp" and m.closed for m in sheet.paper.marks)


def test_a_wall_without_dangers_is_not_stamped(living: Wall) -> None:
    assert open_dangers(living) == 0
    assert not any("NOT FOR CONSTRUCTION" in words(sheet) for sheet in drawing_set(living))


def test_status_never_says_construction_while_a_danger_is_open(living: Wall) -> None:
    wall = replace(living, job=replace(living.job, status="construction"))
    sheet = elevation.sheet(wall)
    assert "For construction" in words(sheet)
    assert "For construction" not in words(replace(sheet, dangers=1))
    assert "1 danger open" in words(replace(sheet, dangers=1))


def test_no_hole_of_nothing_is_drawn(faults: Wall) -> None:
    assert any(check.hole_diameter == 0 for check in faults.structure.fixings)
    for sheet in (*drawing_set(faults), *templates(faults)):
        said = words(sheet)
        assert "Ø0" not in said and "Ø 0" not in said, sheet.name
        for view in sheet.views:
            assert not any(isinstance(m, Circle) and m.radius == 0 for m in view.drawing.marks)
    build_up = [m.text for m in detail.drawing(faults).marks if isinstance(m, Leader)]
    assert "fixing not chosen: wall unknown" in build_up
    assert "fixing not chosen: wall unknown" in words(fixings.sheets(faults)[0]).replace("  ", " ")


# --- whole millimetres -------------------------------------------------------------------------------------------------


@given(st.lists(st.floats(0.6, 4000), min_size=1, max_size=14))
def test_rounded_parts_add_up_to_the_rounded_whole(parts: list[float]) -> None:
    shown = closing(parts)
    assert abs(sum(shown) - sum(parts)) <= 0.5 + 1e-6
    assert all(abs(a - b) < 1 for a, b in zip(shown, parts, strict=True))


def test_equal_parts_are_shown_equal_where_that_closes() -> None:
    assert closing([25, 450, 684, 1882, 684.525, 450, 25]) == [25, 450, 684, 1882, 685, 450, 25]
    assert closing([19.6, 410.8, 19.6]) == [20, 410, 20]
    assert closing([0.5, 0.5, 0.5]) == [1, 1, 0]


def test_figures_of_every_chain_close_in_print(drawings: tuple[Sheet, ...]) -> None:
    seen = 0
    for sheet in drawings:
        for view in sheet.views:
            dims = [m for m in view.drawing.marks if isinstance(m, Dim)]
            for _, own in itertools.groupby(
                sorted(dims, key=lambda d: (d.along, d.at, d.offset, d.ref)),
                key=lambda d: (d.along, d.at, d.offset, d.ref),
            ):
                chain = list(own)
                figures = [figure(dim) for dim in chain]
                assert all(text.isdigit() for text in figures), (sheet.name, figures)
                total = sum(dim.value for dim in chain)
                assert abs(sum(map(int, figures)) - total) <= 0.5 + 1e-6, (sheet.name, figures)
                seen += 1
    assert seen > 20


# --- cut-outs ----------------------------------------------------------------------------------------------------------


def test_every_box_behind_a_panel_or_back_is_cut_out(living: Wall) -> None:
    boards = [part for part in living.carcass.parts if part.role in ("panel", "back")]
    found = {(one.part.id, one.point.ref) for one in cut_outs(living, living.carcass.parts)}
    behind = {
        (part.id, point.ref)
        for part in boards
        for point in living.services.points
        if part.block.face.meets(point.box)
    }
    assert behind
    assert behind <= found
    drawn = {
        mark.ref
        for sheet in (*joinery.sheets(living), *panels.sheets(living))
        for view in sheet.views
        for mark in view.drawing.marks
        if isinstance(mark, Line) and mark.layer == "cutouts" and mark.pen == "dashed"
    }
    assert {f"{board} {point}" for board, point in behind} <= drawn


def test_a_cut_out_is_measured_from_its_boards_edges(living: Wall) -> None:
    one = next(o for o in cut_outs(living, living.carcass.parts) if o.part.role == "back")
    assert one.left == pytest.approx(one.point.x - one.point.box.width / 2 - one.part.block.x)
    assert one.low == pytest.approx(one.point.z - one.point.box.height / 2 - one.part.block.z)
    row = cut_out_table([one]).rows[0]
    assert row[0] == one.part.id and str(row[1]).startswith(one.point.ref)
    assert abs(float(str(row[2])) - one.left) <= 0.5


# --- fixings and zones -------------------------------------------------------------------------------------------------


def test_every_hole_is_drawn_and_dimensioned(living: Wall) -> None:
    marks = fixings.drawing(living, 20).marks
    holes = sorted(hole for check in living.structure.fixings for hole in check.holes)
    assert sorted(m.at for m in marks if isinstance(m, Symbol)) == holes
    below = {round(m.points[0][0], 1) for m in marks if isinstance(m, Line) and m.ref == "holes below"}
    above = {round(m.points[0][0], 1) for m in marks if isinstance(m, Line) and m.ref == "holes above"}
    up = {round(m.points[0][1], 1) for m in marks if isinstance(m, Line) and m.ref == "holes up"}
    foot = living.sight.screen.frame.z
    assert {round(x, 1) for x, z in holes if z < foot} <= below
    assert {round(x, 1) for x, z in holes if z >= foot} <= above
    assert {round(z, 1) for _, z in holes} <= up
    figures = {m.text for m in marks if isinstance(m, Text) and m.ref.startswith("holes ")}
    assert {f"{x:.0f}" for x, _ in holes} | {f"{z:.0f}" for _, z in holes} <= figures


def test_a_hole_near_a_run_is_not_to_be_drilled(living: Wall) -> None:
    x, _ = living.structure.fixings[0].holes[0]
    run = replace(living.services.runs[0], path=((x + 12, 0.0), (x + 12, 2600.0)))
    zones = (Box(x - 100, 0, 200, 2700),)
    near = replace(living, services=replace(living.services, runs=(run,), zones=zones))
    assert any(
        note.startswith("DO NOT DRILL") and living.structure.fixings[0].ref in note
        for note in fixings.zone_notes(near)
    )
    far = replace(
        near, services=replace(near.services, runs=(replace(run, path=((4000.0, 0.0), (4000.0, 2600.0))),))
    )
    assert not any(note.startswith("DO NOT DRILL") for note in fixings.zone_notes(far))
    assert any("clear of every run as planned" in note for note in fixings.zone_notes(far))


def test_an_untraced_socket_over_a_hole_stops_the_drill(living: Wall) -> None:
    x, _ = living.structure.fixings[0].holes[0]
    socket = Obstacle("EX9", "socket", Length(x - 40), Length(200), Length(86), Length(86))
    survey = replace(living.job.survey, obstacles=(socket,))
    job = replace(living.job, survey=survey)
    zones = (Box(x - 100, 0, 200, 2700),)
    wall = replace(living, job=job, services=replace(living.services, zones=zones, runs=()))
    assert any("EX9 is not traced" in note for note in fixings.zone_notes(wall))


def test_supply_and_entry_are_drawn_and_dimensioned(living: Wall) -> None:
    places = services.incoming(living)
    assert {name for name, _ in places} == {"supply", "entry"}
    marks = services.drawing(living, 20).marks
    for (name, (x, z)), refs in places.items():
        label = next(m for m in marks if isinstance(m, Leader | Text) and m.ref == name)
        assert all(ref in label.text for ref in refs)
        assert any(isinstance(m, Dim) and m.along == "x" and x in (m.start[0], m.end[0]) for m in marks)
        assert any(isinstance(m, Dim) and m.along == "z" and z in (m.start[1], m.end[1]) for m in marks)


def test_what_becomes_of_an_old_outlet_is_said(living: Wall) -> None:
    said = words(services.sheets(living)[0])
    assert "EX1 socket, stays" in said
    assert "feeds nothing of this wall" in " ".join(said.split())
    assert all(
        row[5] in {"-", *(c.ref for c in living.services.circuits)} for row in point_table(living).rows
    )


# --- fronts ------------------------------------------------------------------------------------------------------------


def test_doors_are_dashed_on_their_own_outline(living: Wall) -> None:
    doors = [p.block.face for p in living.carcass.parts if p.role == "front" and p.name == "door"]
    marks = elevation.drawing(living, 20).marks
    dashes = [m for m in marks if isinstance(m, Line) and m.pen == "dashed" and m.layer == "units"]
    assert doors
    for door in doors:
        own = [m for m in dashes if all(door.holds(Box(*point, 0, 0)) for point in m.points)]
        assert own and max(z for m in own for _, z in m.points) == pytest.approx(door.top)
        assert min(z for m in own for _, z in m.points) == pytest.approx(door.z)


def test_right_hand_towers_hinge_on_the_right(living: Wall) -> None:
    for unit in living.setout.units:
        for bay in (b for b in living.carcass.bays if b.unit == unit.ref and b.front == "shutter"):
            bays = [b for b in living.carcass.bays if b.unit == unit.ref]
            own = fronts.leaves(living, bay, unit, bays)
            if len(own) == 1 and unit.kind == "tower":
                assert fronts.hinged_right(own[0], own, unit) == (unit.side == "right")


def test_a_pair_of_doors_hinges_at_its_outer_edges(living: Wall) -> None:
    unit = living.setout.units[0]
    pair = [Box(0, 0, 300, 500), Box(303, 0, 300, 500)]
    assert [fronts.hinged_right(box, pair, unit) for box in pair] == [False, True]


def test_cups_lie_in_their_door_beside_its_hinge(living: Wall) -> None:
    doors = {p.id: p.block.face for p in living.carcass.parts if p.role == "front"}
    for unit in living.setout.units:
        found = cups(living, unit)
        for cup in found:
            door = doors[cup.door]
            at = cup.at[0]
            near = door.right - at if unit.side == "right" else at - door.x
            assert near == pytest.approx(living.limits.value("joinery.cup_edge"))
            assert door.z < cup.at[1] < door.top
        made = sum(h.quantity for h in living.carcass.hardware if h.unit == unit.ref and h.kind == "hinge")
        assert len(found) == made


def test_the_fixed_shelf_is_dimensioned_and_loose_ones_are_noted(living: Wall) -> None:
    unit = living.setout.unit("T1")
    marks = joinery.inside(living, unit, 20).marks
    ends = {
        round(e[1], 1)
        for m in marks
        if isinstance(m, Dim) and m.ref == "chain" and m.along == "z"
        for e in (m.start, m.end)
    }
    for part in living.carcass.parts:
        if part.unit == "T1" and part.role == "division":
            assert {
                round(part.block.z - unit.box.z, 1),
                round(part.block.z + part.block.dz - unit.box.z, 1),
            } <= ends
        if part.unit == "T1" and part.role == "shelf":
            assert round(part.block.z - unit.box.z, 1) not in ends
            notes = boring_notes(living, unit, [p for p in living.carcass.parts if p.unit == "T1"])
            assert any(part.id in note for note in notes)


# --- beams, fillers, depths --------------------------------------------------------------------------------------------


def beamed(wall: Wall, **measured: Any) -> Wall:
    beam = Obstacle(
        "BM",
        "beam",
        measured.get("x", Length(0)),
        Length(2450, state="measured"),
        Length(wall.face.width),
        Length(wall.face.height - 2450),
        Length(230),
    )
    return replace(wall, face=replace(wall.face, obstacles=(beam,)))


def test_a_beam_has_its_soffit_drop_and_projection(living: Wall) -> None:
    wall = beamed(living)
    levels = [m for m in elevation.drawing(wall, 20).marks if isinstance(m, Level)]
    assert any(level.mm == 2450 and "BM" in level.text for level in levels)
    cut = section.drawing(wall, 20)
    assert any(isinstance(m, Level) and m.mm == 2450 for m in cut.marks)
    assert any(isinstance(m, Dim) and m.along == "x" and m.value == pytest.approx(230) for m in cut.marks)
    assert any(isinstance(m, Leader) and "drop 300, projection 230" in m.text for m in cut.marks)


def test_only_what_is_assumed_is_hatched() -> None:
    box = Box(0, 2450, 4000, 300)

    def area(*states: Any) -> float:
        x, z, wide, high = (Length(v, state=s) for v, s in zip((0, 2450, 4000, 300), states, strict=True))
        thing = Obstacle("BM", "beam", x, z, wide, high)
        marks = elevation.assumed_hatch(thing, box, 36)
        return sum((m.points[1][0] - m.points[0][0]) * (m.points[2][1] - m.points[1][1]) for m in marks)  # type: ignore[union-attr]

    assert area("measured", "measured", "measured", "measured") == 0
    assert area("assumed", "assumed", "assumed", "assumed") == box.area
    assert area("measured", "measured", "measured", "assumed") == 36 * 4000  # its upper edge alone


def test_fillers_stand_on_the_elevation_with_both_sizes(living: Wall) -> None:
    fillers = [p for p in living.carcass.parts if p.role == "filler"]
    assert fillers
    marks = elevation.drawing(living, 20).marks
    said = words(elevation.sheet(living))
    for part in fillers:
        assert any(
            isinstance(m, Line) and m.ref == part.id and m.points == part.block.face.corners for m in marks
        )
        assert f"{part.id} filler" in said
    assert all("in place, cut" in note for note in elevation_words.filler_notes(living))


def test_the_console_is_dimensioned_from_the_walls_face(living: Wall) -> None:
    console = next(u for u in living.setout.units if u.kind == "console")
    depths = [m for m in section.drawing(living, 20).marks if isinstance(m, Dim) and m.ref == "depths"]
    assert any(dim.value == pytest.approx(console.depth) for dim in depths)


# --- templates ---------------------------------------------------------------------------------------------------------


@given(
    st.integers(200, 1500),
    st.lists(st.tuples(st.integers(10, 1400), st.integers(10, 150)), max_size=6),
)
def test_seams_leave_no_gap_and_no_tile_too_wide(last: int, things: list[tuple[int, int]]) -> None:
    made = seams(0.0, float(last), 180.0, [(float(a), float(a + w)) for a, w in things])
    assert made[0] == 0 and made[-1] == last
    assert all(0 < b - a <= 180 for a, b in itertools.pairwise(made))


def test_seams_go_round_what_stays_whole() -> None:
    made = seams(0.0, 500.0, 180.0, [(150.0, 250.0)])
    assert made == [0.0, 150.0, 330.0, 500.0]


def test_no_box_behind_the_screen_is_split(living: Wall) -> None:
    hidden = [p for p in living.services.points if living.sight.screen.frame.holds(p.box)]
    tiles = [s for s in templates(living) if s.name.startswith("template_")]
    for point in hidden:
        on = [
            s.name for s in tiles if any(getattr(m, "ref", "") == point.ref for m in s.views[0].drawing.marks)
        ]
        assert len(on) == 1, (point.ref, on)


def test_tiles_name_only_tiles_that_are_there_and_say_where_they_lie(any_wall: Any) -> None:
    tiles = [s for s in templates(any_wall) if s.name.startswith("template_")]
    names = {s.name.removeprefix("template_") for s in tiles}
    for sheet in tiles:
        said = words(sheet)
        joins = said.split("Joins on its corner crosses: ")[1].split(".")[0]
        if "alone" not in joins:
            assert {part.split()[1] for part in joins.split(", ")} <= names
        assert "from the left corner, its lower edge" in said
        assert f"Screen middle x {any_wall.sight.screen.centre[0]:.0f}" in said


# --- words -------------------------------------------------------------------------------------------------------------


def test_one_word_for_a_thing() -> None:
    assert count(1, "part") == "1 part" and count(2, "part") == "2 parts"
    assert point_words("rf") == "aerial outlet"
    assert finish_name("") == "bare" and "_" not in finish_name("laminate_oak")


def test_no_sheet_speaks_in_codes(drawings: tuple[Sheet, ...]) -> None:
    for sheet in drawings:
        said = f" {words(sheet)} "
        for code in (
            " rf ",
            "shutter,",
            " 1 parts",
            "laminate_",
            "sprayed_",
            "confirmat",
            " ply18",
            " mdf18",
        ):
            assert code not in said, (sheet.name, code)


def test_a_chain_too_crowded_to_read_is_left_to_the_table() -> None:
    """At 1:20 a figure of two digits takes about 5 mm: three neighbours of 24 mm (1.2 on paper) cannot be told apart, one can."""
    roomy = chain([0.0, 500.0, 524.0, 1000.0], "x", 0.0, 8.0)
    crowd = chain([0.0, 500.0, 524.0, 548.0, 572.0, 1000.0], "x", 0.0, 8.0)
    assert not crowded(roomy, 20.0) and crowded(crowd, 20.0)
    assert not crowded(crowd, 2.0)
