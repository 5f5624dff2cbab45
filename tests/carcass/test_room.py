from dataclasses import replace
from math import inf

import pytest

from wallwright.carcass.room import closing, ends, free_span, mirrored, soffit, underside
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


def test_a_filler_above_stands_back_under_a_beam_shallower_than_the_unit(wall):
    """200 proud: a unit of 400 has its filler with its face at 200, under the soffit; where nobody measured the beam, in its front."""
    tower = Unit("T1", "tower", "left", depth=Length(400), height=Length(2400))
    beam = hung("beam", 0, 2450, 1000)
    over = Box(25, 0, 450, 2400)
    assert soffit(wall(obstacles=(beam,)).face, over, 2450, 18) == 200
    assert soffit(wall(obstacles=(beam,)).face, over, 2700, 18) == inf
    pipe = Obstacle("PI", "pipe", Length(100), Length(0), Length(80), Length(2450), Length(190))
    assert soffit(wall(obstacles=(beam, pipe)).face, over, 2450, 18) == inf  # 190 and 18 are more than 200
    assert soffit(wall(obstacles=(beam, replace(pipe, projection=Length(80)))).face, over, 2450, 18) == 200
    part = {p.id: p for p in wall(tower, obstacles=(beam,)).carcass.parts}["T1-XT"]
    assert part.block.y == -200 and part.block.z + part.block.dz == 2450
    unknown = replace(beam, projection=Length(0))
    front = {p.id: p for p in wall(tower, obstacles=(unknown,)).carcass.parts}["T1-XT"]
    assert front.block.y < -350


def column(x, out, z=0.0, high=2700.0):
    return Obstacle("CO", "column", Length(x), Length(z), Length(300), Length(high), Length(out))


@pytest.mark.parametrize(
    ("out", "z", "high", "left"),
    [(400, 0, 2700, 300), (380, 0, 2700, 0), (400, 500, 2200, 330), (400, 2600, 100, 0)],
)  # as deep; less deep; as deep and shorter; above it
def test_a_side_filler_closes_to_a_column_as_deep_as_the_unit(wall, out, z, high, left):
    face = wall(obstacles=(column(0, out, z, high),)).face
    assert ends(face, Box(330, 0, 450, 2300), 400) == (left, face.width)
    right = wall(obstacles=(column(face.width - 300, out, z, high),)).face
    expected = face.width - left
    assert ends(right, Box(face.width - 780, 0, 450, 2300), 400) == (0, expected)


def test_the_filler_beside_a_column_is_made_and_lies_between(wall):
    tower = Unit("T1", "tower", "left", x=Length(330), width=Length(450), depth=Length(400))
    deep = {p.id: p for p in wall(tower, obstacles=(column(0, 400),)).carcass.parts if p.role == "filler"}
    strips = [p for name, p in deep.items() if name.startswith("T1-XL")]
    assert strips and all((p.block.x, p.block.dx) == (300, 30) for p in strips)
    shallow = wall(tower, obstacles=(column(0, 150),)).carcass.parts
    assert not [p for p in shallow if p.id.startswith("T1-XL")]  # 330 mm to the wall: no filler


def test_no_filler_is_built_up_to_an_air_conditioner(wall):
    tower = Unit("T1", "tower", "left", height=Length(2300))
    names = {p.id for p in wall(tower, height=2550.0).carcass.parts}
    assert "T1-XT" in names
    under = wall(tower, height=2550.0, obstacles=(hung("ac", 450, 2350, 800),))
    assert "T1-XT" not in {p.id for p in under.carcass.parts}
