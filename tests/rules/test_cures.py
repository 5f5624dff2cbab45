"""Every rule: silent on a well-made wall, loud on a wall that has the fault, and cured by its own cure.

The facts behind the thresholds are the limits' own sources (library/limits/rules.toml); here each rule must tell a wall that
has its fault from one that has not, and the cure it offers must cure. Where only a person on site can cure (find out what the
wall is made of, trace a cable), the cure is applied here by hand, as that person's entry in the survey.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import cache

import pytest

from wallwright.core.finding import Finding
from wallwright.derive import Wall, derive
from wallwright.job.demos import demo_jobs
from wallwright.job.document import Job
from wallwright.job.edits import apply
from wallwright.job.read import read_job
from wallwright.rules import RULES

Step = tuple[str, dict[str, object]]


@dataclass(frozen=True)
class Case:
    """A fault: the edits that make it on the living-room demo, and the cure by hand where the document cannot express it."""

    rule: str
    breaks: tuple[Step, ...]
    by_hand: tuple[Step, ...] = ()
    room: str = "living"


def step(edit: str, **values: object) -> Step:
    return edit, values


CASES = [
    # --- survey
    Case("survey.wall_unknown", (step("set_substrate", kind="unknown"),), (step("set_substrate", kind="brick", leaf=230),)),
    Case("survey.assumed", (step("set_length_state", field="survey.wall.widths[1].value", state="assumed"),),
         (step("set_wall_reading", which="width", at=1000, value={"value": 4203, "state": "measured", "tolerance": 2}),)),
    Case("survey.floor_open", (step("set_floor", finished=False, to_come=12),), (step("set_floor", finished=True, to_come=0),)),
    Case("survey.finish_open", (step("set_finish_complete", complete=False),), (step("set_finish_complete", complete=True),)),
    Case(
        "survey.out_of_true", (step("set_wall_reading", which="width", at=1000, value=4290),),
        (step("set_wall_reading", which="width", at=1000, value=4203),),
    ),
    # --- sight
    Case("sight.height", (step("set_screen_height", centre_height=2000),)),
    Case("sight.top_edge", (step("set_screen_height", centre_height=1950),)),
    Case("sight.trade_band", (step("set_screen_height", centre_height=1300),), (step("release", field="design.screen.centre_height"),)),
    Case("sight.size", (step("set_screen_size", diagonal=43),)),
    Case("sight.sideways", (step("set_seat", ref="C", x=4100, distance=2700),)),
    Case("sight.reflection", (step("add_window", ref="WX", wall="opposite", along=1200, sill=900, width=1800, height=1200),)),
    Case("sight.lamp_mirrored", (step("add_lamp", ref="DL1", kind="downlight", x=2100, distance=3000, z=2400, diameter=120),
                                 step("add_lamp", ref="FL1", kind="pendant", x=2100, distance=3600, z=1300, diameter=300))),
    Case("sight.sun_on_screen", (step("add_window", ref="WX", wall="opposite", along=1200, sill=900, width=1800, height=1200),)),
    Case("sight.sun_in_eye", (step("add_window", ref="WX", wall="opposite", along=1200, sill=900, width=1800, height=1200),)),
    Case("sight.unverified_frame", (step("set_screen_source", source="shop_page"),),
         (step("set_screen_frame", width=1448, height=830, source="maker_drawing"),)),
    Case("sight.axis", (step("set_screen_x", centre_x=1200),)),
    Case("sight.fits_wall", (step("set_screen_x", centre_x=600),)),
    Case("sight.in_the_way", (step("set_screen_x", centre_x=3500),)),
    Case("sight.below_ac", (step("move_obstacle", ref="AC1", x=1500),)),
    Case("sight.console_gap", (step("resize_unit", ref="C1", height=450), step("set_screen_height", centre_height=1050),
                               step("move_unit", ref="C1", z=205))),
    # --- services
    Case("services.behind_plate", (step("add_point", ref="PX", kind="twin_socket", x=2068, z=1170),)),
    Case("services.box_shows", (step("add_point", ref="PX", kind="twin_socket", x=1360, z=1200),)),
    Case("services.behind_rail", (step("add_point", ref="PX", kind="twin_socket", x=1500, z=450),)),
    Case("services.existing_outlet", (step("move_obstacle", ref="EX1", x=2030, z=1130),)),
    Case("services.no_region", (step("set_mount", plate_width=1400, plate_height=800),)),
    Case("services.too_few_sockets", (), ()),  # its own test below: the automatic points always bring enough
    Case("services.plug_depth", (step("set_mount", kind="fixed", stand_off=18),)),
    Case(
        "services.circuit_load",
        (step("add_device", ref="fire", kind="electric_fire", watts=3800), step("set_place", rules="IN")),
        (step("remove_device", ref="fire"),),
    ),
    Case("services.circuit_drop", (step("set_limit", name="rule.drop_other", value=0.05),),
         (step("set_limit", name="rule.drop_other", value=5),)),
    Case("services.leakage", (step("set_limit", name="rule.leakage", value=1),), (step("release_limit", name="rule.leakage"),)),
    Case("services.link_length", (step("set_limit", name="services.hdmi_longest", value=500),),
         (step("release_limit", name="services.hdmi_longest"),)),
    Case("services.drill_clash", (step("add_obstacle", ref="SX", kind="socket", x=1980, z=300, width=86, height=86),)),
    Case("services.remote_blocked", (step("set_unit_bays", ref="C1", bays=[{"front": "drawers"}, {"front": "drawers"}]),)),
    Case("services.device_depth", (step("set_device", ref="game", place="cabinet", depth=390),)),
    Case("services.hot_bay", (step("set_device", ref="game", watts=180), step("set_unit_bays", ref="T1", bays=[
        {"front": "shutter", "shelves": 1}, {"front": "shutter", "shelves": 3}]))),
    # --- carcass
    Case("carcass.units_meet", (step("move_unit", ref="T1", x=900), step("move_unit", ref="C1", x=1127),
                                step("resize_unit", ref="C1", width=1882))),
    Case("carcass.outside_wall", (step("move_unit", ref="T2", x=4000),)),
    Case("carcass.unit_obstacle", (step("add_obstacle", ref="CO", kind="column", x=1400, z=0, width=300, height=1000, projection=150),
                                   step("move_unit", ref="C1", x=1300, z=205))),
    Case("carcass.console_height", (step("move_unit", ref="C1", z=120),)),
    Case("carcass.console_body", (step("resize_unit", ref="C1", height=150),)),
    Case("carcass.console_narrow", (step("resize_unit", ref="C1", width=1200),)),
    Case("carcass.side_gap", (step("resize_unit", ref="T1", width=1300),)),
    Case("carcass.tilt_up", (step("resize_unit", ref="T1", height=2745, depth=720),
                             step("set_unit_bays", ref="T1", bays=[{"front": "open", "shelves": 5}]))),
    Case("carcass.floor_gap", (step("move_unit", ref="C1", z=60),)),
    Case("carcass.tall_door", (step("set_unit_bays", ref="T1", bays=[{"front": "shutter"}]),)),
    Case("carcass.board_size", (step("resize_unit", ref="T1", height=2700),
                                step("set_unit_bays", ref="T1", bays=[{"front": "open", "shelves": 5}]))),
    Case("carcass.damp_board", (step("set_damp", damp="damp"), step("set_unit_board", ref="T1", board="particleboard18"))),
    Case("carcass.joint_near_edge", (step("resize_panel", ref="W1", width=3600), step("move_panel", ref="W1", x=300))),
    Case("carcass.drawer_clash", (step("add_obstacle", ref="RA", kind="radiator", x=1500, z=210, width=500, height=300, projection=600),
                                  step("move_unit", ref="C1", x=1127, z=205))),
    # --- structure
    Case("structure.shelf_sag", (step("set_unit_load", ref="T1", load=30), step("resize_unit", ref="T1", width=760),
                                 step("set_unit_board", ref="T1", board="mdf18"))),
    Case("structure.fixing", (step("set_substrate", kind="hollow_block"), step("set_unit_load", ref="C1", load=200))),
    Case("structure.loose_tower", (step("anchor_unit", ref="T1", anchored=False),)),
    Case("structure.cladding", (step("set_panel_kind", ref="W1", kind="stone_veneer"), step("set_panel_finish", ref="W1", finish="stone_slab"))),
    Case("structure.climb", (step("set_unit_bays", ref="C1", bays=[{"front": "open", "shelves": 2}, {"front": "drawers"}]),)),
    Case("structure.rented", (step("set_tenure", tenure="rent"),)),
    # --- light
    Case("light.drop", (step("set_light", ref="G1", volts=12, feed="one_end", watts_per_m=19),)),
    Case("light.driver_sealed", (step("set_light", ref="G1", driver_place="behind_panel"),)),
    Case("light.dots", (step("set_light", ref="G1", depth=3),)),
    Case("light.seen", (step("add_light", ref="GX", along="under_shelf", of="S1"),
                         step("add_seat", ref="F", kind="floor", x=2100, distance=700, seat_height=60)), (step("remove_light", ref="GX"),)),
    Case("light.bias", (step("add_light", ref="GX", along="behind_screen", dimmable=False),)),
    # --- look
    Case("look.bold_behind", (step("set_panel_finish", ref="W1", finish="paint_saffron"),)),
    Case("look.gloss_behind", (step("set_panel_finish", ref="W1", finish="sprayed_gloss_black"),)),
    Case("look.two_stars", (step("set_opposite_wall", weight="heavy"), step("set_panel_finish", ref="W1", finish="veneer_walnut"),
                            step("set_unit_finish", ref="T1", finish="veneer_walnut"),
                            step("set_unit_finish", ref="T2", finish="veneer_walnut"))),
    Case("look.unsealed_stone", (step("set_panel_finish", ref="W1", finish="stone_veneer_white"),),
         (step("set_panel_finish", ref="W1", finish="laminate_warm_grey"),)),
    # --- order, storage, money
    Case("order.height_before_screen", (step("release", field="design.screen.diagonal"), step("set_screen_height", centre_height=1170))),
    Case("order.console_before_screen", (step("release", field="design.screen.diagonal"), step("resize_unit", ref="C1", width=1882))),
    Case("storage.left_over", (step("set_thing", kind="board_game", count=400),), (step("set_thing", kind="board_game", count=8),)),
    Case("money.over_budget", (step("set_budget", amount=100),), (step("set_budget", amount=30000),)),
]  # fmt: skip


@cache
def base(room: str) -> Job:
    return read_job(demo_jobs()[room])


def after(job: Job, steps: tuple[Step, ...]) -> Job:
    for name, values in steps:
        job = apply(job, name, values)
    return job


def findings(rule: str, wall: Wall) -> list[Finding]:
    return list(RULES[rule].find(wall))


MADE = [case for case in CASES if case.breaks]


@pytest.mark.parametrize("case", MADE, ids=[case.rule for case in MADE])
def test_rule_is_silent_speaks_and_is_cured(case: Case) -> None:
    job = base(case.room)
    before = {item.where for item in findings(case.rule, derive(job))}
    broken = after(job, case.breaks)
    found = [item for item in findings(case.rule, derive(broken)) if item.where not in before]
    assert found, f"{case.rule} does not see the fault that was made"
    cured = broken
    for item in found:
        assert item.says
        assert item.cure
        assert item.source
        assert item.certainty
        for edit in item.edits:
            cured = apply(cured, edit.edit, dict(edit.values))
    if not any(item.edits for item in found):
        assert case.by_hand, f"{case.rule} offers no edits: say here what the person on site enters"
    cured = after(cured, case.by_hand)
    wall = derive(cured)
    left = [item.says for item in findings(case.rule, wall) if item.where not in before]
    assert not left, f"the cure does not cure: {left}"


def test_every_rule_has_a_case() -> None:
    assert {case.rule for case in CASES} == set(RULES)
    assert len(RULES) >= 25


def test_too_few_sockets_speaks_when_points_are_taken_away() -> None:
    from dataclasses import replace

    wall = derive(base("living"))
    assert not findings("services.too_few_sockets", wall)
    without = tuple(
        point for point in wall.services.points if point.zone != "cabinet" and point.zone != "tower"
    )
    bare = replace(wall, services=replace(wall.services, points=without))
    assert [item.severity for item in findings("services.too_few_sockets", bare)] == ["fix"]
