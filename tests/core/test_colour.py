"""sRGB to XYZ against another library and published luminances."""

from __future__ import annotations

from typing import Any

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from wallwright.core.colour import linear, reflectance, xyz

oracle: Any = pytest.importorskip("colour", reason="colour-science is not installed (the test extra has it)")

COLOURS = st.integers(0, 0xFFFFFF).map(lambda n: f"#{n:06X}")


@pytest.mark.parametrize(
    ("written", "value"),
    [("#808080", 21.586), ("#767676", 18.116), ("#F5F0E6", 87.446), ("#8B5A2B", 12.976), ("#2F4F4F", 6.761), ("#C19A6B", 35.510),
     ("#FFFFFF", 100.0), ("#000000", 0.0)],
)  # fmt: skip
def test_reflectance(written: str, value: float) -> None:
    """100 Y, computed with colour-science 0.4.7 (IEC 61966-2-1)."""
    assert reflectance(written) == pytest.approx(value, abs=0.01)


@given(COLOURS)
def test_against_colour_science(written: str) -> None:
    rgb = np.array([int(written[i : i + 2], 16) / 255 for i in (1, 3, 5)])
    assert xyz(written) == pytest.approx(100 * oracle.sRGB_to_XYZ(rgb), abs=1e-4)


def test_lower_case_and_nonsense() -> None:
    assert linear("#f1ece2") == linear("#F1ECE2")
    for wrong in ("F1ECE2", "#FFF", "#GGGGGG", ""):
        with pytest.raises(ValueError):
            linear(wrong)
