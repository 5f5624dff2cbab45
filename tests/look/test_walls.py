"""This wall and the one behind the seats, measured: by hand, and by the one word that is known of it."""

from __future__ import annotations

import math
import runpy
from dataclasses import replace
from pathlib import Path
from typing import Any

import pytest

from wallwright.carcass.record import BayBox, SetOut
from wallwright.core.colour import reflectance
from wallwright.core.shape import Box
from wallwright.core.units import Length
from wallwright.job.brief import Brief
from wallwright.job.design import Design, Finishes
from wallwright.job.document import Job
from wallwright.job.survey import OtherWall, Reading, Room, Survey, SurveyedWall, WallPart
from wallwright.look.colour import difference, lab
from wallwright.look.plan import plan
from wallwright.look.record import TwoWalls
from wallwright.look.weigh import entropy

MADE: dict[str, Any] = runpy.run_path(str(Path(__file__).with_name("wall_by_hand.py")))
DARK, FACE, LIMITS, SCREEN, SEAT, WHOLE = (
    MADE[name] for name in ["DARK", "FACE", "LIMITS", "SCREEN", "SEAT", "WHOLE"]
)

BARE = SetOut((), (), ())
SURVEY = Survey(
    Room(), SurveyedWall((Reading(Length(0), Length(4000)),), (Reading(Length(0), Length(2600)),))
)
WHITE = Design(finishes=Finishes(wall_colour="#FFFFFF"))


def two(
    survey: Survey = SURVEY, brief: Brief | None = None, setout: SetOut = BARE, bays: tuple[BayBox, ...] = ()
) -> TwoWalls:
    job = Job("walls", survey, design=WHITE, brief=brief or Brief())
    found = plan(job, FACE, SCREEN, setout, SEAT.eye[0], SEAT.distance, LIMITS, DARK, bays).two_walls
    assert found is not None
    return found


def described(*parts: WallPart, **other: object) -> Survey:
    return replace(SURVEY, other_walls=(OtherWall("opposite", parts=parts, **other),))  # type: ignore[arg-type]


def test_a_bare_wall_with_a_screen() -> None:
    """White wall 4 × 2.6 m with a frame 1.45 × 0.83 m: edges 4.56 m, shares 11.6 and 88.4 %, light by area."""
    share = 1.45 * 0.83 / 10.4
    off = two().off
    assert off.edges == pytest.approx(4.56 / 10.4)
    assert off.difference == pytest.approx(difference(lab("#FFFFFF"), lab("#0B0B0C")) * share)
    assert off.entropy == pytest.approx(entropy((share, 1 - share)))
    # (0.884 · 1.00 + 0.116 · 0.003)/0.5: twice the room's mean reflectance, less the black screen
    assert off.lit == pytest.approx((1 - share) / 0.5, rel=2e-3)


def test_the_screen_on_is_brighter_and_differs_less() -> None:
    both = two()
    assert both.on.lit > both.off.lit + 1
    # 60 cd/m² over 11.6 % of the wall, against 30 · 0.5/π = 4.77 cd/m² of the room: 1.45 times more
    assert both.on.lit - both.off.lit == pytest.approx(60 * 1.45 * 0.83 / 10.4 / (15 / math.pi), rel=1e-6)
    assert both.on.difference < both.off.difference
    assert both.on.edges == both.off.edges


def test_the_worked_example() -> None:
    """Warm white 13.5 m² with 1.5 m² of tan: 2.765 (colour-science). Two pictures 1.0 × 0.75, edges 2 · 3.5/13.5."""
    other = two(described(
        WallPart("picture", "#C19A6B", Length(1000), Length(750), 2), colour="#F5F0E6", width=Length(5000), height=Length(2700),
    )).other  # fmt: skip
    assert other.difference == pytest.approx(2.765, abs=0.005)
    assert other.edges == pytest.approx(7 / 13.5)
    assert other.entropy == pytest.approx(entropy((1.5, 12.0)))
    grey = (12.0 * reflectance("#F5F0E6") + 1.5 * reflectance("#C19A6B")) / 13.5 / 100
    assert other.lit == pytest.approx(grey / 0.5)


def test_light_and_lines_of_the_other_wall() -> None:
    case = WallPart("bookcase", "#5A3A22", Length(2000), Length(2000), 1, 20.0)
    plain, lit = two(described(case)).other, two(described(case, lux=90.0)).other
    assert plain.edges == pytest.approx((8 + 20 * 4) / 10.4)
    assert lit.lit == pytest.approx(3 * plain.lit)  # 90 lx for the room's 30


def test_by_word_and_which_leads() -> None:
    quiet, loud = two(), two(brief=Brief(opposite_wall="heavy"))
    assert not quiet.measured and quiet.other.each == (1.5, 0.3, 1.0, 0.2)  # ours
    assert loud.other.each == (14, 4, 1.3, 1.6)
    assert two(described(weight="heavy")).other == loud.other  # the heavier of the two words
    assert two(described(WallPart("x", "#000000", Length(10), Length(10)))).measured
    full = two(setout=WHOLE)
    assert full.star_off == "this"
    loudest = described(
        WallPart("papered field", "#8B1A1A", Length(1800), Length(2600), 2, 40.0),
        WallPart("lamp", "#F0C000", Length(300), Length(300)),
        colour="#FFFFFF", lux=900.0,
    )  # fmt: skip
    assert two(loudest).star_off == "other"


def test_lines_of_fronts_count() -> None:
    """A console 2000 × 300 with two bays of two drawers: one upright gap of 300 and two level ones of 1000 each."""
    bays = tuple(
        BayBox(f"C1.{k}", "C1", Box(1000 + 1000 * k, 250, 1000, 300), 350, "drawers", 2, 0, False)
        for k in (0, 1)
    )
    only = SetOut((WHOLE.units[0],), (), ())
    more = two(setout=only, bays=bays).off.edges - two(setout=only).off.edges
    assert more == pytest.approx((0.3 + 2 * 1.0) / 10.4)
