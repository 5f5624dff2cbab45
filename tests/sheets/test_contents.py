"""What each sheet must show, checked against the wall it was drawn from."""

from __future__ import annotations

import itertools
from dataclasses import replace
from math import cos, radians, sin
from typing import Any

import pytest

from wallwright.core.drawing import Circle, Dim, Hatch, Level, Line, Symbol, Text
from wallwright.core.shape import Box
from wallwright.core.units import Length
from wallwright.cutting.model import to_mm
from wallwright.derive import derive
from wallwright.job.demos import demo_jobs
from wallwright.job.read import read_job
from wallwright.library import load
from wallwright.sheets import cutting, elevation, fronts, joinery, section, services
from wallwright.sheets.ink import inked
from wallwright.sheets.mount_holes import hook_words, not_to_drill
from wallwright.sheets.paper import Sheet
from wallwright.sheets.parts_table import edge_code, parts_table
from wallwright.sheets.point_table import point_table
from wallwright.sheets.rods import height_rod, width_rod
from wallwright.sheets.templates import template_area, template_marks, templates
from wallwright.sheets.tiles import LEAVES, Paper, cut_to


def words(sheet: Sheet) -> str:
    out: list[str] = []
    for view in sheet.layers:
        for mark in view.drawing.marks:
            out += [part.text for part in inked(mark, view.drawing.scale) if isinstance(part, Text)]
    return " ".join(out)


def test_elevation_shows_every_unit_where_it_stands(any_wall: Any) -> None:
    marks = elevation.drawing(any_wall, 20).marks
    for unit in any_wall.setout.units:
        assert any(
            isinstance(m, Line) and m.ref == unit.ref and m.closed and m.points == unit.box.corners
            for m in marks
        )
    frame = next(m for m in marks if isinstance(m, Line) and m.pen == "phantom")
    assert frame.points == any_wall.sight.screen.frame.corners


def test_elevation_levels(any_wall: Any) -> None:
    levels = {round(m.mm, 1) for m in elevation.drawing(any_wall, 20).marks if isinstance(m, Level)}
    assert {0.0, 1000.0, round(any_wall.face.height, 1), round(any_wall.sight.screen.centre[1], 1)} <= levels
    for unit in any_wall.setout.units:
        if unit.kind == "console":
            assert {round(unit.box.z, 1), round(unit.box.top, 1)} <= levels


def test_elevation_draws_each_flute(handmade: Any) -> None:
    zone = next(z for z in handmade.setout.zones if z.kind == "fluted")
    lines = [
        m
        for m in elevation.drawing(handmade, 20).marks
        if isinstance(m, Line) and m.ref == zone.ref and m.pen == "thin"
    ]
    xs = sorted(line.points[0][0] for line in lines)
    assert len(xs) == zone.flutes
    assert xs[1] - xs[0] == pytest.approx(zone.flute_pitch)


def test_fronts_fill_the_unit_without_gap_or_overlap(any_wall: Any) -> None:
    for unit in any_wall.setout.units:
        bays = [bay for bay in any_wall.carcass.bays if bay.unit == unit.ref]
        if bays:
            fields = [fronts.front_box(bay, unit, bays) for bay in bays]
            assert sum(f.area for f in fields) == pytest.approx(unit.box.area, rel=1e-6)


def test_section_tilts_the_screen_about_its_middle(handmade: Any) -> None:
    screen = replace(handmade.sight.screen, tilt=10.0)
    wall = replace(handmade, sight=replace(handmade.sight, screen=screen))
    bottom_back, top_back, top_front, _ = section.screen_section(wall)
    half = screen.frame.height / 2
    assert top_back[0] == pytest.approx(
        -screen.stand_off - half * sin(radians(10))
    )  # the top leans into the room
    assert top_back[1] == pytest.approx(screen.centre[1] + half * cos(radians(10)))
    assert bottom_back[0] == pytest.approx(-screen.stand_off + half * sin(radians(10)))
    assert top_front[0] < top_back[0]


