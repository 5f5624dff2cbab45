"""Every edit: one sound call each, what it keeps, what it refuses, and random sequences against writing and merging."""

from __future__ import annotations

import inspect
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from wallwright.core.units import Length
from wallwright.job.demos import demo_jobs
from wallwright.job.edits import EDITS, SUBJECTS, apply, log_line
from wallwright.job.path import walk
from wallwright.job.read import JobError, read_job
from wallwright.job.write import merge_into, write_job

LIVING = demo_jobs()["living"]
JOB = read_job(LIVING)
Call = tuple[str, dict[str, Any]]
DEEP: list[Any] = []
for _ in range(5000):
    DEEP = [DEEP]

CALLS: list[Call] = [
    ("set_title", {"title": "Wall of the long room"}),
    ("set_parties", {"client": "Invented client", "approver": "Invented approver"}),
    ("set_issue", {"number": "TVW-7", "date": "2026-04-01", "status": "approval"}),
    ("set_revision", {"revision": "B"}),
    ("set_units", {"units": "ft-in"}),
    ("set_currency", {"currency": "X"}),
    ("set_limit", {"name": "rule.console_gap", "value": 60}),
    ("set_rates", {"rates": "demo"}),
    ("set_saw", {"kerf": "1/8\"", "stages": "3"}),
    ("add_stock", {"ref": "R1", "board": "ply18", "length": "900 mm", "width": 600, "count": 2, "offcut": True}),
    ("release", {"field": "design.screen.frame_width"}),
    ("set_design", {"design": {"screen": {"diagonal": 55}, "units": [{"ref": "C1", "kind": "console", "width": "1.9 m"}]}}),
    ("set_backing", {"backing": "face"}),
    ("set_length", {"field": "survey.room.depth", "value": "13'-7\""}),
    ("set_length_state", {"field": "survey.obstacles.SK.height", "state": "measured", "tolerance": 2}),
    ("set_room", {"name": "Long room", "kind": "studio", "depth": 4300}),
    ("set_floor", {"finished": False, "to_come": "1/2\""}),
    ("set_finish_complete", {"complete": False}),
    ("set_survey_date", {"date": "2026-02-20"}),
    ("set_place", {"city": "Another invented town", "bearing": 100, "hot_humid": False}),
    ("set_climate", {"temperature": 24, "humidity_low": 0.4, "humidity_high": 0.7}),
    ("set_storey", {"storey": "ground"}),
    ("set_wet_room_behind", {"wet": True}),
    ("set_emission", {"emission": "naf"}),
    ("set_rate", {"key": "board_ply18", "amount": 0.9, "unit": "sqft", "hours": 0.01}),
    ("set_own_rates", {"rates": {"board_ply18": 9.5, "hour_joinery": {"amount": 4}}}),
    ("set_terms", {"measure": "feet", "rates_shown": False, "decimals": 0, "decimal_mark": "comma", "valid_days": 14}),
    ("set_tax", {"trade": "electrical", "percent": 12}),
    ("set_stages", {"stages": [{"name": "On order", "share": 33.33}, {"name": "Done", "share": 66.67, "task": "snag"}]}),
    ("set_scope", {"thing": "tv_bracket", "supply": "client"}),
    ("set_inclusions", {"excludes": ["Curtains"]}),
    ("keep_from_swaps", {"keep": ["W1", "lights"]}),
    ("set_progress", {"joinery": "cut", "points": "set", "screen": "ordered"}),
    ("set_made", {"ref": "C1-L", "state": "cut"}),
    ("sign_gate", {"ref": "G0", "by": "Invented client", "date": "2026-02-20"}),
    ("add_variation", {"ref": "V1", "says": "75 in for 65 in", "origin": "client", "price": 310.5, "days": 3,
                       "documents": ["Elevation", "Cut list"], "from_revision": "A"}),
    ("add_snag", {"ref": "N1", "where": "C1", "says": "Gap 4 mm at the third front", "check": "front_gap", "measured": 4,
                  "trade": "joinery", "date": "2026-05-02"}),
    ("record_test", {"check": "level", "ref": "screen", "measured": 0.6, "by": "Invented fitter", "date": "2026-05-02"}),
    ("set_access", {"door_width": "2'-10\"", "lift_height": 2300}),
    ("set_substrate", {"kind": "aac_block", "leaf": 150}),
    ("set_boarding", {"layers": 2}),
    ("set_studs", {"spacing": 600, "studs": [300, "900", "1.5 m"]}),
    ("use_outline", {}),
    ("set_relief", {"relief": [{"x": 300, "z": 400, "out": 0}, {"x": 3900, "z": 2200, "out": -6}]}),
    ("set_backers", {"backers": [{"x": 1300, "z": 900, "width": "4 ft", "height": 300}]}),
    ("set_wall_finish", {"finish": "skim"}),
    ("set_wall_reading", {"which": "width", "at": 1500, "value": "13'-9 1/2\""}),
    ("remove_wall_reading", {"which": "height", "at": 200}),
    ("set_diagonals", {"rising": 5021, "falling": "5.019 m"}),
    ("set_plumb", {"out_of_plumb": -3}),
    ("set_damp", {"damp": "damp", "outside": True}),
    ("add_obstacle", {"ref": "SW1", "kind": "switch", "x": 60, "z": 1200, "width": 90, "height": 90}),
    ("move_obstacle", {"ref": "EX1", "x": "11 ft", "z": 300}),
    ("resize_obstacle", {"ref": "SK", "height": 75, "projection": 15}),
    ("set_obstacle_state", {"ref": "EX1", "state": "move"}),
    ("set_obstacle_dead", {"ref": "EX1", "dead": True}),
    ("set_obstacle_cable", {"ref": "EX1", "cable": "upright"}),
    ("remove_obstacle", {"ref": "EX1"}),
    ("add_seat", {"ref": "D", "kind": "chair", "x": 2100, "distance": "3.6 m", "hours": 1}),
    ("set_seat", {"ref": "A", "distance": "11'", "posture": "lounging", "hours": 5}),
    ("remove_seat", {"ref": "C"}),
    ("set_arm", {"swivel": -12, "reach": "18 in", "head": 45, "pivot_x": 0}),
    ("set_screen_second", {"source": "shop_page", "frame_width": 1449, "hole_offset": -20}),
    ("set_screen_box", {"width": 1600, "height": 980, "depth": "7 in"}),
    ("set_screen_back", {"ports": [{"ref": "HDMI", "x": 300, "z": -200, "width": 40, "height": 160, "faces": "side"}],
                         "ir_eye": {"ref": "IR", "x": -20, "z": -400, "width": 40, "height": 12}}),
    ("set_screen_niche", {"width": 1600, "height": 980, "depth": 90}),
    ("add_between", {"ref": "TB", "kind": "table", "x": 1500, "distance": 1800, "width": 1100, "depth": 600, "height": 420}),
    ("add_window", {"ref": "WN2", "wall": "opposite", "along": 500, "sill": 900, "width": 1200, "height": 1200}),
    ("set_window_blind", {"ref": "WN1", "blind": 0.05}),
    ("set_window", {"ref": "WN1", "sill": 850, "reveal": 230, "overhang": "2 ft", "horizon": 12}),
    ("remove_window", {"ref": "WN1"}),
    ("add_lamp", {"ref": "DL1", "kind": "downlight", "x": 2100, "distance": 1500, "z": 2700, "cut_off": 40}),
    ("set_other_wall", {"side": "left", "finish": "Window", "weight": "some"}),
    ("set_other_wall", {"side": "opposite", "colour": "#F0EBE0", "width": "4.2 m", "height": 2750, "lux": 40, "parts": [
        {"name": "bookcase", "colour": "#5A3A22", "width": 1800, "height": 2100, "count": 1, "lines": 20}]}),
    ("add_person", {"ref": "guest", "stature": "5'-10\"", "wheelchair": True}),
    ("set_person", {"ref": "child", "age": 5}),
    ("remove_person", {"ref": "adult_2"}),
    ("add_device", {"ref": "disc", "kind": "disc_player", "place": "cabinet", "watts": 18}),
    ("set_device", {"ref": "stb", "control": "radio", "watts": 15}),
    ("remove_device", {"ref": "game"}),
    ("set_thing", {"kind": "paperback", "count": 120}),
    ("set_storage", {"storage": "much"}),
    ("set_budget", {"amount": 4000, "reserve": 0.15}),
    ("set_tenure", {"tenure": "rent"}),
    ("set_style", {"style": ["plain"]}),
    ("set_opposite_wall", {"weight": "some"}),
    ("set_night_viewing", {"share": 0.8}),
    ("set_floor_cleaning", {"floor_cleaning": "robot", "robot_height": 95}),
    ("set_screen_size", {"diagonal": 75}),
    ("set_screen_height", {"centre_height": "3'-8\""}),
    ("set_screen_x", {"centre_x": 2090}),
    ("set_screen_panel", {"panel": "va"}),
    ("set_screen_surface", {"surface": "matte"}),
    ("set_screen_lines", {"lines": 4320}),
    ("set_screen_source", {"source": "measured"}),
    ("set_screen_frame", {"width": 1450, "height": 832, "depth": 55, "mass": 23.5, "source": "measured"}),
    ("set_screen_holes", {"width": 300, "height": 300, "offset": -40}),
    ("set_mount", {"kind": "arm", "reach": 400, "stand_off": 70}),
    ("set_tilt", {"tilt": 4}),
    ("add_unit", {"ref": "S2", "kind": "shelf", "width": "3 ft", "bays": [{"front": "open"}]}),
    ("remove_unit", {"ref": "T1"}),
    ("move_unit", {"ref": "C1", "x": 1100, "z": "1 ft"}),
    ("resize_unit", {"ref": "C1", "width": "6'-2 3/4\"", "depth": 420}),
    ("set_unit_side", {"ref": "T1", "side": "right"}),
    ("set_unit_hung", {"ref": "C1", "hung": False}),
    ("anchor_unit", {"ref": "T1", "anchored": False}),
    ("set_unit_board", {"ref": "S1", "board": "ply25"}),
    ("set_unit_finish", {"ref": "C1", "finish": "laminate_off_white"}),
    ("set_unit_load", {"ref": "S1", "load": 8}),
    ("set_unit_opening", {"ref": "C1", "opening": "handle"}),
    ("set_unit_base", {"ref": "T1", "base": "legs"}),
    ("set_unit_fronts", {"ref": "C1", "fronts": "inset"}),
    ("set_unit_back", {"ref": "T1", "back": False}),
    ("set_unit_skirting", {"ref": "T1", "skirting": "notch"}),
    ("set_shelf_build", {"ref": "S1", "build": "lipped", "lip": "3/4 in"}),
    ("set_unit_arch", {"ref": "S1", "rise": 200, "bend": "kerf"}),
    ("set_unit_bays", {"ref": "T2", "bays": [{"front": "open", "shelves": 4}, {"front": "shutter", "width": "400 mm"}]}),
    ("set_bay_front", {"ref": "C1", "bay": 1, "front": "flap"}),
    ("set_bay_hinge", {"ref": "T1", "bay": 1, "hinged": "right"}),
    ("set_bay_vents", {"ref": "C1", "bay": 1, "vents": False}),
    ("set_bay", {"ref": "C1", "bay": 2, "front": "open", "shelves": 1, "drawers": 0}),
    ("add_panel", {"ref": "W2", "kind": "fluted", "x": 100, "width": 600, "flute_pitch": "3/4\""}),
    ("remove_panel", {"ref": "W1"}),
    ("move_panel", {"ref": "W1", "x": 1000, "z": 700}),
    ("resize_panel", {"ref": "W1", "width": 2200, "height": "5 ft"}),
    ("set_panel_kind", {"ref": "W1", "kind": "fluted", "flute_pitch": 24}),
    ("set_panel_board", {"ref": "W1", "board": "mdf18"}),
    ("set_panel_finish", {"ref": "W1", "finish": "paint_charcoal"}),
    ("set_panel_void", {"ref": "W1", "void": 40}),
    ("set_panel_flutes", {"ref": "W1", "pitch": 24, "centre": "rib"}),
    ("set_panel_fields", {"ref": "W1", "columns": 3, "rows": 1, "strip": 40}),
    ("set_panel_tiles", {"ref": "W1", "width": 600, "height": 300, "joint": 2}),
    ("set_panel_match", {"ref": "W1", "match": "book"}),
    ("set_panel_head", {"ref": "W1", "head": "segment", "rise": 200, "bend": "kerf"}),
    ("add_point", {"ref": "PX1", "kind": "data", "x": 2000, "z": 1300, "note": "for later"}),
    ("set_supply", {"comes": "left", "z": 2600}),
    ("set_lines_in", {"comes": "wall", "x": "3.9 m", "z": 300}),
    ("set_board_distance", {"distance": "9.5 m"}),
    ("set_ceiling", {"ceiling": "void"}),
    ("set_wiring", {"lay": "mixed", "picture_cable": "optical"}),
    ("add_light", {"ref": "G3", "along": "under_shelf", "of": "S1", "colour": 2700}),
    ("set_light", {"ref": "G1", "feed": "centre", "depth": 25, "dimmable": False, "driver_place": "ceiling",
                   "round_curve": "bendable"}),
    ("remove_light", {"ref": "G2"}),
    ("set_finish", {"which": "wall", "finish": "paint_stone_grey"}),
    ("set_colour", {"which": "wall", "colour": "#D0CFC8"}),
    ("apply_palette", {"palette": "dark_wood_white_stone"}),
]  # fmt: skip
"""One sound call of every edit on the living-room demo."""

