"""NDS (National Design Specification for Wood Construction): withdrawal of lag and wood screws, and loads at an angle."""

import pytest

from wallwright.structure.anchor import POUND, lag_withdrawal, slanted, wood_screw_withdrawal

# G, D [in], printed lb per inch of thread: NDS table 12.2A
LAGS = [(0.50, 0.5, 378), (0.50, 0.25, 225), (0.42, 0.375, 235), (0.36, 0.25, 137)]


@pytest.mark.parametrize(("gravity", "diameter", "printed"), LAGS)
def test_lag_screws(gravity, diameter, printed):
    assert lag_withdrawal(gravity, diameter) == pytest.approx(printed, abs=0.5)


def test_a_wood_screw():
    """G 0.45, D 0.190 in: 109.65 lb/in, printed 109 (an engineering reference page on NDS 12.2.2)."""
    assert wood_screw_withdrawal(0.45, 0.190) == pytest.approx(109.65, abs=0.01)
    assert abs(wood_screw_withdrawal(0.45, 0.190) - 109) <= 1


def test_a_solved_example():
    """AWC example E2.3: southern pine G 0.55, lag 1/2 × 4 in through a side member of 1.5 in, its tip 0.3125 in, C_D 1: 955 lb,
    4247.94 N. Thread in the main member 4 − 1.5 − 0.3125 = 2.1875 in.
    """
    whole = lag_withdrawal(0.55, 0.5) * (4 - 1.5 - 0.3125)
    assert whole == pytest.approx(955, abs=0.5)
    assert whole * POUND == pytest.approx(4247.94, rel=5e-4)


def test_between_pull_and_shear():
    """NDS 12.4.1: at 0° the shear value, at 90° the pull value, between by Hankinson's formula."""
    assert slanted(400, 100, 0) == pytest.approx(100) and slanted(400, 100, 90) == pytest.approx(400)
    assert slanted(400, 100, 45) == pytest.approx(400 * 100 / (0.5 * 500))
