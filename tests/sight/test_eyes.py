"""Eye heights against ANSUR II and hand values."""

from __future__ import annotations

import math
import runpy
from dataclasses import replace
from pathlib import Path
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from wallwright.core.limit import Limits
from wallwright.core.units import Length
from wallwright.job.brief import Person
from wallwright.job.survey import Seat, SeatKind
from wallwright.sight.eyes import body, eye_of, leaned

ANSUR: dict[str, Any] = runpy.run_path(str(Path(__file__).parents[1] / "published" / "ansur_2012.py"))

WHO: dict[int, tuple[float, float]] = runpy.run_path(
    str(Path(__file__).parents[1] / "published" / "who_2007.py")
)["STATURE"]

SOFA = Seat("A", "sofa", Length(1000), Length(3000))
BED = Seat("A", "bed", Length(1000), Length(3000), Length(550), "reclined", 35.0)


def test_the_mean_adult_is_the_published_one(limits: Limits) -> None:
    men, women = ANSUR["SITTING_EYE"]["men"], ANSUR["SITTING_EYE"]["women"]
    adult = body(None, limits)
    assert adult.sitting_eye == pytest.approx(ANSUR["MIXED_SITTING_EYE"], abs=0.1)
    assert adult.sitting_eye == pytest.approx((men[2] + women[2]) / 2, abs=0.2)
    assert adult.neck == pytest.approx(sum(ANSUR["NECK_ABOVE_SEAT"].values()) / 2, abs=0.5)
    crown = sum(ANSUR["SITTING_HEIGHT"][sex] - ANSUR["SITTING_EYE"][sex][2] for sex in ("men", "women")) / 2
    assert adult.standing_eye == pytest.approx(sum(ANSUR["STATURE"].values()) / 2 - crown, abs=1)


@pytest.mark.parametrize("sex", ["men", "women"])
def test_eye_from_stature(sex: str, limits: Limits) -> None:
    """The straight line through both sexes gives each sex's mean within its residual."""
    person = Person("P", stature=Length(ANSUR["STATURE"][sex]))
    assert body(person, limits).sitting_eye == pytest.approx(ANSUR["SITTING_EYE"][sex][2], abs=5)
    slope, base = ANSUR["EYE_FROM_STATURE"]
    assert body(person, limits).sitting_eye == pytest.approx(slope * ANSUR["STATURE"][sex] + base)


@pytest.mark.parametrize(
    ("sitting_eye", "expected"),
    [(ANSUR["SITTING_EYE"]["women"][0], 1078), (ANSUR["SITTING_EYE"]["women"][2], 1128),
     (ANSUR["SITTING_EYE"]["men"][2], 1185), (ANSUR["SITTING_EYE"]["men"][4], 1240)],
)  # fmt: skip
def test_upright_on_a_sofa(sitting_eye: float, expected: float, limits: Limits) -> None:
    """Seat 420 + sitting eye − slump 40: sums of the published table."""
    own = limits.overridden({"sight.sitting_eye": sitting_eye})
    assert eye_of(SOFA, None, own).z == pytest.approx(expected, abs=1)


@pytest.mark.parametrize(
    ("recline", "rigid", "upright_head", "back"),
    [(0, 804.5, 804.5, 0.0), (20, 761.4, 769.0, 244.4), (30, 708.8, 725.5, 357.2), (45, 595.2, 631.9, 505.2), (60,
    447.3, 509.8, 618.8)],
)  # fmt: skip
def test_leaning_back(recline: float, rigid: float, upright_head: float, back: float) -> None:
    """Mean man (ANSUR II: eye 804.5, C7 679.4), hip joint 90 above the seat (from memory): worked by hand."""
    assert leaned(804.5, 679.4, 90, recline, 0) == pytest.approx((rigid, back), abs=0.2)
    assert leaned(804.5, 679.4, 90, recline, recline)[0] == pytest.approx(upright_head, abs=0.2)


def test_in_bed_by_the_simple_rule_and_by_ours(limits: Limits) -> None:
    """The trade's simple rule turns 740 mm about the mattress: 510 + 740 cos 35° = 1116, 510 + 740 cos 15° = 1225 (by hand).

    That rule is a little low for who lies back: the trunk turns about the hip joint, 90 mm above the mattress, which loses
    90 (1 − cos 35°) = 16 mm less, and the pillow brings the head 10° forward, 124 (cos 25° − cos 35°) = 11 mm more; the
    mean adult slumped is 736, not 740: 4 cos 35° = 3 mm less. 1116 + 16 + 11 − 3 = 1140. At 15° the same sum moves it 3 mm.
    """
    own = limits.overridden(
        {"sight.sitting_eye": 740, "sight.slump": 0, "sight.hip_pivot": 0, "sight.pillow": 0}
    )
    sat_up = replace(BED, posture="upright", recline=15.0)
    assert eye_of(BED, None, own).z == pytest.approx(1116, abs=0.5)
    assert eye_of(sat_up, None, own).z == pytest.approx(1225, abs=0.5)
    assert eye_of(BED, None, limits).z == pytest.approx(1140, abs=0.5)
    assert eye_of(sat_up, None, limits).z == pytest.approx(1228, abs=1)


def test_a_measured_eye_overrides(limits: Limits) -> None:
    eye = eye_of(replace(BED, eye_height=Length(1234)), Person("P", stature=Length(1900)), limits)
    assert (eye.z, eye.measured) == (1234, True)


