from wallwright.job.design import Bay, Unit


def movers(wall, front, **more):
    made = wall(Unit("C1", "console", bays=(Bay(front, **more),) * 3))
    return made.setout.unit("C1"), made.carcass.movers


def test_a_drawer_comes_out_by_its_runner(wall):
    unit, moving = movers(wall, "drawers")
    assert len(moving) == 3
    assert {m.swept.dy for m in moving} == {300.0}
    assert all(m.swept.y + m.swept.dy == -unit.depth for m in moving)  # in front of the unit
    assert all(m.swept.face == m.box for m in moving)


def test_a_door_sweeps_its_width_and_a_flap_its_height(wall):
    _, doors = movers(wall, "shutter")
    assert all(m.kind == "door" and m.swept.dy == m.box.width for m in doors)
    _, flaps = movers(wall, "flap")
    assert all(m.kind == "flap" and m.swept.dy == m.box.height for m in flaps)


def test_what_is_open_does_not_move(wall):
    assert movers(wall, "open")[1] == ()
