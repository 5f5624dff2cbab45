from math import hypot

import pytest
from hypothesis import given
from hypothesis import strategies as st

from wallwright.carcass.setout import scribe_width, tower_height
from wallwright.core.shape import Box
from wallwright.core.units import Length
from wallwright.job.brief import Brief, Device
from wallwright.job.design import Unit
from wallwright.job.survey import Obstacle
from wallwright.library import load

L = Length


def thing(kind, x, z, width, height, ref="O1"):
    return Obstacle(ref, kind, L(x), L(z), L(width), L(height))


def test_a_console_alone_is_as_the_trade_makes_it(wall):
    """Width 1.1 to 1.5 times the screen, underside 8 to 16 in, body 12 to 18 in (common practice)."""
    made = wall(Unit("C1", "console"), frame=Box(1375, 1000, 1450, 830))
    box = made.setout.unit("C1").box
    assert box == Box(2100 - 1885 / 2, 300, 1885, 400)  # 1.3 × 1450, about the screen's middle
    assert 203.2 <= box.z <= 406.4 and 304.8 <= box.height <= 457.2
    assert made.setout.unit("C1").depth == 400 and made.setout.unit("C1").hung


@pytest.mark.parametrize(
    ("lower_edge", "soundbar", "z", "height"),
    [
        (800, False, 300, 400),  # just enough
        (735, False, 235, 400),  # the underside comes down first
        (703, False, 203, 400),  # to its lowest
        (650, False, 203, 347),  # then the body
        (500, False, 203, 305),  # never under 12 in: the rest is left to the rules
        (735, True, 203, 382),  # a soundbar needs 150
    ],
)
def test_the_console_makes_room_for_the_screen(wall, lower_edge, soundbar, z, height):
    brief = Brief(devices=(Device("D1", "soundbar"),)) if soundbar else Brief()
    box = (
        wall(Unit("C1", "console"), frame=Box(1375, lower_edge, 1450, 830), brief=brief).setout.unit("C1").box
    )
    assert (box.z, box.height) == (z, height)


def test_a_soundbar_on_the_screen_takes_no_room_on_the_console(wall):
    brief = Brief(devices=(Device("D1", "soundbar", place="screen"),))
    assert wall(Unit("C1", "console"), brief=brief).setout.unit("C1").box.z == 235


def test_the_console_keeps_off_towers_and_walls_and_stays_centred(wall):
    made = wall(Unit("T1", "tower", "left"), Unit("T2", "tower", "right"), Unit("C1", "console"), width=2500)
    console, left, right = (made.setout.unit(ref).box for ref in ("C1", "T1", "T2"))
    assert console.centre[0] == pytest.approx(1250)
    assert console.x - left.right >= 10 - 1e-9 and right.x - console.right >= 10 - 1e-9
    assert console.width >= made.frame.width
    assert made.frame.x - left.right >= 60  # a hand beside the screen (common practice)
    assert (
        left.x == 25 and left.width == 440
    )  # 525 − 60 − 25; 25 scribe (8 + 8 + 5 rounded up); 450 does not go in


def test_an_off_centre_screen_gets_a_console_as_wide_as_itself(wall):
    made = wall(Unit("C1", "console"), width=2400, frame=Box(40, 735, 1450, 830))
    box = made.setout.unit("C1").box
    assert box.width == 1480 and box.x == 25  # the same each side of the middle: 2 × (765 − 25)


def test_pinned_values_stay_and_the_rest_follows(wall):
    unit = Unit("C1", "console", x=L(500), z=L(350), width=L(2000), height=L(380), depth=L(450))
    made = wall(unit, Unit("T1", "tower", "left", x=L(300), width=L(600), height=L(2000)))
    console = made.setout.unit("C1")
    assert console.box == Box(500, 350, 2000, 380) and console.depth == 450  # though it meets the tower
    assert console.pinned == {"x", "z", "width", "height", "depth"}
    assert made.setout.unit("T1").box == Box(300, 0, 600, 2000)
    pinned = {why.name for why in made.setout.whys if why.pinned}
    assert pinned == {f"console C1.{n}" for n in ("x", "z", "width", "height", "depth")} | {
        f"tower T1.{n}" for n in ("x", "width", "height")
    }


def test_a_pinned_height_moves_only_what_is_free(wall):
    box = wall(Unit("C1", "console", height=L(420))).setout.unit("C1").box
    assert (box.z, box.height) == (215, 420)  # 735 − 100 − 420
    box = wall(Unit("C1", "console", z=L(300))).setout.unit("C1").box
    assert (box.z, box.height) == (300, 335)


def test_a_console_set_on_the_floor_stands_on_its_plinth(wall):
    unit = wall(Unit("C1", "console", hung=False), frame=Box(1375, 1000, 1450, 830)).setout.unit("C1")
    assert not unit.hung and unit.box.z == 0 and unit.box.height == 480


def test_towers_mirror_each_other(whole):
    left, right = whole.setout.unit("T1").box, whole.setout.unit("T2").box
    assert right == Box(whole.face.width - left.right, left.z, left.width, left.height)


def test_a_tower_goes_past_a_column_and_under_a_beam(wall):
    column, beam = thing("column", 0, 0, 300, 2700), thing("beam", 0, 2450, 4200, 250, "O2")
    box = wall(Unit("T1", "tower", "left"), obstacles=(column, beam)).setout.unit("T1").box
    assert box.x == 325 and box.top <= 2450 - 50


