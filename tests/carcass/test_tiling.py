import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from wallwright.carcass.tiling import centred, courses, even, from_head, joint_width

sizes = st.floats(200, 6000)
tiles = st.floats(50, 1200)
joints = st.floats(0, 10)


def whole(row):
    return sum(row.pieces) + row.joint * (len(row.pieces) - 1)


@given(sizes, tiles, joints)
def test_every_row_closes_on_its_length(width, tile, joint):
    for row in (centred(width, tile, joint), even(width, tile, joint), from_head(width, tile, joint)):
        assert whole(row) == pytest.approx(width)
        assert max(row.pieces) <= tile + 1e-6 or len(row.pieces) == 1


@given(sizes, tiles, joints)
def test_tiles_lie_alike_about_the_middle_and_never_end_in_a_sliver_that_the_other_way_avoids(
    width, tile, joint
):
    row = centred(width, tile, joint)
    assert row.pieces == pytest.approx(tuple(reversed(row.pieces)))
    if (
        len(row.pieces) > 2
    ):  # of two cuts, one with a tile and one with a joint on the middle, the wider is at least half
        assert row.cuts[0] >= (tile - joint) / 2 - 1e-6


def test_a_joint_or_a_tile_on_the_middle_by_the_wider_cut():
    # 2050 with tiles of 600 and 2 mm joints: a tile on the middle leaves (2050 - 600)/2 - 2 = 723 = 600 + 2 + 121;
    # a joint on it leaves (2050 - 2)/2 = 1024 = 600 + 2 + 422 (plane geometry)
    row = centred(2050, 600, 2)
    assert row.pieces == pytest.approx((422, 600, 600, 422)) and row.middle_joint
    assert centred(2450, 600, 2).pieces == pytest.approx((321, 600, 600, 600, 321))


def test_courses_keep_whole_tiles_at_the_head_unless_the_foot_would_be_a_sliver():
    # common practice: whole tiles where one looks, no cut below a third
    assert from_head(2100, 600, 3).pieces == pytest.approx((291, 600, 600, 600))
    assert courses(2100, 600, 3, 0.33).pieces == pytest.approx((291, 600, 600, 600))
    thin = courses(1900, 600, 3, 0.33)  # 1900 - 3 × 603 = 91: a sliver
    assert thin.pieces[0] == pytest.approx(thin.pieces[-1]) and thin.pieces[0] >= 0.33 * 600


def test_slabs_are_as_few_as_can_be_and_book_matched_ones_come_in_pairs():
    assert even(2050, 1200, 5).pieces == pytest.approx((1022.5, 1022.5))
    assert len(even(3500, 1200, 5).pieces) == 3 and len(even(3500, 1200, 5, pairs=True).pieces) == 4
    assert even(1000, 1200, 5).pieces == (1000,) and len(even(1000, 1200, 5, pairs=True).pieces) == 2


def test_joints_lie_between_the_pieces():
    row = even(2050, 1200, 5)
    assert row.joints(100) == pytest.approx((100 + 1025,))
    assert centred(2050, 600, 2).joints(0) == pytest.approx((423, 1025, 1627))


def test_joint_by_the_size_of_the_piece():
    # BS 5385-1:2018 as adhesive makers' notes give it: ≥ 2 below 0.1 m², ≥ 3 from 0.1 to 1 m² with a side up to 1200, 5 for panels
    assert joint_width(300, 300, 2, 3, 5) == 2
    assert joint_width(600, 1200, 2, 3, 5) == 3
    assert joint_width(1000, 3000, 2, 3, 5) == 5
    assert math.isclose(300 * 333.4, 0.1e6, rel_tol=1e-3) and joint_width(300, 333.4, 2, 3, 5) == 3
