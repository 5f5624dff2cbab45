"""Running sizes: each from the datum, at its own place, clear of the next."""

from __future__ import annotations

import pytest

from wallwright.core.drawing import Circle, Line, Text
from wallwright.sheets.ink import text_box
from wallwright.sheets.running import running


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
