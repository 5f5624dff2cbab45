import pytest

from wallwright.core.units import Length
from wallwright.job.design import Bay, Unit
from wallwright.structure.box_beam import box_stiffness
from wallwright.structure.rows import MOST_USED

CONSOLE = Unit("C1", "console", x=Length(1000), width=Length(1800))


def test_a_box_is_far_stiffer_than_its_boards():
    """Two boards 400 × 18 of E 5000, 382 apart: E·(2·I + 2·A·191²) = 2.63e12 (by hand), a quarter of it for slip."""
    whole = 5000 * (2 * 400 * 18**3 / 12 + 2 * 400 * 18 * 191**2)
    assert box_stiffness("ply18", 400, 400, 0.25) == pytest.approx(0.25 * whole)


def test_on_an_even_row_it_stands_out_little(wall):
    (beam,) = wall(CONSOLE).structure.beams
    assert beam.out_left == pytest.approx(beam.out_right, abs=1) and beam.out_left < 0.1 * beam.length
    assert beam.span <= 400 and 0 < beam.sag < 0.05 and beam.sag_later > beam.sag


def test_on_studs_to_one_side_it_stands_out(wall):
    (beam,) = wall(CONSOLE, substrate="timber_stud", studs=(1800, 2200, 2600)).structure.beams
    assert beam.out_left == pytest.approx(800) and beam.out_right == pytest.approx(200) and beam.span == 400
    assert beam.sag > 0.001


def test_on_a_single_line_it_stands_out_to_both_sides(wall):
    """One hole only has room: it stands out by its half each way, and sags there as a board that is held: w·a⁴/8EI."""
    done = wall(
        Unit("C1", "console", x=Length(1000), width=Length(110), z=Length(600), bays=(Bay("shutter"),)),
        substrate="concrete",
    )
    check = done.fixing("C1")
    assert check.count == 1 and check.used == MOST_USED
    (beam,) = done.structure.beams
    assert beam.out_left == beam.out_right == pytest.approx(55) and beam.span == 0
    w = check.mass * 9.80665 / 110
    assert beam.sag == pytest.approx(w * 55**4 / (8 * beam.stiffness))


def test_without_fixings_there_is_no_beam(wall):
    assert wall(CONSOLE, substrate="unknown").structure.beams == ()
