"""CIELAB and CIEDE2000: the published pairs, another library, and what a difference must obey."""

from __future__ import annotations

import runpy
from pathlib import Path
from typing import Any

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from wallwright.core.colour import reflectance
from wallwright.look.colour import Lab, chroma, difference, hue, lab

SHARMA: dict[str, Any] = runpy.run_path(str(Path(__file__).parents[1] / "published" / "sharma_2005.py"))
PAIRS = SHARMA["PAIRS"]

oracle: Any = pytest.importorskip("colour", reason="colour-science is not installed (the test extra has it)")

COLOURS = st.integers(0, 0xFFFFFF).map(lambda n: f"#{n:06X}")
LABS = st.tuples(
    *(st.integers(low, high).map(lambda n: n / 10) for low, high in ((0, 1000), (-1000, 1000), (-1000, 1000)))
)


@pytest.mark.parametrize("pair", range(len(PAIRS)))
def test_published_pairs(pair: int) -> None:
    one, two, expected = PAIRS[pair]  # Sharma, Wu and Dalal 2005, table 1
    allowed = (4.8045, 4.7461) if pair == SHARMA["JUMP"] else (expected,)
    assert any(difference(one, two) == pytest.approx(value, abs=5e-5) for value in allowed)
    assert any(difference(two, one) == pytest.approx(value, abs=5e-5) for value in allowed)


def test_lab_values() -> None:
    """Computed with colour-science 0.4.7."""
    assert lab("#808080")[0] == pytest.approx(53.585, abs=0.005)
    assert lab("#FF0000") == pytest.approx((53.233, 80.111, 67.224), abs=0.005)
    assert lab("#8B5A2B") == pytest.approx((42.7266, 15.4984, 34.6984), abs=0.005)
    assert chroma(lab("#FF0000")) == pytest.approx(104.579, abs=0.005)
    assert hue(lab("#FF0000")) == pytest.approx(40.00, abs=0.01)


@pytest.mark.parametrize(
    ("colour", "lrv"),
    [
        ("#808080", 21.586),
        ("#767676", 18.116),
        ("#F5F0E6", 87.446),
        ("#8B5A2B", 12.976),
        ("#2F4F4F", 6.761),
        ("#C19A6B", 35.510),
    ],
)  # CIE Y of the sRGB colour, 2° observer, computed with colour-science 0.4.7
def test_light_reflectance(colour: str, lrv: float) -> None:
    assert reflectance(colour) == pytest.approx(lrv, abs=0.01)


def test_a_near_grey_has_no_hue() -> None:
    assert hue(lab("#FFFFFF")) is None and hue(lab("#808080")) is None and hue((50.0, 3.0, 0.0)) == 0.0


@given(COLOURS, COLOURS)
def test_against_colour_science(one: str, two: str) -> None:
    theirs = [
        oracle.XYZ_to_Lab(oracle.sRGB_to_XYZ(np.array([int(c[i : i + 2], 16) / 255 for i in (1, 3, 5)])))
        for c in (one, two)
    ]
    assert lab(one) == pytest.approx(theirs[0], abs=1e-3)
    ours, expected = difference(lab(one), lab(two)), float(oracle.delta_E(*theirs, method="CIE 2000"))
    opposite = (
        abs(abs((hue(lab(one)) or 0.0) - (hue(lab(two)) or 0.0)) - 180) < 0.5
    )  # the formula jumps there
    greyish = min(chroma(lab(one)), chroma(lab(two))) < 0.05
    if not opposite and not greyish:
        assert ours == pytest.approx(expected, abs=2e-3)


@given(LABS, LABS)
def test_a_difference_is_one(one: Lab, two: Lab) -> None:
    assert difference(one, one) == 0
    assert difference(one, two) >= 0
    assert (difference(one, two) > 0) == (one != two)
