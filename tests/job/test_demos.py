"""The demo and starter jobs: sound, invented and saying so, and as full (or as faulty) as they are meant to be."""

from __future__ import annotations

import re

import pytest

from wallwright.job.demos import DEMOS, demo_jobs
from wallwright.job.face import wall_face
from wallwright.job.path import walk
from wallwright.job.read import JobError, read_job
from wallwright.job.starter import ROOMS, starter

JOBS = {name: read_job(text, name) for name, text in demo_jobs().items()}


@pytest.mark.parametrize("name", DEMOS)
def test_a_demo_says_that_it_is_invented(name: str) -> None:
    assert "INVENTED" in demo_jobs()[name][:300]
    assert "Invented household" in JOBS[name].client


def test_the_good_walls_are_wholly_surveyed() -> None:
    for name in ("living", "bedroom"):
        survey = JOBS[name].survey
        assert wall_face(survey).assumed == ()
        assert len(survey.wall.widths) == len(survey.wall.heights) == 3
        assert survey.wall.substrate != "unknown"
        assert survey.room.floor_finished and survey.finish_complete


def test_the_living_wall_is_the_size_it_says() -> None:
    face = wall_face(JOBS["living"].survey)
    assert face.width == 4200.525  # 13'-9 3/8" is the smallest of the three
    assert face.height == pytest.approx(2749.55)  # 9'-0 1/4"
    assert {unit.ref: unit.kind for unit in JOBS["living"].design.units} == {
        "C1": "console", "T1": "tower", "T2": "tower", "S1": "shelf",
    }  # fmt: skip


def test_the_bed_is_seen_from_its_two_pillows() -> None:
    a, b = JOBS["bedroom"].survey.seats
    assert (a.recline, b.recline) == (35, 15)
    assert a.hours / (a.hours + b.hours) == 0.6
    assert b.x.mm - a.x.mm == 900  # the middles of the two halves of an 1800 bed


def test_much_of_a_good_design_is_automatic() -> None:
    for name in ("living", "bedroom"):
        values = [value for steps, value in walk(JOBS[name]) if steps[0] == "design"]
        assert values.count(None) > len(values) / 3


def test_every_marked_fault_is_explained() -> None:
    assert demo_jobs()["living_faults"].count("# fault: ") >= 25


@pytest.mark.parametrize("room", ROOMS)
def test_a_starter_is_a_sound_job_with_open_questions(room: str) -> None:
    job = read_job(starter(room))
    assert job.survey.room.kind == room
    assert job.survey.wall.substrate == "unknown"
    assert not job.survey.room.floor_finished and job.survey.room.floor_to_come.mm > 0
    assert wall_face(job.survey).assumed
    assert job.design.units and job.design.panels and job.survey.seats
    lines = starter(room).splitlines()
    assert sum("#" in line for line in lines) > len(lines) / 4


@pytest.mark.parametrize("room", ROOMS)
def test_what_a_starter_offers_in_comments_can_be_switched_on(room: str) -> None:
    """Each commented-out line is real TOML for its place."""
    text = starter(room)
    lines = []
    for line in text.splitlines():
        offered = re.match(r'# (\[|"?[\w.]+"? = )', line)
        lines.append(line.removeprefix("# ") if offered else line)
    assert lines != text.splitlines()
    job = read_job("\n".join(lines))
    assert (
        job.survey.place.latitude
        and job.brief.budget
        and job.brief.people
        and job.rules
        and job.survey.windows
    )


def test_an_unknown_room_is_refused() -> None:
    with pytest.raises(JobError, match="'living'"):
        starter("livingg")
