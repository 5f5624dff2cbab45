import itertools

import pytest
from hypothesis import given
from hypothesis import strategies as st

from wallwright.carcass.panel_zone import upright_joints
from wallwright.core.shape import Box
from wallwright.core.units import Length
from wallwright.job.design import Panel, Unit
from wallwright.job.survey import Obstacle

L = Length


def test_a_flat_panel_stands_behind_the_screen_on_the_console(wall):
    made = wall(Unit("C1", "console"), panels=(Panel("W1"),))
    zone = made.setout.zones[0]
    console = made.setout.unit("C1").box
    assert zone.box == Box(2100 - 1025, console.top, 1450 + 600, 2700 - console.top)
    assert zone.thickness == pytest.approx(12 + 0.8) and zone.void == 25
    assert zone.build_up == pytest.approx(37.8)  # 9/12 board on 20 to 25 battens = 30 to 40 (common practice)
    assert zone.joints == (2100.0,)  # two pieces of 1025, the joint on the axis


def test_a_panel_is_clipped_by_towers_alike_on_both_sides(wall):
    made = wall(Unit("T1", "tower", "left"), Unit("T2", "tower", "right"), panels=(Panel("W1"),), width=2700)
    zone, left, right = made.setout.zones[0], made.setout.unit("T1").box, made.setout.unit("T2").box
    assert zone.box.x == left.right and zone.box.right == pytest.approx(right.x)


def test_a_panel_stops_under_the_beam_and_begins_on_the_skirting(wall):
    things = (
        Obstacle("B1", "beam", L(0), L(2400), L(4200), L(300)),
        Obstacle("K1", "skirting", L(0), L(0), L(4200), L(100)),
    )
    box = wall(panels=(Panel("W1"),), obstacles=things).setout.zones[0].box
    assert (box.z, box.top) == (100, 2400)


def test_a_fluted_field_closes_on_a_whole_rib(wall):
    zone = wall(panels=(Panel("W1", "fluted"),)).setout.zones[0]
    assert zone.flutes == 67 and zone.flute_pitch == 30
    assert zone.box.width == zone.flutes * 30 + 15
    assert zone.box.centre[0] == 2100
    assert all((x - zone.box.x - 22.5) % 30 == pytest.approx(0, abs=1e-6) for x in zone.joints)  # in a groove


def test_a_pinned_width_changes_the_pitch_and_a_pinned_pitch_the_width(wall):
    zone = wall(panels=(Panel("W1", "fluted", width=L(2000)),)).setout.zones[0]
    assert zone.box.width == 2000
    assert zone.flute_pitch * (zone.flutes + 0.5) == pytest.approx(
        2000
    ) and zone.flute_pitch == pytest.approx(30, rel=0.02)
    zone = wall(panels=(Panel("W1", "fluted", flute_pitch=L(32)),)).setout.zones[0]
    assert zone.box.width == zone.flutes * 32 + 16 <= 2050 < zone.box.width + 32


def test_both_pinned_stay_and_leave_the_rest_to_the_rules(wall):
    zone = wall(panels=(Panel("W1", "fluted", width=L(2000), flute_pitch=L(32)),)).setout.zones[0]
    assert (zone.box.width, zone.flute_pitch, zone.flutes) == (2000, 32, 62)


