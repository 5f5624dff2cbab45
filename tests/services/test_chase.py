from __future__ import annotations

import pytest

from wallwright.services.chase import deepest, may_cut, needed


@pytest.mark.parametrize(
    ("leaf", "upright", "level"), [(115, 38.33, 19.17), (100, 33.33, 16.67), (230, 76.67, 38.33)]
)
def test_deepest_chase(leaf: float, upright: float, level: float) -> None:
    assert deepest(leaf, level=False) == pytest.approx(
        upright, abs=0.01
    )  # guidance on Approved Document A: a third
    assert deepest(leaf, level=True) == pytest.approx(level, abs=0.01)  # ... and a sixth


def test_a_25_mm_conduit_goes_down_a_half_brick_wall_but_not_across_it() -> None:
    assert needed(25, 12) == 37
    assert may_cut(115, 25, 12, level=False)
    assert not may_cut(115, 25, 12, level=True)
