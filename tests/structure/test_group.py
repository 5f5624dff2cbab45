import pytest

from tests.structure.frame import program
from wallwright.core.shape import Box
from wallwright.structure.group import edge_factor, group_factor, stiff_share, turned, worst_share


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
    assert edge_factor(((930, 1500),), 140, window) == pytest.approx(0.75 * 0.85)  # A/A⁰ × ψ_s
    assert edge_factor(((999.99, 1500),), 140, window) == pytest.approx(0.5 * 0.7, abs=0.001)
    assert edge_factor(((1100, 1500),), 140, window) == 0.0
    # round the corner: √(30² + 40²) = 50 of 100
    assert edge_factor(((970, 860),), 100, window) == pytest.approx(0.75 * 0.85)
    assert edge_factor(((500, 500),), 140, []) == 1.0


def test_a_bolt_group_with_a_lever_is_a_frame_program_s():
    """Four bolts of a plate under 1000 N down at 500 mm aside: springs of equal stiffness, PyNiteFEA."""
    from Pynite import FEModel3D

    holes = ((0.0, 0.0), (300.0, 0.0), (0.0, 200.0), (300.0, 200.0))
    m = FEModel3D()
    m.add_material("M", 2e5, 8e4, 0.3, 0)
    m.add_section("S", 1e5, 1e9, 1e9, 1e9)
    m.add_node("C", 150, 100, 0)
    m.add_node("P", 650, 100, 0)
    m.add_member("arm", "C", "P", "M", "S")
    for k, (x, z) in enumerate(holes):
        m.add_node(f"N{k}", x, z, 0)
        m.add_member(f"E{k}", "C", f"N{k}", "M", "S")
        m.def_support(f"N{k}", False, False, True, True, True, False)
        m.def_support_spring(f"N{k}", "DX", 100.0)
        m.def_support_spring(f"N{k}", "DY", 100.0)
    m.add_node_load("P", "FY", -1000)
    m.analyze(check_statics=False)
    worst = max(
        (m.nodes[f"N{k}"].DX["Combo 1"] ** 2 + m.nodes[f"N{k}"].DY["Combo 1"] ** 2) ** 0.5 * 100
        for k in range(4)
    )
    assert turned(holes, 1000, 500e3) == pytest.approx(worst, rel=1e-3)
    assert turned(holes, 1000, 0) == 250
    assert turned(((0.0, 0.0),), 1000, 500) == 1000


def test_a_stiff_box_on_fixings_out_of_its_middle():
    """Springs at 0, 400 and 1000 under a load at 600: 0.2807, 0.3333, 0.3860 (by hand from Σx²)."""
    xs = (0.0, 400.0, 1000.0)
    mean, spread = 1400 / 3, sum((x - 1400 / 3) ** 2 for x in xs)
    assert stiff_share(xs, 600) == pytest.approx(3 * (1 / 3 + (600 - mean) * (1000 - mean) / spread))
    assert stiff_share(xs, mean) == pytest.approx(1.0)


# equal spans without ends that stand out: what the worst of so many supports takes, over the mean
EVEN = [(3, 1.875), (4, 1.467), (5, 1.429), (6, 1.358)]


@pytest.mark.parametrize(("count", "times"), EVEN)
def test_the_worst_of_equal_spans(count, times):
    """1.25, 1.1, 1.143, 1.132 of one span's load (steel designers' tables, from memory) over the mean of all;
    PyNiteFEA.
    """
    xs = [400.0 * k for k in range(count)]
    _, _, forces, _ = program((400.0,) * (count - 1))
    assert worst_share(xs, (0.0, xs[-1])) == pytest.approx(max(forces) * count / sum(forces), rel=1e-3)
    assert worst_share(xs, (0.0, xs[-1])) == pytest.approx(times, rel=2e-3)


@pytest.mark.parametrize(
    ("xs", "over"),
    [((40.0, 600.0, 1160.0), (0.0, 1200.0)), ((300.0, 900.0, 1500.0, 2100.0), (225.0, 2475.0)),
     ((1500.0, 1900.0, 2300.0), (1000.0, 2400.0)), ((100.0, 240.0, 1100.0, 1160.0), (0.0, 1200.0))],
)  # fmt: skip
def test_the_worst_of_real_rows(xs, over):
    """The greater of the beam (PyNiteFEA) and the stiff box."""
    from itertools import pairwise

    spans = tuple(b - a for a, b in pairwise(xs))
    _, _, forces, _ = program(spans, (xs[0] - over[0], over[1] - xs[-1]))
    beam = max(abs(one) for one in forces) * len(xs) / (over[1] - over[0])
    assert worst_share(xs, over) == pytest.approx(max(beam, stiff_share(xs, sum(over) / 2)), rel=2e-3)
    assert worst_share(xs, over) > 1


def test_a_single_line_swings():
    """Whatever number of holes stands one above the other."""
    assert worst_share((500.0,), (0.0, 1000.0)) == float("inf")
    assert worst_share((500.0, 500.0, 500.0), (400.0, 600.0)) == float("inf")
    assert worst_share((450.0, 550.0), (0.0, 1000.0)) == pytest.approx(1.0)
    assert worst_share((0.0, 0.0, 1000.0, 1000.0), (0.0, 1000.0)) == pytest.approx(1.0)
