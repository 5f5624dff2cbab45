"""Chains that close, and figures and labels that keep clear of one another."""

from __future__ import annotations

from itertools import combinations, pairwise
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from wallwright.core.drawing import Dim, Leader, Level, Line, Mark, Symbol
from wallwright.core.shape import Box
from wallwright.sheets.chains import chain, chains, joined
from wallwright.sheets.ink import inked, text_box, texts
from wallwright.sheets.paper import Sheet
from wallwright.sheets.place import settle


def overlaps(marks: tuple[Mark, ...], scale: float) -> int:
    boxes = [text_box(text, scale) for mark in marks for text in texts(mark, scale)]
    return sum(a.grown(-0.01).meets(b.grown(-0.01)) for a, b in combinations(boxes, 2))


@given(st.lists(st.floats(0, 4000), min_size=1, max_size=9))
def test_a_chain_always_closes(stops: list[float]) -> None:
    """ISO 129-1 practice: the parts of a chain add up to the overall size."""
    parts = chain([0.0, *stops, 4000.0], "x", 0, -8)
    assert sum(part.value for part in parts) == pytest.approx(4000, abs=1e-6)
    assert all(a.end == b.start for a, b in pairwise(parts))
    assert all(part.value > 0.5 for part in parts)


def test_stops_within_half_a_millimetre_are_one() -> None:
    assert joined([100.0, 0.0, 100.4, 99.9]) == [0.0, 99.9]


def test_the_overall_size_stands_outside_its_chain() -> None:
    made = chains([0, 400, 1000], "z", 50, -8)
    assert [round(dim.value) for dim in made] == [400, 600, 1000]
    assert made[-1].offset == -16
    assert len(chains([0, 1000], "z", 50, -8)) == 1  # a chain of one part needs no overall


@settings(max_examples=60, deadline=None)
@given(
    st.lists(st.integers(8, 400), min_size=1, max_size=12),
    st.sampled_from(["x", "z"]),
    st.sampled_from([-8.0, 8.0]),
)
def test_figures_of_small_parts_never_overlap(parts: list[int], along: Any, offset: float) -> None:
    at, stops = 0, [0.0]
    for part in parts:
        at += part
        stops.append(float(at))
    assert overlaps(settle(chains(stops, along, 0, offset), 20), 20) == 0


def test_without_settling_they_would() -> None:
    assert overlaps(tuple(chains([0, 18, 36, 54, 72], "x", 0, -8)), 20) > 0


def test_labels_and_levels_move_apart() -> None:
    marks = (
        *(Symbol("socket", (100 + 20 * i, 400), f"P{i}") for i in range(5)),
        *(Level((1000, 600 + 10 * i), 600 + 10 * i, f"L{i}") for i in range(4)),
        *(Leader(((500, 500), (600, 600)), f"leader {i}") for i in range(6)),
    )
    assert overlaps(marks, 20) > 5
    assert overlaps(settle(marks, 20), 20) == 0


def test_what_stands_alone_is_left_where_it_is() -> None:
    marks = (Dim((0, 0), (1000, 0), "x", 0, -8), Symbol("data", (500, 900), "D1"))
    assert settle(marks, 20) == marks


def test_texts_stay_within() -> None:
    room = Box(0, 0, 2000, 1000)
    (moved,) = settle((Leader(((1900, 500), (1990, 600)), "a long label here"),), 20, room)
    assert all(room.holds(text_box(text, 20)) for text in texts(moved, 20))


def test_every_chain_of_every_sheet_closes(drawings: tuple[Sheet, ...]) -> None:
    found = 0
    for sheet in drawings:
        for view in sheet.views:
            lines: dict[tuple[Any, ...], list[Dim]] = {}
            for mark in view.drawing.marks:
                if isinstance(mark, Dim):
                    lines.setdefault((mark.along, mark.at, mark.offset), []).append(mark)
            for (along, _, _), dims in lines.items():
                axis = 0 if along == "x" else 1
                ends = sorted(tuple(sorted((d.start[axis], d.end[axis]))) for d in dims)
                assert all(a[1] == b[0] for a, b in pairwise(ends)), (sheet.name, ends)
                found += len(ends) > 1
    assert found > 8


def test_elevation_chains_run_from_corner_to_corner_and_from_floor_to_ceiling(
    drawings: tuple[Sheet, ...], any_wall: Any
) -> None:
    dims = [mark for mark in drawings[0].views[0].drawing.marks if isinstance(mark, Dim)]
    overall = sorted(dim.value for dim in dims if dim.ref == "overall")
    assert overall == pytest.approx(sorted((any_wall.face.width, any_wall.face.height)))
    for along, length in (("x", any_wall.face.width), ("z", any_wall.face.height)):
        own = [dim for dim in dims if dim.along == along and dim.ref == "chain"]
        assert sum(dim.value for dim in own) == pytest.approx(length)


def test_a_figure_slides_off_the_extension_line_of_a_chain_farther_out() -> None:
    """The outer chain's stop at 1000 runs down through the middle of the inner chain's 2000: its figure stands beside it."""
    dims = [*chain([0.0, 2000.0], "x", 0.0, 8.0), *chain([0.0, 1000.0, 2000.0], "x", 0.0, 16.0)]
    settled = settle(dims, 20.0)
    inner = next(mark for mark in settled if isinstance(mark, Dim) and mark.value == 2000.0)
    box = next(text_box(text, 20.0) for text in texts(inner, 20.0))
    assert not box.x < 1000.0 < box.right
    assert box.x > 0.0 and box.right < 2000.0  # between its own ends
    assert len([part for part in inked(inner, 20.0) if isinstance(part, Line)]) == 5  # so it needs no pointer


def test_a_figure_with_nothing_in_its_way_stays_in_the_middle() -> None:
    (only,) = settle(chain([0.0, 2000.0], "x", 0.0, 8.0), 20.0)
    assert isinstance(only, Dim) and only.shift == 0.0 and only.lift == 0.8


def test_a_figure_never_stands_at_the_next_part_of_its_chain() -> None:
    """A build-up at 1:2, layers of 25, 12, 4 and 8: each figure's middle along the chain is over its own part, or past the chain."""
    made = settle([*chain([0, 25, 37, 41, 49], "z", 0, -8), *chain([0, 49], "z", 0, -16)], 2.0)
    for dim in made:
        assert isinstance(dim, Dim)
        middle = (dim.start[1] + dim.end[1]) / 2 + dim.shift * 2.0
        low, high = sorted((dim.start[1], dim.end[1]))
        assert low <= middle <= high or not 0 < middle < 49


def test_a_short_part_at_the_end_of_a_chain_has_its_figure_past_it() -> None:
    """Its place over the part is on the extension line of the chain beyond: it stands on the line drawn on."""
    made = settle([*chain([0, 20, 377, 397], "z", 0, -8), *chain([0, 397], "z", 0, -16)], 10.0)
    lowest, _, highest, _ = [dim for dim in made if isinstance(dim, Dim)]
    assert abs(lowest.shift) > 1.0 or abs(highest.shift) > 1.0
    for dim in (lowest, highest):
        at = next(text_box(text, 10.0) for text in texts(dim, 10.0))
        assert not any(at.z < end < at.top for end in (0.0, 397.0))
