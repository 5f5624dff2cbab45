"""Which flats take the unit as drawn, and the filler that makes all or most of them fit."""

from __future__ import annotations

import statistics
from dataclasses import replace
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from wallwright.core.units import Length
from wallwright.derive import derive
from wallwright.job.brief import Device
from wallwright.job.design import Point
from wallwright.job.edits import apply
from wallwright.library import load
from wallwright.rules.check import check
from wallwright.rules.registry import untried
from wallwright.tower.fit import Ends, Room, ends_of, fit, held, narrowest, own_parts, room_for, without
from wallwright.tower.flat import surveyed
from wallwright.tower.made import filler_range
from wallwright.tower.mirror import mirrored
from wallwright.tower.run import run
from wallwright.tower.sample import opening, samples

LIMITS = load.limits_of("IN")


def measured(job: Any, tape: Any, *widths: float, height: float | None = None) -> Any:
    return replace(job, survey=surveyed(job.survey, tape(*widths, height=height)))


def held_wall(job: Any, tape: Any, *widths: float, height: float | None = None) -> Any:
    series = derive(job)
    wall = derive(held(series, measured(job, tape, *widths, height=height)))
    with untried():
        return series, wall, fit(series, check(series), wall, check(wall))


def test_the_demo_wall_is_closed_at_both_ends_and_the_bedroom_stands_free(jobs: Any) -> None:
    assert ends_of(derive(jobs["L"])) == Ends(pytest.approx(25.0), pytest.approx(25.0))
    assert ends_of(derive(jobs["B"])) == Ends(None, None)


def test_a_wider_wall_goes_into_the_fillers_and_no_other_board_changes(jobs: Any, tape: Any) -> None:
    series, wall, answer = held_wall(jobs["L"], tape, 4220.525)
    assert answer.takes
    assert dict(answer.fillers) == {"left": pytest.approx(35.0), "right": pytest.approx(35.0)}
    strips = {part.id: part for part in wall.carcass.parts if part.role == "filler"}
    drawn = {part.id: part for part in series.carcass.parts if part.role == "filler"}
    assert strips["T1-XL"].width - drawn["T1-XL"].width == pytest.approx(10.0)
    assert own_parts(series, wall) is None
    others = [[p for p in one.carcass.parts if p.role != "filler"] for one in (series, wall)]
    assert sorted((p.id, round(p.length, 3), round(p.width, 3)) for p in others[0]) == sorted(
        (p.id, round(p.length, 3), round(p.width, 3)) for p in others[1]
    )


def test_what_the_designer_placed_goes_with_the_joinery(jobs: Any, tape: Any) -> None:
    """20 mm wider: all moves by 10 from the left corner; with the right end alone closed, by all 20. What the survey has stays."""
    point, box = (
        Point("P9", "socket", Length(700.0), Length(300.0)),
        Device("fire", "heater", "wall", x=Length(900.0)),
    )
    job = jobs["L"]
    job = replace(
        job,
        design=replace(job.design, points=(point,)),
        brief=replace(job.brief, devices=(*job.brief.devices, box)),
    )
    wide = measured(job, tape, 4220.525)
    for series, shift in (
        (derive(jobs["L"]), 10.0),
        (derive(mirrored(apply(jobs["L"], "remove_unit", {"ref": "T2"}))), 20.0),
    ):
        units = tuple(
            one for one in wide.design.units if one.ref in {unit.ref for unit in series.setout.units}
        )
        found = held(series, replace(wide, design=replace(wide.design, units=units)))
        assert found.design.points[0].x.mm == pytest.approx(700.0 + shift)
        assert found.brief.devices[-1].x.mm == pytest.approx(900.0 + shift)
        assert found.survey.obstacles == wide.survey.obstacles


