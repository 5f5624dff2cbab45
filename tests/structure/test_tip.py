import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from wallwright.carcass.holes import bore
from wallwright.core.units import Length
from wallwright.job.design import Bay, Unit
from wallwright.job.survey import Obstacle
from wallwright.library.fittings import fittings
from wallwright.structure.tip import drawers_out, held_at, push_to_tip, tilt_up


def test_a_loose_tower_tips_at_a_child_s_push():
    """60 kg, its middle 150 behind the foot, pushed at 2000: 44.1 N (arithmetic)."""
    assert push_to_tip(60, 150, 2000) == pytest.approx(44.1, rel=2e-3)


def test_two_drawers_out():
    """25 kg, its middle 200 behind the foot, two 8 kg drawers 150 in front: 2.083 (arithmetic)."""
    assert drawers_out(25, 200, ((8, 150), (8, 150))) == pytest.approx(2.083, rel=5e-3)
    assert drawers_out(25, 200, ()) == drawers_out(25, 200, ((8, -20),)) == math.inf


def test_what_stands_before_its_foot_falls_by_itself():
    assert drawers_out(25, -5, ()) == 0 == push_to_tip(25, -5, 2000)
    assert held_at(25, -5, 500, ()) == pytest.approx(25 * 5 * 9.80665 / 500)


def test_diagonals():
    """2400 × 400: 2433; 2350 × 350: 2376 (arithmetic)."""
    assert round(tilt_up(2400, 400)) == 2433
    assert round(tilt_up(2350, 350)) == 2376


@given(st.floats(10, 100), st.floats(50, 300), st.floats(500, 2600), st.floats(1.1, 2))
def test_what_makes_a_tower_safer(mass, lever, height, times):
    push = push_to_tip(mass, lever, height)
    assert push_to_tip(mass * times, lever, height) > push
    assert push_to_tip(mass, lever * times, height) > push
    assert push_to_tip(mass, lever, height * times) < push
    assert push_to_tip(mass, -lever, height) == 0


def chest(wall, **asked):
    """A console of 900 × 700 × 400 on legs with three drawers, not anchored."""
    return wall(
        Unit(
            "C1", "console", hung=False, anchored=False, x=Length(100), width=Length(900), height=Length(700), depth=Length(400),
            **{"base": "legs", "bays": (Bay("drawers", drawers=3),), **asked},
        )
    )  # fmt: skip


def test_a_chest_tips_about_its_legs_and_its_fronts_go_out_with_the_drawers(wall):
    """By hand: legs 60 in from the carcass's front edge at 378.4, at 318.4 from the wall. What stays, 16.80 kg, stands 156.3
    behind them: 2625 kg·mm. Drawn out 0.75 × 358.4 = 268.8 the boxes (3 × 3.58 kg) and 22.69 kg in them weigh 5978 kg·mm in front
    of the legs, the three fronts of 2.20 kg, at 340.6, 2248: 0.319. The child at 60 + 268.8: 27.2 × 328.8 = 8943 more: 0.153.
    """
    done = chest(wall)
    (stand,) = done.structure.standing
    assert stand.lever == pytest.approx(156.3, abs=0.1)
    assert stand.open == pytest.approx(2625 / (5978 + 2248), rel=2e-3)
    assert stand.climbed == pytest.approx(2625 / (5978 + 2248 + 8943), rel=2e-3)
    assert stand.force == pytest.approx(2 * (5978 + 2248 + 8943 - 2625) * 9.80665 / 640, rel=2e-3)


def test_a_plinth_stands_further_in_than_the_unit_is_deep(wall):
    """The plinth's board stands 50 behind the carcass's front edge, legs 60."""
    legs, plinth = (chest(wall, base=base).structure.standing[0] for base in ("legs", "plinth"))
    own = [p for p in chest(wall, base="plinth").carcass.parts if p.role == "plinth"]
    assert min(part.block.y for part in own) == pytest.approx(-378.4 + 50)
    assert plinth.lever > legs.lever and plinth.open > legs.open


COLUMN = Obstacle("CO", "column", Length(0), Length(0), Length(400), Length(2700), projection=Length(250))


def test_a_tower_before_a_column_stands_on_a_plinth_board_only(wall):
    """By hand: the boards stand from 328.4 to 255 off the wall, the plinth's board begins at 278.4. Behind it stand the back
    (4.44 kg, 18.9) and that board (0.42 kg, 9.8), in front of it the case (4.92 kg, 13.3), a fixed shelf (0.30, 17.8), loose ones
    (1.00, 13.2) and the front (3.15, 61.8): 190 kg·mm over 14.2 kg, 13.4 mm in front: it falls by itself. Two feet in a row, where a
    frame has four.
    """
    done = wall(
        Unit("T1", "tower", x=Length(0), width=Length(400), depth=Length(350), height=Length(2300)),
        obstacles=(COLUMN,),
    )
    (tower,), (stand,) = done.structure.towers, done.structure.standing
    assert tower.lever == pytest.approx(-13.4, abs=0.1) and tower.push_to_tip == 0
    assert stand.climbed == 0 < stand.force
    assert [part.id for part in done.carcass.parts if part.role == "plinth"] == ["T1-P1"]
    assert [item.quantity for item in done.carcass.hardware if item.kind == "foot"] == [2]
    free = wall(Unit("T1", "tower", x=Length(0), width=Length(400), depth=Length(350), height=Length(2300)))
    assert free.structure.towers[0].push_to_tip > 10
    assert [item.quantity for item in free.carcass.hardware if item.kind == "foot"] == [4]


def test_the_feet_of_a_board_that_stands_alone_are_bored_into_it(wall):
    done = wall(
        Unit("T1", "tower", x=Length(0), width=Length(400), depth=Length(350), height=Length(2300)),
        obstacles=(COLUMN,),
    )
    bored = bore(done.setout, done.carcass, done.limits, openings={"T1": "push"})
    feet = [hole for hole in bored.holes if hole.what == "foot"]
    assert {hole.part for hole in feet} == {"T1-P1"}
    assert len(feet) == 2 * len(fittings()["foot"].pattern)


def test_a_child_on_the_drawers_of_a_console(wall):
    def stand(front, count=1, depth=350):
        bays = (Bay(front, drawers=count),) * 2
        unit = Unit("C1", "console", hung=False, depth=Length(depth), bays=bays, anchored=False)
        (one,) = wall(unit).structure.standing
        return one

    shut, drawers = stand("shutter"), stand("drawers", 2)
    assert shut.drawers == 0 and shut.open == math.inf and shut.climbed > 1
    assert drawers.drawers == 4 and drawers.open > drawers.climbed and drawers.climbed < 1
    assert drawers.force > 0 == drawers.given and shut.force == 0
    assert stand("drawers", 2, 600).force > drawers.force  # the child stands further out
    done = wall(Unit("C1", "console", hung=False, depth=Length(350), bays=(Bay("drawers", drawers=2),) * 2))
    (one,) = done.structure.standing
    assert one.given == pytest.approx(2 * max(500, one.force / 2)) and done.fixing("C1").count >= 2
