from wallwright.carcass.room import closing, free_span, mirrored, underside
from wallwright.core.shape import Box
from wallwright.core.units import Length
from wallwright.job.design import Unit
from wallwright.job.survey import Obstacle
from wallwright.library import load


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


def hung(kind, x, z, width):
    return Obstacle("H", kind, Length(x), Length(z), Length(width), Length(250), Length(200))


def test_a_filler_closes_to_what_runs_over_the_whole_width(wall):
    limits = load.limits()
    assert closing(wall().face, 25, 475, 2300, limits) == 2700
    assert closing(wall(obstacles=(hung("beam", 0, 2450, 1000),)).face, 25, 475, 2300, limits) == 2450
    assert closing(wall(obstacles=(hung("beam", 400, 2450, 1000),)).face, 25, 475, 2300, limits) is None
    assert closing(wall(obstacles=(hung("ac", 0, 2390, 1000),)).face, 25, 475, 2300, limits) is None


def test_no_filler_is_built_up_to_an_air_conditioner(wall):
    tower = Unit("T1", "tower", "left", height=Length(2300))
    names = {p.id for p in wall(tower, height=2550.0).carcass.parts}
    assert "T1-XT" in names
    under = wall(tower, height=2550.0, obstacles=(hung("ac", 450, 2350, 800),))
    assert "T1-XT" not in {p.id for p in under.carcass.parts}