A_COLUMN: list[Call] = [
    (
        "add_obstacle",
        {"ref": "CO", "kind": "column", "x": 0, "z": 0, "width": 300, "height": 2500, "projection": 90},
    )
]
A_POINT: list[Call] = [("add_point", {"ref": "PX1", "kind": "data", "x": 1, "z": 1})]
A_TABLE: list[Call] = [
    (
        "add_between",
        {"ref": "TB", "kind": "table", "x": 1, "distance": 1, "width": 1, "depth": 1, "height": 1},
    )
]
A_LAMP: list[Call] = [
    ("add_lamp", {"ref": "FL1", "kind": "floor_lamp", "x": 1, "distance": 2000, "z": 1500, "diameter": 400})
]
A_LIMIT: list[Call] = [("set_limit", {"name": "rule.console_gap", "value": 60})]
A_SHEET: list[Call] = [("add_stock", {"ref": "R1", "board": "ply18", "length": 900, "width": 600})]
A_GATE: list[Call] = [("sign_gate", {"ref": "G0", "by": "Invented client", "date": "2026-02-20"})]
A_DRAFT: list[Call] = [("add_variation", {"ref": "V1", "says": "75 in for 65 in"})]
A_PRICED: list[Call] = [("add_variation", {"ref": "V1", "says": "75 in for 65 in", "price": 100, "days": 1})]
A_SIGNED: list[Call] = [
    *A_PRICED,
    ("accept_variation", {"ref": "V1", "by": "Invented client", "date": "2026-03-02"}),
]
A_SNAG: list[Call] = [("add_snag", {"ref": "N1", "where": "C1", "says": "Door rubs at its head"})]
AFTER: list[tuple[list[Call], Call]] = [
    (A_LIMIT, ("release_limit", {"name": "rule.console_gap"})),
    (A_TABLE, ("remove_between", {"ref": "TB"})),
    (A_TABLE, ("set_between", {"ref": "TB", "x": 1400, "distance": 1600})),
    (A_LAMP, ("set_lamp", {"ref": "FL1", "glow": "opal", "luminance": 2500, "x": 300, "on_at_night": False})),
    (A_LAMP, ("remove_lamp", {"ref": "FL1"})),
    (A_COLUMN, ("set_obstacle_substrate", {"ref": "CO", "substrate": "concrete"})),
    (A_POINT, ("move_point", {"ref": "PX1", "x": 900, "z": 310})),
    (A_POINT, ("set_point", {"ref": "PX1", "kind": "rf", "note": "moved"})),
    (A_POINT, ("remove_point", {"ref": "PX1"})),
    ([("set_rate", {"key": "board_ply18", "amount": 9.5})], ("clear_rate", {"key": "board_ply18"})),
    ([("set_tax", {"trade": "joinery", "percent": 18})], ("clear_tax", {"trade": "joinery"})),
    (A_SHEET, ("set_stock", {"ref": "R1", "board": "MR-MDF", "width": "2 ft", "count": 3})),
    (A_SHEET, ("remove_stock", {"ref": "R1"})),
    ([("set_made", {"ref": "C1", "state": "cut"})], ("set_made", {"ref": "C1-L", "state": "set"})),
    (A_GATE, ("unsign_gate", {"ref": "G0"})),
    (A_DRAFT, ("price_variation", {"ref": "V1", "price": 120.5, "days": 2})),
    (A_PRICED, ("accept_variation", {"ref": "V1", "by": "Invented client", "date": "2026-03-02"})),
    (
        A_PRICED,
        (
            "refuse_variation",
            {"ref": "V1", "by": "Invented client", "date": "2026-03-02", "reason": "too dear"},
        ),
    ),
    (A_SIGNED, ("finish_variation", {"ref": "V1"})),
    (A_SNAG, ("close_snag", {"ref": "N1", "date": "2026-05-04"})),
]
"""Edits that need another before them."""

