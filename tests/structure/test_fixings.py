import itertools

import pytest

from wallwright.core.shape import Box
from wallwright.core.units import Length
from wallwright.job.design import Mount, Panel, Unit
from wallwright.job.survey import Backer, Obstacle
from wallwright.library import load
from wallwright.structure import hung
from wallwright.structure.fixings import MOST_USED, UNFOUND, UNKNOWN, bolt_bending, centre_of_mass
from wallwright.structure.group import group_factor
from wallwright.structure.wall import anchors_for

L = Length
CONSOLE = Unit("C1", "console")


def test_every_wall_but_an_unknown_one_has_fixings():
    walls = (
        "brick",
        "solid_block",
        "hollow_block",
        "aac_block",
        "concrete",
        "metal_stud",
        "timber_stud",
        "dot_and_dab",
    )
    for name in walls:
        rows = anchors_for(name)
        assert rows and all(row.pull > 0 and row.shear > 0 for row in rows)
        assert [row.pull for row in rows] == sorted(row.pull for row in rows)  # lightest first
    assert anchors_for("unknown") == ()
    assert {row.substrate for row in load.anchors().values()} == set(walls)


def test_an_unknown_wall_holds_nothing(wall):
    """An unknown wall is a stop: no fixing is offered."""
    done = wall(CONSOLE, Unit("T1", "tower", "left"), Unit("S1", "shelf"), substrate="unknown")
    assert [check.ref for check in done.structure.fixings] == ["screen", "C1", "T1", "S1"]
    for check in done.structure.fixings:
        assert (check.capacity_pull, check.capacity_shear, check.anchor) == (0, 0, UNKNOWN)
        assert check.count == 0 and check.holes == () and check.used == MOST_USED


def test_the_console_s_statics(wall):
    """T = M/h with somebody sitting on it: 1000 N where the underside is at most 500 (common practice)."""
    done = wall(CONSOLE)
    check, unit = done.fixing("C1"), done.setout.unit("C1")
    parts = [part for part in done.carcass.parts if part.unit == "C1"]
    arm = centre_of_mass(parts)
    assert 0.4 * unit.depth < arm < 0.7 * unit.depth
    # 25 kg/m of mixed things in it and 50 kg/m² on its top (common practice)
    contents = 25 * unit.box.width / 1000 + 50 * unit.box.width * unit.depth / 1e6
    assert check.mass == pytest.approx(done.carcass.mass_of("C1") + contents)
    assert check.lean == 1000
    cleat = next(part.block for part in parts if part.role == "cleat")
    assert check.lever == pytest.approx(cleat.z + cleat.dz - 30 - unit.box.z - 20)
    moment = check.mass * hung.G * arm + 1000 * unit.depth
    assert check.moment == pytest.approx(moment) and check.pull == pytest.approx(moment / check.lever)
    assert check.shear == pytest.approx(check.mass * hung.G + 1000)


def test_holes_lie_on_the_cleat_at_most_400_apart(wall):
    done = wall(CONSOLE)
    check = done.fixing("C1")
    cleat = next(part.block for part in done.carcass.parts if part.role == "cleat")
    xs = [x for x, _ in check.holes]
    assert len(xs) == check.count >= check.needed and check.used <= 1
    assert all(
        cleat.x <= x <= cleat.x + cleat.dx and cleat.z <= z <= cleat.z + cleat.dz for x, z in check.holes
    )
    assert max(b - a for a, b in itertools.pairwise(xs)) <= 400  # common practice


def test_used_is_pull_and_shear_of_the_worst_fixing(wall):
    check = wall(CONSOLE).fixing("C1")
    even = check.pull / check.count / check.capacity_pull + check.shear / check.count / check.capacity_shear
    assert check.used == pytest.approx(1.25 * even)  # second support of a rail: 10/8 of the mean (computed)


def test_a_weaker_wall_takes_a_stronger_anchor_or_fails_and_says_how_many(wall):
    brick, block = wall(CONSOLE).fixing("C1"), wall(CONSOLE, substrate="aac_block").fixing("C1")
    assert brick.used <= 1 < block.used
    assert block.needed > block.count and "Resin" in block.anchor


def test_a_light_hung_thing_takes_the_lightest_anchor(wall):
    assert wall(CONSOLE, substrate="concrete").fixing("screen").anchor == anchors_for("concrete")[0].name


def test_a_lower_box_pulls_harder(wall):
    high = wall(Unit("C1", "console", z=L(300), height=L(450))).fixing("C1")
    low = wall(Unit("C1", "console", z=L(300), height=L(310))).fixing("C1")
    assert low.pull > 1.3 * high.pull


