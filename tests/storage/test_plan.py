from __future__ import annotations

import pytest

from wallwright.carcass.record import BayBox
from wallwright.core.shape import Box
from wallwright.core.units import Length
from wallwright.job.brief import Brief, Device, Thing
from wallwright.job.document import Job
from wallwright.job.survey import Reading, Room, Survey, SurveyedWall
from wallwright.library import load
from wallwright.storage.plan import plan

LIMITS = load.limits()
COLUMNS = tuple(
    BayBox(f"T{n}.1", f"T{n}", Box(n * 500, 400, 464, 2200), 350, "open", 1, 5, True) for n in range(1, 5)
)


def job(brief: Brief) -> Job:
    wall = SurveyedWall((Reading(Length(0.0), Length(3600.0)),), (Reading(Length(0.0), Length(2700.0)),))
    return Job("Sample, invented", Survey(Room(), wall), brief)


BOOKS = (Thing("picture_book", 220, low=True), Thing("paperback", 140), Thing("large_book", 60))


def test_a_family_s_books_go_into_four_columns() -> None:
    found = plan(job(Brief(things=BOOKS)), COLUMNS, LIMITS)
    assert found.needed == pytest.approx(9000)  # 7.5 m and a fifth
    assert found.capacity == pytest.approx(4 * 464 * 6)  # 11.1 m
    assert found.leftovers == () and found.storage_class == "much"
    assert sum(item.count for item in found.allotted) == 420


def test_too_little_room_says_what_is_left() -> None:
    found = plan(job(Brief(things=(*BOOKS, Thing("vacuum", 1)))), COLUMNS[:2], LIMITS)
    left = dict(found.leftovers)
    assert left["vacuum"] == 1 and len(left) > 1
    placed = sum(item.count for item in found.allotted)
    assert placed + sum(left.values()) == 421
    assert any(why.name == "thing vacuum.left_over" and why.value == 1 for why in found.whys)


def test_devices_take_their_room_first() -> None:
    bare = plan(job(Brief(things=BOOKS)), COLUMNS, LIMITS)
    with_box = plan(job(Brief(things=BOOKS, devices=(Device("stb", "set_top_box"),))), COLUMNS, LIMITS)
    assert bare.capacity - with_box.capacity == pytest.approx(280 + 40)
    free = Device("bar", "soundbar")  # stands on the console
    assert plan(job(Brief(devices=(free,))), COLUMNS, LIMITS).capacity == bare.capacity


def test_the_brief_s_word_goes_before_the_reckoning() -> None:
    found = plan(job(Brief(things=BOOKS, storage="little")), COLUMNS, LIMITS)
    assert found.storage_class == "little"
    assert next(why for why in found.whys if why.name == "storage.class").pinned


def test_every_value_has_its_why() -> None:
    found = plan(job(Brief(things=BOOKS)), COLUMNS, LIMITS)
    whys = {why.name: why.value for why in found.whys}
    assert whys["storage.capacity"] == found.capacity
    assert whys["storage.needed"] == found.needed
    for demand in found.demands:
        assert whys[f"thing {demand.kind}.run"] == demand.run
    assert len(whys) == len(found.whys)


def test_nothing_to_keep_and_no_bays() -> None:
    found = plan(job(Brief()), (), LIMITS)
    assert (found.capacity, found.needed, found.storage_class, found.allotted) == (0, 0, "little", ())