ALL: list[tuple[list[Call], Call]] = [([], call) for call in CALLS] + AFTER


def after(calls: list[Call], job=JOB):
    for name, values in calls:
        job = apply(job, name, values)
    return job


def test_every_edit_is_tried_here() -> None:
    assert {call[0] for _, call in ALL} == set(EDITS)


@pytest.mark.parametrize(("before", "call"), ALL, ids=lambda it: it[0] if isinstance(it, tuple) else "")
def test_an_edit_changes_the_job_and_the_result_is_sound(before: list[Call], call: Call) -> None:
    start = after(before)
    kept = write_job(start)
    job = apply(start, *call)
    assert (job != start) == (call[0] != "set_rates")  # there is but one rates book
    assert write_job(start) == kept
    assert read_job(write_job(job)) == job
    assert read_job(merge_into(LIVING, job)) == job


@pytest.mark.parametrize("call", CALLS, ids=lambda call: call[0])
def test_an_edit_of_one_thing_keeps_all_else(call: Call) -> None:
    """What changed lies in one table or list of the document, and other entries of a list stay whole."""
    if call[0] in (
        "remove_unit",
        "remove_panel",
        "remove_person",
        "set_parties",
        "set_issue",
        "apply_palette",
        "set_design",
    ):
        return  # these reach further on purpose; see below
    old, new = dict(walk(JOB)), dict(walk(apply(JOB, *call)))
    changed = [steps for steps in old.keys() | new.keys() if old.get(steps) != new.get(steps)]
    places = {steps[:2] if len(steps) > 2 else steps[:1] for steps in changed}
    assert len(places) <= 1
    if "ref" in call[1] and not call[0].startswith(("add_", "remove_")):
        job = apply(JOB, *call)
        for where in ("obstacles", "seats", "windows"):
            pairs = zip(getattr(JOB.survey, where), getattr(job.survey, where), strict=True)
            assert all(a == b for a, b in pairs if a.ref != call[1]["ref"])
        for where in ("units", "panels", "lights"):
            pairs = zip(getattr(JOB.design, where), getattr(job.design, where), strict=True)
            assert all(a == b for a, b in pairs if a.ref != call[1]["ref"])


