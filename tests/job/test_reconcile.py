"""The most likely outline of a wall, against scipy's least squares, and the measure that is wrong found among good ones."""

from __future__ import annotations

import math
import random

import numpy as np
import pytest
from scipy.optimize import least_squares

from wallwright.core.units import Length
from wallwright.derive import derive
from wallwright.job.demos import demo_jobs
from wallwright.job.document import Job
from wallwright.job.edits import apply
from wallwright.job.face import wall_face
from wallwright.job.problem import JobError
from wallwright.job.read import read_job
from wallwright.job.reconcile import Measure, Outline, measures, model, outline, sigma_of
from wallwright.job.survey import Reading, SurveyedWall
from wallwright.job.write import write_job
from wallwright.library import load
from wallwright.tables.measures import survey_measures

LIMITS = load.limits()
TRUE = (4200.0, 6.0, 2748.0, 4195.0, 2753.0)
"""A wall that leans and whose ceiling falls: the outline the measures are taken from."""
PLACES = [("width", 100.0), ("width", 1000.0), ("width", 2200.0), ("height", 200.0), ("height", 2100.0),
          ("height", 4000.0), ("rising", 0.0), ("falling", 0.0)]  # fmt: skip


def taken(noise: float = 0.0, seed: int = 1, wrong: int | None = None, by: float = 0.0) -> list[Measure]:
    rng = random.Random(seed)
    out: list[Measure] = []
    for i, (kind, at) in enumerate(PLACES):
        bare = Measure(kind, at, 0.0, 1.0)  # type: ignore[arg-type]
        value = model(bare, TRUE) + rng.gauss(0, noise) + (by if i == wrong else 0.0)
        out.append(Measure(kind, at, value, 1.5))  # type: ignore[arg-type]
    return out


def found(given: list[Measure]) -> Outline:
    made = outline(given, LIMITS)
    assert made is not None
    return made


def test_exact_measures_give_the_outline_back() -> None:
    made = found(taken())
    (_, lower, upper_right, upper_left) = made.corners
    assert (lower[0], upper_left[0], upper_left[1], *upper_right) == pytest.approx(
        (TRUE[0], TRUE[1], TRUE[2], TRUE[3], TRUE[4]), abs=1e-6
    )
    assert made.spare == 3 and made.misclosure < 1e-6 and not made.suspects


@pytest.mark.parametrize("seed", range(6))
def test_against_scipy(seed: int) -> None:
    """Outline, its spread and the variance factor as scipy.optimize.least_squares gives them, from another start."""
    given = taken(2.0, seed)
    made = found(given)
    sol = least_squares(
        lambda x: [(model(m, tuple(x)) - m.value) / m.sigma for m in given],  # type: ignore[arg-type]
        (4000.0, 0.0, 2500.0, 4000.0, 2500.0), xtol=1e-14, ftol=1e-14, gtol=1e-14, x_scale="jac",
    )  # fmt: skip
    (_, lower, right, left) = made.corners
    assert (lower[0], left[0], left[1], *right) == pytest.approx(tuple(sol.x), abs=1e-4)
    spread = np.sqrt(np.diag(np.linalg.inv(sol.jac.T @ sol.jac)))
    assert made.spread == pytest.approx(tuple(spread), rel=1e-4)
    assert made.variance == pytest.approx(2 * sol.cost / 3, rel=1e-5)
    hat = sol.jac @ np.linalg.inv(sol.jac.T @ sol.jac) @ sol.jac.T
    assert [one.redundancy for one in made.checked] == pytest.approx(list(1 - np.diag(hat)), abs=1e-5)
    assert sum(one.redundancy for one in made.checked) == pytest.approx(3)  # as many as there are spare


@pytest.mark.parametrize("wrong", [0, 1, 2, 4])
def test_the_wrong_measure_is_found_and_by_how_much(wrong: int) -> None:
    """One size 40 mm out among good ones (noise 0.7): it is the suspect, and the error comes back within 10 mm."""
    given = taken(0.7, 3, wrong, 40.0)
    made = found(given)
    assert given[wrong] in [one.measure for one in made.suspects]
    assert made.suspects[0].off == pytest.approx(40.0, abs=10) or len(made.suspects) > 1
    assert made.misclosure >= 30


