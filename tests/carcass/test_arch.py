import math

import pytest
from hypothesis import given
from hypothesis import strategies as st
from shapely.geometry import LineString, Polygon

from wallwright.carcass.arch import arch_over, kerfs, outline
from wallwright.core.shape import Box

boxes = st.builds(Box, st.floats(0, 2000), st.floats(0, 500), st.floats(200, 3000), st.floats(800, 2600))


def test_a_half_round_has_half_its_span_as_radius():
    arch = arch_over(Box(100, 0, 900, 2000), 450)
    assert arch.radius == pytest.approx(450) and arch.springing == pytest.approx(1550)
    assert arch.centre == pytest.approx((550, 1550)) and arch.length == pytest.approx(math.pi * 450)
    assert arch.area == pytest.approx(math.pi * 450**2 / 2)


def test_a_segment_by_the_sagitta():
    # a rise of 150 over a span of 1200: (1200²/4 + 150²) / 300 = 1275 (plane geometry)
    arch = arch_over(Box(0, 0, 1200, 2000), 150)
    assert arch.radius == pytest.approx(1275)
    assert arch.height_at(600) == pytest.approx(2000) and arch.height_at(0) == arch.height_at(1200) == 1850


@given(boxes, st.floats(0.05, 1.0))
def test_outline_length_and_area_against_shapely(box, share):
    arch = arch_over(box, share * min(box.width / 2, box.height))
    curve = LineString(arch.points(400))
    assert curve.length == pytest.approx(arch.length, rel=1e-3)
    shape = Polygon(outline(box, arch))
    below = box.width * (arch.springing - box.z)
    assert shape.is_valid and shape.area == pytest.approx(below + arch.area, rel=5e-3)
    assert shape.bounds == pytest.approx((box.x, box.z, box.right, box.top))
    for x, z in arch.points(8):
        assert arch.height_at(x) == pytest.approx(z, abs=1e-6 * arch.radius + 1e-6)


def test_an_arch_cannot_rise_more_than_half_its_span_nor_out_of_its_box():
    with pytest.raises(ValueError, match="at most 450"):
        arch_over(Box(0, 0, 900, 2000), 500)
    with pytest.raises(ValueError, match="at most 300"):
        arch_over(Box(0, 0, 900, 300), 400)


def test_kerfs_close_when_the_board_is_round_and_show_no_flats():
    arch = arch_over(Box(0, 0, 900, 2000), 450)
    # a half round lined with 12 mm board, 2 mm left, 3.2 mm blade: π · 10 / 3.2 = 9.8 cuts close it (plane geometry) ...
    loose = kerfs(arch, 12, 2, 3.2, 100)
    assert loose.count == 10 and loose.spacing == pytest.approx(math.pi * 450 / 10)
    assert loose.count * loose.width >= math.pi * 10 > (loose.count - 1) * loose.width
    # ... but 141 mm apart each flat would stand 141² / (8 · 450) = 5.6 mm off the curve; 0.3 mm asks for √(8 · 450 · 0.3) = 32.9
    cuts = kerfs(arch, 12, 2, 3.2, 0.3)
    assert cuts.spacing <= math.sqrt(8 * 450 * 0.3) < arch.length / (cuts.count - 1)
    assert 450 - math.sqrt(450**2 - (cuts.spacing / 2) ** 2) <= 0.3


def test_a_straight_head_is_a_rectangle():
    assert outline(Box(1, 2, 3, 4), None) == ((1, 2), (1, 6), (4, 6), (4, 2))
