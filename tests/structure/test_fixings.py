import itertools

import pytest

from wallwright.core.shape import Box
from wallwright.core.units import Length
from wallwright.job.design import Bay, Mount, Panel, Unit
from wallwright.job.survey import Backer, Obstacle
from wallwright.library import load
from wallwright.structure import hung
from wallwright.structure.fixings import COLUMN, THIN, UNFOUND, UNKNOWN, centre_of_mass, rod_stress
from wallwright.structure.group import group_factor
from wallwright.structure.rows import MOST_USED, bend_most, bolt_bending
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
    assert {row.substrate for row in load.anchors().values()} == {*walls, "half_brick"}


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
    assert arm.pull == pytest.approx(
        1.3 * 4 * 24 * 9.80665 * 530 / 360
    )  # stopped with a jerk (common practice)
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
    done = wall(
        Unit("T1", "tower", "left", anchored=False),
        Unit("T2", "tower", "right", height=L(580), depth=L(500), width=L(900)),
    )
    assert [check.ref for check in done.structure.fixings] == ["screen"]
    assert [tower.anchored for tower in done.structure.towers] == [False, True]


def test_a_standing_console_is_fixed_only_where_a_child_on_its_drawers_tips_it(wall):
    shut = wall(Unit("C1", "console", hung=False, depth=L(600), bays=(Bay("shutter"), Bay("shutter"))))
    assert [check.ref for check in shut.structure.fixings] == ["screen"] and shut.structure.towers == ()
    drawers = (Bay("drawers", drawers=2),) * 3
    done = wall(Unit("C1", "console", hung=False, depth=L(350), bays=drawers))
    (stand,) = done.structure.standing
    assert stand.climbed < 1 and stand.force > 0
    assert done.fixing("C1").pull == pytest.approx(max(1000, stand.force))
    loose = wall(Unit("C1", "console", hung=False, depth=L(350), bays=drawers, anchored=False))
    assert [check.ref for check in loose.structure.fixings] == ["screen"]


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
    assert near.group == pytest.approx((70 + 140) / 280 * (0.7 + 0.3 * 70 / 140))  # EN 1992-4, 7.2.1.4
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
    assert bolt_bending(235.36, 0.0, 7.0, limits) == 0
    panelled = wall(panels=(Panel("W1", z=L(600), height=L(1800)),)).fixing("screen")
    assert panelled.packing == pytest.approx(37.8) and panelled.bending > 100
    weak = wall(panels=(Panel("W1", z=L(600), height=L(1800)),), rules={"structure.bolt_bending": 60}).fixing(
        "screen"
    )
    assert weak.used > 1 or weak.anchor != panelled.anchor or weak.count > panelled.count


def test_a_half_brick_wall_has_weaker_fixings_and_a_thinner_one_none(wall):
    whole, half, thin = (wall(CONSOLE, leaf=leaf).fixing("C1") for leaf in (230, 110, 60))
    assert "half-brick" in half.anchor and half.capacity_pull < whole.capacity_pull
    assert (thin.anchor, thin.count, thin.capacity_pull) == (THIN, 0, 0)
    assert "half-brick" not in wall(CONSOLE, leaf=120).fixing("C1").anchor


def test_a_fixing_is_not_drilled_through_a_thin_leaf(wall):
    """30 mm must stay behind the hole: 80 deep in a leaf of 105 is no place (anchor assessments: h_ef + 30)."""
    deep = wall(CONSOLE, substrate="solid_block", leaf=120).fixing("C1")
    thin = wall(CONSOLE, substrate="solid_block", leaf=105).fixing("C1")
    assert (deep.hole_depth, thin.hole_depth) == (80, 70)


def test_what_hangs_before_a_panel_is_packed_and_its_bolts_bend(wall):
    shelf = Unit("S1", "shelf", x=L(1700), z=L(1900), width=L(800))
    bare, packed = (
        wall(shelf).fixing("S1"),
        wall(shelf, panels=(Panel("W1", z=L(600), height=L(1800)),)).fixing("S1"),
    )
    assert bare.pack is None and bare.packing == 0
    assert packed.packing == pytest.approx(37.8) and packed.pack is not None
    assert packed.pack.z < 1900 < packed.pack.top and packed.pack.x >= 1690
    assert packed.length == pytest.approx(bare.length + 37.8)
    assert bolt_bending(packed.shear / packed.count, 37.8, 6.8, load.limits()) > 40
    glued = wall(shelf, panels=(Panel("W1", z=L(600), height=L(1800), void=L(0)),)).fixing("S1")
    assert glued.pack is None and glued.packing > 0


