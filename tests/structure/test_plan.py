import pytest

from wallwright.core.units import Length
from wallwright.job.design import Bay, Panel, Unit
from wallwright.storage.record import Allotted, Demand, Storage

L = Length


def storage(bay, count, mass):
    demand = Demand("hardback", "Hardbacks", 100, 4000, mass, 180, 270, False)
    return Storage((demand,), (Allotted("hardback", bay, count),), (), 0.0, 0.0, "much", ())


def test_what_is_stored_loads_the_shelves_where_it_is_more_than_usual(wall):
    units = (Unit("T1", "tower", "left", height=L(2000), bays=(Bay("open", shelves=3),)),)
    usual = {check.ref: check.sag for check in wall(*units).structure.shelves}
    heavy = {
        check.ref: check.sag for check in wall(*units, storage=storage("T1.1", 100, 120)).structure.shelves
    }
    light = {
        check.ref: check.sag for check in wall(*units, storage=storage("T1.1", 10, 120)).structure.shelves
    }
    assert light == usual and all(heavy[ref] > usual[ref] for ref in usual)
    run = 4 * 0.41  # three shelves and the bottom
    ratio = (120 / run + 3.0) / (30 + 3.0)
    assert heavy["T1.1-S1"] / usual["T1.1-S1"] == pytest.approx(ratio, rel=0.05)


def test_a_pinned_load_is_the_load(wall):
    units = (Unit("T1", "tower", "left", height=L(2000), load=10.0, bays=(Bay("open", shelves=3),)),)
    free, stored = (
        wall(*units, storage=s).structure.shelves for s in (storage("T1.1", 0, 1), storage("T1.1", 100, 900))
    )
    assert free == stored


def test_what_is_stored_hangs_on_the_wall(wall):
    unit = Unit("C1", "console", bays=(Bay("open"), Bay("open")))
    usual, full = wall(unit).fixing("C1"), wall(unit, storage=storage("C1.1", 100, 150)).fixing("C1")
    boards = wall(unit).carcass.mass_of("C1")
    box, depth = wall(unit).setout.unit("C1").box, wall(unit).setout.unit("C1").depth
    top = 50 * box.width * depth / 1e6  # 50 kg/m² on a console's top (common practice)
    assert full.mass == pytest.approx(boards + 150 + top) and full.pull > usual.pull


def test_tower_checks(wall):
    done = wall(Unit("T1", "tower", "left"))
    (tower,) = done.structure.towers
    unit = done.setout.unit("T1")
    assert tower.push_to_tip == pytest.approx(tower.mass * 9.80665 * tower.lever / unit.box.top)
    plinth = min(part.block.y for part in done.carcass.parts if part.role == "plinth")
    assert (
        -unit.depth + 50 <= plinth and tower.lever < unit.depth / 2 - 50
    )  # the plinth stands 50 mm in or more
    sides = [part for part in done.carcass.parts if part.role == "side"]
    assert tower.tilt_up == pytest.approx(max((s.length**2 + s.width**2) ** 0.5 for s in sides))
    assert tower.tilt_up < 2690  # built in two boxes it is stood up easily


def test_every_shown_value_says_why(wall):
    done = wall(
        Unit("C1", "console"), Unit("T1", "tower", "left"), Unit("S1", "shelf"), panels=(Panel("W1"),)
    )
    names = [why.name for why in done.structure.whys]
    assert len(names) == len(set(names))
    for check in done.structure.shelves:
        assert {f"shelf {check.ref}.sag", f"shelf {check.ref}.sag_later"} <= set(names)
    for check in done.structure.fixings:
        assert {f"fixing {check.ref}.{n}" for n in ("pull", "shear", "count", "used")} <= set(names)
    assert {"tower T1.push_to_tip", "tower T1.tilt_up", "panel W1.weight"} <= set(names)


def test_a_stud_wall_says_what_its_boarding_would_carry(wall):
    """0.4 kN/m on one layer of boarding with metal studs, with whoever sits on it (DIN 18183-1)."""
    done = wall(Unit("C1", "console"), substrate="metal_stud")
    why = next(why for why in done.structure.whys if why.name == "fixing C1.line_load")
    mass, width = done.fixing("C1").mass, done.setout.unit("C1").box.width
    assert why.value == pytest.approx((mass * 9.80665 + 1000) / width, abs=0.001)
    assert why.says.startswith("At most 0.4 on one layer of boarding: only the backer")


def test_every_fixed_thing_is_checked(wall):
    done = wall(Unit("C1", "console"), Unit("T1", "tower", "left"), Unit("S1", "shelf"))
    assert [check.ref for check in done.structure.fixings] == ["screen", "C1", "T1", "S1"]
    assert len(done.structure.shelves) == len(done.carcass.shelves)


def test_the_screen_s_own_screws_go_by_its_hole_pattern(wall):
    """400 × 200 is MIS-F: M6 or M8, to 113.6 kg; 400 × 300 is no pattern of the table (FDMI)."""
    from dataclasses import replace

    from wallwright.core.shape import Box
    from wallwright.structure.whys import screws

    (why,) = [why for why in wall().structure.whys if why.name == "fixing screen.screws"]
    assert why.value == "to be measured"
    screen = wall().screen
    found = screws(replace(screen, holes=Box(1900, 1215, 400, 200)))
    assert found.value == "M6 or M8" and "MIS-F" in found.says and "113.6 kg" in found.says
