"""Pareto front and max-min choice against brute force; modules against every whole millimetre."""

from __future__ import annotations

from itertools import combinations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from wallwright.options.modules import NARROW, WIDE, bay_patterns, modules
from wallwright.options.worth import front, spread_out

ROWS = st.lists(st.tuples(st.integers(0, 4), st.integers(0, 4), st.integers(0, 4)), max_size=9)


@given(ROWS)
def test_the_front_is_what_no_other_beats(rows: list[tuple[int, int, int]]) -> None:
    kept = {rows[i] for i in front(rows)}
    expected = {
        row for row in rows
        if not any(other != row and all(b >= a for a, b in zip(row, other, strict=True)) for other in rows)
    }  # fmt: skip
    assert kept == expected
    assert len(front(rows)) == len(kept)


@given(st.lists(st.integers(0, 50), min_size=1, max_size=7), st.integers(1, 4))
def test_the_chosen_lie_at_least_half_as_far_apart_as_the_best_can(points: list[int], count: int) -> None:
    """The farthest-next choice is within twice the optimum (Gonzalez 1985, from memory); here by brute force over all choices with the first."""
    far = [[float(abs(a - b)) for b in points] for a in points]
    taken = spread_out(count, (0,), far)
    assert taken[0] == 0
    assert len(set(taken)) == len(taken) <= count
    if len(taken) < 2:
        return
    rest = range(1, len(points))
    best = max(
        min(far[i][j] for i, j in combinations((0, *others), 2))
        for others in combinations(rest, len(taken) - 1)
    )
    assert min(far[i][j] for i, j in combinations(taken, 2)) >= best / 2


@pytest.mark.parametrize(
    ("half", "middle"), [(1775, 1600), (2075, 1823), (1400, 1600), (1100, 1823), (2600, 1600)]
)
def test_modules_are_every_way_to_share_the_wall_out(half: float, middle: float) -> None:
    """By brute force: of each number of modules the widest whole millimetre that leaves the middle what it needs."""
    found = {(one.count, one.width) for one in modules(half, middle)}
    expected: set[tuple[int, float]] = set()
    for count in range(1, 12):
        widths = [w for w in range(int(NARROW), int(WIDE) + 1) if 2 * (half - count * w) >= middle]
        if widths:
            expected.add((count, float(max(widths))))
    assert found == expected
    assert all(one.middle == 2 * (half - one.count * one.width) for one in modules(half, middle))


def test_a_wall_of_3600_has_a_middle_of_1600_and_two_modules_near_500_on_each_side() -> None:
    """By hand: five modules of 700 leave no place for a frame of 1450; 1600 and two of 500 on each side do. The scribes take 50."""
    best = modules(3550 / 2, 1450 + 2 * 75)[0]
    assert best.count == 2
    assert best.width == 487
    assert best.middle >= 1600


@given(st.integers(900, 4000), st.integers(0, 5))
def test_rows_of_bays_mirror_and_house_the_boxes(width: int, boxes: int) -> None:
    rows = bay_patterns(width, boxes)
    assert rows
    assert len(set(rows)) == len(rows)
    for row in rows:
        assert row == tuple(reversed(row))
        assert any(bay.front == "open" for bay in row) == (boxes > 0)
