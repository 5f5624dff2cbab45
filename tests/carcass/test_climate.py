"""The air as surveyed or as usual, the formaldehyde class it and the household ask for, and the working of both."""

from __future__ import annotations

import pytest

from wallwright.carcass.climate import climate_of
from wallwright.carcass.emission import asked, ordered, sold
from wallwright.carcass.materials_why import whys
from wallwright.carcass.moisture import emc, pressed_moisture
from wallwright.job.demos import demo_jobs
from wallwright.job.document import Job
from wallwright.job.edits import apply
from wallwright.job.read import JobError, read_job
from wallwright.library import load

JOB, LIMITS = read_job(demo_jobs()["living"]), load.limits()


def childless(job: Job) -> Job:
    return apply(job, "remove_person", {"ref": "child"})


def test_what_nobody_measured_is_taken_by_the_climate_and_says_so() -> None:
    humid = climate_of(JOB, LIMITS)
    dry = climate_of(apply(JOB, "set_place", {"hot_humid": False}), LIMITS)
    assert humid.assumed
    assert humid.high > dry.high


def test_what_is_surveyed_is_taken() -> None:
    told = {"temperature": 25, "humidity_low": 0.4, "humidity_high": 0.75}
    climate = climate_of(apply(JOB, "set_climate", told), LIMITS)
    assert (climate.temperature, climate.low, climate.high, climate.assumed) == (25, 0.4, 0.75, False)
    assert climate.swing("ply18") == pytest.approx(emc(25, 0.75) - emc(25, 0.4))
    assert climate.swing("ply18") == pytest.approx(
        14.24 - 7.61, abs=0.02
    )  # worked from FPL-RN-0268 outside this program
    assert climate.swing("mdf18") == pytest.approx(pressed_moisture(0.75) - pressed_moisture(0.4))


@pytest.mark.parametrize("told", [{"humidity_low": 0.9}, {"humidity_high": 0.2}])
def test_one_end_alone_never_turns_the_air_round(told: dict[str, float]) -> None:
    climate = climate_of(apply(JOB, "set_climate", told), LIMITS)
    assert climate.low <= climate.high
    assert climate.assumed


@pytest.mark.parametrize(
    ("told", "field"),
    [
        ({"humidity_low": 0.7, "humidity_high": 0.5}, "survey.room.humidity_low"),
        ({"humidity_high": 65}, "humidity_high"),
        ({"temperature": 80}, "survey.room.temperature"),
    ],
)
def test_air_that_cannot_be_is_refused_by_its_field(told: dict[str, float], field: str) -> None:
    with pytest.raises(JobError) as caught:
        apply(JOB, "set_climate", told)
    assert [problem.field for problem in caught.value.problems] == [field]


@pytest.mark.parametrize(
    ("rules", "child", "key"),
    [
        ("IN", False, "e1"),
        ("UK", False, "e1"),
        ("EU", False, "e05"),  # EU from 6 August 2026: 0.062 mg/m³
        ("US", False, "tsca"),  # TSCA title VI
        ("IN", True, "e05"),
        ("US", True, "naf"),
    ],
)
def test_the_class_that_is_ordered(rules: str, child: bool, key: str) -> None:
    job = apply(JOB if child else childless(JOB), "set_place", {"rules": rules})
    assert ordered(job, LIMITS).key == key


def test_a_bedroom_asks_for_less_and_a_decision_stands() -> None:
    job = childless(JOB)
    assert asked(job, LIMITS).why == ""
    assert "sleeps" in asked(apply(job, "set_room", {"kind": "bedroom"}), LIMITS).why
    pinned = apply(JOB, "set_emission", {"emission": "e1"})
    assert ordered(pinned, LIMITS).key == "e1"


def test_fibreboard_of_0_10_ppm_passes_in_one_country_and_fails_in_another() -> None:
    # 0.11 ppm MDF is lawful under TSCA title VI; the EU's 0.062 mg/m³ is about 0.05 ppm
    tsca = load.emissions()["tsca"]
    assert asked(apply(childless(JOB), "set_place", {"rules": "US"}), LIMITS).lawful(tsca)
    assert not asked(apply(childless(JOB), "set_place", {"rules": "EU"}), LIMITS).lawful(tsca)
    assert not sold("blockboard19", asked(JOB, LIMITS))
    assert sold("mdf18", asked(JOB, LIMITS))


def test_every_number_has_its_working() -> None:
    found = {why.name: why for why in whys(JOB, ["ply18", "mdf18", "glass"], LIMITS)}
    assert set(found) == {
        "materials.air",
        "materials.emission",
        "materials.ply18.growth",
        "materials.mdf18.growth",
    }
    # 45 to 80 % RH: 8 to 12.5 % of moisture, 0.033 % a per cent
    assert found["materials.mdf18.growth"].value == pytest.approx(10 * 0.033 * 4.5, abs=0.01)
    mine = whys(JOB, [], LIMITS.overridden({"materials.high_humid": 0.9}))
    assert (found["materials.air"].value, mine[0].value) == (80, 90)
