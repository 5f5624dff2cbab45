"""BS 5385-1:2018 as tile makers' notes quote it: what backgrounds carry, adhesive and grout included [kg/m²]."""

import pytest

from wallwright.library import load
from wallwright.structure.cladding import LAYERS, line_on_floor, ways_out, weakest

CARRY = {"skim": 20, "plasterboard": 32, "gypsum_fibre": 40, "cement_board": 50, "foam_backer": 60}


@pytest.mark.parametrize(("finish", "kg"), CARRY.items())
def test_backgrounds(finish, kg):
    ((name, _),) = LAYERS[finish]
    assert load.limits().value(f"structure.layer_{name}") == kg


def test_thin_porcelain_on_plaster():
    """9 mm porcelain 18 kg/m² uses more than 70 % of 20: solid bed; with 4 of adhesive 22: rejected."""
    limits = load.limits()
    assert 18 / 20 > limits.value("structure.solid_bed") == 0.7
    assert 18 + limits.value("structure.adhesive") > 20


def test_a_wall_of_stacked_stone():
    """55 + 4 kg/m² on 3000 × 2700: 478 kg; skim 162, bare board 259 kg; 2.95 times over; 1.56 kN/m on the floor (arithmetic)."""
    area, mass = 3.0 * 2.7, 55 + load.limits().value("structure.adhesive")
    assert mass * area == pytest.approx(478, abs=0.5)
    assert 20 * area == pytest.approx(162) and 32 * area == pytest.approx(259, abs=0.5)
    assert mass / 20 == pytest.approx(2.95)
    assert line_on_floor(mass, 2700) == pytest.approx(1.56, abs=0.005)
    assert weakest((("board", 32.0), ("skim", 20.0), ("cement", 50.0))) == ("skim", 20.0)


def test_ways_out_of_it():
    """Porcelain 14 + 4 = 18 passes with 2 to spare; flexible veneer; a frame on the floor; a masonry wall."""
    limits = load.limits()
    ways = ways_out(59, 20, "metal_stud", limits)
    assert [way.passes for way in ways] == [True] * 4
    assert ways[0].mass_per_m2 == pytest.approx(18.1) and "porcelain" in ways[0].name
    assert ways[1].mass_per_m2 < 10 and ways[1].finish
    assert "engineer" in ways[2].name and "masonry" in ways[3].name
    assert not ways_out(59, 8, "brick", limits)[0].passes and len(ways_out(59, 8, "brick", limits)) == 3


def test_marble():
    """20 mm at 2720 kg/m³ (IS 875-1): 54.4 kg/m², too heavy for any background but foam-core backer with its adhesive."""
    marble = load.finishes()["marble_white"]
    assert marble.mass == pytest.approx(marble.thickness * 2720 / 1000, abs=0.5)
    whole = marble.mass + load.limits().value("structure.adhesive")
    assert [name for name, kg in CARRY.items() if whole <= kg] == ["foam_backer"]
