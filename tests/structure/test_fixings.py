import itertools

import pytest

from wallwright.core.units import Length
from wallwright.job.design import Mount, Panel, Unit
from wallwright.library import load
from wallwright.structure import hung
from wallwright.structure.fixings import MOST_USED, UNKNOWN, anchors_for, centre_of_mass

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
    contents = 25 * unit.box.width / 1000  # 25 kg/m of mixed things (common practice)
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