def test_section_draws_eyes_and_lines_to_the_screen(any_wall: Any) -> None:
    drawing = section.drawing(any_wall, 20)
    eyes = [m for m in drawing.marks if isinstance(m, Symbol) and m.kind == "eye"]
    assert {(m.at[0], m.at[1]) for m in eyes} == {(s.eye[1], s.eye[2]) for s in any_wall.sight.seats}
    assert sum(isinstance(m, Line) and m.layer == "sight" for m in drawing.marks) == 3 * len(eyes)
    said = words(section.sheet(any_wall))
    for seat in any_wall.sight.seats:
        assert f"{abs(seat.centre_up):.1f}°" in said


def test_far_seats_are_said_where_they_cannot_be_drawn(handmade: Any) -> None:
    seats = (replace(handmade.sight.seats[0], eye=(2100.0, -9000.0, 1120.0)), handmade.sight.seats[1])
    sheet = section.sheet(replace(handmade, sight=replace(handmade.sight, seats=seats)))
    eyes = [m for m in sheet.views[0].drawing.marks if isinstance(m, Symbol) and m.kind == "eye"]
    assert len(eyes) == 1
    assert "9000 from the" in words(sheet)


def test_unknown_wall_is_said_on_the_section(make_wall: Any, make_job: Any) -> None:
    job = make_job()
    unknown = replace(job, survey=replace(job.survey, wall=replace(job.survey.wall, substrate="unknown")))
    assert "WALL TYPE UNKNOWN" in words(section.sheet(make_wall(job=unknown)))
    assert "WALL TYPE UNKNOWN" not in words(section.sheet(make_wall()))


def test_services_show_every_point_by_sign_box_and_row(any_wall: Any) -> None:
    sheet = services.sheets(any_wall)[0]
    marks = sheet.views[0].drawing.marks
    signs = {m.label: m.at for m in marks if isinstance(m, Symbol) and m.label}
    assert signs == {f"{p.ref} {p.circuit}".strip(): (p.x, p.z) for p in any_wall.services.points}
    boxes = {m.ref: m.points for m in marks if isinstance(m, Line) and m.layer == "points"}
    assert boxes == {p.ref: p.box.corners for p in any_wall.services.points}
    assert [row[0] for row in point_table(any_wall).rows] == [p.ref for p in any_wall.services.points]
    said = words(sheet)
    assert "CENTRE of the box" in said
    assert "licensed electrician" in said


def test_services_hatch_where_nobody_drills_each_place_once(any_wall: Any) -> None:
    hatched = [
        m.points
        for m in services.drawing(any_wall, 20).marks
        if isinstance(m, Hatch) and m.pattern in ("no_drill", "hidden")
    ]
    boxes = [Box(p[0][0], p[0][1], p[1][0] - p[0][0], p[2][1] - p[1][1]) for p in hatched]
    assert boxes
    assert not any(a.meets(b) for i, a in enumerate(boxes) for b in boxes[i + 1 :])
    for zone in any_wall.services.zones:
        inside = zone.shared(any_wall.face.box)
        if inside:
            assert any(box.meets(inside) for box in boxes)


def test_services_have_no_furniture_shading(any_wall: Any) -> None:
    patterns = {m.pattern for m in services.drawing(any_wall, 20).marks if isinstance(m, Hatch)}
    # bands nobody drills, bands where a cable may be expected, where a box may sit, and where behind a larger screen too
    assert patterns <= {"no_drill", "hidden", "allowed", "later"}


def test_joinery_lists_every_part_once(any_wall: Any) -> None:
    sheets = joinery.sheets(any_wall)
    assert {s.name.removeprefix("joinery_") for s in sheets} >= {
        u.ref for u in any_wall.setout.units if u.kind != "shelf"
    }
    for unit in any_wall.setout.units:
        parts = [p for p in any_wall.carcass.parts if p.unit == unit.ref]
        table = parts_table(parts)
        assert sum(int(row[2] or 0) for row in table.rows) == len(parts)


