import itertools

import pytest
from hypothesis import given
from hypothesis import strategies as st

from wallwright.carcass.fronts import front_stock, front_width, ir_open
from wallwright.core.units import Length
from wallwright.job.design import Bay, Unit

L = Length


def fronts_of(made, ref="C1"):
    return [part for part in made.carcass.parts if part.role == "front" and part.unit == ref]


def test_two_fronts_over_1200():
    """W 1200, 2 fronts, reveal 3, gap 3: 595.5 (arithmetic)."""
    assert front_width(1200, 2, 3, 3) == 595.5


@given(st.floats(300, 5000), st.integers(1, 9), st.floats(0, 6), st.floats(1, 6))
def test_fronts_reveals_and_gaps_fill_the_width(width, count, reveal, gap):
    assert count * front_width(width, count, reveal, gap) + 2 * reveal + (count - 1) * gap == pytest.approx(
        width
    )


def test_like_bays_get_like_fronts_with_even_gaps(wall):
    made = wall(Unit("C1", "console", width=L(1700), bays=(Bay("flap"),) * 3))
    parts = sorted(fronts_of(made), key=lambda part: part.block.x)
    assert len({round(part.length, 6) for part in parts}) == 1
    gaps = [b.block.x - a.block.x - a.block.dx for a, b in itertools.pairwise(parts)]
    assert gaps == pytest.approx([3, 3])
    box = made.setout.unit("C1").box
    assert (
        parts[0].block.x - box.x
        == pytest.approx(3)
        == pytest.approx(box.right - parts[-1].block.x - parts[-1].block.dx)
    )


def test_unlike_bays_meet_over_their_division(wall):
    made = wall(Unit("C1", "console", width=L(1700), bays=(Bay("flap", L(400)), Bay("flap"))))
    a, b = sorted(fronts_of(made), key=lambda part: part.block.x)
    division = next(part for part in made.carcass.parts if part.role == "division")
    middle = division.block.x + division.block.dx / 2
    assert a.block.x + a.block.dx == pytest.approx(middle - 1.5) and b.block.x == pytest.approx(middle + 1.5)


def test_a_wide_bay_gets_a_pair_of_leaves(wall):
    made = wall(Unit("C1", "console", width=L(1700), bays=(Bay("shutter"),) * 2))
    leaf = ((1700 - 6 - 3) / 2 - 3) / 2
    assert [part.length for part in fronts_of(made)] == pytest.approx([leaf] * 4)


def test_drawers_share_the_height(wall):
    made = wall(Unit("C1", "console", height=L(400), z=L(200), bays=(Bay("drawers", drawers=2),) * 2))
    parts = fronts_of(made)
    assert len(parts) == 4 and {part.block.dz for part in parts} == {(400 - 6 - 3) / 2}


def test_a_front_over_an_open_bay_covers_the_shelf_between(whole):
    (door,) = fronts_of(whole, "T1")
    body_top = next(part for part in whole.carcass.parts if part.id == "T1a-T").block
    assert door.block.z + door.block.dz == pytest.approx(body_top.z + body_top.dz - 3)


def test_open_bays_have_no_front(wall):
    assert fronts_of(wall(Unit("C1", "console", bays=(Bay("open"),) * 2))) == []


def test_what_lets_infrared_through(whole):
    unit = whole.setout.unit("C1")
    assert [ir_open(unit, kind) for kind in ("open", "cloth", "glass")] == [True, True, True]
    assert ir_open(unit, "slatted")  # in part: each beam is judged by its angle
    assert not any(ir_open(unit, kind) for kind in ("drawers", "shutter", "flap"))


def test_a_mirror_front_stops_infrared(wall):
    unit = wall(Unit("C1", "console", front_finish="mirror_bronze")).setout.unit("C1")
    assert front_stock(unit, "glass").finish == "mirror_bronze" and not ir_open(unit, "glass")


def test_spray_goes_on_fibreboard(wall):
    unit = wall(Unit("C1", "console", front_finish="sprayed_neutral")).setout.unit("C1")
    assert front_stock(unit, "shutter").board == "mdf18"


def test_figure_runs_across_a_console_and_up_a_tower(whole):
    assert all(part.length == part.block.dx for part in fronts_of(whole, "C1"))
    assert all(part.length == part.block.dz for part in fronts_of(whole, "T1"))


def test_a_flap_too_narrow_for_two_hinges_is_refused_with_the_way_out(wall):
    unit = Unit("C1", "console", width=L(500), bays=(Bay("flap", width=L(120)), Bay("drawers")))
    with pytest.raises(
        ValueError, match=r"design\.units\.C1\.bays\.0\.front: a flap of \d+ mm .*\d+ mm wider"
    ):
        _ = wall(unit).carcass
