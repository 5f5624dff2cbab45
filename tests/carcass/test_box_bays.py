"""A console's bays are as wide as the boxes in them ask for, where the whole width lets them."""

import pytest

from wallwright.carcass.bays import bodies
from wallwright.carcass.box_bays import in_cabinet, shared_out, widened
from wallwright.core.units import Length
from wallwright.job.brief import Brief, Device
from wallwright.job.design import Bay, Unit

L = Length
SIDE = 40.0  # clear beside a box, common practice
TWO = Brief(devices=(Device("D1", "av_receiver"), Device("D2", "disc_player")))  # 435 and 430 mm wide
GIVEN = (Bay("drawers"), Bay("open"), Bay("drawers"), Bay("open"))


def cells(made):
    asked = next(unit for unit in made.job.design.units if unit.ref == "C1")
    return [
        (cell.front, round(cell.clear.width, 1))
        for body in bodies(made.setout.unit("C1"), asked, made.job, 700.0, made.limits)
        for cell in body.cells
    ]


def test_the_boxes_of_the_cabinet_are_taken_the_warmest_first_and_no_fan_takes_width():
    brief = Brief(devices=(*TWO.devices, Device("F", "cabinet_fan"), Device("T", "games_console", "tower")))
    assert in_cabinet(brief, SIDE) == [(150, 475), (15, 470)]
    assert in_cabinet(
        Brief(devices=(Device("D2", "disc_player", watts=200, width=L(300)), *TWO.devices[:1])), SIDE
    ) == [
        (200, 340),
        (150, 475),
    ]


def test_a_box_goes_into_the_bay_that_is_least_warm_of_those_that_take_it():
    assert shared_out([(150, 475), (15, 470), (5, 140)], [480, 900]) == [475, 610]
    assert shared_out([(150, 475), (15, 470)], [480, 300]) is None


def test_two_wide_boxes_get_two_bays_alike_at_both_sides(wall):
    assert cells(wall(Unit("C1", "console"), brief=TWO)) == [
        ("cloth", 602.2),
        ("drawers", 602.2),
        ("cloth", 602.2),
    ]


def test_two_small_boxes_share_one_bay(wall):
    small = Brief(devices=(Device("D1", "media_player", "cabinet"), Device("D2", "set_top_box")))
    assert [front for front, _ in cells(wall(Unit("C1", "console"), brief=small))] == [
        "drawers",
        "cloth",
        "drawers",
    ]


@pytest.mark.parametrize("width", [1500, 1885])
def test_bays_whose_width_is_left_open_are_as_wide_as_their_boxes(wall, width):
    made = cells(wall(Unit("C1", "console", width=L(width), bays=GIVEN), brief=TWO))
    assert [clear for _, clear in made[1::2]] == [475, 470]
    assert made[0] == made[2] and made[0][1] >= 200
    assert sum(clear for _, clear in made) == pytest.approx(width - 5 * 19.6, abs=0.2)


def test_bays_wide_enough_stay_alike_and_a_width_that_is_given_stays(wall):
    alike = cells(wall(Unit("C1", "console", width=L(2300), bays=GIVEN), brief=TWO))
    assert len({clear for _, clear in alike}) == 1
    given = (Bay("drawers", width=L(400)), Bay("open"), Bay("drawers"), Bay("open"))
    kept = cells(wall(Unit("C1", "console", width=L(1885), bays=given), brief=TWO))
    assert kept[0] == ("drawers", 400) and [clear for _, clear in kept[1::2]] == [475, 470]


def test_where_the_width_does_not_suffice_the_bays_stay_alike(wall):
    narrow = cells(wall(Unit("C1", "console", width=L(1200), bays=GIVEN), brief=TWO))
    assert len({clear for _, clear in narrow}) == 1


def test_where_every_open_bay_is_held_the_last_takes_what_is_over():
    made = widened((Bay("open"), Bay("open")), [(150, 800), (15, 300)], 1150, 900, 200)
    assert made is not None and [bay.width and bay.width.mm for bay in made] == [800, None]
    assert widened((Bay("drawers"),), [(150, 475)], 900, 900, 200) is None


def inside(made, ref):
    """Clear width between the sides of a tower."""
    asked = next(unit for unit in made.job.design.units if unit.ref == ref)
    return bodies(made.setout.unit(ref), asked, made.job, 700.0, made.limits)[0].cells[0].clear.width


GAME = Brief(devices=(Device("G", "games_console", "tower"), Device("R", "router", "tower")))  # 390 mm wide
PAIR = Unit("T1", "tower", "left"), Unit("T2", "tower", "right")


def test_towers_are_as_wide_as_their_widest_box_and_alike(wall):
    made = wall(*PAIR, brief=GAME)
    left, right = (made.setout.unit(ref).box for ref in ("T1", "T2"))
    assert left.width == right.width > 450
    assert 390 + SIDE <= inside(made, "T1") < 390 + SIDE + 1
    assert left.x == pytest.approx(4200 - right.right)  # the one mirrors the other


@pytest.mark.parametrize("device", [
    Device("R", "router", "tower"), Device("G", "games_console", "cabinet"), Device("G", "games_console", "tower", width=L(300))])  # fmt: skip
def test_small_boxes_and_those_in_the_console_leave_a_tower_as_it_is(wall, device):
    made = wall(*PAIR, brief=Brief(devices=(device,)))
    assert [made.setout.unit(ref).box.width for ref in ("T1", "T2")] == [450, 450]


def test_a_tower_takes_no_room_that_the_wall_has_not_nor_a_span_that_its_boards_have_not(wall):
    narrow = wall(*PAIR, brief=GAME, width=2400)  # a screen of 1450 in the middle
    assert narrow.setout.unit("T1").box.width < 450
    assert (
        wall(*PAIR, brief=GAME, width=2400).setout.unit("T1").box
        == wall(*PAIR, width=2400).setout.unit("T1").box
    )
    wide = Brief(devices=(Device("G", "games_console", "tower", width=L(1500)),))
    assert inside(wall(*PAIR, brief=wide, width=7000), "T1") == pytest.approx(900, abs=1)  # common practice
    fixed = wall(Unit("T1", "tower", "left", width=L(400)), brief=GAME)
    assert fixed.setout.unit("T1").box.width == 400  # as pinned