@pytest.mark.parametrize("wrong", [6, 7])
def test_of_two_diagonals_neither_can_be_told_from_the_other(wrong: int) -> None:
    """Only they tell how far the wall leans sideways: a wrong one shows, and both are to be measured again."""
    made = found(taken(0.7, 3, wrong, 40.0))
    assert {one.measure.kind for one in made.suspects} == {"rising", "falling"}
    assert {round(one.off / 10) for one in made.suspects} == {4}


def test_good_measures_are_let_be() -> None:
    """Of 200 surveys with the error that is expected no more than a few have a suspect: 0.1 % of 8 measures each."""
    suspects = sum(bool(found(taken(1.5, seed)).suspects) for seed in range(200))
    assert suspects <= 8


def test_without_diagonals_the_corner_counts_as_upright() -> None:
    wall = SurveyedWall(
        tuple(Reading(Length(at), Length(4200.0, state="measured")) for at in (100.0, 2200.0)),
        tuple(Reading(Length(at), Length(2750.0, state="measured")) for at in (200.0, 4000.0)),
    )
    given = measures(wall, LIMITS)
    assert [one.kind for one in given] == ["width", "width", "height", "height", "lean"]
    made = found(list(given))
    assert made.corners[3] == pytest.approx((0.0, 2750.0), abs=1e-6) and made.spare == 0
    assert all(one.off == 0 for one in made.checked)  # nothing checks anything
    assert outline(given[:4], LIMITS) is None


def test_two_heights_in_one_place_do_not_make_a_ceiling() -> None:
    given = [
        Measure("width", 100.0, 4200.0, 2), Measure("width", 2200.0, 4200.0, 2), Measure("height", 1000.0, 2750.0, 2),
        Measure("height", 1000.0, 2751.0, 2), Measure("lean", 0.0, 0.0, 15),
    ]  # fmt: skip
    assert outline(given, LIMITS) is None


def test_how_sure_a_length_is() -> None:
    """A tolerance is two standard deviations; else by how it was got; to it come 0.3 mm a metre (3000: 0.9) and 3 mm of unevenness."""
    assert sigma_of(Length(3000.0, state="verified", tolerance=4.0), LIMITS) == pytest.approx(
        math.hypot(2, 0.9, 3)
    )
    assert sigma_of(Length(3000.0, state="measured"), LIMITS) == pytest.approx(math.hypot(2, 0.9, 3))
    assert sigma_of(Length(3000.0), LIMITS) == pytest.approx(math.hypot(20, 0.9, 3))


def test_an_assumed_size_does_not_pull_at_measured_ones() -> None:
    given = taken()
    loose = [*given, Measure("width", 1500.0, model(Measure("width", 1500.0, 0, 1), TRUE) + 30, 20.0)]
    made = found(loose)
    assert made.corners[1][0] == pytest.approx(TRUE[0], abs=0.3) and not made.suspects


# --- drawn by it --------------------------------------------------------------------------------------------------------

JOB = read_job(demo_jobs()["living"])
SURE = {"state": "measured", "tolerance": 3}


def with_bump(job: Job = JOB, by: float = 9.0) -> Job:
    """The width at 1000 read `by` too small: within what a survey may be, over what a note is given for."""
    return apply(
        job, "set_wall_reading", {"which": "width", "at": 1000, "value": {"value": 4201 - by, **SURE}}
    )


