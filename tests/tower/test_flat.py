"""A flat's job: its type's, its hand, its tape, its exceptions; and what two flats share."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

import pytest

from wallwright.core.units import Length
from wallwright.job.design import StockSheet
from wallwright.job.problem import JobError
from wallwright.job.site import FoundThing
from wallwright.tower.flat import Hands, drawn_job, key_of, measured_job
from wallwright.tower.mirror import mirrored
from wallwright.tower.record import Exception_, Measured


def test_a_flat_of_the_drawn_hand_is_its_type_and_the_other_its_mirror(
    make: Any, flat: Any, jobs: Any
) -> None:
    hands = Hands(make(flat("0101")))
    assert drawn_job(flat("0101"), hands) == jobs["L"]
    assert drawn_job(flat("0102", hand="right"), hands) == mirrored(jobs["L"])


def test_exceptions_are_made_in_the_flats_own_hand(make: Any, flat: Any) -> None:
    own = flat("0101", hand="right", exceptions=(Exception_("move_unit", {"ref": "C1", "x": "1.3 m"}),))
    job = drawn_job(own, Hands(make(own)))
    assert job.design.units[0].x == Length(1300.0, "1.3 m")


def test_an_exception_that_cannot_be_made_is_named(make: Any, flat: Any) -> None:
    own = flat(
        "0101",
        exceptions=(
            Exception_("set_storage", {"storage": "much"}),
            Exception_("move_unit", {"ref": "Z9", "x": 1}),
        ),
    )
    with pytest.raises(JobError, match=r"exceptions\[1\] move_unit: ref = 'Z9'.*none of that name"):
        drawn_job(own, Hands(make(own)))


def test_what_was_measured_takes_the_place_of_what_the_type_has(make: Any, flat: Any, tape: Any) -> None:
    own = flat("0101", measured=replace(tape(4190, 4195, height=2740), out_of_plumb=Length(7.0)))
    job = measured_job(own, Hands(make(own)))
    wall = job.survey.wall
    assert [(one.value.mm, one.value.state) for one in wall.widths] == [
        (4190.0, "measured"),
        (4195.0, "measured"),
    ]
    assert (len(wall.heights), wall.out_of_plumb.mm, wall.diagonals) == (1, 7.0, ())
    assert job.survey.seats == drawn_job(own, Hands(make(own))).survey.seats


def test_things_are_found_elsewhere_gone_or_new(make: Any, flat: Any) -> None:
    found = (
        FoundThing("EX1", x=Length(3300.0)),
        FoundThing("SK", stays=False),
        FoundThing("COL", "column", Length(0.0), Length(0.0), Length(100.0), Length(2700.0), Length(60.0)),
    )
    own = flat("0101", measured=Measured(things=found))
    things = {one.ref: one for one in measured_job(own, Hands(make(own))).survey.obstacles}
    assert things["EX1"].x == Length(3300.0, "", "measured")
    assert things["EX1"].z.mm == 257
    assert things["SK"].state == "remove"
    assert things["COL"].kind == "column"
    bad = flat("0101", measured=Measured(things=(FoundThing("COL", x=Length(1.0)),)))
    with pytest.raises(JobError, match=r"measured.things\[0\] = 'COL'.*needs kind, z, width, height too"):
        measured_job(bad, Hands(make(bad)))


def test_a_bearing_of_its_own(make: Any, flat: Any) -> None:
    own = flat("0101", bearing=275.0)
    assert drawn_job(own, Hands(make(own))).survey.place.bearing == 275.0


def test_two_flats_share_a_wall_where_nothing_differs_that_it_follows_from(flat: Any, tape: Any) -> None:
    one, other = flat("0101", state="cut", delivery="D1"), flat("0904", delivery="D2")
    assert key_of(one, measured=True) == key_of(other, measured=True)
    for differs in (
        {"hand": "right"},
        {"kind": "B"},
        {"bearing": 10.0},
        {"exceptions": (Exception_("set_storage", {"storage": "much"}),)},
    ):
        assert key_of(flat("0101", **differs), measured=False) != key_of(one, measured=False)
    read = flat("0101", measured=tape(4190))
    assert key_of(read, measured=False) == key_of(one, measured=False)
    assert key_of(read, measured=True) != key_of(one, measured=True)
    signed = replace(read, measured=replace(read.measured, by="N. N.", date="2026-01-02"))
    assert key_of(signed, measured=True) == key_of(read, measured=True)


def test_the_rack_of_the_workshop_is_not_in_every_flat(make: Any, flat: Any, jobs: Any) -> None:
    rack = (StockSheet("R1", "ply18", Length(2440.0), Length(1220.0), 3),)
    job = replace(jobs["L"], design=replace(jobs["L"].design, stock=rack))
    hands = Hands(make(flat("0101"), kinds={"L": job}))
    assert drawn_job(flat("0101"), hands).design.stock == ()
