"""Balance and visual weight against hand values."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from wallwright.core.shape import Box
from wallwright.look.balance import balance, carried, left_right, visual_weight
from wallwright.look.colour import difference, lab

SCREEN = Box(1.28, 0.945, 1.44, 0.81)  # metres, on a wall 4 × 2.7
TOWERS = (Box(0.4, 0.3, 0.5, 2.1), Box(3.1, 0.3, 0.5, 2.1))


def both_ways(parts: tuple[Box, ...]) -> float:
    """The published balance: 1 − (|across| + |up|)/2, each (before − behind)/larger."""

    def lopsided(before: float, behind: float) -> float:
        return (before - behind) / max(before, behind) if max(before, behind) > 1e-12 else 0.0

    across = lopsided(*left_right(parts, 2.0))
    up = lopsided(*carried(((part.z, part.height, part.width) for part in parts), 1.35))
    return 1 - (abs(across) + abs(up)) / 2


@pytest.mark.parametrize(
    ("parts", "expected"),
    # Ngo, Teo and Byrne 2000, worked by hand for these rectangles
    [((SCREEN,), 1.0), (TOWERS[:1], 0.5), (TOWERS, 1.0), ((*TOWERS, Box(1.28, 1.2, 1.44, 0.81)), 0.8281)],
)
def test_published_balance(parts: tuple[Box, ...], expected: float) -> None:
    assert both_ways(parts) == pytest.approx(expected, abs=5e-4)


def test_left_against_right() -> None:
    assert balance((SCREEN,), 2.0) == pytest.approx(1.0)
    assert balance(TOWERS[:1], 2.0) == 0.0
    assert balance((), 2.0) == 1.0
    assert left_right((Box(0, 0, 2, 1),), 1.5) == pytest.approx(
        (1.5 * 0.75, 0.5 * 0.25)
    )  # counted on both sides of the axis
    assert balance((Box(0, 0, 2, 1),), 1.5) == pytest.approx(1 - (1.125 - 0.125) / 1.125)


parts = st.lists(
    st.builds(Box, st.floats(0, 3), st.floats(0, 2), st.floats(0.05, 2), st.floats(0.05, 2)),
    min_size=1,
    max_size=6,
)


@given(parts)
def test_mirrored_and_cut_walls_weigh_the_same(boxes: list[Box]) -> None:
    mirrored = [Box(4 - box.right, box.z, box.width, box.height) for box in boxes]
    assert balance(mirrored, 2.0) == pytest.approx(balance(boxes, 2.0), abs=1e-6)
    assert left_right(mirrored, 2.0) == pytest.approx(left_right(boxes, 2.0)[::-1], abs=1e-6)
    halves = [half for box in boxes for half in (Box(box.x, box.z, box.width, box.height / 2),) * 2]
    assert left_right(halves, 2.0) == pytest.approx(left_right(boxes, 2.0), abs=1e-6)
    assert 0 <= balance(boxes, 2.0) <= 1
    assert balance([*boxes, *mirrored], 2.0) == pytest.approx(1.0, abs=1e-6)


def test_visual_weight_of_two_walls() -> None:
    """Warm white 10.8 m² with 3.0 brown and 1.0 dark green: 17.591; 13.5 m² with 1.5 tan: 2.765 (Σ a ΔE00/A, colour-science)."""
    ground, brown, green, tan = (lab(c) for c in ("#F5F0E6", "#8B5A2B", "#2F4F4F", "#C19A6B"))
    apart = [difference(ground, other) for other in (brown, green, tan)]
    assert apart == pytest.approx([44.770, 55.677, 24.882], abs=0.005)
    main = visual_weight([(3.0, apart[0]), (1.0, apart[1])], 10.8)
    side = visual_weight([(1.5, apart[2])], 13.5)
    assert (main, side) == pytest.approx((17.591, 2.765), abs=0.005)
    assert main / (main + side) == pytest.approx(0.864, abs=0.005)