def test_recliner_moves_the_eyes_back_and_a_bed_does_not(limits: Limits) -> None:
    recliner = replace(SOFA, kind="armchair", posture="reclined", recline=30.0)
    assert eye_of(recliner, None, limits).distance > SOFA.distance.mm + 250
    assert eye_of(BED, None, limits).distance == BED.distance.mm
    assert eye_of(replace(SOFA, posture="lounging"), None, limits).distance == SOFA.distance.mm


def test_children_sit_lower(limits: Limits) -> None:
    eyes = [eye_of(SOFA, Person("P", age=age), limits).z for age in (3, 6, 9, 12, 14)]
    assert eyes == sorted(eyes)
    assert eyes[0] == pytest.approx(
        420 + 956 * 0.573 - 111.3 - 40
    )  # 3 years: from memory (WHO growth references)
    assert eye_of(SOFA, Person("P", stature=Length(1156)), limits).z == pytest.approx(eyes[1], abs=1)


def test_floor_wheelchair_standing(limits: Limits) -> None:
    heights = {
        kind: eye_of(replace(SOFA, kind=kind), None, limits).z
        for kind in ("floor", "sofa", "wheelchair", "standing")
    }
    assert heights["floor"] == pytest.approx(60 + 736.1)
    assert heights["wheelchair"] == pytest.approx(490 + 736.1)
    assert heights["standing"] == pytest.approx(
        ANSUR["STATURE"]["men"] / 2 + ANSUR["STATURE"]["women"] / 2 - 111.3, abs=0.1
    )
    assert list(heights) == sorted(heights, key=lambda kind: heights[kind])


@pytest.mark.parametrize(
    ("kind", "given", "used"),
    [
        ("floor", Length(130, state="measured"), 130), ("floor", Length(300), 300), ("floor", Length(420, state="measured"), 420),
        ("floor", Length(420), 60), ("wheelchair", Length(430, state="verified"), 430),
        ("wheelchair", Length(560, state="measured"), 560), ("wheelchair", Length(420), 490), ("sofa", Length(420), 420),
    ],
)  # fmt: skip
def test_a_seat_height_that_was_given_is_believed(
    kind: SeatKind, given: Length, used: float, limits: Limits
) -> None:
    """736.1 above the seat for a mean adult; the usual cushion stands in only where the height is the one taken for any seat."""
    eye = eye_of(replace(SOFA, kind=kind, seat_height=given), None, limits)
    assert eye.z == pytest.approx(used + 736.1)


def test_an_eye_height_carries_how_sure_its_reading_is(limits: Limits) -> None:
    taken = eye_of(replace(SOFA, eye_height=Length(1234, state="measured", tolerance=10)), None, limits)
    assert (taken.source, taken.certainty) == ("the survey: measured, ± 10 mm", "derived")
    assert taken.says == "taken on the seat: measured, ± 10 mm"
    assert "not said to be measured" in eye_of(replace(SOFA, eye_height=Length(1234)), None, limits).source
    assert eye_of(SOFA, None, limits).source == ""


@given(st.floats(650, 900), st.floats(0, 60), st.floats(0, 60))
def test_leaning_further_never_raises_the_eye(eye: float, one: float, two: float) -> None:
    neck, low, high = 0.84 * eye, min(one, two), max(one, two)
    assert leaned(eye, neck, 90, high, 0)[0] <= leaned(eye, neck, 90, low, 0)[0] + 1e-9
    assert leaned(eye, neck, 90, high, high)[0] >= leaned(eye, neck, 90, high, 0)[0] - 1e-9
    up, back = leaned(eye, neck, 90, high, 0)
    assert math.hypot(up - 90, back) == pytest.approx(eye - 90)  # a rigid back keeps its length


@pytest.mark.parametrize("years", sorted(WHO))
def test_children_are_as_tall_as_the_reference(years: int, limits: Limits) -> None:
    """WHO growth reference 2007: median of boys and girls averaged. The sitting ratio is from memory."""
    tall = sum(WHO[years]) / 2 * 10
    child = body(Person("P", age=float(years)), limits)
    assert child.standing_eye == pytest.approx(tall - 111.3, abs=1)
    by_stature = body(Person("P", stature=Length(min(tall, 1399))), limits)
    assert by_stature.sitting_eye == pytest.approx(child.sitting_eye, abs=1 if tall < 1399 else 150)


def test_children_s_sitting_height_has_a_sane_share(limits: Limits) -> None:
    """Sitting height is about 52 % of stature from ten years on, 57 % at three (from memory)."""
    for years, share in ((3, 0.573), (10, 0.528), (14, 0.522)):
        child = body(Person("P", age=float(years)), limits)
        assert (child.sitting_eye + 111.3) / (child.standing_eye + 111.3) == pytest.approx(share, abs=0.002)


def test_wheelchair_eye_is_within_the_published_range(limits: Limits) -> None:
    """ADA Accessibility Guidelines, figure A3: eye level 43 to 51 in (1090 to 1295 mm), seat 19 in (485 mm)."""
    eye = eye_of(replace(SOFA, kind="wheelchair"), None, limits)
    assert 1090 <= eye.z <= 1295
    assert limits.value("sight.wheelchair_seat") == pytest.approx(485, abs=10)
