"""BS 5385-1:2018 as tile makers' notes quote it: what backgrounds carry, adhesive and grout included [kg/m²]."""

from dataclasses import replace

import pytest

from wallwright.carcass.record import PanelZone
from wallwright.core.shape import Box
from wallwright.library import load
from wallwright.structure.cladding import check, line_on_floor, ways_out
from wallwright.structure.wall import Wall

CARRY = {"skim": 20, "plasterboard": 32, "gypsum_fibre": 40, "cement_board": 50, "foam_backer": 60}
LIMITS = load.limits()
STONE = PanelZone(
    "W1", "slab", Box(0, 0, 3000, 2700), "mdf12", "stone_slab", 22.0, 0.0, (), 0.0, 0, 55.0, frozenset(), boarded=False
)  # fmt: skip
BOARDED = Wall("metal_stud", (600.0, 1200.0), 600.0)


def clad(finish, zone=STONE, wall=BOARDED):
    return check(zone, finish, wall, LIMITS)


@pytest.mark.parametrize(("finish", "kg"), CARRY.items())
def test_backgrounds(finish, kg):
    """A stone of 55 with 4 of adhesive hangs on the wall's own finish, and on nothing stronger."""
    done = clad(finish)
    assert (done.carries, done.mass_per_m2) == (kg, 59.0)
    assert (done.mass_per_m2 <= done.carries) == (finish == "foam_backer") == (done.ways == ())


def test_skim_on_boarding_carries_no_more_than_skim():
    assert clad("skim").layer == "the plaster skim" and clad("plaster").carries == 20


def test_porcelain_on_plaster():
    """9 mm porcelain of 18 with 4 of adhesive on plaster that carries 20: rejected; of 15: carried, in a solid bed: 15 > 0.7 × 20."""
    at = {kg: clad("plaster", thin(kg)) for kg in (18.0, 15.0, 13.0)}
    assert at[18.0].mass_per_m2 == pytest.approx(22) and at[18.0].mass_per_m2 > at[18.0].carries
    assert at[15.0].mass_per_m2 <= at[15.0].carries and at[15.0].solid_bed
    assert not at[13.0].solid_bed


def thin(kg):
    """A zone of porcelain of that mass, its bed not counted in it."""
    return replace(STONE, kind="board", finish="porcelain_marble_look", thickness=9.0, mass_per_m2=kg)


def test_a_wall_of_stacked_stone():
    """55 + 4 kg/m² on 3000 × 2700: 478 kg; skim 162, bare board 259 kg; 2.95 times over; 1.56 kN/m on the floor (arithmetic)."""
    done = clad("skim")
    assert done.mass == pytest.approx(478, abs=0.5) and done.most == pytest.approx(162)
    assert clad("plasterboard").most == pytest.approx(259, abs=0.5)
    assert done.mass_per_m2 / done.carries == pytest.approx(2.95)
    assert done.line == pytest.approx(1.56, abs=0.005) == line_on_floor(59, 2700)


def test_ways_out_of_it():
    """Porcelain 14 + 4 = 18 passes with 2 to spare; flexible veneer; a frame on the floor; a masonry wall."""
    ways = clad("skim").ways
    assert [way.passes for way in ways] == [True] * 4
    assert ways[0].mass_per_m2 == pytest.approx(18.1) and "porcelain" in ways[0].name
    assert ways[1].mass_per_m2 < 10 and ways[1].finish
    assert "engineer" in ways[2].name and "masonry" in ways[3].name
    brick = ways_out(59, 8, "brick", LIMITS)
    assert not brick[0].passes and len(brick) == 3


def test_marble():
    """20 mm at 2720 kg/m³ (IS 875-1): 54.4 kg/m², too heavy for any background but foam-core backer with its adhesive."""
    marble = load.finishes()["marble_white"]
    assert marble.mass == pytest.approx(marble.thickness * 2720 / 1000, abs=0.5)
    zone = replace(STONE, finish="marble_white", mass_per_m2=marble.mass)
    passes = [finish for finish in CARRY if (done := clad(finish, zone)).mass_per_m2 <= done.carries]
    assert passes == ["foam_backer"]
