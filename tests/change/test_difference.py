"""What differs between two jobs, told by field, part, point, run, finding, money and days."""

from __future__ import annotations

from dataclasses import replace

import pytest

from wallwright.change.difference import difference
from wallwright.change.parts import part_changes
from wallwright.core.units import Length
from wallwright.derive import Wall, derive
from wallwright.job.brief import Budget
from wallwright.job.document import Job
from wallwright.job.edits import apply
from wallwright.rules import check


def test_a_wall_does_not_differ_from_itself(wall: Wall, job: Job) -> None:
    assert difference(wall, derive(job), check(wall), check(derive(job))).nothing


def test_revision_date_and_progress_are_no_change_of_the_wall(wall: Wall, job: Job) -> None:
    other = apply(apply(job, "set_revision", {"revision": "C"}), "set_progress", {"screen": "ordered"})
    assert difference(wall, derive(other), check(wall), check(derive(other))).nothing


def test_a_lower_console_is_cut_down(wall: Wall, job: Job) -> None:
    """C1 is 397 high; at 380 every upright of it is 17 shorter, and its top and bottom are the same boards."""
    new = derive(apply(job, "resize_unit", {"ref": "C1", "height": 380}))
    told = {one.ref: one for one in difference(wall, new).parts}
    assert told["C1-L"].fate == "cut down" and told["C1-L"].says.endswith("length 397 → 380")
    assert not {"C1-T", "C1-B"} & {ref for ref, one in told.items() if one.fate != "bored anew"}
    assert all(one.was and one.was.unit == "C1" for one in told.values())
    higher = derive(apply(job, "resize_unit", {"ref": "C1", "height": 414}))
    assert {one.ref: one.fate for one in part_changes(wall, higher)}["C1-L"] == "made anew"


def test_a_part_is_the_same_under_another_number(wall: Wall) -> None:
    """The two sides of a tower's plinth swap their names: nothing is made anew."""
    parts = list(wall.carcass.parts)
    at = [i for i, part in enumerate(parts) if part.id in ("T1-P3", "T1-P4")]
    a, b = (parts[i] for i in at)
    parts[at[0]], parts[at[1]] = replace(a, id="T1-P9"), b
    new = replace(wall, carcass=replace(wall.carcass, parts=tuple(parts)))
    assert [(one.fate, one.says) for one in part_changes(wall, new)] == [("renumbered", "T1-P3 is now T1-P9")]


def test_a_removed_unit_takes_its_parts_with_it(wall: Wall, job: Job) -> None:
    new = derive(apply(job, "remove_unit", {"ref": "T2"}))
    told = difference(wall, new)
    gone = {part.id for part in wall.carcass.parts if part.unit == "T2"}
    dead = {one.ref for one in told.parts if one.fate == "dead" and one.was and one.was.unit == "T2"}
    stay = {one.was.id for one in told.parts if one.was and one.fate in ("renumbered", "cut down")}
    assert gone - dead <= stay  # the rest would serve another unit
    assert ("T2 width", None) in {(size.says, size.now) for size in told.heights}
    assert told.money[1] < told.money[0]


def test_points_move_with_the_screen(wall: Wall, job: Job) -> None:
    z = wall.sight.screen.centre[1]
    told = difference(wall, derive(apply(job, "set_screen_height", {"centre_height": z + 60})))
    moved = {one.ref: (one.dx, one.dz) for one in told.points}
    assert moved["P1"] == pytest.approx((0, 60), abs=1.0)
    assert {size.says: (size.now or 0) - (size.was or 0) for size in told.heights}[
        "screen top"
    ] == pytest.approx(60)
    assert [(f.path, f.now) for f in told.fields] == [("design.screen.centre_height", f"{z + 60:g} mm")]
    assert {run.ref for run in told.runs}


def test_findings_gained_and_lost_are_counted_by_rule_place_and_gravity(wall: Wall, job: Job) -> None:
    high = derive(apply(job, "set_screen_height", {"centre_height": 1900}))
    there, back = check(wall), check(high)
    told = difference(wall, high, there, back)
    keys = {(f.rule, f.where, f.severity) for f in told.gained}
    assert keys and not keys & {(f.rule, f.where, f.severity) for f in there}
    turned = difference(high, wall, back, there)
    assert (turned.gained, turned.lost) == (told.lost, told.gained)


def test_two_findings_of_one_kind_are_two(wall: Wall) -> None:
    one = check(wall)[0]
    assert difference(wall, wall, (one,), (one, one)).gained == (one,)
    assert difference(wall, wall, (one, one), (one, one)).gained == ()


def test_the_lines_of_the_bill_add_up_to_what_the_price_moved(wall: Wall, job: Job) -> None:
    new = derive(apply(job, "set_panel_finish", {"ref": "W1", "finish": "laminate_oak"}))
    told = difference(wall, new)
    assert sum(one.now - one.was for one in told.lines) == new.money.direct - wall.money.direct != 0


def test_a_decision_is_told_in_words(wall: Wall, job: Job) -> None:
    """No table of the file is printed as one; of a length that stays, how sure it is; a date says whose."""
    reading = job.survey.wall.widths[0]
    sure = Length(reading.value.mm, reading.value.written, "measured", 3.0)
    new = replace(
        job,
        survey=replace(
            job.survey, date="2026-02-03",
            wall=replace(job.survey.wall, widths=(replace(reading, value=sure), *job.survey.wall.widths[1:])),
        ),
        brief=replace(job.brief, budget=Budget(1300.0) if job.brief.budget is None else None),
    )  # fmt: skip
    told = {one.path: one for one in difference(wall, derive(new)).fields}
    assert told["survey.date"].says == "the survey's date"
    width = told[f"survey.wall.widths.{reading.at.mm:g}.value"]
    assert width.says == f"the wall's width at {reading.at.mm:g}"
    assert width.was.startswith(reading.value.state) and width.now == "measured ± 3 mm"
    budget = told["brief.budget"]
    assert "amount" in budget.was + budget.now
    assert not any(mark in text for one in told.values() for text in (one.was, one.now) for mark in "{}[]'")
