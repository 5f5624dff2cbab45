"""Boxes that come in by the surveyed way, and packing behind what hangs on a panel."""

from dataclasses import replace

import pytest

from tests.carcass.test_every_kind import meets, solid
from wallwright.carcass import plan as carcass_plan
from wallwright.carcass.bays import cells_of
from wallwright.core.shape import Box
from wallwright.core.units import Length
from wallwright.job.design import Bay, Panel, Unit
from wallwright.sight.fit import Way, passing

L = Length


def carried(made, passes):
    carcass = carcass_plan.plan(made.job, made.face, made.setout, made.limits, passes=passes)
    return carcass, {item.box: item.passes for item in carcass.carried}


def test_a_unit_that_does_not_come_in_whole_is_parted_behind_a_division(wall):
    """A lift of 1000 × 1000 × 1200 in the clear: a console of 1885 × 400 × 400 goes in in two boxes, not in one."""
    made = wall(Unit("C1", "console", bays=(Bay("drawers"),) * 4))
    passes = passing(Way(lift=(1000, 1000, 1200)))
    whole, boxes = carried(made, None)
    assert not boxes and len({part.id for part in whole.parts if part.role == "side"}) == 2
    parted, boxes = carried(made, passes)
    assert boxes == {"C1a": True, "C1b": True}
    assert len([part for part in parted.parts if part.role == "side"]) == 4
    assert next(item.quantity for item in parted.hardware if item.kind == "connector") == 4
    cells = cells_of(made.setout.units, made.job, made.limits, passes)["C1"]
    assert [cell.clear for cell in cells] == [
        bay.box for bay in parted.bays
    ]  # outlets are set out behind the same bays
    for one in parted.parts:
        assert all(
            meets(one.block, other.block) is None
            for other in parted.parts
            if {one.role, other.role} == {"side"} and one is not other
        )


def test_what_cannot_be_parted_is_said_not_refused(wall):
    made = wall(Unit("C1", "console", bays=(Bay("drawers"),)))
    assert carried(made, passing(Way(lift=(1000, 1000, 1200))))[1] == {"C1": False}
    assert passing(Way()) is None  # nothing surveyed: nothing said


def test_thirty_millimetres_to_spare_are_kept(wall):
    """2220 × 450 × 350 leans through a door exactly; a box passes with 30 mm to spare or not at all."""
    made = wall(Unit("T1", "tower", "left", height=L(1000), bays=(Bay("open"),)))
    tower = made.setout.unit("T1")
    high, wide, deep = 920, tower.box.width, tower.depth
    for spare, goes in ((29, False), (31, True)):
        lift = Way(lift=(wide + spare, deep + spare, high + spare))
        assert carried(made, passing(lift))[1] == {"T1": goes}


def hung_on_a_panel(wall, **panel):
    made = wall(
        Unit("C1", "console", x=L(1000), width=L(2000), z=L(300)), Unit("S1", "shelf", x=L(1200), z=L(1900), width=L(900)),
        panels=(Panel("W1", x=L(800), z=L(100), width=L(2600), height=L(2400), **panel),),
    )  # fmt: skip
    return made, made.carcass


def test_packing_fills_the_void_behind_a_cleat_and_behind_a_shelf(wall):
    made, carcass = hung_on_a_panel(wall)
    zone = made.setout.zones[0]
    packing = [part for part in carcass.parts if part.name == "packing behind what hangs here"]
    cleat = next(part.block for part in carcass.parts if part.role == "cleat")
    shelf = next(part.block for part in carcass.parts if part.role == "wall_shelf")
    for held in (cleat, shelf):
        behind = [part.block for part in packing if part.block.face.meets(held.face)]
        assert sum(block.dy for block in behind) == pytest.approx(zone.void)  # 25 mm of ply in a void of 25
        for block in behind:
            assert (
                block.y >= -zone.void - 1e-9 and block.y + block.dy <= 1e-9
            )  # in the void, behind the board
            assert block.z <= held.z - 19 and block.z + block.dz >= held.z + held.dz + 19
    assert cleat.y + cleat.dy == pytest.approx(-zone.build_up)  # the cleat is on the panel's face
    solid(made)  # battens stop at it
    screws = [item for item in carcass.hardware if item.unit == "W1" and "packing behind" in item.name]
    assert screws and screws[0].quantity > 20


def test_packing_stops_at_an_outlet_box_and_there_is_none_without_a_void(wall):
    made, _ = hung_on_a_panel(wall)
    box = Box(1500, 480, 146, 86)
    carcass = carcass_plan.plan(made.job, made.face, made.setout, made.limits, boxes=(box,))
    packing = [part.block.face for part in carcass.parts if part.name == "packing behind what hangs here"]
    assert packing and not any(face.meets(box) for face in packing)
    _, glued = hung_on_a_panel(wall, void=L(0))
    assert not [part for part in glued.parts if "packing" in part.name]


def test_no_sliver_of_packing_behind_the_very_edge_of_a_panel(wall):
    """A hung unit laps a panel by 3 mm: its screws cross no void there, and a strip of 3 mm would split."""

    def packing(lap: float) -> list[float]:
        unit = Unit("C1", "console", x=L(1000), width=L(1200), z=L(300), height=L(400))
        panel = Panel("W1", "flat", x=L(2200 - 18 - 10 - lap), width=L(800), z=L(0), height=L(2000))
        return [
            part.length
            for part in wall(unit, panels=(panel,)).carcass.parts
            if part.role == "backer" and "hangs" in part.name
        ]

    assert packing(100) and packing(100)[0] == pytest.approx(100, abs=2)
    assert packing(3) == [] == packing(59 - 2)


def test_a_niche_too_shallow_before_a_panel_says_what_the_panel_takes(wall):
    unit = Unit("N1", "niche", "right", width=L(400), height=L(400), depth=L(60))
    panel = Panel("W1", "flat", x=L(0), width=L(4200))
    with pytest.raises(
        ValueError, match=r"design.units.N1.depth: 60 mm in front of a panel of 38 mm .* at least (\d+) mm"
    ) as said:
        wall(unit, panels=(panel,)).carcass  # noqa: B018
    least = int(str(said.value).rsplit("at least ", 1)[1].split()[0])
    assert least > 60
    assert wall(replace(unit, depth=L(least)), panels=(panel,)).carcass
    with pytest.raises(ValueError):
        wall(replace(unit, depth=L(least - 1)), panels=(panel,)).carcass  # noqa: B018
