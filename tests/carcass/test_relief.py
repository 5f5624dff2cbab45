"""The wall's relief between its readings, packing to one plane, and flatness under a straight edge."""

from __future__ import annotations

import pytest

from wallwright.carcass.relief import allowed, flatness, of_plumb, packing, stands_out
from wallwright.library import load

LIMITS = load.limits()
GRID = tuple((x, z, out) for (x, z, out) in (
    (0.0, 0.0, 0.0), (1000.0, 0.0, 4.0), (2000.0, 0.0, 0.0), (0.0, 2000.0, 6.0), (1000.0, 2000.0, 10.0), (2000.0, 2000.0, 6.0),
))  # fmt: skip


def test_between_four_readings_in_straight_lines() -> None:
    for x, z, out in GRID:
        assert stands_out(GRID, x, z) == out
    assert stands_out(GRID, 500.0, 0.0) == pytest.approx(2.0)
    assert stands_out(GRID, 500.0, 1000.0) == pytest.approx(5.0)  # mean of 0, 4, 6, 10
    assert stands_out(GRID, -300.0, 0.0) == 0.0 and stands_out(GRID, 2500.0, 3000.0) == 6.0


def test_scattered_readings_are_weighted_by_nearness() -> None:
    some = ((0.0, 0.0, 0.0), (1000.0, 0.0, 9.0), (0.0, 1000.0, 3.0))
    assert stands_out(some, 0.0, 1000.0) == 3.0
    near, far = stands_out(some, 900.0, 0.0), stands_out(some, 100.0, 0.0)
    assert near > 8.5 and far < 1.0
    with pytest.raises(ValueError, match="no readings"):
        stands_out((), 0.0, 0.0)


def test_all_faces_lie_in_one_plumb_plane_that_touches_the_high_spot() -> None:
    places = [(x, z) for x in (100.0, 700.0, 1000.0, 1900.0) for z in (50.0, 1000.0, 1950.0)]
    found = packing(GRID, places)
    assert min(one.pack for one in found) == 0.0
    planes = {round(stands_out(GRID, one.x, one.z) + one.pack, 9) for one in found}
    assert len(planes) == 1
    assert packing(GRID, ()) == ()


def test_a_wall_of_which_only_the_lean_is_known() -> None:
    """The top 6 behind the foot: packing grows with the height, 0 at the foot."""
    found = packing(of_plumb(6.0, 4000.0, 2400.0), [(500.0, 0.0), (500.0, 1200.0), (3000.0, 2400.0)])
    assert [one.pack for one in found] == pytest.approx([0.0, 3.0, 6.0])
    towards = packing(of_plumb(-6.0, 4000.0, 2400.0), [(500.0, 0.0), (500.0, 2400.0)])
    assert [one.pack for one in towards] == pytest.approx([6.0, 0.0])


@pytest.mark.parametrize(
    ("base", "usual", "strict"),
    [
        (100, 3, 2),  # DIN 18202 table 3, lines 6 and 7, as trade texts give it
        (1000, 5, 3),
        (4000, 10, 8),
        (2000, 6.667, 4.667),  # the trade's rounded readings are 7 and 5
        (6000, 10, 8),
    ],
)
def test_what_a_straight_edge_may_leave(base: float, usual: float, strict: float) -> None:
    assert allowed(base, "line_6", LIMITS) == pytest.approx(usual, abs=0.001)
    assert allowed(base, "line_7", LIMITS) == pytest.approx(strict, abs=0.001)


def test_flatness_by_hand() -> None:
    """A bump of 4 in the middle of 2 m: the straight edge leaves 4, within line 6 (6.7) and line 7 (4.7)."""
    found = flatness(GRID, LIMITS)
    assert [(one.at, one.base, one.gap) for one in found] == [
        ((1000.0, 0.0), 2000.0, 4.0),
        ((1000.0, 2000.0), 2000.0, 4.0),
    ]
    assert found[0].gap <= found[0].strict
    bumped = tuple((x, z, 9.0 if (x, z) == (1000.0, 0.0) else out) for x, z, out in GRID)
    worst = flatness(bumped, LIMITS)[0]
    assert worst.gap == 9.0 and worst.gap > worst.usual


def test_a_leaning_plane_is_flat() -> None:
    leaning = tuple(
        (x, z, 0.002 * x - 0.004 * z) for x in (0.0, 900.0, 2400.0) for z in (0.0, 1100.0, 2300.0)
    )
    assert max(one.gap for one in flatness(leaning, LIMITS)) == pytest.approx(0.0, abs=1e-9)
