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
