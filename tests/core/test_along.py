"""Things along the wall: nothing that touches is overlooked, and what lies far off is not looked at."""

from __future__ import annotations

import random
from itertools import combinations

from wallwright.core.along import Along, meeting


def _spans(seed: int) -> list[tuple[float, float]]:
    draw = random.Random(seed)
    starts = [draw.uniform(-900.0, 9000.0) for _ in range(60)]
    return [(low, low + draw.choice((0.0, 30.0, 640.0, 2400.0, 9500.0))) for low in starts]


def _touch(one: tuple[float, float], other: tuple[float, float]) -> bool:
    return one[0] <= other[1] and other[0] <= one[1]


def test_all_that_touch_are_found_in_order() -> None:
    for seed in range(20):
        spans = _spans(seed)
        along = Along(spans)
        for span in spans:
            found = along.about(*span)
            assert found == sorted(set(found))
            assert {k for k, other in enumerate(spans) if _touch(span, other)} <= set(found)


def test_pairs_come_in_the_order_of_all_pairs() -> None:
    for seed in range(20):
        spans = _spans(seed)
        pairs = list(meeting(spans))
        assert pairs == sorted(set(pairs))
        every = {(a, b) for a, b in combinations(range(len(spans)), 2) if _touch(spans[a], spans[b])}
        assert every <= set(pairs)


def test_what_lies_far_off_is_not_looked_at() -> None:
    along = Along([(0.0, 500.0), (4000.0, 4500.0), (-500.0, 12000.0)])
    assert along.about(100.0, 300.0) == [0, 2]
