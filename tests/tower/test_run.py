"""The whole tower: distinct walls once, the same as one by one; failing flats named; flats that do not take the unit made to measure."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

import pytest

from wallwright.derive import derive
from wallwright.job.edits import apply
from wallwright.rules.check import check
from wallwright.tower import lists
from wallwright.tower import made as making
from wallwright.tower.batch import pool
from wallwright.tower.flat import Hands, drawn_job, measured_job
from wallwright.tower.record import Exception_
from wallwright.tower.run import run

pytestmark = pytest.mark.usefixtures("strips_alone")
OWN = (Exception_("set_screen_height", {"centre_height": 1180}),)


@pytest.fixture(scope="module")
def flats(flat: Any, tape: Any) -> Any:
    return (
        flat("0101"),
        flat("0102", hand="right"),
        flat("0103"),
        flat("0104", measured=tape(4215, height=2745)),
        flat("0105", measured=tape(4215, height=2745)),
        flat("0106", hand="right", measured=tape(4140, height=2750)),
        flat(
            "0107",
            kind="B",
            exceptions=(Exception_("set_finish", {"which": "fronts", "finish": "laminate_oak"}),),
        ),
        flat("0108", exceptions=OWN),
        flat("0109", exceptions=OWN, state="cut"),
        flat("0110", exceptions=(Exception_("move_unit", {"ref": "Z", "x": 1}),)),
        flat("0111", exceptions=(Exception_("resize_unit", {"ref": "C1", "width": 60}),)),
    )


@pytest.fixture(scope="module")
def tower(make: Any, flats: Any) -> Any:
    return make(*flats)


@pytest.fixture(scope="module")
def whole(tower: Any) -> Any:
    """The tower worked out in one process: what most tests here read, and the pool is held against."""
    return run(tower)


def test_distinct_walls_are_derived_once_and_come_out_as_one_by_one(
    make: Any, flats: Any, whole: Any
) -> None:
    assert [done.flat.id for done in whole.flats] == [flat.id for flat in flats]
    # as drawn: type L, type B, L right, L own, B own; to measure: 0106; one question for 0104 and 0105
    assert (whole.walls, whole.checks) == (2 + 1 + 2 + 1, 2)
    for done in (
        one for one in whole.flats if one.flat.id in ("0102", "0104", "0106", "0110")
    ):  # one of each sort
        (alone,) = run(make(done.flat)).flats
        assert alone.failed == done.failed
        assert (alone.series, alone.parts, alone.findings) == (done.series, done.parts, done.findings)
        if alone.made and done.made:
            assert replace(alone.made, key="") == replace(done.made, key="")


def test_a_flat_is_made_by_what_the_engine_derives_of_its_job(tower: Any, whole: Any) -> None:
    done = {one.flat.id: one for one in whole.flats}
    hands = Hands(tower)
    for ident in ("0101", "0102", "0107", "0108"):
        wall = derive(drawn_job(done[ident].flat, hands), searched=True)
        assert done[ident].parts == wall.carcass.parts
        assert done[ident].made.total == wall.money.total
        assert done[ident].findings == check(wall)


def test_failing_flats_are_named_and_stop_no_other(flats: Any, whole: Any) -> None:
    assert [done.flat.id for done in whole.failed] == ["0110", "0111"]
    assert "exceptions[0] move_unit: ref = 'Z'" in whole.failed[0].failed
    assert "design.units.C1" in whole.failed[1].failed
    assert sum(done.made is not None for done in whole.flats) == len(flats) - 2


def test_a_measured_flat_keeps_its_own_fillers_and_the_series_boards(whole: Any) -> None:
    done = {one.flat.id: one for one in whole.flats}
    mine, series = ({part.id: part for part in done[ident].parts} for ident in ("0104", "0101"))
    assert mine.keys() == series.keys()
    differ = {
        ident
        for ident in mine
        if (mine[ident].length, mine[ident].width) != (series[ident].length, series[ident].width)
    }
    fillers = {ident for ident in mine if mine[ident].role == "filler"}
    assert differ - fillers <= {
        ident for ident in mine if mine[ident].unit == "W1"
    }  # the panel runs to a lower ceiling
    assert {"T1-XL", "T2-XR"} <= differ


def test_a_flat_that_does_not_take_the_unit_is_made_to_its_measures(
    make: Any, tower: Any, whole: Any
) -> None:
    done = next(one for one in whole.flats if one.flat.id == "0106")
    assert (done.takes, done.series) == (False, False)
    assert done.parts == derive(measured_job(done.flat, Hands(tower)), searched=True).carcass.parts
    as_drawn = replace(done.flat, to_measure=False)
    (kept,) = run(make(as_drawn)).flats
    assert (kept.takes, kept.series) == (False, True)


def test_what_is_cut_and_does_not_go_in_asks_by_what_it_was_made(make: Any, flats: Any) -> None:
    flat = next(one for one in flats if one.id == "0106")
    (done,) = run(make(replace(flat, state="cut"))).flats
    assert (done.undecided, done.series) == (True, False)
    for state, said, asks in (("drawn", None, False), ("cut", True, False), ("cut", False, False)):
        assert replace(done, flat=replace(flat, state=state, to_measure=said)).undecided is asks


def test_a_pool_gives_what_one_process_gives(make: Any, flats: Any) -> None:
    seen: list[str] = []
    tower = make(*(one for one in flats if one.hand == "left" and one.id not in ("0105", "0107")))
    with pool(2) as send:
        assert run(tower, send, lambda what, done, of: seen.append(f"{what} {done} of {of}")) == run(tower)
    assert "walls as drawn 3 of 3" in seen


def test_what_is_not_the_mirror_between_hands_is_told(make: Any, flat: Any, jobs: Any) -> None:
    whole = run(make(flat("0101"), flat("0102", hand="right"), flat("0103", kind="B")))
    assert list(whole.hands) == ["L"]  # nobody builds the other hand of B
    told = {one.ref for one in whole.hands["L"].unlike}
    assert told
    assert told <= {point.ref for point in derive(jobs["L"]).services.points}
    rows = lists.hands(whole).rows
    assert {row[0] for row in rows} == {"L"}
    assert len(rows) == len(whole.hands["L"].unlike)


def test_measured_flats_are_asked_every_rule_but_no_cure_is_tried_on_them(jobs: Any) -> None:
    """A wall with a bay too warm, where the cures are what takes the time: told the same, word by word, but for the cure."""
    warm = derive(apply(jobs["L"], "set_device", {"ref": "game", "watts": 400}))
    whole, quick = check(warm), making._against(warm)
    assert [replace(one, cure="", edits=()) for one in quick] == [
        replace(one, cure="", edits=()) for one in whole
    ]
    left = {one.rule for one, other in zip(whole, quick, strict=True) if one != other}
    assert left
    assert left <= {"services.hot_bay", "cooling.device_air"}
    assert check(warm) == whole  # and after it they are tried again


def test_a_range_is_searched_once_for_a_job_and_anew_for_another_of_its_key(
    jobs: Any, monkeypatch: pytest.MonkeyPatch
) -> None:
    searched: list[Any] = []
    monkeypatch.setattr(
        making, "filler_range", lambda key, job: searched.append(job) or making.Range(key, 5.0, len(searched))
    )
    first, other = (making.Ask("once", "range", jobs[ref]) for ref in ("L", "B"))
    found = [making.work(ask) for ask in (first, first, other, first)]
    assert searched == [jobs["L"], jobs["B"], jobs["L"]]
    assert [one.most for one in found] == [1, 1, 2, 3]
