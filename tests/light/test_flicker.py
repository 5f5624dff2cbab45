"""IEEE 1789-2015, low risk and no effect, from memory."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from wallwright.light.flicker import NO_EFFECT, allowed, least_hz


@pytest.mark.parametrize(
    ("hz", "share"), [(80, 0.02), (100, 0.08), (120, 0.096), (500, 0.40), (1250, 1.0), (5000, 1.0)]
)  # IEEE 1789-2015, practice 1: 0.025 f below 90 Hz, 0.08 f above; from memory
def test_low_risk(hz: float, share: float) -> None:
    assert allowed(hz) == pytest.approx(share)


def test_on_and_off() -> None:
    """Pulse dimming switches on and off: of low risk from 1250 Hz, without effect from 3003 Hz (IEEE 1789-2015, from memory)."""
    assert least_hz(1.0) == 1250
    assert least_hz(1.0, NO_EFFECT) == pytest.approx(3003, abs=1)


@given(st.floats(0.001, 1.0), st.floats(0.02, 0.2))
def test_the_least_frequency_is_allowed(depth: float, slope: float) -> None:
    hz = least_hz(depth, slope)
    assert allowed(hz, slope) >= depth - 1e-9
    if hz > 90.1 or hz < 89:
        assert allowed(hz * 0.98, slope) < depth