@settings(max_examples=60, deadline=None)
@given(st.lists(st.sampled_from(CALLS), min_size=1, max_size=8))
def test_any_sequence_of_edits_can_be_written_and_merged(calls: list[Call]) -> None:
    job = JOB
    for name, values in calls:
        try:
            job = apply(job, name, values)
        except JobError:
            continue  # such as an edit of what an earlier one took out
    assert read_job(write_job(job)) == job
    merged = merge_into(LIVING, job)
    assert read_job(merged) == job
    # ...laid into the user's own text, not written anew: the comments that no removed entry held are all there.
    assert "# --- where people sit: a sofa for two and an armchair" in merged or "remove_obstacle" in {
        name for name, _ in calls
    }
    assert merged.startswith("# Demo job: a living-room wall. INVENTED")


def test_lengths_are_kept_as_typed() -> None:
    job = apply(JOB, "resize_unit", {"ref": "C1", "width": "6'-2 3/4\"", "depth": 420})
    unit = job.design.units[0]
    assert (unit.width, unit.depth) == (Length(1898.65, "6'-2 3/4\""), Length(420.0))
    assert apply(JOB, "move_unit", {"ref": "C1", "x": Length(5.0, "5", "measured", 1.0)}).design.units[
        0
    ].x == Length(5.0, "5", "measured", 1.0)


