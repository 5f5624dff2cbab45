import itertools

import pytest
from hypothesis import given
from hypothesis import strategies as st

from wallwright.carcass.wall_fields import automatic, columns_for, fields, stretches, strips
from wallwright.core.shape import Box

boxes = st.builds(Box, st.just(300.0), st.just(100.0), st.floats(900, 5000), st.floats(600, 2600))


def test_an_odd_number_of_fields_near_the_proportion():
    # 3 fields of 1000 × 2000 have 0.5, 5 have 0.3: three are nearer to five by eight
    assert columns_for(3000, 2000, 0.62, 180) == 3
    assert columns_for(3000, 1000, 0.62, 180) == 5
    assert columns_for(500, 2000, 0.62, 180) == 1


@given(boxes, st.integers(1, 7), st.integers(1, 3), st.floats(10, 60))
def test_fields_and_strips_fill_the_zone(box, columns, rows, strip):
    made = fields(box, columns, rows, strip)
    laid = strips(box, made, columns)
    assert sum(one.area for one in made) + sum(one.area for one in laid) == pytest.approx(box.area)
    for a, b in itertools.combinations((*made, *laid), 2):
        shared = a.shared(b)
        assert shared is None or shared.area < 1e-3
    assert all(box.grown(1e-6).holds(one) for one in (*made, *laid))


def test_the_middle_field_is_wide_enough_for_the_screen():
    zone, screen = Box(0, 500, 3600, 1900), Box(1075, 800, 1450, 830)
    count, wide = automatic(zone, screen, 40, 60, 0.62, 180)
    made = fields(zone, count, 1, 40, wide)
    middle = made[count // 2]
    assert count % 2 and count > 1 and wide == 1450 + 120
    assert middle.x <= screen.x - 60 + 1e-6 and middle.right >= screen.right + 60 - 1e-6
    assert made[0].width == pytest.approx(made[-1].width) and made[0].width >= 180


def test_one_field_where_the_screen_leaves_only_slots():
    assert automatic(Box(0, 500, 1900, 1900), Box(225, 800, 1450, 830), 40, 60, 0.62, 180) == (1, None)


def test_a_zone_away_from_the_screen_is_divided_evenly():
    count, wide = automatic(Box(0, 0, 3000, 500), Box(700, 900, 1450, 830), 40, 60, 0.62, 180)
    assert wide is None and count == columns_for(2960, 500, 0.62, 220)


def test_stretches_close_on_the_width():
    out = stretches(3000, 5, 100, 1200)
    assert out[0][0] == 100 and out[-1][0] + out[-1][1] == pytest.approx(2900) and out[2][1] == 1200
    assert out[0][1] == pytest.approx((3000 - 600 - 1200) / 4)