def test_the_wall_is_drawn_by_the_outline_where_the_survey_says_so() -> None:
    """The same corners as scipy's least squares of the same eight measures give; without it the smallest reading counts."""
    job = with_bump()
    assert wall_face(job.survey).width == 4192
    taken_up = apply(job, "use_outline", {})
    given = measures(job.survey.wall, LIMITS)
    sol = least_squares(
        lambda x: [(model(m, tuple(x)) - m.value) / m.sigma for m in given],  # type: ignore[arg-type]
        (4000.0, 0.0, 2500.0, 4000.0, 2500.0), xtol=1e-14, ftol=1e-14, gtol=1e-14, x_scale="jac",
    )  # fmt: skip
    b, dx, hl, cx, hr = sol.x
    face = wall_face(taken_up.survey)
    assert (face.width, face.height) == pytest.approx((min(b, cx - dx), min(hl, hr)), abs=1e-3)
    assert face.width > 4195
    assert derive(taken_up).face.width == pytest.approx(face.width)
    assert apply(taken_up, "use_outline", {"adjusted": False}) == job
    assert read_job(write_job(taken_up)).survey.wall.adjusted


def test_the_floor_to_come_is_taken_off_the_outline_too() -> None:
    job = apply(with_bump(), "use_outline", {})
    lower = apply(job, "set_floor", {"finished": False, "to_come": 30})
    assert wall_face(lower.survey).height == pytest.approx(wall_face(job.survey).height - 30)


def test_the_jobs_own_limits_weigh_it() -> None:
    """A tape of which nobody is sure draws less: the bump counts for less and the outline goes back to the others."""
    job = apply(
        apply(
            JOB,
            "set_wall_reading",
            {"which": "width", "at": 1000, "value": {"value": 4192, "state": "measured"}},
        ),
        "use_outline",
        {},
    )
    plain = wall_face(job.survey, job.rules).width
    assert wall_face(job.survey, {"survey.sigma_uneven": 12.0}).width != pytest.approx(plain, abs=0.2)


def test_an_outline_with_a_wrong_measure_is_not_taken() -> None:
    bad = with_bump(by=60.0)
    with pytest.raises(JobError, match="does not close with the rest"):
        apply(bad, "use_outline", {})
    with pytest.raises(JobError, match="measure it again before G1 is signed"):
        apply(bad, "sign_gate", {"ref": "G1", "by": "N. N.", "date": "2026-04-02"})
    assert apply(bad, "sign_gate", {"ref": "G0", "by": "N. N.", "date": "2026-04-02"}).progress.gates
    assert apply(JOB, "sign_gate", {"ref": "G1", "by": "N. N.", "date": "2026-04-02"}).progress.gates


def test_too_few_measures_are_not_adjusted() -> None:
    few = JOB
    for at in (100, 2200):
        few = apply(few, "remove_wall_reading", {"which": "width", "at": at})
    for at in (200, 4000):
        few = apply(few, "remove_wall_reading", {"which": "height", "at": at})
    with pytest.raises(JobError, match="too few measures"):
        apply(few, "use_outline", {})


def test_the_list_of_measures() -> None:
    """Read, most likely and residual of each; what must be taken again; by what the wall is drawn."""
    table = survey_measures(JOB.survey.wall, LIMITS)
    assert len(table.rows) == 8
    made = outline(measures(JOB.survey.wall, LIMITS), LIMITS)
    assert made is not None
    for row, one in zip(table.rows, made.checked, strict=True):
        assert row[1:3] == (one.measure.value, one.computed)
        assert row[3] == pytest.approx(one.computed - one.measure.value, abs=0.06)
        assert row[-1] == ""
    assert "smallest readings" in table.notes[0] and "smallest read: 4200.5 and 2749.6" in table.notes[0]
    bad = survey_measures(with_bump(by=60.0).survey.wall, LIMITS)
    assert [row[0] for row in bad.rows if row[-1] == "MEASURE AGAIN"] == ["width at 1000 above the floor"]
    assert "G1 is not signed" in bad.notes[-1]
    assert (
        "most likely outline."
        in survey_measures(apply(with_bump(), "use_outline", {}).survey.wall, LIMITS).notes[0]
    )
    alone = SurveyedWall((Reading(Length(0), Length(4000.0)),), (Reading(Length(0), Length(2500.0)),))
    assert survey_measures(alone, LIMITS).rows == ()
