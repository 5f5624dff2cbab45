"""Turning on an arm: hand values, shapely as the oracle for distances, and what must always hold."""

from __future__ import annotations

import math

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from shapely.geometry import Polygon

from wallwright.sight.swivel import (
    Body,
    Thing,
    distance,
    fair_swivel,
    pull_needed,
    reach_for,
    solve,
    sweep,
    swivel_within,
)

FLAT = Body(1450, 0, 0)
BODY = Body(1450, 60, 40)


def test_fair_swivel_is_midway() -> None:
    """Seats at −10° and +34°: turned by 12° both see 22° (swivel = (φmax + φmin)/2, by hand)."""
    assert fair_swivel([-10, 34, 5]) == (12, 22)
    solved = solve([("A", -500, 2500), ("B", 1500, 2500)], 0.0, FLAT, 20, 0, 0)
    low, high = math.degrees(math.atan2(-500, 2500)), math.degrees(math.atan2(1500, 2500))
    plain = Body(1450, 0, 0)
    assert solve([("A", -500, 2500)], 0.0, plain, 20, 0, 60).unturned == pytest.approx(
        math.degrees(math.atan2(500, 2440)), abs=1e-9
    )
    # the picture comes out as it turns, which the plain rule does not know: within a degree and a half of it
    assert solved.fair == pytest.approx((low + high) / 2, abs=1.5)
    assert solved.worst < solved.unturned


def test_reach_by_hand() -> None:
    """A frame 1450 wide turned by 30° about its back: its corner comes back 725 sin 30° = 362.5; with a head of 40 the corner
    goes 40 cos 30° = 34.6 forward again (by hand)."""
    assert reach_for(30, FLAT, 0) == pytest.approx(362.5)
    assert reach_for(30, BODY, 20) == pytest.approx(20 + 40 + 362.5 - 40 * math.cos(math.radians(30)))
    assert reach_for(-30, FLAT, 0) == pytest.approx(362.5)
    off = Body(1450, 0, 0, axis=100)
    assert reach_for(30, off, 0) == pytest.approx(312.5) and reach_for(-30, off, 0) == pytest.approx(412.5)


def test_facing_a_seat_faces_it() -> None:
    """From the middle of the turned picture the seat lies on its normal."""
    (turn,) = solve([("A", 1500, 2600)], 0.0, BODY, 30, 20, 75).turns
    corners = BODY.corners((0.0, turn.reach - BODY.head), turn.swivel)
    x, out = (corners[2][0] + corners[3][0]) / 2, (corners[2][1] + corners[3][1]) / 2
    assert math.degrees(math.atan2(1500 - x, 2600 - out)) == pytest.approx(turn.swivel, abs=0.01)
    assert min(at for _, at in corners) == pytest.approx(20, abs=1e-6)  # and just clears the wall
    two = solve([("B", -900, 2600), ("A", 1500, 2600)], 0.0, BODY, 30, 20, 75)
    assert two.turns[1] == turn and two.turns[0].swivel < two.fair < turn.swivel


def test_positive_turns_to_larger_x() -> None:
    back_left, back_right, front_right, _ = BODY.corners((0, 300), 20)
    assert (
        back_right[1] < 300 < back_left[1]
    )  # the side towards larger x comes back to the wall, the picture looks there
    assert front_right[0] > back_right[0]


@given(
    st.floats(-60, 60), st.floats(200, 900), st.floats(-2500, 2000), st.floats(50, 900), st.floats(50, 700)
)
def test_distance_against_shapely(angle: float, out: float, left: float, width: float, deep: float) -> None:
    frame = BODY.corners((0.0, out), angle)
    thing = Thing("T", left, left + width, deep)
    assert distance(frame, thing.corners) == pytest.approx(
        Polygon(frame).distance(Polygon(thing.corners)), abs=1e-6
    )


@settings(max_examples=30, deadline=None)
@given(st.floats(5, 60), st.floats(100, 600), st.floats(760, 1100), st.floats(100, 500))
def test_sweep_against_fine_steps(angle: float, out: float, left: float, deep: float) -> None:
    things = (Thing("T1", left, left + 400, deep),)
    swept = sweep(BODY, (0.0, out), angle, things)
    fine = min(
        min(
            Polygon(corners).distance(Polygon(things[0].corners)),
            min(at for _, at in corners),
        )
        for corners in (BODY.corners((0.0, out), angle * i / 600) for i in range(601))
    )
    assert swept.clear <= fine + 1e-6
    assert swept.clear == pytest.approx(fine, abs=1.5)


def test_a_tower_beside_the_screen() -> None:
    """A tower 350 deep, 60 mm beside the frame: turned away from the wall the frame's edge swings into its place, so it must come
    out before it turns; how far is found, and less is not enough."""
    tower = (Thing("T2", 785, 1285, 350),)
    close = sweep(BODY, (0.0, 100.0), 15, tower)
    assert close.near == "wall" or close.clear < 20
    reach = pull_needed(BODY, 0.0, 15, tower, 20, 1000)
    assert reach is not None
    assert sweep(BODY, (0.0, reach - 40), 15, tower).clear >= 20 - 1e-6
    assert sweep(BODY, (0.0, reach - 40 - 6), 15, tower).clear < 20
    assert pull_needed(BODY, 0.0, 80, (), 20, 300) is None


def test_how_far_it_may_turn() -> None:
    """On 300 mm: 20 + 40 + 725 sin ψ − 40 cos ψ ≤ 300 gives ψ ≤ 22.5° (by hand: 725 sin 22.5° − 40 cos 22.5° = 240.5)."""
    assert swivel_within(BODY, (0.0, 260.0), 45, (), 20) == 22
    assert swivel_within(BODY, (0.0, 260.0), -45, (), 20) == -22
    assert swivel_within(BODY, (0.0, -20.0), 45, (), 20) == 0
