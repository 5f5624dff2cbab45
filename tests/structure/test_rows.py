"""Where the holes of a row go when cables leave them little room."""

from __future__ import annotations

from itertools import combinations, pairwise

from hypothesis import given, settings
from hypothesis import strategies as st

from wallwright.structure.rows import all_set


@st.composite
def tight_rows(
    draw: st.DrawFn,
) -> tuple[list[float], float, list[tuple[float, float]], list[tuple[float, float]]]:
    whole = st.integers(0, 24)
    cut = sorted(draw(st.lists(whole, min_size=4, max_size=4, unique=True)))
    strips = [(float(cut[0]), float(cut[1])), (float(cut[2]), float(cut[3]))][: draw(st.integers(1, 2))]
    bands = [
        (float(a), float(a + wide))
        for a, wide in draw(st.lists(st.tuples(whole, st.integers(1, 6)), max_size=3))
    ]
    xs = sorted(float(x) for x in draw(st.lists(whole, min_size=1, max_size=4)))
    return xs, float(draw(st.integers(1, 8))), strips, bands


@settings(deadline=None, max_examples=300)
@given(tight_rows())
def test_all_holes_are_set_wherever_there_is_room_for_all(
    row: tuple[list[float], float, list[tuple[float, float]], list[tuple[float, float]]],
) -> None:
    """Every set of whole millimetres is tried beside it: all ends are whole, so a row that goes in at all goes in at such places."""
    xs, apart, strips, bands = row
    free = [
        x for x in range(25) if any(a <= x <= b for a, b in strips) and not any(a < x < b for a, b in bands)
    ]
    room = any(all(b - a >= apart for a, b in pairwise(some)) for some in combinations(free, len(xs)))
    placed = all_set(xs, apart, strips, bands)
    assert bool(placed) == room
    assert len(placed) in (0, len(xs)) and all(b - a >= apart for a, b in pairwise(placed))
    assert all(any(a <= x <= b for a, b in strips) and not any(a < x < b for a, b in bands) for x in placed)


def test_each_stands_as_near_to_its_own_place_as_the_rest_allow() -> None:
    """Five holes 320 apart on 1460 mm, a cable at each of two of them: slid aside one by one, the last would find no room."""
    xs = [0.0, 365.0, 730.0, 1095.0, 1460.0]
    bands = [(333.0, 480.0), (1088.0, 1185.0)]
    assert all_set(xs, 320.0, [(0.0, 1460.0)], bands) == [0.0, 333.0, 730.0, 1088.0, 1460.0]
    assert all_set(xs, 380.0, [(0.0, 1460.0)], bands) == []