@pytest.mark.parametrize(
    ("by", "says"),
    [
        (-44.0, "the filler at the left end would be 3 mm"),
        (80.0, "would be up to 65 mm: over 60 mm reads as a mistake"),
    ],
)
def test_too_narrow_or_too_wide_it_does_not_take_it(jobs: Any, tape: Any, by: float, says: str) -> None:
    """A strip of 5 to 60 mm closes an end (common practice): half of the difference goes to each of 25 mm."""
    _, _, answer = held_wall(jobs["L"], tape, 4200.525 + by)
    assert not answer.takes
    assert any(says in why for why in answer.why)


@pytest.mark.parametrize("by", [-13.0, 69.0])
def test_just_within_it_takes_it(jobs: Any, tape: Any, by: float) -> None:
    _, _, answer = held_wall(jobs["L"], tape, 4200.525 + by)
    assert answer.takes, answer.why


def test_the_range_of_fillers_is_found_by_every_rule(jobs: Any, tape: Any) -> None:
    """A strip alone could be 5 mm; a tower's door must swing clear of the skirting, which stands 18 mm out there."""
    found = filler_range("L", jobs["L"])
    assert 5.0 < found.least < 18.0
    assert "meets the skirting" in found.why_least
    assert (found.most, found.why_most) == (60.0, "")
    for gap, takes in ((found.least + 0.01, True), (found.least - 0.6, False)):
        assert held_wall(jobs["L"], tape, 4200.525 + 2 * (gap - 25.0))[2].takes is takes


def test_a_taper_counts_at_the_widest_place(jobs: Any, tape: Any) -> None:
    _, _, answer = held_wall(jobs["L"], tape, 4240.525, 4260.525)
    assert any("up to 65 mm" in why for why in answer.why)


def test_a_low_ceiling_is_found_by_the_rules_or_the_filler(jobs: Any, tape: Any) -> None:
    _, _, answer = held_wall(jobs["L"], tape, 4200.525, height=2310)
    assert not answer.takes
    assert any("T1 is left 10 mm under the ceiling: at least 20 mm is wanted" in why for why in answer.why)


def test_a_panel_that_runs_to_the_ceiling_is_cut_to_it(jobs: Any, tape: Any) -> None:
    series, wall, answer = held_wall(jobs["L"], tape, 4200.525, height=2735)
    assert answer.takes, answer.why
    assert wall.setout.zones[0].box.top == pytest.approx(
        2735 - (series.face.height - series.setout.zones[0].box.top)
    )
    assert own_parts(series, wall) == wall.carcass.parts


def test_measures_that_do_not_close_are_measured_again_but_say_nothing_of_the_unit(jobs: Any) -> None:
    series = derive(jobs["L"])
    wall = replace(
        jobs["L"].survey.wall,
        diagonals=(Length(5060.0, "", "measured", 2.0), Length(5020.0, "", "measured", 2.0)),
    )
    odd = derive(held(series, replace(jobs["L"], survey=replace(jobs["L"].survey, wall=wall))))
    with untried():
        answer = fit(series, check(series), odd, check(odd))
    assert any("do not close" in says for says in answer.again)
    assert answer.takes


def test_the_room_a_flat_leaves(jobs: Any) -> None:
    """Two closed ends: each takes half of what the wall is wider; one closed end: the other stands free."""
    both, one = Ends(25.0, 25.0), Ends(25.0, None)
    assert room_for("F", 4190.0, 2.0, 4200.0, both, (5.0, 60.0)) == Room("F", 10.0, 63.0)
    assert room_for("F", 4190.0, 2.0, 4200.0, one, (5.0, 60.0)) == Room("F", 5.0, 58.0)


ROOMS = st.lists(st.tuples(st.integers(-20, 60), st.integers(0, 60)), min_size=1, max_size=25)


@settings(max_examples=120, deadline=None)
@given(ROOMS, st.sampled_from([0.5, 0.8, 0.95, 1.0]))
def test_the_narrowest_filler_is_that_of_a_search_over_all(
    pairs: list[tuple[int, int]], share: float
) -> None:
    rooms = tuple(Room(str(i), float(low), float(low + wide)) for i, (low, wide) in enumerate(pairs))

    def taken(drawn: float) -> int:
        return sum(room.least <= drawn <= room.most for room in rooms)

    enough = [tenth / 2 for tenth in range(0, 300) if taken(tenth / 2) >= share * len(rooms) - 1e-9]
    found = narrowest(rooms, share)
    assert found == (min(enough) if enough else None)
    if found is not None:
        assert len(without(rooms, found)) == len(rooms) - taken(found)


