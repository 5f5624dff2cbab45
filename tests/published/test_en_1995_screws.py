"""EN 1995-1-1, 8.7.2 (8.38 to 8.41): axially loaded screws, and the library's wood fixings against it; creep by service class."""

import pytest

from wallwright.library import load
from wallwright.structure.anchor import allowable, screw_axial
from wallwright.structure.creep import in_humid_air

# d, l_ef, ρ_k, characteristic pull [N] square to the grain
SCREWS = [(6, 60, 350, 4127.9), (8, 80, 350, 8233.5)]


@pytest.mark.parametrize(("diameter", "thread", "density", "newton"), SCREWS)
def test_axial(diameter, thread, density, newton):
    assert screw_axial(diameter, thread, density) == pytest.approx(newton, rel=1e-3)


def test_design_value_of_a_permanent_load():
    """k_mod 0.6, γ_M 1.3: 4127.9 → 1905.2 N."""
    assert allowable(screw_axial(6, 60, 350), 1.3, 1.0, 0.6) == pytest.approx(1905.2, rel=1e-3)


def test_along_the_grain_and_several():
    """1.2cos²α + sin²α below the line: at 0° a sixth less; n^0.9 for several."""
    assert screw_axial(6, 60, 350, 0) == pytest.approx(4127.9 / 1.2, rel=1e-3)
    assert screw_axial(6, 60, 350, number=4) == pytest.approx(4127.9 * 4**0.9, rel=1e-3)
    with pytest.raises(ValueError, match="6 to 12"):
        screw_axial(5, 60, 350)


def test_the_library_s_coach_screw_keeps_below_it():
    row = load.anchors()["coach_screw_stud"]
    assert row.pull <= allowable(screw_axial(6, row.depth, 350), 1.3, 1.4, 0.6)


# table 3.2, k_def in service class 1 and 2: timber, plywood, P7 and OSB/3, P5 and MDF.HLS (from memory but for class 1 of the first,
# second and last)
@pytest.mark.parametrize(("dry", "humid"), [(0.60, 0.80), (0.80, 1.00), (1.50, 2.25), (2.25, 3.00)])
def test_creep_in_humid_air(dry, humid):
    assert in_humid_air(dry) == pytest.approx(humid)