def test_nobody_sits_on_a_high_one(wall):
    at = {
        z: wall(Unit("C1", "console", z=L(z), height=L(350))).fixing("C1").lean for z in (300, 500, 600, 1000)
    }
    assert at == {300: 1000, 500: 1000, 600: 500, 1000: 0}


def test_the_screen_hangs_on_four_times_its_weight(wall):
    """T = 4·W·e/h: 24 kg, e = 50 + 60/2, h = 400 − 2 × 20 (IEC 62368-1 clause 8.7; arithmetic)."""
    check = wall().fixing("screen")
    assert check.pull == pytest.approx(4 * 24 * 9.80665 * 80 / 360)
    assert check.shear == pytest.approx(4 * 24 * 9.80665)
    assert check.mass == 24 and check.count == 4
    assert check.holes == ((1820, 1135), (2380, 1135), (1820, 1495), (2380, 1495))
    upper = check.pull / 2 / check.capacity_pull + check.shear / 4 / check.capacity_shear
    assert check.used == pytest.approx(upper)


def test_an_arm_pulls_by_its_reach(wall):
    arm = wall(mount=Mount("arm", reach=L(500))).fixing("screen")
    assert arm.pull == pytest.approx(4 * 24 * 9.80665 * 530 / 360)
    assert wall(mount=Mount("arm")).fixing("screen").pull == pytest.approx(
        arm.pull
    )  # 500 where nothing is known
    assert wall(mount=Mount("arm"), substrate="aac_block").fixing("screen").used > 1


def test_screws_go_into_the_studs_that_were_found(wall):
    studs = (1500, 1900, 2300, 2700)
    done = wall(CONSOLE, substrate="timber_stud", studs=studs)
    assert {x for x, _ in done.fixing("C1").holes} <= set(studs)
    assert {x for x, _ in done.fixing("screen").holes} == {1900, 2300}  # two studs behind the plate
    assert "Coach screw" in done.fixing("screen").anchor


def test_a_second_screw_goes_into_every_stud_where_one_is_not_enough(wall):
    check = wall(CONSOLE, substrate="timber_stud", studs=(1500, 2100, 2700)).fixing("C1")
    assert check.needed > 3 and check.count == 6
    assert sorted({x for x, _ in check.holes}) == [1500, 2100, 2700]
    assert len({z for _, z in check.holes}) == 2


def test_a_tower_between_two_studs_gets_a_backer(wall):
    check = wall(Unit("T1", "tower", "left"), substrate="timber_stud", studs=(600, 1200)).fixing("T1")
    assert "backer" in check.anchor and check.count >= 2 and check.used <= 1


def test_a_plate_that_meets_one_stud_gets_a_backer(wall):
    """A wall plate goes to two studs or more, else ply behind (a bracket maker's advice)."""
    check = wall(substrate="timber_stud", studs=(2100,)).fixing("screen")
    assert "backer" in check.anchor and check.count >= 4


def test_a_tower_is_held_in_two_places_of_500_n(wall):
    """Two fixings near the top, each 500 N allowable (common practice)."""
    done = wall(Unit("T1", "tower", "left"))
    check = done.fixing("T1")
    assert check.pull == 1000 and check.count >= 2 and check.used <= 1
    tower = done.setout.unit("T1").box
    assert all(tower.x < x < tower.right and tower.top - 100 < z < tower.top for x, z in check.holes)


def test_a_loose_or_low_tower_has_no_fixing(wall):
    done = wall(Unit("T1", "tower", "left", anchored=False), Unit("T2", "tower", "right", height=L(580)))
    assert [check.ref for check in done.structure.fixings] == ["screen"]
    assert [tower.anchored for tower in done.structure.towers] == [False, True]


def test_a_standing_console_needs_none(wall):
    done = wall(Unit("C1", "console", hung=False))
    assert [check.ref for check in done.structure.fixings] == ["screen"] and done.structure.towers == ()


def test_a_panel_behind_moves_the_load_out(wall):
    bare = wall(Unit("C1", "console", z=L(300), height=L(400), load=0.0))
    panelled = wall(
        Unit("C1", "console", z=L(300), height=L(400), load=0.0),
        panels=(Panel("W1", z=L(0), height=L(2500)),),
    )
    parts = [[part for part in done.carcass.parts if part.unit == "C1"] for done in (bare, panelled)]
    assert centre_of_mass(parts[1]) > centre_of_mass(parts[0]) + 10


@pytest.mark.parametrize("substrate", ["timber_stud", "metal_stud"])
def test_no_hole_is_set_out_where_nobody_found_a_stud(wall, substrate):
    done = wall(CONSOLE, Unit("T1", "tower", "left"), substrate=substrate)
    for check in done.structure.fixings:
        assert (check.count, check.holes, check.capacity_pull, check.anchor) == (0, (), 0, UNFOUND)
        assert check.used == MOST_USED and check.backer is None
    assert done.structure.backers == ()


