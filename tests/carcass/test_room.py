from wallwright.carcass.room import free_span, mirrored, underside
from wallwright.core.shape import Box


def test_the_stretch_ends_at_what_stands_at_its_height():
    column, window = Box(0, 0, 300, 2700), Box(3000, 900, 800, 1200)
    assert free_span(25, 4000, 300, 700, 2000, [column, window], 20) == (320, 4000)  # the sill is above 700
    assert free_span(25, 4000, 300, 1000, 2000, [column, window], 20) == (320, 2980)


def test_what_stands_in_the_middle_cannot_be_avoided():
    assert free_span(0, 4000, 0, 700, 2000, [Box(1900, 0, 200, 600)], 20) == (0, 4000)


def test_the_lowest_thing_above_counts_where_it_reaches_over():
    beam = Box(3000, 2400, 1000, 300)
    assert underside(2700, 0, 3000, [beam]) == 2700
    assert underside(2700, 0, 3001, [beam]) == 2400


def test_a_mirror_twice_is_no_mirror():
    box = Box(100, 20, 450, 2000)
    assert mirrored(box, 4000) == Box(3450, 20, 450, 2000)
    assert mirrored(mirrored(box, 4000), 4000) == box
