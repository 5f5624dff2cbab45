from __future__ import annotations

import math

import pytest

from wallwright.services.trunking import SIZES, smallest, words


@pytest.mark.parametrize(
    ("diameters", "size"),
    [
        ((), (25, 16)),  # empty, for what is to come
        ((7.5,), (16, 16)),  # 44 mm² of 13 × 13 = 169, at most 45 % of it: 76 mm²; by hand
        ((7.5, 7.5), (25, 16)),  # 88 mm² over 76; 22 × 13 = 286 takes 129
        ((7.5,) * 4, (38, 16)),  # 177 mm²; 35 × 13 = 455 takes 205
        ((14.0,), (38, 25)),  # thicker than the 13 mm that a 16 mm trunking is high inside
    ],
)
def test_the_smallest_trunking_by_hand(diameters: tuple[float, ...], size: tuple[float, float]) -> None:
    assert smallest(diameters, 0.45) == size  # the share: On-Site Guide appendix E


def test_a_trunking_never_holds_more_than_its_share() -> None:
    for n in range(1, 20):
        width, height = smallest((7.5,) * n, 0.45)
        area = n * math.pi / 4 * 7.5**2
        assert area <= 0.45 * (width - 3) * (height - 3)
    assert smallest((7.5,) * 400, 0.45) == SIZES[-1]
    assert words((38.0, 25.0)) == "38×25"
