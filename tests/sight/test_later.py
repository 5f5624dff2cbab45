"""The largest later screen, and what stops the next: wall, neighbour, niche, carton, mount."""

from __future__ import annotations

from dataclasses import replace

from wallwright.core.shape import Box
from wallwright.sight.fit import Route
from wallwright.sight.later import Bounds, Move, free_about, largest_later
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


def test_a_tower_a_column_and_a_niche() -> None:
    towers = (("T1", Box(-60, 0, 1020, 2600)), ("T2", Box(2640, 0, 1020, 2600)))
    ahead = largest_later(55, ROWS, MIDDLE, replace(FREE, things=towers))
    assert (ahead.largest, ahead.next, ahead.stops) == (75, 85, ("T1 and T2 stand in its way",))
    assert ahead.room[0] == 1680 and ahead.move is None
    niche = largest_later(55, ROWS, MIDDLE, replace(FREE, niche=(1400, 850)))
    assert (niche.largest, niche.next) == (55, 65)
    assert niche.stops == ("the niche is 170 mm too narrow", "the niche is 100 mm too low")


def test_the_middle_stays_where_the_screen_is() -> None:
    """A column ends 2000, the middle is at 2800: 65 in reaches from 2075 to 3525 and keeps 60 to the wall's end at 3600. 75 in
    would begin at 1963.5 and end at 3636.5, 96.5 too near the end; nowhere beside the column is there room for its 1673 + 60
    (by hand). With the column ending at 1700 it goes 96.5 further left, 2703.5 - 836.5 = 1867, and 85 in, 1895, does not."""
    one = replace(FREE, things=(("the column K", Box(0, 0, 2000, 2600)),))
    stopped = largest_later(55, ROWS, (2800, 1100), one)
    assert (stopped.largest, stopped.next) == (65, 75)
    assert stopped.stops == ("the wall's right end is 96 mm too near", "the column K stands in its way")
    assert stopped.move is None
    less = replace(FREE, things=(("the column K", Box(0, 0, 1700, 2600)),))
    moved = largest_later(55, ROWS, (2800, 1100), less)
    assert (moved.largest, moved.stops) == (65, ("the wall's right end is 96 mm too near",))
    assert moved.move == Move(75, -96.5, 0)
    assert moved.move.says == "with the middle of the screen moved 96 mm to the left, 75 in would go"


def test_up_and_down_only_as_far_as_the_plate_gives() -> None:
    """A console keeps 635 clear: 75 in, 960 high, about 1100 begins at 620, 15 too low; a slack of 20 takes it, one of 10 does not.
    85 in, 1085 high, needs its middle at 635 + 542.5 = 1177.5, 77.5 up (by hand)."""
    console = (("C1", Box(1000, 0, 1600, 635)),)
    loose = largest_later(55, ROWS, MIDDLE, replace(FREE, things=console, slack=20))
    assert (loose.largest, loose.next, loose.stops) == (75, 85, ("C1 stands in its way",))
    assert loose.move == Move(85, 0, 77.5)
    tight = largest_later(55, ROWS, MIDDLE, replace(FREE, things=console, slack=10))
    assert (tight.largest, tight.next, tight.move) == (65, 75, Move(85, 0, 77.5))
    low = largest_later(55, ROWS, (1800, 450), replace(FREE, slack=20))
    assert (low.largest, low.stops) == (65, ("the floor is 10 mm too near",))  # 960 / 2 - 470
    high = largest_later(55, ROWS, (1800, 2140), replace(FREE, slack=20))
    assert (high.largest, high.stops) == (65, ("the ceiling is 60 mm too near",))  # 2120 + 480 + 60 - 2600


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
