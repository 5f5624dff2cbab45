"""Labels in a row: apart, moved as little as can be, each led to its thing."""

from __future__ import annotations

from itertools import combinations

import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.optimize import minimize  # type: ignore[import-untyped]

from wallwright.core.drawing import Circle, Line, Text
from wallwright.sheets.ink import text_box
from wallwright.sheets.label_row import OFF, Named, label_row, spread


def test_three_that_would_overlap_by_hand() -> None:
    """Middles 0, 1, 2 with widths 4 and a gap of 1: 5 apart about their mean 1."""
    assert spread([0.0, 1.0, 2.0], [4.0] * 3, 1.0) == pytest.approx([-4.0, 1.0, 6.0])
    assert spread([2.0, 0.0, 1.0], [4.0] * 3, 1.0) == pytest.approx([6.0, -4.0, 1.0])


def test_what_has_room_stays_and_limits_hold() -> None:
    assert spread([0.0, 20.0, 40.0], [4.0] * 3, 1.0) == [0.0, 20.0, 40.0]
    assert spread([0.0, 20.0], [4.0, 6.0], 1.0, 1.0, 21.0) == [3.0, 18.0]
    assert spread([], [], 1.0) == []


@given(st.lists(st.tuples(st.integers(0, 60), st.integers(1, 12)), min_size=1, max_size=6), st.integers(0, 4))
def test_apart_in_order_and_least_moved(things: list[tuple[int, int]], gap: int) -> None:
    """The sum of squared moves is not beaten by a general optimiser (scipy's SLSQP)."""
    things = sorted(things)
    wanted, widths = [float(x) for x, _ in things], [float(w) for _, w in things]
    found = spread(wanted, widths, gap)
    needs = [(widths[i] + widths[i + 1]) / 2 + gap for i in range(len(things) - 1)]
    assert all(found[i + 1] - found[i] >= need - 1e-9 for i, need in enumerate(needs))
    moved = sum((a - b) ** 2 for a, b in zip(found, wanted, strict=True))
    limits = [
        {"type": "ineq", "fun": lambda x, i=i, need=need: x[i + 1] - x[i] - need}
        for i, need in enumerate(needs)
    ]
    best = minimize(
        lambda x: sum((a - b) ** 2 for a, b in zip(x, wanted, strict=True)),
        found,
        constraints=limits,
        method="SLSQP",
    )
    assert moved <= best.fun + 1e-4 * max(1.0, moved)


@pytest.mark.parametrize("up", [True, False])
def test_words_stand_clear_of_one_another_and_of_their_leaders(up: bool) -> None:
    things = [Named(f"label {i}, (g)", ((100.0 + 5 * i, 500.0), (120.0, 400.0)), f"L{i}") for i in range(5)]
    marks = label_row(things, 1000.0 if up else 0.0, 20.0, up=up)
    boxes = [text_box(mark, 20.0) for mark in marks if isinstance(mark, Text)]
    assert len(boxes) == 5
    assert not any(a.meets(b) for a, b in combinations(boxes, 2))
    ends = {mark.points[1][1] for mark in marks if isinstance(mark, Line)}
    assert ends == {1000.0 if up else 0.0}
    for box in boxes:
        assert (box.z >= 1000.0 + 0.99 * OFF * 20) if up else (box.top <= -0.99 * OFF * 20)
    assert {mark.centre for mark in marks if isinstance(mark, Circle)} == {
        point for thing in things for point in thing.points
    }