def test_a_sample_is_told_with_its_flats_and_nothing_is_promised(make: Any, flat: Any, tape: Any) -> None:
    widths = {"0101": 4196.0, "0102": 4201.0, "0103": 4204.0, "0104": 4150.0, "0105": 4199.0}
    flats = [flat(ident, measured=tape(width, height=2750)) for ident, width in widths.items()]
    worked = run(make(*flats, *(flat(f"02{i:02d}") for i in range(10))))
    (told,) = samples(worked, LIMITS)
    (width,) = [one for one in told.openings if one.name == "width, narrowest"]
    assert (width.least, width.most) == ((4150.0, "0104"), (4204.0, "0103"))
    assert width.mean == pytest.approx(statistics.mean(widths.values()))
    assert width.spread == pytest.approx(statistics.stdev(widths.values()))
    assert (told.flats, told.measured, [ident for ident, _ in told.unfit]) == (15, 5, ["0104"])
    assert told.scribe is not None
    assert told.scribe.all == pytest.approx(told.scribe.bears[0] + (4200.525 - 4150.0) / 2)
    assert told.scribe.strip == pytest.approx(told.scribe.all + (4204.0 - 4200.525) / 2 + 10.0)
    assert told.scribe.not_drawn == ("0104",)
    assert any("a filler narrower than" in says and "meets the skirting" in says for says in told.says)
    assert told.most_more is not None
    assert 0 < told.most_more <= 10
    says = " ".join(told.says)
    assert "which ones nobody knows: measure each before its boards are cut" in says
    assert "if the measured ones were picked by lot" in says


def test_a_drawn_filler_that_makes_all_fit_makes_all_fit(make: Any, flat: Any, tape: Any, jobs: Any) -> None:
    """The answer tried: towers narrower by what the filler is wider, and the flat that did not take it does."""
    job = jobs["L"]
    worked = run(make(flat("0101", measured=tape(4150.0)), flat("0102", measured=tape(4204.0))))
    (told,) = samples(worked, LIMITS)
    assert told.scribe is not None
    assert told.scribe.all is not None
    more = told.scribe.all - 25.0
    series = derive(job)
    slim = [
        replace(
            one,
            width=Length(series.setout.unit(one.ref).box.width - more),
            x=Length(series.setout.unit(one.ref).box.x + (more if one.ref == "T1" else 0.0)),
        )
        if one.ref in ("T1", "T2")
        else one
        for one in job.design.units
    ]
    again = replace(job, design=replace(job.design, units=tuple(slim)))
    assert ends_of(derive(again)) == Ends(pytest.approx(told.scribe.all), pytest.approx(told.scribe.all))
    for width in (4150.0, 4204.0):
        _, _, answer = held_wall(again, lambda *w, height=None: replace_tape(*w), width)
        assert all(told.scribe.bears[0] - 1e-6 <= gap <= 60.0 for _, gap in answer.fillers)
        assert not any("filler" in why or "beyond" in why or "meets" in why for why in answer.why), answer.why


def replace_tape(*widths: float) -> Any:
    from wallwright.job.survey import Reading
    from wallwright.tower.record import Measured

    return Measured(widths=tuple(Reading(Length(100.0), Length(width)) for width in widths))


def test_one_flat_alone_has_no_spread() -> None:
    assert opening("width", [(4200.0, "0101")], None).spread == 0.0


def test_nothing_measured_says_so(make: Any, flat: Any) -> None:
    (told,) = samples(run(make(flat("0101"))), LIMITS)
    assert told.says == ("none of 1 flats was measured: nothing can be said; measure before anything is cut",)
    assert told.most_more is None
