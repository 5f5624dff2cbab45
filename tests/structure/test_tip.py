import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from wallwright.structure.tip import drawers_out, push_to_tip, tilt_up


def test_a_loose_tower_tips_at_a_child_s_push():
    """60 kg, depth 300, pushed at 2000: 44.1 N (arithmetic)."""
    assert push_to_tip(60, 300, 2000) == pytest.approx(44.1, rel=2e-3)


def test_two_drawers_out():
    """25 kg, depth 400, two 8 kg drawers 150 in front: 2.083 (arithmetic)."""
    assert drawers_out(25, 400, ((8, 150), (8, 150))) == pytest.approx(2.083, rel=5e-3)
    assert drawers_out(25, 400, ()) == math.inf


def test_diagonals():
    """2400 × 400: 2433; 2350 × 350: 2376 (arithmetic)."""
    assert round(tilt_up(2400, 400)) == 2433
    assert round(tilt_up(2350, 350)) == 2376


@given(st.floats(10, 100), st.floats(200, 600), st.floats(500, 2600), st.floats(1.1, 2))
def test_what_makes_a_tower_safer(mass, depth, height, times):
    push = push_to_tip(mass, depth, height)
    assert push_to_tip(mass * times, depth, height) > push
    assert push_to_tip(mass, depth * times, height) > push
    assert push_to_tip(mass, depth, height * times) < push
    assert push_to_tip(mass, depth, height, shift=depth) == 0
