from __future__ import annotations

import runpy
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from shapely import box as polygon
from shapely.ops import unary_union

from wallwright.core.shape import Box, box_around
from wallwright.library import load
from wallwright.services.zones import covered_area, prescribed

BS = runpy.run_path(str(Path(__file__).parents[1] / "published/bs_7671.py"))
FACE = Box(0, 0, 4000, 2700)


def test_bands_of_the_regulation() -> None:
    assert load.limits().value("services.zone_band") == BS["ZONE_BAND"]  # BS 7671 522.6.202
    assert load.limits().value("services.zone_depth") == BS["ZONE_DEPTH"]  # BS 7671 522.6.202
    zones = prescribed(FACE, (), 150)
    assert zones == (
        Box(0, 2550, 4000, 150),
        Box(0, 0, 150, 2700),
        Box(3850, 0, 150, 2700),
    )  # the foot is no zone


def test_area_of_one_and_two_accessories() -> None:
    a, c = box_around((2000, 1150), 86, 86), box_around((1500, 350), 86, 86)
    # 4000·150 + 2·150·2550 + 86·2550 + 86·3700 - 86², by hand
    assert covered_area(prescribed(FACE, (a,), 150)) == pytest.approx(1_895_104)
    assert covered_area(prescribed(FACE, (a, c), 150)) == pytest.approx(2_410_416)


def test_accessories_in_one_row_share_its_band() -> None:
    row = [box_around((x, 350), 86, 86) for x in (500, 900)]
    assert len(prescribed(FACE, row, 150)) == 3 + 2 + 1


@settings(max_examples=100, deadline=None)
@given(
    st.lists(
        st.tuples(st.integers(0, 900), st.integers(0, 900), st.integers(1, 400), st.integers(1, 400)),
        max_size=8,
    )
)
def test_area_against_polygons(boxes: list[tuple[int, int, int, int]]) -> None:
    expected = unary_union([polygon(x, z, x + w, z + h) for x, z, w, h in boxes]).area if boxes else 0
    assert covered_area(Box(*box) for box in boxes) == pytest.approx(expected)
