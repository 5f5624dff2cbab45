"""Two walls: entropy, dominance and the star, by hand."""

from __future__ import annotations

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from wallwright.look.balance import visual_weight
from wallwright.look.colour import difference, lab
from wallwright.look.record import Terms
from wallwright.look.weigh import dominance, dominances, entropy, mean_luminance, star, wins


@pytest.mark.parametrize(
    ("areas", "bits"),
    [((1, 1), 1.0), ((0.6, 0.3, 0.1), 1.2955), ((3, 3, 3, 3), 2.0), ((5,), 0.0), ((), 0.0), ((2, 0), 0.0)],
)  # Shannon: −Σ p log2 p, by hand
def test_entropy(areas: tuple[float, ...], bits: float) -> None:
    assert entropy(areas) == pytest.approx(bits, abs=1e-4)


@given(st.lists(st.floats(0.1, 10), min_size=1, max_size=12))
def test_entropy_is_largest_for_equal_parts(areas: list[float]) -> None:
    assert -1e-12 <= entropy(areas) <= math.log2(len(areas)) + 1e-9


def test_dominance_of_the_worked_walls() -> None:
    """17.591 against 2.765: 6.36 : 1, dominance 0.864 (Σ a ΔE00/A with colour-science)."""
    ground, brown, green, tan = (lab(c) for c in ("#F5F0E6", "#8B5A2B", "#2F4F4F", "#C19A6B"))
    one = visual_weight([(3.0, difference(ground, brown)), (1.0, difference(ground, green))], 10.8)
    two = visual_weight([(1.5, difference(ground, tan))], 13.5)
    assert one / two == pytest.approx(6.36, abs=0.005)
    assert dominance(one, two) == pytest.approx(0.864, abs=5e-4)
    assert dominance(2, 1) == pytest.approx(2 / 3) and dominance(0, 0) == 0.5


def test_star() -> None:
    one, two = Terms(17.6, 2.0, 1.4, 1.6), Terms(2.8, 0.5, 1.0, 0.6)
    assert wins(one, two, 2) == 3  # 1.4 of light is not twice 1.0
    assert star(one, two, 2, 3) == "this" and star(two, one, 2, 3) == "other"
    assert star(one, two, 2, 4) == "" and star(one, two, 3, 3) == "" and star(one, one, 2, 3) == ""
    assert dominances(one, two) == pytest.approx((17.6 / 20.4, 0.8, 1.4 / 2.4, 1.6 / 2.2))
    assert star(Terms(1, 1, 1, 1), Terms(0, 0, 0, 1), 2, 3) == "this"
    assert wins(Terms(0, 0, 0, 0), Terms(0, 0, 0, 0), 2) == 0


def test_mean_luminance() -> None:
    """Half the wall at ρ 0.5 and half at 0.1 under 100 lx: 0.3 · 100/π = 9.549 cd/m²; 1 m² of a lamp of 20 adds 2 over 10 m²."""
    faces = [(5e6, 0.5), (5e6, 0.1)]
    assert mean_luminance(faces, 100, 0, 1e7) == pytest.approx(9.549, abs=1e-3)
    assert mean_luminance(faces, 100, 20 * 1e6, 1e7) == pytest.approx(11.549, abs=1e-3)