def test_joinery_draws_parts_to_size(any_wall: Any) -> None:
    unit = next(u for u in any_wall.setout.units if u.kind == "console")
    marks = joinery.inside(any_wall, unit, 10).marks
    for part in any_wall.carcass.parts:
        if part.unit == unit.ref and part.role in ("side", "division", "top", "bottom"):
            line = next(m for m in marks if isinstance(m, Line) and m.ref == part.id)
            assert line.points[1][0] - line.points[0][0] == pytest.approx(part.block.dx)


def test_edge_code(handmade: Any) -> None:
    part = handmade.carcass.parts[0]
    assert edge_code(replace(part, edges=("a", "a", "", "b"))) == "2L 1S"
    assert edge_code(replace(part, edges=("", "", "", ""))) == "-"


def test_cutting_sheets_show_every_part_inside_its_own_outline(any_wall: Any) -> None:
    seen: list[str] = []
    parts = {p.id: p for p in any_wall.carcass.parts}
    for board, plan in any_wall.cuts.plans:
        for layout in plan.sheets:
            marks = cutting.drawing(any_wall, board, layout, 10, parts).marks
            for placed in layout.placed:
                outline = next(m for m in marks if isinstance(m, Line) and m.ref == placed.name and m.closed)
                box = Box(to_mm(placed.x), to_mm(placed.y), to_mm(placed.length), to_mm(placed.width))
                assert outline.points == box.corners
                named = [
                    m
                    for m in marks
                    if getattr(m, "ref", "") == placed.name and placed.name in getattr(m, "text", "")
                ]
                assert named, placed.name
                at = getattr(named[0], "at", None) or named[0].points[0]  # type: ignore[union-attr]
                assert box.holds(Box(*at, 0, 0))
                seen.append(placed.name)
    assert sorted(seen) == sorted(set(seen))
    of_board = {p.id for p in any_wall.carcass.parts if p.board in load.boards()}  # battens come by the metre
    assert set(seen) | {ref for ref, _ in any_wall.cuts.unfit} >= of_board


def test_banded_edges_lie_along_the_right_sides(handmade: Any) -> None:
    """A part with one long edge banded has its thick line along its longer side, turned or not."""
    parts = {p.id: p for p in handmade.carcass.parts}
    for board, plan in handmade.cuts.plans:
        for layout in plan.sheets:
            marks = cutting.drawing(handmade, board, layout, 10, parts).marks
            for placed in layout.placed:
                bands = [
                    m for m in marks if isinstance(m, Line) and m.layer == "bands" and m.ref == placed.name
                ]
                edges = parts[placed.name].edges
                assert len(bands) == sum(map(bool, edges))
                if edges[0] and not any(edges[1:]):
                    (a, b) = bands[0].points
                    along_x = abs(a[0] - b[0]) > abs(a[1] - b[1])
                    assert along_x == (not placed.turned)


def test_used_share_is_area_over_area(handmade: Any) -> None:
    layout = handmade.cuts.plans[0][1].sheets[0]
    whole = to_mm(layout.sheet.length) * to_mm(layout.sheet.width)
    assert cutting.used_share(layout) == pytest.approx(
        sum(to_mm(p.length) * to_mm(p.width) for p in layout.placed) / whole
    )


@pytest.mark.parametrize("paper", ["A4", "A3"])
def test_template_tiles_join_without_loss(any_wall: Any, paper: Paper) -> None:
    """Every millimetre of every box outline to be marked lies on exactly one tile, within that paper's own part that joins."""
    sheets = [s for s in templates(any_wall, paper) if s.name.startswith("template_")]
    leaf = LEAVES[paper]
    assert all(s.size == leaf.size for s in sheets)
    for s in sheets:
        for m in s.views[0].drawing.marks:
            if isinstance(m, Line):
                assert all(leaf.tile.grown(0.01).holds(Box(*s.views[0].on_paper(p), 0, 0)) for p in m.points)
    printed = sum(
        _length(m)
        for s in sheets
        for m in s.views[0].drawing.marks
        if isinstance(m, Line) and m.layer == "points"
    )
    whole = sum(_length(m) for m in template_marks(any_wall) if isinstance(m, Line) and m.layer == "points")
    assert printed == pytest.approx(whole)


