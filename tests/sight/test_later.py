"""The largest later screen, and what stops the next: wall, neighbour, niche, carton, mount."""

from __future__ import annotations

from dataclasses import replace

from wallwright.core.shape import Box
from wallwright.sight.fit import Route
from wallwright.sight.later import Bounds, free_about, largest_later
from wallwright.sight.record import Candidate

SIZES = {55: (1230, 710, 16), 65: (1450, 830, 22), 75: (1673, 960, 33), 85: (1895, 1085, 45)}
ROWS = tuple(Candidate(d, w, h, m, 100, True, 20, 20, 50, "") for d, (w, h, m) in SIZES.items())
WALL = Box(0, 0, 3600, 2600)
FREE = Bounds(WALL, 60, (), (None, None), 60, None)
MIDDLE = (1800.0, 1100.0)


def test_a_free_wall_takes_all() -> None:
    ahead = largest_later(55, ROWS, MIDDLE, FREE)
    assert (ahead.largest, ahead.next, ahead.stops) == (85, None, ())
    assert ahead.room == (3480, 2200)  # 2 (1800 − 60); 2 · 1100 to the floor


def test_the_wall_is_too_narrow() -> None:
    """1673 + 2 × 60 = 1793 goes into 1800, 1895 + 120 = 2015 is 215 too wide (by hand)."""
    ahead = largest_later(55, ROWS, (900, 1100), replace(FREE, wall=Box(0, 0, 1800, 2600)))
    assert (ahead.largest, ahead.next) == (75, 85)
    assert ahead.stops == ("the wall is 215 mm too narrow",)


def test_a_tower_a_shelf_and_a_niche() -> None:
    towers = (("T1", Box(-60, 0, 1020, 2600)), ("T2", Box(2640, 0, 1020, 2600)))
    ahead = largest_later(55, ROWS, MIDDLE, replace(FREE, things=towers))
    assert (ahead.largest, ahead.next, ahead.stops) == (75, 85, ("T1 or T2 stands in its way",))
    assert ahead.room[0] == 1680
    one = replace(FREE, things=(("the column K", Box(0, 0, 2000, 2600)),))
    stopped = largest_later(55, ROWS, (2800, 1100), one)
    assert (stopped.largest, stopped.stops) == (65, ("the column K stands in its way",))
    niche = largest_later(55, ROWS, MIDDLE, replace(FREE, niche=(1400, 850)))
    assert (niche.largest, niche.next) == (55, 65)
    assert niche.stops == ("the niche is 170 mm too narrow", "the niche is 100 mm too low")


def test_a_carton_or_a_mount_stops_it() -> None:
    blocked = Route((), False, False, True, "the carton does not pass the lift")
    rows = tuple(replace(row, route=blocked) if row.diagonal == 75 else row for row in ROWS)
    assert largest_later(55, rows, MIDDLE, FREE).stops == ("the carton does not pass the lift",)
    heavy = largest_later(55, ROWS, MIDDLE, replace(FREE, carries=30))
    assert (heavy.largest, heavy.stops) == (65, ("it weighs 33 kg and the mount carries 30",))


def test_not_even_the_chosen_one() -> None:
    ahead = largest_later(75, ROWS, MIDDLE, replace(FREE, carries=5))
    assert (ahead.largest, ahead.next) == (None, 75)


def test_room_ends_at_what_is_level_with_the_middle() -> None:
    things = (("console", Box(1000, 0, 1600, 640)), ("low", Box(2300, 0, 100, 500)))
    assert free_about(MIDDLE, replace(FREE, things=things)) == (3480, 2 * (1100 - 640))
