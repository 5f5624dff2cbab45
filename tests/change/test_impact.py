"""What a change costs as far as the wall is built, and how it is accepted or refused."""

from __future__ import annotations

import math

import pytest

from wallwright.change.days import added_days, done
from wallwright.change.difference import difference
from wallwright.change.impact import impact
from wallwright.change.state import held, part_state, point_state
from wallwright.change.variation import accepted, next_revision, refused
from wallwright.change.worth import part_worth, point_worth
from wallwright.derive import Wall, derive
from wallwright.job.document import Job
from wallwright.job.edits import apply
from wallwright.job.problem import JobError


def lower(job: Job) -> Job:
    return apply(job, "resize_unit", {"ref": "C1", "height": 380})


def with_states(job: Job, **states: str) -> Job:
    return apply(job, "set_progress", states)


def test_the_state_of_a_part_is_its_own_its_units_or_the_joinerys(wall: Wall, job: Job) -> None:
    part = next(part for part in wall.carcass.parts if part.id == "C1-L")
    other = next(part for part in wall.carcass.parts if part.id == "C1-R")
    job = with_states(job, joinery="ordered")
    assert part_state(job.progress, part) == "ordered"
    job = apply(job, "set_made", {"ref": "C1", "state": "cut"})
    job = apply(job, "set_made", {"ref": "C1-L", "state": "set"})
    assert (part_state(job.progress, part), part_state(job.progress, other)) == ("set", "cut")
    assert point_state(apply(job, "set_made", {"ref": "P1", "state": "built"}).progress, "P1") == "built"


def test_on_paper_a_change_costs_its_own_price_alone(wall: Wall, job: Job) -> None:
    new = derive(lower(job))
    found = impact(wall, new)
    assert (found.lost, found.take_out) == (0, 0)
    assert found.price == new.money.total - wall.money.total
    assert not any(one.wasted for one in found.parts)


def test_the_further_it_is_the_more_is_lost(job: Job) -> None:
    """A higher console: its uprights are too short. On paper nothing is lost; ordered, the board; cut, the work; set, the fixing."""
    lost: list[int] = []
    for state in ("drawn", "ordered", "cut", "set"):
        old = with_states(job, joinery=state)
        found = impact(derive(old), derive(apply(old, "resize_unit", {"ref": "C1", "height": 414})))
        lost.append(found.lost + found.take_out)
        assert (
            found.price
            == derive(apply(old, "resize_unit", {"ref": "C1", "height": 414})).money.total
            - derive(old).money.total
            + lost[-1]
        )
    assert lost[0] == 0 and lost == sorted(set(lost))


def test_all_parts_together_are_worth_what_the_bill_says_of_them(wall: Wall) -> None:
    """Boards, faces, edges and making shared out over the parts come to their lines, but for rounding to whole minor units."""
    whole = sum(part_worth(wall, part, "cut") for part in wall.carcass.parts)
    starts = (
        "board_",
        "batten",
        "labour_carcass",
        "labour_drawer",
        "labour_door",
        "labour_panel",
        "edge_",
        "finish_",
    )
    lines = sum(line.amount for line in wall.money.lines if line.ref.startswith(starts))
    assert whole == pytest.approx(lines, abs=len(wall.carcass.parts))


def test_a_box_that_is_set_is_worth_its_outlet_and_its_part_of_the_chase(wall: Wall) -> None:
    rate = next(line.rate for line in wall.money.lines if line.ref == "point_twin_socket")
    worth = point_worth(wall, "P1")
    whole = sum(line.amount for line in wall.money.lines if line.trade in ("electrical", "plaster"))
    assert rate < worth < whole / 4


