"""DIN 4103-1 and DIN 18183-1: what hangs on plasterboard partitions; and a bracket maker's rule for plates and studs."""

import pytest

from wallwright.library import load
from wallwright.structure import hung
from wallwright.structure.wall import board_alone, plate_to_studs

# 0.4 kN/m at any place, 0.4 to 0.7 with two layers, 0.7 to 1.5 with cross rails, more: not at all (gypsum-industry leaflet)
BANDS = [
    (0.39, "single"),
    (0.41, "double"),
    (0.69, "double"),
    (0.71, "rails"),
    (1.49, "rails"),
    (1.51, "floor"),
]


@pytest.mark.parametrize(("line", "needs"), BANDS)
def test_bands(line, needs):
    assert board_alone(line, load.limits()) == needs


def test_a_console_on_a_partition():
    """115 kg on 2.4 m: 0.470 kN/m, more than 0.4."""
    assert hung.line_load(115, 2400) == pytest.approx(0.470, abs=0.001)
    assert board_alone(hung.line_load(115, 2400), load.limits()) == "double"


def test_a_plate_reaches_two_studs():
    """Studs 600 apart and 50 mm beyond each: 700 mm, or a backer is let in (a bracket maker's advice page)."""
    assert plate_to_studs(600, load.limits().value("structure.stud_overlap")) == 700
    assert plate_to_studs(400, 50) == 500