@pytest.mark.parametrize(
    ("name", "values", "field", "says"),
    [
        ("set_screen_hight", {}, "edit", "'set_screen_height'"),
        ("set_screen_height", {}, "centre_height", "missing"),
        ("set_screen_height", {"centre_height": None}, "centre_height", "missing"),
        (
            "set_screen_height",
            {"centre_hight": 1100, "centre_height": 1100},
            "centre_hight",
            "'centre_height'",
        ),
        ("set_screen_height", {"centre_height": "285 kg"}, "centre_height", "not a unit"),
        ("set_screen_height", {"centre_height": -5}, "centre_height", "more than 0"),
        ("set_screen_height", {"centre_height": float("nan")}, "centre_height", "nan"),
        ("set_screen_height", {"centre_height": True}, "centre_height", "not a length"),
        ("set_screen_height", {"centre_height": 10**400}, "centre_height", "too large"),
        ("set_screen_height", {"centre_height": object()}, "centre_height", "cannot read the length"),
        ("set_style", {"style": DEEP}, "style", "cannot be read"),
        ("set_style", {"style": ["x"] * 501}, "style", "501 entries"),
        ("set_screen_size", {"diagonal": "65"}, "diagonal", "not a number"),
        ("set_screen_size", {"diagonal": float("inf")}, "diagonal", "finite"),
        ("set_mount", {}, "values", "nothing to change"),
        ("set_mount", {"kind": "glue"}, "kind", "one of 'fixed'"),
        ("move_unit", {"ref": "C7", "x": 3}, "ref", "C1, T1, T2, S1"),
        ("add_unit", {"ref": "C1", "kind": "shelf"}, "design.units[4].ref", "design.units[0]"),
        (
            "add_unit",
            {"ref": "S9", "kind": "shelf", "bays": [{"front": "open", "hinge": 3}]},
            "bays[0].hinge",
            "no such key",
        ),
        ("set_unit_board", {"ref": "C1", "board": "ply81"}, "design.units[0].board", "'ply18'"),
        ("set_bay_front", {"ref": "C1", "bay": 4, "front": "open"}, "bay", "1 to 3"),
        ("set_bay_front", {"ref": "C1", "bay": 0, "front": "open"}, "bay", "1 or more"),
        ("set_bay_front", {"ref": "S1", "bay": 1, "front": "open"}, "bay", "set_unit_bays"),
        (
            "set_limit",
            {"name": "rule.console_gop", "value": 3},
            "rules.rule.console_gop",
            "'rule.console_gap'",
        ),
        ("release_limit", {"name": "rule.console_gap"}, "name", "does not set it"),
        ("release", {"field": "design.screen.centre_hight"}, "design.screen.centre_hight", "'centre_height'"),
        ("release", {"field": "design.units.C1"}, "field", "remove it"),
        ("release", {"field": "survey.wall.substrate"}, "field", "cannot be automatic"),
        ("release", {"field": "survey.seats.A.distance"}, "field", "cannot be automatic"),
        ("set_length_state", {"field": "survey.wall.leaf", "state": "sure"}, "state", "one of"),
        (
            "set_length_state",
            {"field": "survey.wall.stud_spacing", "state": "measured"},
            "field",
            "no length yet",
        ),
        ("set_length_state", {"field": "title", "state": "measured"}, "field", "no length"),
        ("remove_wall_reading", {"which": "width", "at": 5}, "at", "100, 1000, 2200"),
        ("set_seat", {"ref": "A", "person": "nobody"}, "survey.seats[0].person", "brief.people"),
        ("set_survey_date", {"date": "2026-02-31"}, "survey.date", "no day"),
        ("set_thing", {"kind": "paperback", "count": -1}, "count", "0 or more"),
        ("add_device", {"ref": "x1", "kind": "toaster"}, "brief.devices[5].kind", "no device"),
    ],
)
def test_a_wrong_call_is_refused_with_a_reason(
    name: str, values: dict[str, Any], field: str, says: str
) -> None:
    with pytest.raises(JobError) as caught:
        apply(JOB, name, values)
    assert any(found.field == field and says in found.says for found in caught.value.problems), str(
        caught.value
    )


