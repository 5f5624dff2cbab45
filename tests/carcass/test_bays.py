import itertools

import pytest
from hypothesis import given
from hypothesis import strategies as st

from wallwright.carcass.bays import bodies
from wallwright.core.shape import Box
from wallwright.core.units import Length
from wallwright.job.brief import Brief, Device
from wallwright.job.design import Bay, Unit

L = Length
T = 19.6  # ply 18 with laminate 0.8 on both faces


def divided(made, ref="C1"):
    asked = next(unit for unit in made.job.design.units if unit.ref == ref)
    return bodies(made.setout.unit(ref), asked, made.job, 700.0, made.limits)


def test_console_bays_are_at_most_900_clear_and_alike(wall):
    (body,) = divided(wall(Unit("C1", "console")))
    widths = {round(cell.clear.width, 6) for cell in body.cells}
    assert len(body.cells) == 3 and len(widths) == 1 and max(widths) <= 900
    assert sum(cell.clear.width for cell in body.cells) + 4 * T == pytest.approx(1885)
    assert all((cell.front, cell.drawers) == ("drawers", 2) for cell in body.cells)


def test_a_low_console_has_single_drawers(wall):
    (body,) = divided(wall(Unit("C1", "console", height=L(310))))
    assert {cell.drawers for cell in body.cells} == {1}


def test_boxes_get_a_bay_whose_front_lets_the_remote_through(wall):
    infrared = Brief(devices=(Device("D1", "set_top_box", control="ir"),))
    radio = Brief(devices=(Device("D1", "media_player", place="cabinet", control="radio"),))
    assert [cell.front for cell in divided(wall(Unit("C1", "console"), brief=infrared))[0].cells] == [
        "drawers",
        "cloth",
        "drawers",
    ]
    assert divided(wall(Unit("C1", "console"), brief=radio))[0].cells[1].front == "flap"


def test_a_long_console_is_built_of_boxes_that_a_sheet_gives(wall):
    made = wall(Unit("C1", "console", width=L(3000)), width=5000)
    whole = divided(made)
    assert [body.ref for body in whole] == ["C1a", "C1b"]
    assert all(body.box.width <= 2420 for body in whole)
    assert whole[0].box.right == pytest.approx(whole[1].box.x) and whole[1].box.right == pytest.approx(
        made.setout.unit("C1").box.right
    )
    assert [cell.number for body in whole for cell in body.cells] == [1, 2, 3, 4]


def test_a_tower_is_a_door_level_with_the_console_and_shelves_above(wall):
    made = wall(Unit("T1", "tower", "left"))
    whole = divided(made, "T1")
    assert len(whole) == 2  # 2570 of side does not come out of a 2440 sheet
    assert whole[0].box.z == 80  # on its plinth
    assert whole[0].box.top == pytest.approx(700)  # the console's top
    (lower,), (upper,) = whole[0].cells, whole[1].cells
    assert (lower.front, upper.front) == ("shutter", "open")
    assert upper.clear.height / (upper.shelves + 1) >= 300  # large books stand


def test_a_low_tower_is_one_box(wall):
    assert len(divided(wall(Unit("T1", "tower", "left", height=L(2000))), "T1")) == 1


def test_pinned_bay_widths_are_kept_and_the_rest_shared(wall):
    bays = (Bay("open", L(500)), Bay("drawers"), Bay("flap"))
    (body,) = divided(wall(Unit("C1", "console", width=L(1800), bays=bays)))
    a, b, c = (cell.clear.width for cell in body.cells)
    assert a == 500 and b == pytest.approx(c) == pytest.approx((1800 - 4 * T - 500) / 2)


@pytest.mark.parametrize(
    ("bays", "says"),
    [
        ((Bay("open", L(1700)), Bay("open")), r"design\.units\.C1\.bays: the bays need .* more"),
        ((Bay("open", L(300)), Bay("open", L(300))), r"leave .* over; leave the width of one bay out"),
    ],
)
def test_bays_that_do_not_go_in_say_so(wall, bays, says):
    with pytest.raises(ValueError, match=says):
        divided(wall(Unit("C1", "console", width=L(1700), bays=bays)))


def test_a_unit_without_an_inside_says_so(wall):
    with pytest.raises(ValueError, match="leaves no inside"):
        divided(wall(Unit("C1", "console", height=L(50))))


@given(st.floats(600, 5000), st.integers(1, 8))
def test_bays_and_boards_fill_the_unit_exactly(wall, width, count):
    made = wall(
        Unit("C1", "console", width=L(width), bays=(Bay("open"),) * count),
        width=6000,
        frame=Box(2275, 735, 1450, 830),
    )
    if (width - 2 * T) / count < 60:
        return
    whole = divided(made)
    cells = [cell for body in whole for cell in body.cells]
    assert sum(cell.clear.width for cell in cells) + (count + len(whole)) * T == pytest.approx(width)
    for one, other in itertools.pairwise(cells):
        gap = other.clear.x - one.clear.right
        assert gap == pytest.approx(T) or gap == pytest.approx(2 * T)
