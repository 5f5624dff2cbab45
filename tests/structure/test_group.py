import pytest

from wallwright.core.shape import Box
from wallwright.structure.group import edge_factor, group_factor


def test_a_pair_carries_between_one_and_two():
    """EN 1992-4, 7.2.1.4: (s_cr + s) / s_cr of one, so half of that each."""
    assert group_factor(((0, 0), (280, 0)), 280) == 1.0
    assert group_factor(((0, 0), (140, 0)), 280) == pytest.approx(0.75)
    assert group_factor(((0, 0), (0, 140)), 280) == pytest.approx(0.75)
    assert group_factor(((0, 0),), 280) == 1.0


def test_a_grid_by_the_area_of_its_squares():
    """Four at 100 × 150 with s = 200: 300 × 350 over 4 × 200²; the union of the four squares is that rectangle."""
    grid = tuple((x, z) for x in (0, 100) for z in (0, 150))
    assert group_factor(grid, 200) == pytest.approx(300 * 350 / (4 * 200 * 200))


def test_a_row_far_apart_loses_nothing_and_never_gains():
    assert group_factor(tuple((x, 0) for x in (0, 400, 800, 1200)), 280) == 1.0


def test_an_edge_takes_up_to_half():
    window = [Box(1000, 900, 900, 1200)]
    assert edge_factor(((860, 1500),), 140, window) == 1.0
    assert edge_factor(((930, 1500),), 140, window) == pytest.approx(0.75)
    assert edge_factor(((999.999, 1500),), 140, window) == pytest.approx(0.5, abs=0.001)
    assert edge_factor(((1100, 1500),), 140, window) == 0.0
    # round the corner: √(30² + 40²) = 50 of 100
    assert edge_factor(((970, 860),), 100, window) == pytest.approx(0.75)
    assert edge_factor(((500, 500),), 140, []) == 1.0