def test_the_last_reading_of_the_wall_cannot_be_taken_out() -> None:
    job = after([("remove_wall_reading", {"which": "width", "at": at}) for at in (100, 1000)])
    with pytest.raises(JobError, match="at least one reading"):
        apply(job, "remove_wall_reading", {"which": "width", "at": 2200})


def test_released_values_are_automatic_again() -> None:
    pinned = apply(JOB, "set_screen_height", {"centre_height": 1500})
    assert apply(pinned, "release", {"field": "design.screen.centre_height"}) == JOB
    wide = apply(JOB, "resize_unit", {"ref": "T2", "width": 500})
    assert apply(wide, "release", {"field": "design.units.T2.width"}) == JOB
    assert apply(JOB, "release", {"field": "design.units.C1.bays"}).design.units[0].bays == ()


def test_another_screen_size_drops_the_old_sizes_frame() -> None:
    screen = apply(JOB, "set_screen_size", {"diagonal": 75}).design.screen
    assert (screen.diagonal, screen.frame_width, screen.mass, screen.source) == (75, None, None, "typical")
    assert apply(JOB, "set_screen_size", {"diagonal": 65}) == JOB


def test_a_removed_unit_leaves_no_light_behind_it() -> None:
    job = apply(JOB, "remove_unit", {"ref": "C1"})
    assert [light.of for light in job.design.lights] == ["W1", None]
    assert [seat.person for seat in apply(JOB, "remove_person", {"ref": "adult_2"}).survey.seats] == [
        "adult_1",
        None,
        None,
    ]


