"""Flaps above the eyes are hung at their head and lift; below them, and on desks, they are let down: everywhere alike."""

from __future__ import annotations

import pytest

from wallwright.carcass import attached, sweep
from wallwright.carcass.holes import bore
from wallwright.core.units import Length
from wallwright.job.design import Bay, Unit

LOFT = Unit("F1", "loft", bays=(Bay("flap"),) * 2)
CONSOLE = Unit("C1", "console", bays=(Bay("flap"),) * 2)
DESK = Unit("D1", "desk", z=Length(1500.0), bays=(Bay("flap"),))


def flaps(made):
    return [mover for mover in made.carcass.movers if mover.kind == "flap"]


def test_only_what_is_above_the_eyes_lifts(wall):
    assert all(flap.lifts for flap in flaps(wall(LOFT)))
    assert flaps(wall(CONSOLE)) and not any(flap.lifts for flap in flaps(wall(CONSOLE)))
    assert flaps(wall(DESK)) and not any(flap.lifts for flap in flaps(wall(DESK)))  # it is written on


def test_stays_hinges_and_latch_follow(wall):
    made = wall(LOFT)
    names = {item.kind: item.name for item in made.carcass.hardware}
    assert names["lift"].startswith("Lift-up stay")
    assert "Flap stay" in next(item.name for item in wall(CONSOLE).carcass.hardware if item.kind == "lift")
    holes = bore(made.setout, made.carcass, made.limits, {})
    by_id = {part.id: part for part in made.carcass.parts}
    plates = {by_id[hole.part].role for hole in holes.holes if hole.what == "hinge plate"}
    latches = {by_id[hole.part].role for hole in holes.holes if hole.what == "push latch"}
    assert plates == {"top"} and latches == {"bottom"}
    for flap in flaps(made):
        part = by_id[flap.ref]
        lie = holes.lies[part.id]
        cups = [
            lie.room(hole.x, hole.y, 0)[2]
            for hole in holes.holes
            if hole.part == part.id and hole.what == "hinge cup"
        ]
        assert cups and all(flap.box.top - z < 30 for z in cups)  # along its upper edge
        assert attached.handle_box(flap).centre[1] < flap.box.centre[1]  # pulled at its foot


@pytest.mark.parametrize(("unit", "up"), [(LOFT, True), (CONSOLE, False)])
def test_it_sweeps_the_quarter_round_about_its_hinge(wall, unit, up):
    flap = flaps(wall(unit))[0]
    box, face = flap.box, -flap.swept.y - flap.swept.dy
    deep = box.height
    # a thing before the far lower or upper corner of the square: inside it, outside the quarter round
    low, high = (box.z, box.z + 0.2 * deep), (box.top - 0.2 * deep, box.top)
    for (z0, z1), met in ((low, not up), (high, up)):
        thing = sweep.Solid(box.x, box.right, face + 0.85 * deep, face + 0.95 * deep, z0, z1)
        assert (sweep.clash(flap, thing) is not None) == met
