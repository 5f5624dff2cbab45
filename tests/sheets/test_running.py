"""Running sizes: each from the datum, at its own place, clear of the next."""

from __future__ import annotations

from itertools import pairwise

import pytest

from wallwright.core.drawing import Circle, Line, Text
from wallwright.core.shape import Box
from wallwright.sheets.ink import text_box
from wallwright.sheets.running import APART, below, beside, figure, running


@pytest.mark.parametrize("along", ["x", "z"])
def test_each_stop_has_its_own_figure_and_line(along: str) -> None:
    stops = [(0.0, 0.0), (101.4, 101.4), (103.6, 103.6), (980.0, 980.0)]
    marks = running(stops, along, 0.0, -6.0, 10.0)  # type: ignore[arg-type]
    assert [m.text for m in marks if isinstance(m, Text)] == ["0", "101", "104", "980"]
    axis = 0 if along == "x" else 1
    starts = sorted(m.points[0][axis] for m in marks if isinstance(m, Line) and len(m.points) == 4)
    assert starts == [0.0, 101.4, 103.6, 980.0]
    boxes = [text_box(m, 10.0) for m in marks if isinstance(m, Text)]
    assert not any(a.meets(b) for i, a in enumerate(boxes) for b in boxes[i + 1 :])
    datum = [m for m in marks if isinstance(m, Circle)]
    assert [m.centre[axis] for m in datum] == [0.0]


def test_both_ways_from_a_datum_in_the_middle() -> None:
    marks = running([(300.0, 0.0), (200.0, 100.0), (400.0, 100.0)], "x", 0.0, 6.0, 10.0, decimals=1)
    assert [m.text for m in marks if isinstance(m, Text)] == ["100", "0", "100"]


def test_nothing_to_measure() -> None:
    assert running([], "x", 0.0, 6.0, 10.0) == []


def test_a_board_is_counted_below_and_beside_it_and_nothing_hangs_under_its_foot() -> None:
    box = Box(0.0, 0.0, 400.0, 300.0)
    low = [m for m in below(box, [(0.0, 0.0), (37.0, 37.0), (400.0, 400.0)], 10.0) if isinstance(m, Text)]
    assert [m.text for m in low] == ["0", "37", "400"]
    assert all(m.turn == 90.0 and m.at[1] < 0.0 for m in low)
    up = beside(box, [(0.0, 0.0), (1.0, 1.0), (2.0, 2.0), (2.03, 2.0)], 10.0)
    assert [m.text for m in up if isinstance(m, Text)] == ["0", "1", "2"]  # what stands alike is told once
    ends = [m.points[-1][1] for m in up if isinstance(m, Line)]
    assert min(ends) >= 0.0
    assert all(b - a >= APART * 10.0 - 1e-9 for a, b in pairwise(ends))
    assert not [m for m in up if isinstance(m, Circle)]  # the board's own datum sign says it


@pytest.mark.parametrize(
    ("value", "decimals", "written"),
    [(37.0, 1, "37"), (37.04, 1, "37"), (37.25, 1, "37.2"), (101.6, 0, "102"), (-0.01, 1, "0")],
)
def test_a_figure_has_no_decimal_that_is_nought(value: float, decimals: int, written: str) -> None:
    assert figure(value, decimals) == written
