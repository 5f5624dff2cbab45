"""Zones share a sheet only where none is drawn smaller for it and all that is said of them stands beside them."""

from __future__ import annotations

from types import SimpleNamespace
from typing import Any

import pytest

from wallwright.core.drawing import Drawing
from wallwright.core.shape import Box
from wallwright.sheets.side_by_side import grouped, on_one_line


def zones(**scales: int) -> Any:
    return [SimpleNamespace(ref=ref, scale=scale) for ref, scale in scales.items()]


def scale_of(some: Any) -> float:
    """Three of a scale go side by side; a fourth makes all of them smaller."""
    return max(zone.scale for zone in some) * (2 if len(some) > 3 else 1)


@pytest.mark.parametrize(
    ("most", "wanted"), [(9, [["A", "C", "D"], ["B", "F"], ["E"]]), (2, [["A", "C"], ["B", "F"], ["D", "E"]])]
)
def test_zones_go_with_others_of_their_scale(most: int, wanted: list[list[str]]) -> None:
    given = zones(A=10, B=20, C=10, D=10, E=10, F=20)
    made = grouped(given, scale_of, lambda some: len(some) <= most)
    assert [[zone.ref for zone in some] for some in made] == wanted


def test_views_stand_on_one_line_apart_and_in_their_room() -> None:
    drawn = [
        Drawing(f"d{w}", "", 10.0, (), Box(-100.0, -50.0, w, h)) for w, h in ((600.0, 900.0), (300.0, 400.0))
    ]
    room = Box(20.0, 70.0, 200.0, 150.0)
    placed = on_one_line(drawn, room)
    boxes = [
        Box(v.x + box.x / 10, v.y + box.z / 10, box.width / 10, box.height / 10)
        for v, box in ((view, view.drawing.extent) for view in placed)
    ]
    assert len({box.z for box in boxes}) == 1
    assert boxes[1].x - boxes[0].right >= 8.0
    assert all(room.holds(box) for box in boxes)
    assert on_one_line(drawn, Box(20.0, 70.0, 97.0, 150.0)) == ()
    assert on_one_line(drawn, Box(20.0, 70.0, 200.0, 89.0)) == ()