def test_a_tower_stays_clear_of_a_window_beside_it(wall):
    window = thing("window", 400, 900, 600, 1200)
    box = wall(Unit("T1", "tower", "left"), obstacles=(window,)).setout.unit("T1").box
    assert box == Box(25, 0, 355, box.height)  # 20 clear of the window


def test_a_right_tower_goes_past_a_door_as_a_left_one_would(wall):
    door = thing("door", 3900, 0, 300, 2100)
    box = wall(Unit("T1", "tower", "right"), obstacles=(door,)).setout.unit("T1").box
    assert box.right == 3900 - 25


def test_an_obstacle_to_be_removed_is_no_obstacle(wall):
    column = Obstacle("O1", "column", L(0), L(0), L(300), L(2700), state="remove")
    assert wall(Unit("T1", "tower", "left"), obstacles=(column,)).setout.unit("T1").box.x == 25


@given(st.floats(2200, 3600), st.floats(250, 700))
def test_a_tower_can_be_stood_up(ceiling, depth):
    """√(h² + d²) ≤ lowest ceiling − 10 mm (common practice)."""
    height = tower_height(ceiling, 0, depth, ceiling, load.limits())
    assert hypot(height, depth) <= ceiling - 10 + 1e-6
    assert height <= ceiling - 50 + 1e-5


def test_a_deep_tower_is_lowered_for_standing_up():
    """2400 × 400: diagonal 2433; 2350 × 350: 2376 (arithmetic)."""
    assert tower_height(2400, 0, 350, 2400, load.limits()) == 2350
    assert tower_height(2400, 0, 600, 2400, load.limits()) == 2313  # √(2390² − 600²) = 2313.4


def test_two_towers_without_a_side_take_both_ends(wall):
    made = wall(Unit("T1", "tower"), Unit("T2", "tower"))
    assert (made.setout.unit("T1").side, made.setout.unit("T2").side) == ("left", "right")


def test_two_towers_at_one_end_stand_side_by_side(wall):
    made = wall(Unit("T1", "tower", "left"), Unit("T2", "tower", "left"))
    assert made.setout.unit("T2").box.x == made.setout.unit("T1").box.right


def test_the_shelf_stands_beside_the_screen_or_above_it(wall):
    beside = wall(Unit("S1", "shelf")).setout.unit("S1").box
    assert beside.x > 2825 and beside.right <= 4200 - 25 and beside.width == 900
    above = wall(Unit("S1", "shelf"), width=2000, frame=Box(275, 735, 1450, 830)).setout.unit("S1").box
    assert above.z == 735 + 830 + 250 and above.centre[0] == 1000
    assert above.height == pytest.approx(25 + 2 * 0.8)  # ply 25 laminated on both faces


def test_the_filler_takes_the_taper():
    """A filler is at least taper + 10, at most 60 (common practice)."""
    limits = load.limits()
    assert [scribe_width(spread, limits) for spread in (0, 15, 30, 90)] == [25, 25, 40, 60]


def test_every_measure_says_why(whole):
    names = {why.name for why in whole.setout.whys}
    for unit in whole.setout.units:
        for name in ("x", "z", "width", "height", "depth"):
            assert f"{unit.kind} {unit.ref}.{name}" in names
    assert {"panel W1.flutes", "panel W1.joints", "panel W1.build_up"} <= names


@pytest.mark.parametrize(
    ("unit", "says"),
    [
        (Unit("C1", "console", board="plywood18"), r"design\.units\.C1\.board: no board 'plywood18' .*ply18"),
        (Unit("C1", "console", front_finish="oak"), r"design\.units\.C1\.front_finish: no finish 'oak'"),
    ],
)
def test_an_unknown_board_names_its_field_and_the_nearest(wall, unit, says):
    with pytest.raises(ValueError, match=says):
        wall(unit)


@given(
    st.floats(2000, 7000), st.floats(2200, 3400), st.floats(700, 1900), st.floats(600, 1600),
    st.lists(st.sampled_from(["console", "tower", "tower", "shelf"]), min_size=1, max_size=4),
)  # fmt: skip
def test_automatic_units_stay_on_the_wall_and_apart(wall, width, height, frame_width, centre, kinds):
    frame_width = min(frame_width, width - 900)
    frame_height = frame_width * 0.57
    frame = Box((width - frame_width) / 2, max(centre - frame_height / 2, 450), frame_width, frame_height)
    units = [Unit(f"U{k}", kind) for k, kind in enumerate(kinds)]
    made = wall(*units, width=width, height=height, frame=frame)
    placed = [unit for unit in made.setout.units if unit.kind != "shelf"]
    if sum(unit.kind == "tower" for unit in placed) > 2 or sum(unit.kind == "console" for unit in placed) > 1:
        return
    for unit in placed:
        assert unit.box.x >= -1e-6 and unit.box.right <= width + 1e-6 and unit.box.top <= height + 1e-6
        for other in placed:
            assert unit is other or not unit.box.grown(-1e-6).meets(other.box)


def test_a_tower_too_deep_to_be_stood_up_keeps_its_height(wall):
    """3000 deep under 2700: no height goes up on its diagonal, so none is taken off for it; its depth is what is wrong."""
    limits = load.limits()
    assert tower_height(2700, 0, 3000, 2700, limits) == 2650 == tower_height(2700, 0, 350, 2700, limits)
    assert tower_height(2700, 0, 700, 2700, limits) == int(
        (2690**2 - 700**2) ** 0.5
    )  # a little lower, as it always was
    assert wall(Unit("T1", "tower", "left", depth=Length(3000))).setout.unit("T1").box.height == 2650
