"""Pareto front and max-min choice against brute force; modules against every whole millimetre."""

from __future__ import annotations

from itertools import combinations, pairwise, product

import pytest
from hypothesis import example, given, settings
from hypothesis import strategies as st

from wallwright.carcass.panel_zone import snapped, upright_joints
from wallwright.core.shape import Box
from wallwright.options.modules import BEST, NARROW, WIDE, bay_patterns, modules
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


@given(st.integers(900, 3200), st.integers(700, 2100))
def test_the_first_module_width_is_the_best_of_all_whole_millimetres(half: int, middle: int) -> None:
    """What is searched, by brute force over every number and every whole millimetre: of the modules that leave no module a millimetre
    more, first those beside whose screen no further module is lost, then the nearest to the width that carries books, then the
    narrower middle.
    """
    fit = {
        (n, w) for n in range(1, 20) for w in range(int(NARROW), int(WIDE) + 1) if 2 * (half - n * w) >= middle
    }  # fmt: skip
    full = [(n, w) for n, w in fit if (n, w + 1) not in fit]
    key = {(n, w): (2 * (half - n * w) - middle > WIDE, abs(w - BEST), 2 * (half - n * w)) for n, w in full}
    found = modules(float(half), float(middle))
    assert bool(found) == bool(full)
    if found:
        assert key[found[0].count, int(found[0].width)] == min(key.values())
        assert [key[one.count, int(one.width)] for one in found] == sorted(key.values())


PAIRS = st.lists(st.tuples(st.integers(0, 400), st.booleans()), max_size=4)


@example(
    649, 1220.0, [(175, True), (86, True), (206, True)], 300.0
)  # one joint at a time gives one of the two pairs away
@example(240, 900.0, [(85, True), (78, True)], 150.0)  # two lines beside one joint: the nearer
@settings(max_examples=150, deadline=None)
@given(st.integers(120, 480), st.sampled_from([900.0, 1200.0]), PAIRS, st.sampled_from([60.0, 150.0, 300.0]))
def test_panel_joints_are_the_best_of_all(
    tens: int, sheet: float, pairs: list[tuple[int, bool]], within: float
) -> None:
    """The fewest equal pieces; then, by brute force over every line for every joint, the most joints on lines of screen and units,
    alike on both sides, no piece wider than a board; of these the least shift.
    """
    box = Box(100, 0, tens * 10.0, 2000)
    lines = [box.x + at * 10 for at, _ in pairs] + [box.right - at * 10 for at, both in pairs if both]
    even = upright_joints(box, sheet, 0, 0.0, 0.0)
    pieces = len(even) + 1
    assert box.width / pieces <= sheet + 1e-6
    assert pieces == 1 or box.width / (pieces - 1) > sheet - 1e-6
    found, half = snapped(box, even, lines, sheet, within), len(even) // 2
    middle = box.centre[0]

    def key(joints: tuple[float, ...]) -> tuple[int, float]:
        shift = sum(abs(a - b) for a, b in zip(joints[:half], even[:half], strict=True))
        return -sum(at in lines for at in joints[:half]), round(shift, 6)

    both = [x for x in lines if any(abs(2 * middle - x - other) < 1 for other in lines)]
    allowed = [even]
    for left in product(*([at, *(x for x in both if abs(x - at) <= within)] for at in even[:half])):
        trial = (*left, *even[half : len(even) - half], *(2 * middle - x for x in reversed(left)))
        edges = (box.x, *trial, box.right)
        if all(50 <= b - a <= sheet + 1e-6 for a, b in pairwise(edges)):
            allowed.append(trial)
    assert key(found) == min(key(one) for one in allowed)
    assert all(abs(a + b - 2 * middle) < 1e-6 for a, b in zip(found, reversed(found), strict=True))


@given(st.integers(900, 4000), st.integers(0, 5))
def test_rows_of_bays_mirror_and_house_the_boxes(width: int, boxes: int) -> None:
    rows = bay_patterns(width, boxes)
    assert rows
    assert len(set(rows)) == len(rows)
    for row in rows:
        assert row == tuple(reversed(row))
        assert any(bay.front == "open" for bay in row) == (boxes > 0)