def test_a_backer_goes_to_the_next_studs_beyond_the_fixings(wall):
    studs = tuple(range(300, 4200, 600))
    check = wall(substrate="metal_stud", studs=studs).fixing("screen")
    xs, zs = [x for x, _ in check.holes], [z for _, z in check.holes]
    box = check.backer
    assert box is not None and box.x in studs and box.right in studs
    assert box.x <= min(xs) - 75 and max(xs) + 75 <= box.right
    assert (box.z, box.top) == (min(zs) - 75, max(zs) + 75)


def test_a_recorded_backer_is_used_and_no_other_asked_for(wall):
    there = Backer(L(1500), L(1000), L(1200), L(700))
    check = wall(substrate="metal_stud", backers=(there,)).fixing("screen")
    assert check.backer is None and "backer" in check.anchor and check.count >= 4
    assert all(1525 <= x <= 2675 and 1025 <= z <= 1675 for x, z in check.holes)
    small = Backer(L(1500), L(1000), L(1200), L(200))  # reaches the lower row only
    assert wall(substrate="metal_stud", backers=(small,)).fixing("screen").anchor == UNFOUND
    asked = wall(substrate="metal_stud", studs=(1500, 2700), backers=(small,)).fixing("screen")
    assert asked.backer is not None


def test_two_backers_that_would_overlap_are_one(wall):
    done = wall(
        CONSOLE,
        Unit("C2", "console", x=L(1300), z=L(300)),
        substrate="metal_stud",
        studs=(900, 1500, 2100, 2700, 3300),
    )
    asked = [check.backer for check in done.structure.fixings if check.backer]
    assert len(done.structure.backers) < len(asked) == 3
    assert all(any(one.holds(box) for one in done.structure.backers) for box in asked)


def test_rows_nearer_than_the_spacing_carry_less(wall):
    """Rows 200 apart under a spacing of 280: (280 + 200) / (2 × 280) of the capacity (EN 1992-4, 7.2.1.4, by hand)."""
    check = wall(plate=Box(1800, 1115, 600, 240)).fixing("screen")
    assert check.group == pytest.approx(480 / 560)
    even = check.pull / 2 / check.capacity_pull + check.shear / 4 / check.capacity_shear
    assert check.used == pytest.approx(even / check.group)
    assert group_factor(check.holes, 200) == 1.0
    assert wall(plate=Box(1800, 1115, 600, 400)).fixing("screen").group == 1.0


def window(x):
    return Obstacle("WN", "window", L(x), L(900), L(900), L(1200))


def test_a_hole_near_an_opening_carries_less_and_one_in_it_nothing(wall):
    free = wall(plate=Box(1800, 1115, 600, 400)).fixing("screen")
    near = wall(plate=Box(1800, 1115, 600, 400), obstacles=(window(2450),)).fixing(
        "screen"
    )  # 70 mm from its edge
    assert near.group == pytest.approx((70 + 140) / 280)
    assert near.used == pytest.approx(free.used / near.group)
    assert wall(plate=Box(1800, 1115, 600, 400), obstacles=(window(2000),)).fixing("screen").used == MOST_USED


def test_a_rail_s_holes_are_slid_clear_of_an_opening(wall):
    shelf = Unit("S1", "shelf", x=L(1000), z=L(1400), width=L(900))
    done = wall(shelf, obstacles=(window(1960),)).fixing("S1")
    assert max(x for x, _ in done.holes) <= 1960 - 160
    assert done.group == 1.0


def test_bolts_across_packing_bend(wall):
    """M = V·(s + d/2)/2 = 235.4 × (37.2 + 3.5) / 2 = 4790 N·mm over W = π·7³/32 = 33.67 mm³: 142 N/mm² (by hand)."""
    limits = load.limits()
    assert bolt_bending(235.36, 37.2, 7.0, limits) == pytest.approx(142.2, abs=0.3)
    assert bolt_bending(235.36, 0.0, 7.0, limits) == bolt_bending(235.36, 37.2, 0.0, limits) == 0
    panelled = wall(panels=(Panel("W1", z=L(600), height=L(1800)),)).fixing("screen")
    assert panelled.packing == pytest.approx(37.8) and panelled.bending > 100
    weak = wall(panels=(Panel("W1", z=L(600), height=L(1800)),), rules={"structure.bolt_bending": 60}).fixing(
        "screen"
    )
    assert weak.used > 1 or weak.anchor != panelled.anchor or weak.count > panelled.count