def test_a_console_hung_on_studs_to_one_side_pulls_harder_on_the_near_one(wall):
    """Rigid box on like fixings: n·(1/n + e·(x − x̄)/Σ(x − x̄)²)."""
    even = wall(CONSOLE, substrate="timber_stud", studs=(1500, 2100, 2700)).fixing("C1")
    aside = wall(CONSOLE, substrate="timber_stud", studs=(1500, 1900, 2300)).fixing("C1")
    assert even.uneven == pytest.approx(1.25)
    assert aside.uneven == pytest.approx(1 + 3 * 200 * 400 / (2 * 400**2))
    assert aside.used > 1.3 * even.used * 0.9


def test_a_long_arm_swung_aside_turns_its_plate(wall):
    arm = wall(mount=Mount("arm", reach=L(500))).fixing("screen")
    even = arm.pull / 2 / arm.capacity_pull + arm.shear / 4 / arm.capacity_shear
    assert arm.used >= even - 1e-9
    narrow = wall(mount=Mount("arm", reach=L(500)), plate=Box(2000, 1115, 200, 400)).fixing("screen")
    assert narrow.used > arm.used  # its bolts stand nearer to the middle


def test_hidden_rods_bend(wall):
    """18 kg at 100 mm on three rods Ø12: 5.884 N·m each, 34.7 N/mm² (arithmetic)."""
    assert rod_stress(3 * 5884.0, 900, load.limits()) == pytest.approx(34.7, rel=3e-3)
    deep = wall(Unit("S1", "shelf", x=L(1700), z=L(1900), width=L(800), depth=L(300))).fixing("S1")
    assert deep.bending == pytest.approx(rod_stress(deep.moment, 800, load.limits()))


def test_wood_screws_across_packing_bend_too(wall):
    """Ø6 with a root of 4.2: d 4.6, M_y = 0.3 × 400 × 4.6^2.6 = 6347 N·mm; × 0.6 / 1.3 / 1.4 = 2092 (EN 1995-1-1 (8.30), by hand).

    200 N across 40 mm: 200 × (40 + 2.3) / 2 = 4230 N·mm, twice that. Ø5: d 3.5, 0.3 × 600 × 3.5^2.6 = 4676, 1542 allowed.
    """
    limits, anchors = load.limits(), load.anchors()
    coach, screw = anchors["coach_screw_stud"], anchors["screw_backer"]
    assert bolt_bending(200, 40, coach.rod, limits) / bend_most(coach, limits) == pytest.approx(
        4230 / 2092, rel=3e-3
    )
    assert bolt_bending(200, 40, screw.rod, limits) / bend_most(screw, limits) == pytest.approx(
        200 * (40 + 1.75) / 2 / 1542, rel=3e-3
    )
    assert bend_most(anchors["plug_brick"], limits) == 340
    assert all(one.rod > 0 for one in anchors.values())  # none loses nothing


@pytest.mark.parametrize(
    ("substrate", "studs"),
    [("timber_stud", (1500, 2100, 2700)), ("metal_stud", (900, 1500, 2100, 2700, 3300))],
)
def test_a_console_on_studs_before_a_thick_panel_is_held_by_more_screws_or_not_at_all(wall, substrate, studs):
    bare = wall(CONSOLE, substrate=substrate, studs=studs).fixing("C1")
    packed = wall(
        CONSOLE, substrate=substrate, studs=studs, panels=(Panel("W1", z=L(0), height=L(2400), void=L(60)),)
    ).fixing("C1")
    assert bare.packing == bare.bending == 0 and packed.packing > 70
    anchor = next(one for one in anchors_for(substrate) if one.name == packed.anchor)
    limits = load.limits()
    shear = packed.shear * packed.uneven / packed.count
    by_hand = shear * (packed.packing + anchor.rod / 2) / 2
    assert packed.bending == pytest.approx(by_hand * 32 / (3.141593 * anchor.rod**3), rel=1e-4)
    assert packed.bending_most == bend_most(anchor, limits)
    assert packed.used >= packed.bending / packed.bending_most and packed.needed > bare.needed


def column(x, width, kind="column", projection=250):
    return Obstacle("CO", kind, L(x), L(0), L(width), L(2700), projection=L(projection))


TOWER = Unit("T1", "tower", x=L(0), width=L(400), depth=L(350), height=L(2300))


