"""Levels of shelves and drawers; a column behind; what a board and a runner carry; who reaches how high."""

from __future__ import annotations

import pytest

from wallwright.core.shape import Box
from wallwright.core.units import Length
from wallwright.job.brief import Person
from wallwright.library import load
from wallwright.storage.levels import drawer_depth, levels
from wallwright.storage.reach import effort, reach_of
from wallwright.storage.record import Bay, Behind, Room

LIMITS = load.limits()


def bay(
    ref: str = "T1.1",
    front: str = "open",
    z: float = 0,
    height: float = 2000,
    drawers: int = 1,
    shelves: int = 4,
) -> Bay:
    return Bay(ref, "T1", Box(0, z, 500, height), 350, front, drawers, shelves)


def test_levels_of_shelves_and_drawers() -> None:
    found = levels(Room((bay("a"), bay("b", "drawers", height=400, drawers=2))), LIMITS)
    clear = (2000 - 4 * 18) / 5
    assert [(item.bay, round(item.z, 6)) for item in found] == [
        *(("a", round(k * (clear + 18), 6)) for k in range(5)), ("b", 0), ("b", 200),
    ]  # fmt: skip
    assert {round(item.height, 6) for item in found if item.bay == "a"} == {round(clear, 6)}
    assert {(item.height, item.run) for item in found if item.bay == "b"} == {(160, 460)}
    assert all(item.run == 500 for item in found if item.bay == "a")


def test_a_drawer_is_as_deep_as_its_runner_lets_it() -> None:
    assert drawer_depth(349, LIMITS) == 300 - 30  # runner 300, front and back board (common practice)
    assert drawer_depth(700, LIMITS) == 550 - 30
    assert drawer_depth(40, LIMITS) == 0
    (found,) = levels(Room((bay("b", "drawers", height=200),)), LIMITS)
    assert found.depth == drawer_depth(350, LIMITS) and found.load == 25


def test_loads_go_by_the_board_s_kg_a_metre() -> None:
    found = levels(Room((bay(shelves=1),), loads={"T1": 40.0}), LIMITS)
    assert [item.load for item in found] == [20.0, 20.0]
    pinned = Room((bay("b", "drawers", height=400, drawers=2),), loads={"T1": 20.0}, pinned=frozenset({"T1"}))
    assert [item.load for item in levels(pinned, LIMITS)] == [5.0, 5.0]  # a pinned load holds for drawers too


def test_a_column_behind_takes_depth_over_its_own_width_only() -> None:
    room = Room((bay(shelves=0),), edges={"T1": 380.0}, behind=(Behind(Box(0, 0, 200, 2700), 250),))
    found = levels(room, LIMITS)
    assert [(item.ref, item.run, item.depth) for item in found] == [
        ("T1.1-1a", 200, 130),
        ("T1.1-1b", 300, 350),
    ]
    drawer = levels(Room((bay("b", "drawers"),), edges={"T1": 380.0}, behind=room.behind), LIMITS)
    assert drawer[0].depth == drawer_depth(130, LIMITS)  # one box: as shallow as its shallowest place


def test_a_shallow_pipe_behind_the_back_takes_nothing() -> None:
    room = Room((bay(shelves=0),), edges={"T1": 380.0}, behind=(Behind(Box(0, 0, 500, 2700), 25),))
    assert levels(room, LIMITS)[0].depth == 350


def test_devices_take_shelves_not_drawers() -> None:
    both = Room(
        (bay("a", "drawers", height=300), bay("b", height=300, shelves=0)),
        devices={ref: (("box", 320.0, 280.0, 105.0), ("box", 320.0, 280.0, 105.0)) for ref in "ab"},
    )
    assert [item.run for item in levels(both, LIMITS)] == [
        460,
        180,
    ]  # the second finds no shelf and takes nothing


def test_reach_of_a_household() -> None:
    grown = Person("A", Length(1700.0), 40), Person("B", Length(1600.0), 38)
    reach = reach_of(grown, LIMITS)
    assert (reach.standing, reach.step, reach.out, reach.seated) == (
        1920,
        2150,
        0,
        None,
    )  # 1.2 × the shortest adult
    assert reach_of((), LIMITS).standing == 1920  # nobody given: 1600 taken
    child = reach_of((*grown, Person("C", None, 4)), LIMITS)
    assert (child.out, child.standing, child.child) == (1500, 1920, 1200)
    assert reach_of((Person("C", Length(1350.0), 7),), LIMITS).out == pytest.approx(
        1620
    )  # a tall child reaches further
    assert reach_of((Person("D", None, 60, wheelchair=True),), LIMITS).seated == (
        380,
        1220,
    )  # ADA 308.2.1, from memory


def test_effort_grows_away_from_knee_to_shoulder() -> None:
    reach = reach_of((), LIMITS)
    assert [effort(z, reach) for z in (0, 350, 700, 1400, 1660, 1920, 2150)] == pytest.approx(
        [1, 0.5, 0, 0, 0.5, 1, 2]
    )
