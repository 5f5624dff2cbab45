import pytest

from wallwright.carcass.stock import GLASS, known_board, sheet_size, stock


def test_a_faced_board_is_thicker_and_heavier_by_both_faces():
    of = stock("ply18", "laminate_oak")
    assert of.thickness == pytest.approx(18 + 2 * 0.8)
    assert of.mass_per_m2 == pytest.approx(18 * 600 / 1000 + 2 * 1.1)
    assert of.grain


def test_stone_veneer_is_on_the_face_alone():
    """5 kg/m² and 2.5 mm of it on the front; laminate on both (arithmetic on the library's rows)."""
    of = stock("mdf18", "stone_veneer_white")
    assert of.thickness == pytest.approx(18 + 2.5) and of.mass_per_m2 == pytest.approx(13.14 + 5.0)


def test_18_mm_fibreboard_weighs_13_14_kg_a_square_metre():
    """18 mm at 730 kg/m³: 13.14 kg/m²; a 2440 × 1220 sheet 39.12 kg (arithmetic)."""
    of = stock("mdf18")
    assert of.mass_per_m2 == pytest.approx(13.14)
    assert of.mass_per_m2 * 2.44 * 1.22 == pytest.approx(39.12, abs=0.01)
    assert not of.grain and stock("mdf18", "veneer_walnut").grain


def test_glass_is_its_own_facing():
    of = stock(GLASS, "glass_smoked")
    assert (of.thickness, of.mass_per_m2) == (5, 12.5)  # 2.5 kg/m² a mm
    with pytest.raises(ValueError, match="which glass"):
        stock(GLASS)


def test_trimmed_sheet():
    assert sheet_size("ply18", 10) == (2420, 1200)


def test_unknown_names_what_there_is():
    with pytest.raises(ValueError, match=r"design\.x: no board 'mdf' in the library; there is mdf"):
        known_board("mdf", "design.x")
