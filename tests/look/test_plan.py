"""The look stage whole, on a wall made by hand."""

from __future__ import annotations

import math
from dataclasses import replace

import pytest

from wallwright.carcass.record import PanelZone, SetOut, UnitBox
from wallwright.core.shape import Box, box_around
from wallwright.core.units import Length
from wallwright.job.design import Design, Finishes, Panel, Unit
from wallwright.job.document import Job
from wallwright.job.face import Face
from wallwright.job.survey import Reading, Room, Survey, SurveyedWall
from wallwright.library import load
from wallwright.look.colour import difference, lab
from wallwright.look.plan import plan
from wallwright.look.record import Look
from wallwright.sight.record import Screen, SeatView

LIMITS = load.limits()
FACE = Face(4000.0, 2600.0, 0.0, 0.0, (), ())
SCREEN = Screen(
    65.0, "unknown", 2160, box_around((2000, 1200), 1450, 830), box_around((2000, 1200), 1439, 809), Box(0, 0, 0, 0),
    Box(0, 0, 0, 0),
    75, 60, 0.0, "tilt", 22, 140, 0.5, "typical", frozenset(),
)  # fmt: skip
SEAT = SeatView(
    "A",
    "sofa",
    "upright",
    (2000, -2800, 1156),
    False,
    0,
    7,
    1.0,
    2665,
    30.0,
    0,
    8,
    -8,
    0,
    0,
    0,
    15,
    120,
    1288,
    1156,
)


def unit(ref: str, kind: str, box: Box, finish: str = "laminate_oak", depth: float = 350) -> UnitBox:
    return UnitBox(ref, kind, "centre", box, depth, False, True, "ply18", finish, frozenset())


CONSOLE = unit("C1", "console", Box(1000, 250, 2000, 300))
LEFT, RIGHT = unit("T1", "tower", Box(0, 0, 400, 2300)), unit("T2", "tower", Box(3600, 0, 400, 2300))
ZONE = PanelZone(
    "W1",
    "flat",
    Box(900, 0, 2200, 2300),
    "mdf18",
    "laminate_warm_grey",
    18,
    25,
    (1300, 2700),
    0,
    0,
    15,
    frozenset(),
)
WHOLE = SetOut((CONSOLE, LEFT, RIGHT), (ZONE,), ())


def look(
    setout: SetOut = WHOLE,
    screen: Screen = SCREEN,
    seats: tuple[SeatView, ...] = (SEAT,),
    design: Design | None = None,
) -> Look:
    survey = Survey(
        Room(), SurveyedWall((Reading(Length(0), Length(4000)),), (Reading(Length(0), Length(2600)),))
    )
    return plan(Job("look", survey, design=design or Design()), FACE, screen, setout, seats, LIMITS)


def test_areas_add_up_to_the_wall() -> None:
    faces = {surface.ref: surface for surface in look().surfaces}
    assert list(faces) == ["wall", "screen", "C1", "T1", "T2", "W1"]
    assert sum(surface.area for surface in faces.values()) == pytest.approx(FACE.box.area)
    assert faces["screen"].area == 1450 * 830
    assert faces["W1"].area == pytest.approx(
        2200 * 2300 - 1450 * 830 - 2000 * 300
    )  # less what hangs before it
    assert faces["screen"].reflectance < 1 and faces["screen"].gloss == "gloss"


def test_symmetric_wall_is_balanced_and_one_tower_tips_it() -> None:
    assert look().balance == pytest.approx(1.0)
    one = look(SetOut((CONSOLE, LEFT), (ZONE,), ()))
    assert one.balance < 0.75
    assert next(why for why in one.whys if why.name == "look.balance").says == "the left side carries more"
    assert look(SetOut((CONSOLE, RIGHT), (ZONE,), ())).balance == pytest.approx(one.balance)


def test_weight_by_hand() -> None:
    """Bare white wall with a black screen: ΔE00 of the two times their share of the wall."""
    bare = look(SetOut((), (), ()), design=Design(finishes=Finishes(wall_colour="#FFFFFF")))
    assert bare.weight == pytest.approx(
        difference(lab("#FFFFFF"), lab("#0B0B0C")) * 1450 * 830 / (4000 * 2600)
    )
    assert bare.weight > 10
    assert look().weight > look(SetOut((CONSOLE,), (), ())).weight


def test_axis() -> None:
    aside = replace(SCREEN, frame=box_around((2200, 1200), 1450, 830))
    shifted = look(screen=aside)
    assert shifted.axis_offset == 200
    assert shifted.axis_angle == pytest.approx(math.degrees(math.atan(200 / 2665)))
    assert look(screen=aside, seats=()).axis_offset == 200  # from the wall's middle
    busy = replace(SEAT, ref="B", eye=(2200, -2800, 1156), share=0.8)
    assert look(screen=aside, seats=(replace(SEAT, share=0.2), busy)).axis_offset == pytest.approx(40)  # 0.2 × 200


def test_console_ratio() -> None:
    assert look().console_ratio == pytest.approx(2000 / 1450)
    assert look(SetOut((LEFT,), (), ())).console_ratio == 0


def test_what_is_behind_the_screen() -> None:
    panel, bare = look().behind, look(SetOut((CONSOLE,), (), ())).behind
    assert panel is not None and panel.ref == "W1"
    assert bare is not None and bare.ref == "wall"
    bold = look(design=Design(finishes=Finishes(panel_colour="#E07A1F")))
    assert bold.behind is not None and bold.behind.colour == "#E07A1F"
    assert bold.behind_chroma > 60 > 10 > look().behind_chroma


def test_colours_mixed_to_order_leave_own_finishes_alone() -> None:
    design = Design(
        units=(Unit("C1", "console"), Unit("T1", "tower", front_finish="veneer_walnut")),
        panels=(Panel("W1", finish="veneer_walnut"),),
        finishes=Finishes(front_colour="#123456", panel_colour="#654321"),
    )
    own = SetOut(
        (CONSOLE, replace(LEFT, front_finish="veneer_walnut")), (replace(ZONE, finish="veneer_walnut"),), ()
    )
    faces = {surface.ref: surface.colour for surface in look(own, design=design).surfaces}
    walnut = load.finishes()["veneer_walnut"].colour
    assert faces["C1"] == "#123456" and faces["T1"] == walnut and faces["W1"] == walnut


def test_joints() -> None:
    """Frame from 1275 to 2725, console from 1000 to 3000: joints at 1300 and 2700 stand 25 beside the frame's edges."""
    assert look().joint_offsets == (("W1", 1300, 25), ("W1", 2700, 25))
    alone = SetOut((CONSOLE,), (replace(ZONE, box=Box(2900, 700, 1000, 1000), joints=(3400,)),), ())
    assert look(alone).joint_offsets == ()  # touches neither screen nor unit


def test_a_why_for_every_number() -> None:
    done = look()
    whys = {why.name: why for why in done.whys}
    assert len(whys) == len(done.whys)
    for name in ("axis_offset", "axis_angle", "console_ratio", "balance", "weight", "behind_chroma"):
        assert whys[f"look.{name}"].value == getattr(done, name)
    assert {f"surface {surface.ref}.reflectance" for surface in done.surfaces} <= set(whys)
    assert all(why.says and why.source for why in done.whys)