def test_a_bay_keeps_what_it_was_not_told_to_change() -> None:
    bays = [
        {"front": "open", "shelves": 2},
        {"front": "shutter", "width": 400, "shelves": 3},
        {"front": "flap"},
    ]
    job = after(
        [
            ("set_unit_bays", {"ref": "C1", "bays": bays}),
            ("set_bay_front", {"ref": "C1", "bay": 2, "front": "glass"}),
        ]
    )
    first, second, third = job.design.units[0].bays
    assert (second.front, second.width, second.shelves) == ("glass", Length(400.0), 3)
    assert (first.front, first.shelves, third.front) == ("open", 2, "flap")


def test_marking_a_length_keeps_what_was_typed() -> None:
    job = apply(
        JOB, "set_length_state", {"field": "survey.wall.widths.0", "state": "measured", "tolerance": "1 mm"}
    )
    assert job.survey.wall.widths[0].value == Length(4200.525, "13'-9 3/8\"", "measured", 1.0)
    job = apply(JOB, "set_length_state", {"field": "survey.wall.widths[1].value", "state": "assumed"})
    assert job.survey.wall.widths[1].value == Length(4203.0, "", "assumed", 2.0)


def test_a_wall_reading_at_the_same_place_replaces_the_old_one() -> None:
    job = apply(
        JOB, "set_wall_reading", {"which": "width", "at": 1000, "value": {"value": 4199, "state": "verified"}}
    )
    assert [reading.value.mm for reading in job.survey.wall.widths] == [4200.525, 4199, 4201]


def test_nought_takes_a_thing_off_the_list() -> None:
    kinds = [thing.kind for thing in JOB.brief.things]
    job = apply(JOB, "set_thing", {"kind": "board_game", "count": 0})
    assert [thing.kind for thing in job.brief.things] == [kind for kind in kinds if kind != "board_game"]
    low = apply(JOB, "set_thing", {"kind": "toy_bin", "count": 3})
    assert next(thing for thing in low.brief.things if thing.kind == "toy_bin").low


def test_an_edit_that_changes_nothing_gives_the_same_job() -> None:
    assert apply(JOB, "set_title", {"title": JOB.title}) is JOB


def test_every_edit_has_a_text_for_its_button_and_its_log_line() -> None:
    for entry in EDITS.values():
        assert entry.says and len(entry.says) < 110 and not entry.says.endswith("."), entry.name
    assert (
        log_line("set_screen_size", {"diagonal": 65}) == "Set the screen's named size in inches: diagonal 65"
    )
    said = log_line("move_unit", {"ref": "C1", "x": "1 ft", "z": Length(300.0)})
    assert said == "Move a unit along the wall or in height: ref C1, x 1 ft, z 300"


def test_each_edit_stands_in_its_subjects_file() -> None:
    files = {module.__name__ for module in SUBJECTS}
    assert {entry.make.__module__ for entry in EDITS.values()} == files
    for entry in EDITS.values():
        assert next(iter(inspect.signature(entry.make).parameters)) == "job"


def test_what_is_taken_out_is_no_longer_kept_from_swaps() -> None:
    job = apply(JOB, "set_budget", {"amount": 5000})
    job = apply(job, "keep_from_swaps", {"keep": ["T1", "W1", "fronts"]})
    for ref, edit in (("T1", "remove_unit"), ("W1", "remove_panel")):
        job = apply(job, edit, {"ref": ref})
    assert job.brief.budget is not None and job.brief.budget.keep == ("fronts",)
