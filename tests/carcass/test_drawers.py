import pytest

from wallwright.carcass.drawers import box_width, runner_length
from wallwright.core.units import Length
from wallwright.job.design import Bay, Unit


def test_side_mounted_runners_take_an_inch():
    """Opening 573: box 547.6 (arithmetic; 12.7 mm a side, common practice)."""
    assert box_width(573, 25.4) == pytest.approx(547.6)


@pytest.mark.parametrize(
    ("inside", "runner"), [(349, 300), (360, 350), (359.9, 300), (412, 400), (700, 550), (40, 0)]
)
def test_runners_come_in_steps_and_leave_room(inside, runner):
    """250 to 550 in steps of 50, at most inside less 10 (common practice)."""
    assert runner_length(inside, 50, 10, 550) == runner


def test_a_drawer_box_stands_clear_in_its_opening(wall):
    made = wall(
        Unit("C1", "console", height=Length(400), z=Length(200), bays=(Bay("drawers", drawers=2),) * 2)
    )
    carcass = made.carcass
    bay = carcass.bays[0]
    parts = [part for part in carcass.parts if part.id.startswith("C1.1-D1")]
    left, right = min(p.block.x for p in parts), max(p.block.x + p.block.dx for p in parts)
    assert right - left == pytest.approx(bay.box.width - 25.4)
    assert left - bay.box.x == pytest.approx(12.7)
    low, high = min(p.block.z for p in parts), max(p.block.z + p.block.dz for p in parts)
    assert low - bay.box.z == pytest.approx(12)  # 12 under and 20 over (common practice)
    assert bay.box.z + bay.box.height / 2 - high == pytest.approx(20)
    assert {part.board for part in parts} == {"ply12", "ply9"}


def test_too_many_drawers_say_how_many_go_in(wall):
    with pytest.raises(ValueError, match=r"design\.units\.C1\.bays\.0\.drawers: 9 drawers .* use at most 3"):
        _ = wall(Unit("C1", "console", height=Length(400), bays=(Bay("drawers", drawers=9),))).carcass
    assert wall(
        Unit("C1", "console", height=Length(400), bays=(Bay("drawers", drawers=3),) * 2)
    ).carcass.parts


def test_a_bay_too_narrow_for_a_drawer_says_so(wall):
    with pytest.raises(ValueError, match="too narrow for a drawer"):
        _ = wall(Unit("C1", "console", bays=(Bay("drawers", Length(80)), Bay("open")))).carcass
