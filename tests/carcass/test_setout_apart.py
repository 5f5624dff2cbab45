"""Automatic units and panels keep out of one another; what is pinned stays."""

from itertools import combinations

import pytest

from wallwright.carcass.record import SetOut
from wallwright.carcass.room import nearest, stretches
from wallwright.carcass.setout_apart import overlap
from wallwright.core.shape import Box
from wallwright.core.units import Length
from wallwright.job.design import Panel, Unit

L = Length


def met(things) -> list[tuple[str, str]]:
    return [(one.ref, other.ref) for one, other in combinations(things, 2) if overlap(one.box, other.box)]


def why(setout: SetOut, name: str):
    return next(item for item in setout.whys if item.name == name)


def test_free_stretches_and_the_nearest_place():
    things = [Box(100, 0, 200, 50), Box(250, 40, 100, 100), Box(500, 200, 50, 50), Box(900, 0, 300, 300)]
    assert stretches(0, 1000, 0, 100, things) == [(0, 100), (350, 900)]  # the one at 200 hangs clear above
    assert stretches(0, 1000, 60, 100, things) == [(0, 250), (350, 900)]
    assert stretches(0, 1000, 0, 100, []) == [(0, 1000)]
    assert nearest(120, 90, [(0, 100), (350, 900)]) == 10
    assert nearest(400, 90, [(0, 100), (350, 900)]) == 400
    assert nearest(400, 600, [(0, 100), (350, 900)]) is None


def test_two_of_each_kind_stand_clear_of_one_another(wall):
    kinds = ("desk", "shelf", "ledge", "arched_niche", "console", "tower")
    for kind in kinds:
        made = wall(Unit("A1", kind, "right"), Unit("A2", kind, "right"), width=7000)
        assert met(made.setout.units) == [], kind
        assert all(Box(0, 0, 7000, 2700).holds(unit.box) for unit in made.setout.units)
    made = wall(
        Unit("C1", "console"), Unit("D1", "desk"), Unit("D2", "desk"), Unit("S1", "shelf"), Unit("E1", "ledge"), width=6000
    )  # fmt: skip
    assert met(made.setout.units) == []
    says = why(made.setout, "shelf S1.z").says
    assert "D1" in says  # level with the screen's middle stands the desk
    assert made.setout.unit("S1").box.z > made.setout.unit("D1").box.top


def test_a_pinned_desk_is_kept_clear_of_by_the_one_before_it(wall):
    alone = wall(Unit("D1", "desk"), width=6000).setout.unit("D1").box
    made = wall(Unit("D1", "desk"), Unit("D2", "desk", x=L(alone.x + 100)), width=6000)
    assert made.setout.unit("D2").box.x == alone.x + 100
    assert met(made.setout.units) == []


def test_where_there_is_no_room_a_unit_stays_and_nothing_pinned_is_moved(wall):
    made = wall(Unit("D1", "desk"), Unit("D2", "desk"), Unit("D3", "desk"), width=3000)
    assert met(made.setout.units)
    made = wall(Unit("D1", "desk", x=L(100)), Unit("D2", "desk", x=L(150)), width=6000)
    assert [unit.box.x for unit in made.setout.units] == [100, 150]


def test_a_second_panel_goes_beside_the_first_and_is_not_called_pinned(wall):
    made = wall(
        Unit("C1", "console"),
        panels=(Panel("W1", "flat"), Panel("W2", "flat"), Panel("W3", "fluted")),
        width=6000,
    )
    first, second, third = made.setout.zones
    assert first.box.x == pytest.approx(6000 - first.box.right)  # behind the screen, as alone
    assert met(made.setout.zones) == []
    assert (second.box.x, second.box.right) == (0, pytest.approx(first.box.x, abs=1))
    assert third.box.x == pytest.approx(first.box.right) and third.box.right <= 6000
    assert not second.pinned and not why(made.setout, "panel W2.x").pinned
    assert "W1" in why(made.setout, "panel W2.x").says


def test_a_panel_gives_way_to_a_pinned_one_and_keeps_the_rest_of_its_place(wall):
    alone = wall(panels=(Panel("W1", "flat"),), width=6000).setout.zones[0].box
    made = wall(
        panels=(Panel("W1", "flat"), Panel("W2", "flat", x=L(alone.right - 500), width=L(900))), width=6000
    )
    first, second = made.setout.zones
    assert (second.box.x, second.box.width) == (alone.right - 500, 900)
    assert (first.box.x, first.box.right) == (alone.x, pytest.approx(second.box.x, abs=1))
    over = wall(
        panels=(
            Panel("W1", "flat", z=L(1400)),
            Panel("W2", "flat", x=L(alone.x), width=L(900), z=L(0), height=L(1400)),
        ),
        width=6000,
    )
    assert over.setout.zones[0].box.x == alone.x and met(over.setout.zones) == []  # one over the other


def test_a_panel_over_a_low_pinned_one_stays_where_it_is(wall):
    low = Panel("W2", "flat", x=L(1000), width=L(4000), z=L(0), height=L(300))
    alone = wall(Unit("C1", "console"), panels=(Panel("W1", "flat"),), width=6000).setout.zones[0].box
    made = wall(Unit("C1", "console"), panels=(Panel("W1", "flat"), low), width=6000)
    assert made.setout.zones[0].box == alone  # it begins on the console
