"""The lists of sizes, seats, captions and the way in say what the engine found, and nothing else."""

from __future__ import annotations

from dataclasses import replace
from math import atan, degrees, hypot
from typing import Any

import pytest

from wallwright.core.table import Table
from wallwright.derive import Wall, derive
from wallwright.job.demos import demo_jobs
from wallwright.job.read import read_job
from wallwright.job.survey import Access
from wallwright.tables.screen_room import captions, carton_route, later_screen, sight_line_table
from wallwright.tables.screens import screens
from wallwright.tables.screens_by_seats import screens_by_seats, screens_ranked

INCH = 25.4


@pytest.fixture(scope="module")
def living() -> Wall:
    return derive(read_job(demo_jobs()["living"]))


def column(table: Table, name: str) -> list[Any]:
    i = [c.name for c in table.columns].index(name)
    return [row[i] for row in table.rows]


def test_one_row_for_each_size_and_seat(living: Wall) -> None:
    table = screens_by_seats(living)
    sizes = {c.diagonal for c in living.sight.candidates}
    pairs = list(zip(column(table, "Diagonal"), column(table, "Seat"), strict=True))
    assert len(pairs) == len(set(pairs)) == len(sizes) * len(living.sight.seats)
    assert {size for size, _ in pairs} == sizes


def test_the_picture_angle_by_hand(living: Wall) -> None:
    """Twice the arctangent of half the width over the distance, for the seat before the screen; 16:9 by Pythagoras."""
    table = screens_by_seats(living)
    centre = living.sight.screen.centre[0]
    rows = zip(
        column(table, "Diagonal"),
        column(table, "Seat"),
        column(table, "Distance"),
        column(table, "Picture"),
        strict=True,
    )
    eyes = {seat.ref: seat.eye for seat in living.sight.seats}
    for diagonal, seat, distance, angle in rows:
        half = diagonal * INCH * 16 / hypot(16, 9) / 2
        aside = eyes[seat][0] - centre
        left, right = degrees(atan((aside - half) / distance)), degrees(atan((aside + half) / distance))
        assert angle == pytest.approx(right - left, abs=1e-6)


def test_ranks_run_from_one_and_agree_between_the_two_lists(living: Wall) -> None:
    ranked = screens_ranked(living)
    assert column(ranked, "Rank") == list(range(1, len(ranked.rows) + 1))
    order = dict(zip(column(ranked, "Diagonal"), column(ranked, "Rank"), strict=True))
    by_seats = screens_by_seats(living)
    for diagonal, rank in zip(column(by_seats, "Diagonal"), column(by_seats, "Rank"), strict=True):
        assert order[diagonal] == rank
    assert column(ranked, "Chosen").count("yes") == 1
    assert all(column(ranked, "Why"))


def test_the_list_says_why_the_designed_size_is_not_the_first(living: Wall) -> None:
    table = screens_ranked(living)
    ranks = dict(zip(column(table, "Chosen"), column(table, "Rank"), strict=True))
    first = column(table, "Diagonal")[0]
    chosen = living.sight.screen.diagonal
    assert first != chosen and ranks["yes"] > 1
    assert table.notes[0].startswith(f"The designed {chosen:g} in comes number {ranks['yes']} of ")
    assert f"{first:g} in first" in table.notes[0]


def test_what_is_wrong_for_a_seat_is_a_reason_of_the_size(living: Wall) -> None:
    reasons = dict(
        zip(column(screens_ranked(living), "Diagonal"), column(screens_ranked(living), "Why"), strict=True)
    )
    table = screens_by_seats(living)
    bad = 0
    for diagonal, verdict in zip(column(table, "Diagonal"), column(table, "Verdict"), strict=True):
        if verdict != "good":
            bad += 1
            assert all(part in reasons[diagonal] for part in verdict.split("; "))
    assert bad > 2


def test_the_later_size_is_the_last_before_the_one_that_is_stopped(living: Wall) -> None:
    table = later_screen(living)
    (now,), (largest,), (after,) = (column(table, name) for name in ("Now", "Largest later", "Next"))
    sizes = sorted(c.diagonal for c in living.sight.candidates)
    assert now == living.sight.screen.diagonal
    assert largest >= now
    assert sizes[sizes.index(largest) + 1] == after
    assert "in its way" in column(table, "What stops the next")[0]


def test_captions_read_as_far_as_they_say(living: Wall) -> None:
    table = captions(living)
    assert len(table.rows) == len(living.sight.seats)
    share = living.limits.value("sight.caption_share")
    for i, seat in enumerate(living.sight.seats):
        away = hypot(seat.distance, seat.eye[0] - living.sight.screen.centre[0])
        letter = share * living.sight.screen.picture.height
        assert column(table, "Height seen")[i] == pytest.approx(
            60 * degrees(letter / away), rel=1e-4
        )  # small angles
        assert (column(table, "Reads")[i] == "yes") == (away <= column(table, "Reads to")[i])


def test_the_way_in_is_told_place_by_place(living: Wall) -> None:
    table = carton_route(living)
    assert living.sight.route is not None
    assert column(table, "Place") == [step.place for step in living.sight.route.steps]
    assert set(column(table, "Passes")) == {"yes"}
    note = table.notes[0]
    carton = living.sight.screen.carton
    assert f"{carton.width:.0f} × {carton.height:.0f}" in note


def test_a_way_that_nobody_surveyed_is_not_called_passable() -> None:
    job = read_job(demo_jobs()["living"])
    bare = derive(replace(job, survey=replace(job.survey, access=Access())))
    assert carton_route(bare).rows == ()
    assert set(column(screens(bare), "Can be brought in")) == {"not surveyed"}


def test_sight_lines_stand_tightest_first(living: Wall) -> None:
    table = sight_line_table(living)
    spare = [c - w for c, w in zip(column(table, "Clear"), column(table, "Wants"), strict=True)]
    assert spare == sorted(spare)
    for ray, top, clear in zip(
        column(table, "Sight line"), column(table, "Top"), column(table, "Clear"), strict=True
    ):
        assert clear == pytest.approx(ray - top)
