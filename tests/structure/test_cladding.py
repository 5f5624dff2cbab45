import pytest

from wallwright.core.units import Length
from wallwright.job.design import Panel
from wallwright.structure.cladding import batten_capacity


@pytest.mark.parametrize(
    ("finish", "carries"), [("plaster", 20), ("skim", 20), ("plasterboard", 32), ("bare", 60)]
)
def test_a_glued_panel_hangs_on_the_layer_behind(wall, finish, carries):
    """Plaster 20, bare plasterboard 32 kg/m² with adhesive (tile-trade tables after BS 5385-1)."""
    (check,) = wall(panels=(Panel("W1", void=Length(0)),), finish=finish).structure.cladding
    assert check.carries == carries
    assert check.mass_per_m2 == pytest.approx(12 * 745 / 1000 + 1.1 + 4)  # board, laminate, adhesive


def test_stacked_stone_is_too_heavy_for_the_board_it_is_glued_to(wall):
    (check,) = wall(panels=(Panel("W1", finish="stone_slab"),)).structure.cladding
    assert check.layer == "the board it is glued to"
    assert (check.mass_per_m2, check.carries) == (59, 30)


def test_flexible_stone_is_light_enough(wall):
    (check,) = wall(panels=(Panel("W1", "stone_veneer"),)).structure.cladding
    assert check.mass_per_m2 <= check.carries


def test_screwed_battens_carry_by_their_screws(wall):
    """One screw every 600 × 400 mm with 600 N: 255 kg/m² (arithmetic)."""
    assert batten_capacity(600, 600, 400) == pytest.approx(254.9, rel=1e-3)
    (check,) = wall(panels=(Panel("W1"),)).structure.cladding
    assert check.layer == "the screwed battens" and check.carries == pytest.approx(254.9, rel=1e-3)


def test_in_an_unknown_wall_battens_count_for_nothing(wall):
    (check,) = wall(panels=(Panel("W1"),), substrate="unknown").structure.cladding
    assert check.layer == "gypsum plaster" and check.carries == 20


def test_a_thick_panel_glued_to_skim_fails(wall):
    (check,) = wall(panels=(Panel("W1", board="mdf25", void=Length(0)),), finish="skim").structure.cladding
    assert check.mass_per_m2 > check.carries  # 17.75 + 1.1 + 4 against 20
