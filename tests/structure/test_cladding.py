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


def test_a_whole_wall_of_stone_on_a_skimmed_partition(wall):
    """3000 × 2700 of 55 kg/m² and 4 of adhesive on skim that carries 20: 478 kg against 162, 2.95 times (arithmetic)."""
    from wallwright.structure.cladding import check

    done = wall(
        panels=(Panel("W1", finish="stone_slab", void=Length(0)),), substrate="metal_stud", finish="skim"
    )
    (zone,) = done.setout.zones
    from dataclasses import replace

    from wallwright.core.shape import Box
    from wallwright.structure.wall import wall_of

    bare = replace(zone, boarded=False, mass_per_m2=55.0, thickness=22.0, box=Box(0, 0, 3000, 2700))
    told = check(bare, "skim", wall_of(done.job, done.limits), done.limits)
    assert (told.mass, told.most) == (pytest.approx(478, abs=0.5), pytest.approx(162))
    assert told.mass_per_m2 / told.carries == pytest.approx(2.95) and told.layer == "the plaster skim"
    assert told.line == pytest.approx(1.56, abs=0.005)
    assert [way.passes for way in told.ways] == [True] * 4 and told.ways[0].finish == "porcelain_marble_look"
    on_board = check(bare, "plasterboard", wall_of(done.job, done.limits), done.limits)
    assert on_board.most == pytest.approx(259, abs=0.5) and on_board.mass > on_board.most
    assert check(bare, "cement_board", wall_of(done.job, done.limits), done.limits).carries == 50 < 59
    thin = replace(bare, finish="porcelain_marble_look", mass_per_m2=14.1)
    light = check(thin, "skim", wall_of(done.job, done.limits), done.limits)
    assert light.mass_per_m2 < light.carries and light.ways == () and light.solid_bed


def test_only_what_is_heavy_in_its_bed_asks_for_a_solid_one(wall):
    (check,) = wall(panels=(Panel("W1", void=Length(0)),), finish="bare").structure.cladding
    assert not check.solid_bed