def _length(line: Line) -> float:
    points = (*line.points, line.points[0]) if line.closed else line.points
    return sum(((a[0] - b[0]) ** 2 + (a[1] - b[1]) ** 2) ** 0.5 for a, b in itertools.pairwise(points))


def test_template_has_every_mount_hole(any_wall: Any) -> None:
    area = template_area(any_wall)
    circles = [m.centre for m in template_marks(any_wall) if isinstance(m, Circle)]
    printed = [
        m.centre
        for s in templates(any_wall)
        for v in s.views
        for m in v.drawing.marks
        if isinstance(m, Circle)
    ]
    assert sorted(printed) == sorted(circles)
    assert (len(circles) >= 4) == (not not_to_drill(any_wall))
    assert all(area.holds(Box(*centre, 0, 0)) for centre in circles)


def test_nothing_invites_to_drill_while_the_bracket_is_unverified() -> None:
    wall = derive(read_job(demo_jobs()["living_faults"]))
    stop = not_to_drill(wall)
    assert stop.startswith("DO NOT DRILL")
    assert not any(isinstance(m, Circle) for m in template_marks(wall))
    assert "mount hole" not in " ".join(str(row[1]) for row in height_rod(wall).rows)
    tiles = [s for s in templates(wall) if s.name.startswith("template_")]
    assert tiles
    for sheet in tiles:
        assert any(isinstance(m, Text) and m.text.startswith("DO NOT DRILL") for m in sheet.marks), sheet.name
    verified = derive(read_job(demo_jobs()["living"]))
    assert not_to_drill(verified) == ""
    assert "DO NOT DRILL" not in " ".join(words(s) for s in templates(verified))
    assert "mount hole" in " ".join(str(row[1]) for row in height_rod(verified).rows)


def test_the_hook_drop_is_said() -> None:
    job = read_job(demo_jobs()["living"])
    assert "not entered" in hook_words(derive(job))
    mount = replace(job.design.mount, hook_drop=Length(35))
    wall = derive(replace(job, design=replace(job.design, mount=mount)))
    assert "35" in hook_words(wall)
    assert "below the plate" in hook_words(wall)
    assert "hook drop 35" in " ".join(m.text for m in template_marks(wall) if isinstance(m, Text))


@pytest.mark.parametrize(
    ("a", "b", "piece"),
    [
        ((-5, 5), (15, 5), ((0, 5), (10, 5))),
        ((2, 2), (3, 3), ((2, 2), (3, 3))),
        ((-5, 20), (15, 20), None),
        ((-5, -5), (15, 15), ((0, 0), (10, 10))),
        ((5, -3), (5, 4), ((5, 0), (5, 4))),
    ],
)
def test_lines_are_cut_at_the_window(a: Any, b: Any, piece: Any) -> None:
    assert cut_to(a, b, Box(0, 0, 10, 10)) == piece


def test_rods_hold_every_mark_from_one_end(any_wall: Any) -> None:
    heights = {row[0]: str(row[1]) for row in height_rod(any_wall).rows}
    assert "FFL" in heights["0"]
    assert "datum" in heights["1000"]
    across = " ".join(str(row[1]) for row in width_rod(any_wall).rows)
    for point in any_wall.services.points:
        assert point.ref in across
    numbers = [float(str(row[0])) for row in height_rod(any_wall).rows]
    assert numbers == sorted(numbers, reverse=True)


def test_dimension_values_are_measured_never_typed() -> None:
    assert Dim((0, 5), (0, 1480.5), "z", 0, -8).value == 1475.5
