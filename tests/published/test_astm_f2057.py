"""ASTM F2057-23 and 16 CFR 1261: clothing storage units and the child that climbs them; used here for all standing units."""

import pytest

from wallwright.library import load
from wallwright.structure.tip import drawers_out, held_at, push_to_tip


def test_the_child():
    """60 lb."""
    assert load.limits().value("structure.climber") == pytest.approx(60 * 0.45359237, abs=0.05)


def test_the_filling():
    """8.5 lb a cubic foot of drawer (from memory)."""
    per_m3 = 8.5 * 0.45359237 / 0.3048**3
    assert load.limits().value("structure.drawer_contents") == pytest.approx(per_m3, abs=0.5)


def test_a_child_on_an_open_drawer():
    """25 kg, its middle 200 behind the foot, two 8 kg drawers 150 out: 2.083; with 27.2 kg at 262: 0.525, held at 600 high by 74 N (by hand)."""
    out = ((8.0, 150.0), (8.0, 150.0))
    assert drawers_out(25, 200, out) == pytest.approx(2.083, rel=5e-3)
    climbed = (*out, (27.2, 262.0))
    assert drawers_out(25, 200, climbed) == pytest.approx(5000 / (2400 + 27.2 * 262), rel=1e-3)
    assert held_at(25, 200, 600, climbed) == pytest.approx((2400 + 27.2 * 262 - 5000) * 9.80665 / 600)
    assert held_at(25, 200, 600, out) == 0


def test_a_tower_by_a_push():
    """60 kg, its middle 150 behind the foot, at 2000: 44.1 N (arithmetic)."""
    assert push_to_tip(60, 150, 2000) == pytest.approx(44.1, rel=2e-3)
