"""The whole stage: a family's books, what is left, devices first, the household's own sizes, and the working behind it all."""

from __future__ import annotations

from dataclasses import replace

import pytest

from wallwright.core.shape import Box
from wallwright.core.units import Length
from wallwright.job.brief import Brief, Person, Thing
from wallwright.job.demos import demo_jobs
from wallwright.job.document import Job
from wallwright.job.read import read_job
from wallwright.job.survey import Reading, Survey, SurveyedWall
from wallwright.job.survey import Room as SurveyRoom
from wallwright.library import load
from wallwright.storage.plan import plan
from wallwright.storage.record import Bay, Room

LIMITS = load.limits()
COLUMNS = Room(
    tuple(Bay(f"T{n}.1", f"T{n}", Box(n * 500, 18, 464, 2200), 350, "open", 1, 5) for n in range(1, 5))
)


def job(brief: Brief) -> Job:
    wall = SurveyedWall((Reading(Length(0.0), Length(3600.0)),), (Reading(Length(0.0), Length(2700.0)),))
    return Job("Sample, invented", Survey(SurveyRoom(), wall), brief)


BOOKS = (Thing("picture_book", 220, low=True), Thing("paperback", 140), Thing("large_book", 60))


def test_a_family_s_books_go_into_four_columns() -> None:
    found = plan(job(Brief(things=BOOKS)), COLUMNS, LIMITS)
    assert found.needed == pytest.approx(9000)  # 7.5 m and a fifth
    assert found.capacity == pytest.approx(4 * 464 * 6)  # 11.1 m
    assert found.leftovers == () and found.storage_class == "much"
    assert sum(item.count for item in found.allotted) == 420
    assert found.free == pytest.approx(1 - 9000 / (4 * 464 * 6), abs=0.01)


def test_too_little_room_says_what_is_left_and_why() -> None:
    found = plan(
        job(Brief(things=(*BOOKS, Thing("vacuum", 1)))), replace(COLUMNS, bays=COLUMNS.bays[:2]), LIMITS
    )
    left = dict(found.leftovers)
    assert left["vacuum"] == 1 and len(left) > 1
    placed = sum(item.count for item in found.allotted)
    assert placed + sum(left.values()) == 421
    assert any(why.name == "thing vacuum.left_over" and why.value == 1 for why in found.whys)
    (vacuum,) = (one for one in found.missing if one.kind == "vacuum")
    assert vacuum.failing == "height"
    assert vacuum.short == pytest.approx(1180 - (2200 - 5 * 18) / 6)
    assert {one.failing for one in found.missing if one.kind != "vacuum"} == {"room"}


def test_devices_take_their_room_first() -> None:
    bare = plan(job(Brief(things=BOOKS)), COLUMNS, LIMITS)
    boxed = replace(COLUMNS, devices={"T1.1": (("Set-top box", 320.0, 280.0, 105.0),)})
    with_box = plan(job(Brief(things=BOOKS)), boxed, LIMITS)
    assert bare.capacity - with_box.capacity == pytest.approx(320)
    assert [level.devices for level in with_box.levels if level.devices] == [("Set-top box",)]


def test_the_brief_s_word_goes_before_the_reckoning() -> None:
    found = plan(job(Brief(things=BOOKS, storage="little")), COLUMNS, LIMITS)
    assert found.storage_class == "little"
    assert next(why for why in found.whys if why.name == "storage.class").pinned


def test_the_household_s_own_sizes_and_kinds() -> None:
    tall = Thing("paperback", 3, width=Length(30.0), height=Length(260.0), mass=0.5)
    own = Thing(
        "drum", 1, name="Drum", width=Length(400.0), depth=Length(300.0), height=Length(300.0), mass=7.0
    )
    found = plan(job(Brief(things=(tall, own))), COLUMNS, LIMITS)
    paper, drum = found.demands
    assert (paper.each, paper.one, paper.height, paper.depth) == (
        36,
        0.5,
        290,
        150,
    )  # depth as in the library
    assert (drum.name, drum.each, drum.one) == ("Drum", 440, 7.0)  # a hand's width beside it, not a fifth
    assert found.leftovers == ()
    with pytest.raises(ValueError, match=r"brief\.things\.0\.kind.*width, depth, height and mass"):
        plan(job(Brief(things=(replace(own, mass=None),))), COLUMNS, LIMITS)


def test_an_allotment_given_is_used() -> None:
    quick = plan(job(Brief(things=BOOKS)), COLUMNS, LIMITS)
    fewer = plan(job(Brief(things=BOOKS)), COLUMNS, LIMITS, quick.placed[:-1])
    assert fewer.placed == quick.placed[:-1] and fewer.score > quick.score
    assert fewer.leftovers == ((quick.placed[-1].kind, quick.placed[-1].count),)


def test_every_value_has_its_why() -> None:
    found = plan(job(Brief(things=BOOKS, people=(Person("A", None, 3),))), COLUMNS, LIMITS)
    whys = {why.name: why.value for why in found.whys}
    assert whys["storage.capacity"] == found.capacity
    assert whys["storage.needed"] == found.needed
    assert whys["storage.child_out"] == found.reach.out
    for demand in found.demands:
        assert whys[f"thing {demand.kind}.run"] == demand.run
    assert len(whys) == len(found.whys)


def test_nothing_to_keep_and_no_bays() -> None:
    found = plan(job(Brief()), Room(()), LIMITS)
    assert (found.capacity, found.needed, found.storage_class, found.allotted) == (0, 0, "little", ())
    lost = plan(job(Brief(things=(Thing("linen", 2),))), Room(()), LIMITS)
    assert [(one.failing, one.count) for one in lost.missing] == [("nothing", 2)]


def test_devices_of_a_demo_stand_where_cooling_has_them() -> None:
    from wallwright.derive import derive

    wall = derive(read_job(demo_jobs()["living"]))
    standing = {level.bay for level in wall.storage.levels if level.devices}
    assert standing <= {bay.bay for bay in wall.cooling.bays} and standing
    warm = {level.bay for level in wall.storage.levels if level.warm}
    assert warm == {bay.bay for bay in wall.cooling.bays if bay.watts >= 30}