@pytest.mark.parametrize("projection", [250, 0])
def test_nothing_is_fixed_into_a_column_of_which_nobody_said_what_it_is(wall, projection):
    check = wall(TOWER, obstacles=(column(0, 400, projection=projection),)).fixing("T1")
    assert (check.anchor, check.holes, check.count, check.capacity_pull) == (COLUMN, (), 0, 0)
    assert check.into == ("CO",) and check.used == MOST_USED
    gone = Obstacle("CO", "column", L(0), L(0), L(400), L(2700), projection=L(projection), state="remove")
    assert wall(TOWER, obstacles=(gone,)).fixing("T1").into == ()


def test_restraints_go_beside_a_narrow_column(wall):
    """A column of 120 in front of the left end leaves the wall from 120 to 400: holes 40 from its ends, at 160 and 360."""
    check = wall(TOWER, obstacles=(column(0, 120),)).fixing("T1")
    assert [x for x, _ in check.holes] == [160, 360] and check.into == () and check.used <= 1
    assert check.group < 1  # 200 apart, less than their spacing


def test_the_gap_behind_a_back_is_crossed_by_the_restraints(wall):
    """A pipe 80 proud at one end: the back passes 5 before it, 85 off the wall; 11 where nothing stands there."""
    free = wall(TOWER).fixing("T1")
    piped = wall(TOWER, obstacles=(column(0, 80, "pipe", 80),)).fixing("T1")
    assert (free.packing, piped.packing) == (pytest.approx(11), pytest.approx(85))
    assert free.length == pytest.approx(11 + 15 + free.hole_depth)
    assert piped.length == pytest.approx(85 + 15 + piped.hole_depth)
    assert all(x >= 80 + 40 for x, _ in piped.holes)


def test_a_screen_s_plate_is_not_screwed_into_a_column(wall):
    check = wall(obstacles=(column(2300, 300, projection=0),)).fixing("screen")
    assert check.anchor == COLUMN and check.into == ("CO",)
    assert wall(obstacles=(column(2450, 300, projection=0),)).fixing("screen").count == 4


@pytest.mark.parametrize(("build", "middle"), [("torsion_box", 25.0), ("doubled", 26.6), ("plain", 13.3)])
def test_rods_go_into_the_middle_of_what_they_hold(wall, build, middle):
    """A torsion box 50 high: into its hollow at 25, between skins of 9; of two boards of 25 faced with 0.8 on both sides into the
    joint."""
    done = wall(Unit("S1", "shelf", x=L(1700), z=L(1900), width=L(800), shelf_build=build))
    boards = [part.block for part in done.carcass.parts if part.unit == "S1" and part.role == "wall_shelf"]
    (at,) = {z for _, z in done.fixing("S1").holes}
    assert at == pytest.approx(1900 + middle)
    if build == "torsion_box":
        assert not any(block.z < at < block.z + block.dz for block in boards)


def test_a_plate_before_a_thick_panel_asks_for_as_many_screws_as_do_not_bend_too_far(wall):
    """One Ø5 may take V = 2 × 1542 N·mm / (packing + 1.75) where that is less than its shear; they stand in pairs."""
    studs = (900, 1500, 2100, 2700, 3300)
    panel = Panel("W1", z=L(0), height=L(2400), void=L(60))
    check = wall(substrate="metal_stud", studs=studs, panels=(panel,)).fixing("screen")
    one = 2 * 1542 / (check.packing + 1.75)
    assert one < 50 and check.packing > 70
    assert check.needed == 2 * -int(-check.shear // (2 * one))
    assert check.used == pytest.approx(check.shear / check.count / one, rel=2e-3)


def test_a_shelf_half_before_a_column_hangs_to_one_side_of_its_middle(wall):
    """900 wide from 1000, a column from 1250 on: the wall is left from 1000 to 1250, holes at 1040 and 1210 at most, the load's
    middle at 1450: n·(1/n + e·(x − x̄)/Σ) = 1 + 2 × 325 × 85 / (2 × 85²) = 4.82 on the nearer of two.
    """
    shelf = Unit("S1", "shelf", x=L(1000), z=L(1400), width=L(900))
    check = wall(shelf, obstacles=(column(1250, 900),), substrate="concrete").fixing("S1")
    assert {x for x, _ in check.holes} == {1040, 1210}
    assert check.uneven == pytest.approx(4.82, abs=0.01)
    one = wall(shelf, obstacles=(column(1085, 900),)).fixing(
        "S1"
    )  # room for a single hole: it would swing down
    assert one.used == MOST_USED and one.bending < 1e6 and one.uneven <= MOST_USED