@given(st.floats(300, 5000), st.booleans())
def test_joints_are_symmetric_and_pieces_fit_the_sheet(width, fluted):
    pitch, rib = 30.0, 15.0
    count = int((width - rib) // pitch) if fluted else 0
    width = count * pitch + rib if fluted else width
    joints = upright_joints(Box(100, 0, width, 2000), 1200, count, pitch if fluted else 0, rib)
    edges = [100, *joints, 100 + width]
    assert all(0 < b - a <= 1200 + 1e-6 for a, b in itertools.pairwise(edges))
    middle = 100 + width / 2
    mirrored = sorted(2 * middle - x for x in joints)
    # where a rib stands on the axis a middle joint must go to the groove beside it
    off = [abs(a - b) for a, b in zip(joints, mirrored, strict=True)]
    assert all(gap < 1e-6 or (fluted and gap <= pitch + 1e-6 and len(joints) % 2) for gap in off)


def test_an_unknown_finish_names_the_panel(wall):
    with pytest.raises(ValueError, match=r"design\.panels\.0\.finish: no finish 'marbel'"):
        wall(panels=(Panel("W1", finish="marbel"),))


def test_a_joint_on_the_axis_gets_a_groove_there(wall):
    made = wall(panels=(Panel("W1", "fluted"),), frame=Box(1375 - 15, 735, 1480, 830))
    zone = made.setout.zones[0]
    assert zone.flutes % 2 == 1 and zone.joints == (pytest.approx(zone.box.centre[0]),)
    pinned = wall(panels=(Panel("W1", "fluted", width=L(1935)),)).setout.zones[0]
    assert pinned.flutes % 2 == 1 and pinned.joints == (pytest.approx(2100),)


def test_book_matched_boards_come_in_pairs_about_the_middle(wall):
    zone = wall(
        panels=(Panel("W1", finish="veneer_walnut", match="book", width=L(3300), x=L(450)),)
    ).setout.zones[0]
    assert len(zone.joints) % 2 == 1 and zone.joints[len(zone.joints) // 2] == pytest.approx(
        zone.box.centre[0]
    )


def test_joints_move_onto_the_lines_of_the_screen_where_the_sheet_reaches(wall):
    # three pieces of 1100 put joints at 1550 and 2650; the screen's edges stand at 1375 and 2825: 175 away, out of reach of 120
    far = wall(panels=(Panel("W1", width=L(3300), x=L(450)),)).setout.zones[0]
    assert far.joints == pytest.approx((1550, 2650))
    # with 200 allowed they move onto the edges: 925, 1450, 925 would need a sheet of 1450, so they stay
    wide = wall(
        panels=(Panel("W1", width=L(3300), x=L(450)),), rules={"carcass.joint_snap": 200}
    ).setout.zones[0]
    assert wide.joints == pytest.approx((1550, 2650))
    # a narrower screen, 900 wide (1650 to 2550): pieces of 1200, 900, 1200 go on sheets of 1200
    small = wall(
        panels=(Panel("W1", width=L(3300), x=L(450)),),
        frame=Box(1650, 900, 900, 520),
        rules={"carcass.joint_snap": 120},
    ).setout.zones[0]
    assert small.joints == pytest.approx((1650, 2550))


@pytest.mark.parametrize(("centre", "odd"), [("groove", True), ("rib", False)])
def test_what_stands_on_the_middle_of_a_fluted_field_can_be_chosen(wall, centre, odd):
    for given_width in (None, L(1900)):
        zone = wall(panels=(Panel("W1", "fluted", flute_centre=centre, width=given_width),)).setout.zones[0]
        assert bool(zone.flutes % 2) is odd
        rib = zone.flute_pitch / 2
        assert zone.flutes * zone.flute_pitch + rib == pytest.approx(
            zone.box.width
        )  # whole ribs at both ends


def test_tiles_lie_about_the_middle_with_whole_ones_at_the_head(wall):
    made = wall(Unit("C1", "console"), panels=(Panel("W1", "tile", tile_width=L(600), tile_height=L(300)),))
    zone = made.setout.zones[0]
    edges = [zone.box.x, *zone.joints, zone.box.right]
    middle = zone.box.centre[0]
    assert [2 * middle - x for x in reversed(edges)] == pytest.approx(edges)
    assert zone.levels[-1] == pytest.approx(zone.box.top - 300 - zone.joint / 2)
    assert zone.joint == 3  # 0.18 m²: at least 3 (BS 5385-1:2018 as adhesive makers' notes give it)


def test_a_wall_that_is_tiled_directly_has_no_board_and_no_battens(wall):
    made = wall(panels=(Panel("W1", "tile", void=L(0)),))
    zone = made.setout.zones[0]
    assert not zone.boarded and zone.build_up == pytest.approx(zone.thickness)
    assert not made.carcass.parts


def test_build_up_is_the_sum_of_its_layers(wall):
    for kind in ("flat", "fluted", "framed", "moulding", "stone_veneer", "slab", "tile", "mirror", "glass"):
        zone = wall(panels=(Panel("W1", kind),)).setout.zones[0]
        assert sum(mm for _, mm in zone.layers) == pytest.approx(zone.build_up) and zone.build_up > 0, kind
        assert zone.mass_per_m2 > 0


def test_usual_build_ups(wall):
    # common practice: 9/12 board on 20 to 25 battens 30 to 40; 18 panel on 25 to 50 frame 45 to 70; moulding 12 to 25
    assert 30 <= wall(panels=(Panel("W1"),)).setout.zones[0].build_up <= 40
    assert 43 <= wall(panels=(Panel("W1", "fluted"),)).setout.zones[0].build_up <= 70
    assert 12 <= wall(panels=(Panel("W1", "moulding"),)).setout.zones[0].build_up <= 25


def test_the_middle_field_holds_the_screen(wall):
    for kind in ("framed", "moulding"):
        made = wall(panels=(Panel("W1", kind, x=L(100), width=L(4000)),))
        zone = made.setout.zones[0]
        middle = zone.fields[zone.columns // 2]
        assert zone.columns % 2 and middle.x <= made.frame.x - 60 and middle.right >= made.frame.right + 60


def test_fields_that_do_not_go_in_are_refused_by_the_size_that_is_too_small(wall):
    with pytest.raises(
        ValueError, match=r"design\.panels\.0\.width.*40 fields.*at least \d+ mm or fewer columns"
    ):
        _ = wall(panels=(Panel("W1", "framed", columns=40),)).setout
    for size in (80, 99, 120, 150):  # less than two margins and a frame
        with pytest.raises(
            ValueError, match=r"design\.panels\.0\.width: \d+ mm holds no 1 field .*at least 280 mm"
        ):
            _ = wall(panels=(Panel("W1", "moulding", width=L(size), x=L(100)),)).setout


def test_an_arched_head_names_its_field_where_it_cannot_be(wall):
    zone = wall(panels=(Panel("W1", head="segment", head_rise=L(300)),)).setout.zones[0]
    assert zone.arch and zone.arch.rise == 300 and zone.arch.springing == pytest.approx(zone.box.top - 300)
    with pytest.raises(ValueError, match=r"design\.panels\.0\.head"):
        _ = wall(panels=(Panel("W1", head="round", height=L(500)),)).setout
