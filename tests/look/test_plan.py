"""The look stage whole, on a wall made by hand."""

from __future__ import annotations

import math
import runpy
from dataclasses import replace
from pathlib import Path
from typing import Any

import pytest

from wallwright.carcass.record import SetOut
from wallwright.core.shape import Box, box_around
from wallwright.core.units import Length
from wallwright.job.design import Design, Finishes, Panel, Unit
from wallwright.job.document import Job
from wallwright.job.survey import Reading, Room, Survey, SurveyedWall
from wallwright.library import load
from wallwright.light.record import Light
from wallwright.look.colour import difference, lab
from wallwright.look.plan import plan
from wallwright.look.record import Look
from wallwright.sight.record import Screen, SeatView

MADE: dict[str, Any] = runpy.run_path(str(Path(__file__).with_name("wall_by_hand.py")))
LIMITS, FACE, SCREEN, SEAT, DARK, CONSOLE, LEFT, RIGHT, ZONE, WHOLE = (
    MADE[name]
    for name in ["LIMITS", "FACE", "SCREEN", "SEAT", "DARK", "CONSOLE", "LEFT", "RIGHT", "ZONE", "WHOLE"]
)
unit: Any = MADE["unit"]


def look(
    setout: SetOut = WHOLE,
    screen: Screen = SCREEN,
    seats: tuple[SeatView, ...] = (SEAT,),
    design: Design | None = None,
    light: Light = DARK,
    axis: float = 2000.0,
) -> Look:
    survey = Survey(
        Room(), SurveyedWall((Reading(Length(0), Length(4000)),), (Reading(Length(0), Length(2600)),))
    )
    away = seats[0].distance if seats else 0.0
    return plan(
        Job("look", survey, design=design or Design()), FACE, screen, setout, axis, away, LIMITS, light
    )


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
    assert (
        look(screen=aside, axis=2160.0).axis_offset == 40
    )  # of the axis it is handed, not of one of its own
    unseen = look(screen=aside, seats=())
    assert (unseen.axis_offset, unseen.axis_angle) == (200, 0)


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


def test_every_face_behind_the_screen_is_told() -> None:
    """Frame from 1275 to 2725: a panel up to 1985 takes 710 of its 1450, the nearer one 700, the wall what is left."""
    left = replace(ZONE, ref="WL", box=Box(900, 0, 1085, 2300))
    right = replace(ZONE, ref="WR", box=Box(1985, 0, 700, 2300))
    faces = look(SetOut((CONSOLE,), (left, right), ())).faces_behind
    assert [(face.ref, share) for face, share in faces] == [
        ("WL", pytest.approx(710 / 1450)),
        ("WR", pytest.approx(700 / 1450)),
    ]  # the wall's 40 mm are less than a twentieth
    narrow = replace(ZONE, box=Box(900, 0, 1000, 2300))
    bare = look(SetOut((CONSOLE,), (narrow,), ())).faces_behind
    assert [face.ref for face, _ in bare] == ["wall", "W1"]
    assert sum(share for _, share in bare) == pytest.approx(1.0)
    nearer = replace(ZONE, ref="WN", box=Box(1275, 0, 725, 2300), void=60)
    over = look(SetOut((CONSOLE,), (ZONE, nearer), ())).faces_behind
    assert [(face.ref, share) for face, share in over] == [("W1", 0.5), ("WN", 0.5)]


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


def test_palettes_are_ranked_and_a_wall_of_its_finishes_is_at_nought() -> None:
    """Wall, panel and fronts of a palette's own finishes: no distance, and first in the list."""
    for key, row in load.palettes().items():
        design = Design(finishes=Finishes(wall=row.wall))
        own = SetOut((replace(CONSOLE, front_finish=row.fronts),), (replace(ZONE, finish=row.panel),), ())
        done = look(own, design=design)
        assert done.palettes[0][1] == pytest.approx(0)
        assert done.palettes[0][0] == key
        assert [apart for _, apart in done.palettes] == sorted(apart for _, apart in done.palettes)
        assert done.hue_families <= 2


def test_dusting_grooves() -> None:
    """Pitch 30, rib 15, groove 15 wide and 8 deep: half a circle of 15 and 0.5 either side, 24.56: (15 + 24.56)/30 = 1.3187."""
    flat = {face.ref: face for face in look().cleaning}
    fluted = replace(WHOLE, zones=(replace(ZONE, kind="fluted", flute_pitch=30, flutes=73),))
    grooved = {face.ref: face for face in look(fluted).cleaning}
    assert grooved["W1"].factor == pytest.approx(1.3187, abs=1e-4)
    assert grooved["W1"].minutes == pytest.approx(flat["W1"].minutes * 1.3187 * 2, rel=1e-3)
    assert grooved["C1"] == flat["C1"]
    assert look(fluted).two_walls.off.edges > look().two_walls.off.edges + 10  # type: ignore[union-attr]