def test_what_is_set_on_site_stays_where_it_can(cut: Job) -> None:
    """The console 17 lower moves no socket that is already in the wall; without holding, the program would draw some elsewhere."""
    old = derive(cut)
    wanted = apply(cut, "set_screen_height", {"centre_height": old.sight.screen.centre[1] + 40})
    free, kept = impact(old, derive(wanted)), impact(old, derive(held(old, wanted)))
    assert len([p for p in kept.points if p.worth]) < len([p for p in free.points if p.worth])
    assert kept.lost < free.lost
    assert not kept.must


def test_what_is_done_is_done_again_only_where_it_is_touched(wall: Wall, job: Job, cut: Job) -> None:
    old = derive(cut)
    assert {"survey", "first_fix", "workshop", "order_boards"} <= done(old, cut.progress)
    assert not {"hang", "paint", "screen"} & done(old, cut.progress)
    same, again = added_days(old, derive(cut), difference(old, derive(cut)))
    assert same == again < wall.programme.days
    new = derive(lower(cut))
    left, then = added_days(old, new, difference(old, new))
    assert left == same and then > left
    fresh = added_days(wall, derive(lower(job)), difference(wall, derive(lower(job))))
    assert fresh[0] == wall.programme.days and fresh[1] == fresh[0]


def test_the_workshop_comes_back_for_its_share_of_the_parts(job: Job) -> None:
    """All units shallower, the wall closed: nothing waits for plaster, so the workshop's days are added as far as they pass the one day of the
    subframe beside them.
    """
    old = with_states(job, joinery="cut", points="built")
    new = old
    for ref in ("T1", "T2", "C1"):
        new = apply(new, "resize_unit", {"ref": ref, "depth": derive(job).setout.unit(ref).depth - 30})
    was, now = derive(old), derive(held(derive(old), new))
    change = difference(was, now)
    worked = sum(part.now is not None and part.fate != "renumbered" for part in change.parts)
    workshop = next(task.days for task in now.programme.tasks if task.ref == "workshop")
    days = math.ceil(workshop * worked / len(now.carcass.parts))
    left, then = added_days(was, now, change)
    assert not [p for p in change.points if p.kind != "led_feed"] and days > 1
    assert then - left == days - 1


def test_accepting_enters_a_signed_variation_and_takes_the_next_revision(cut: Job) -> None:
    new = lower(cut)
    found = impact(derive(cut), derive(new))
    job, number = accepted(cut, new, found, "Invented client", "2026-04-01", "a lower seat")
    (one,) = job.progress.variations
    assert (number, one.ref, one.state, one.by, one.date) == (
        "V1",
        "V1",
        "approved",
        "Invented client",
        "2026-04-01",
    )
    assert one.price == pytest.approx(found.price / 100) and one.days == found.days
    assert (cut.revision, job.revision, one.from_revision) == ("A", "B", "A")
    assert job.design == new.design


def test_refusing_leaves_the_job_as_it_was_but_for_the_list(cut: Job) -> None:
    found = impact(derive(cut), derive(lower(cut)))
    job, _ = refused(cut, lower(cut), found, "Invented client", "2026-04-01", "too dear")
    assert (job.design, job.survey, job.revision) == (cut.design, cut.survey, cut.revision)
    assert [(v.state, v.reason) for v in job.progress.variations] == [("refused", "too dear")]


def test_what_must_be_put_right_first_is_not_accepted(cut: Job) -> None:
    bad = apply(cut, "set_screen_height", {"centre_height": 1900})
    found = impact(derive(cut), derive(bad))
    assert found.must
    with pytest.raises(JobError, match="put right first"):
        accepted(cut, bad, found, "Invented client", "2026-04-01")
    with pytest.raises(JobError, match="same wall"):
        refused(cut, cut, impact(derive(cut), derive(cut)), "Invented client", "2026-04-01")


@pytest.mark.parametrize(("now", "then"), [("A", "B"), ("Z", "A1"), ("P1", "P2"), ("P9", "PA"), ("C", "D")])
def test_the_next_revision(now: str, then: str) -> None:
    assert next_revision(now) == then
