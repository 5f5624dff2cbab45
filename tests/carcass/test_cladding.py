import itertools

import pytest

from wallwright.core.units import Length
from wallwright.job.design import Panel


def test_boards_fill_the_zone_but_for_the_joints(whole):
    zone = whole.setout.zones[0]
    boards = sorted((p for p in whole.carcass.parts if p.role == "panel"), key=lambda p: p.block.x)
    assert len(boards) == len(zone.joints) + 1
    assert boards[0].block.x == zone.box.x
    assert boards[-1].block.x + boards[-1].block.dx == pytest.approx(zone.box.right)
    for left, right, joint in zip(boards, boards[1:], zone.joints, strict=False):
        gap = right.block.x - left.block.x - left.block.dx
        assert gap == pytest.approx(2)  # 1 to 2 mm a metre (common practice)
        assert left.block.x + left.block.dx + gap / 2 == pytest.approx(joint)
    assert all(
        p.block.y == -zone.build_up and p.block.y + p.block.dy == pytest.approx(-zone.void) for p in boards
    )


def test_battens_stand_behind_and_no_further_apart_than_they_may(whole):
    zone = whole.setout.zones[0]
    battens = sorted((p for p in whole.carcass.parts if p.role == "batten"), key=lambda p: p.block.z)
    assert battens[0].block.z == zone.box.z
    assert battens[-1].block.z + battens[-1].block.dz == pytest.approx(zone.box.top)
    steps = [b.block.z - a.block.z for a, b in itertools.pairwise(battens)]
    assert max(steps) <= 600 and len({round(s, 6) for s in steps}) == 1
    assert all((p.block.y, p.block.dy) == (-25, 25) for p in battens)


def test_stone_gets_closer_battens_and_no_void_none(wall):
    stone = wall(panels=(Panel("W1", "stone_veneer"),)).carcass
    rows = sorted(p.block.z for p in stone.parts if p.role == "batten")
    assert max(b - a for a, b in itertools.pairwise(rows)) <= 400  # common practice
    glued = wall(panels=(Panel("W1", void=Length(0)),)).carcass
    assert not [p for p in glued.parts if p.role == "batten"]


def test_a_zone_higher_than_a_sheet_is_made_in_rows(wall):
    made = wall(panels=(Panel("W1"),))  # 2700 high
    boards = [p for p in made.carcass.parts if p.role == "panel"]
    assert len({p.block.z for p in boards}) == 2 and all(p.length <= 2420 for p in boards)
    assert sum({p.block.z: p.length for p in boards}.values()) + 2 == pytest.approx(2700)
