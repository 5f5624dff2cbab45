"""EN 1995-1-1, 8.7.2 (8.38 to 8.41): axially loaded screws, and the library's wood fixings against it; creep by service class."""

import math

import pytest

from wallwright.library import load
from wallwright.structure.anchor import allowable, embedding, embedding_gypsum, lateral, screw_axial
from wallwright.structure.creep import in_humid_air
from wallwright.structure.rows import held, shear_most

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


def johansen(f1, t1, f2, t2, d, moment):
    """The six ways a fastener yields in single shear, EN 1995-1-1 (8.6 a to f), without their 1.05, 1.15 and rope effect; from memory."""
    b, r = f2 / f1, t2 / t1
    a = f1 * t1 * d
    return (
        a,
        f2 * t2 * d,
        a / (1 + b) * (math.sqrt(b + 2 * b**2 * (1 + r + r**2) + b**3 * r**2) - b * (1 + r)),
        a / (2 + b) * (math.sqrt(2 * b * (1 + b) + 4 * b * (2 + b) * moment / (f1 * d * t1**2)) - b),
        f1 * t2 * d / (1 + 2 * b)
        * (math.sqrt(2 * b**2 * (1 + b) + 4 * b * (1 + 2 * b) * moment / (f1 * d * t2**2)) - b),
        math.sqrt(2 * b / (1 + b)) * math.sqrt(2 * moment * f1 * d),
    )  # fmt: skip


# f_h1, t1, f_h2, t2, d, M_y, which of the six governs
YIELDS = [
    (27.8, 6, 16, 40, 4.6, 6343, 0),
    (16, 40, 16, 12, 4.6, 60000, 1),
    (20, 30, 20, 30, 5, 200000, 2),
    (27.8, 18, 16, 40, 4.6, 6343, 3),
    (16, 40, 27.8, 18, 4.6, 6343, 4),
    (27.8, 60, 16, 60, 4.6, 6343, 5),
]


@pytest.mark.parametrize(("f1", "t1", "f2", "t2", "d", "moment", "which"), YIELDS)
def test_a_screw_yields_as_johansen_has_it(f1, t1, f2, t2, d, moment, which):
    """One layer a side: every one of the six formulas comes out of the balance of moments."""
    ways = johansen(f1, t1, f2, t2, d, moment)
    assert ways.index(min(ways)) == which
    assert lateral(d, moment, ((f1, t1),), ((f2, t2),)) == pytest.approx(min(ways), rel=1e-6)


def test_two_like_layers_are_one_and_a_soft_one_bears_less():
    one = lateral(4.6, 6343, ((27.8, 18),), ((16, 40),))
    assert lateral(4.6, 6343, ((27.8, 18),), ((16, 10), (16, 30))) == pytest.approx(one)
    assert lateral(4.6, 6343, ((27.8, 18),), ((9.1, 12.5), (16, 40))) < one
    nothing = lateral(4.6, 6343, ((27.8, 60),), ((1e-9, 12.5), (16, 60)))
    # by hand across an empty gap g, bent on both sides: 2M = F·g + F²/2d·(1/f1 + 1/f2)
    a, b, c = (1 / 27.8 + 1 / 16) / 9.2, 12.5, -2 * 6343
    assert nothing == pytest.approx((-b + math.sqrt(b * b - 4 * a * c)) / (2 * a), rel=1e-4)


def test_the_rope_adds_a_quarter_and_at_most_as_much_again():
    """8.2.2 (2): screws, 100 %."""
    bare = lateral(4.6, 6343, ((27.8, 18),), ((16, 40),))
    assert lateral(4.6, 6343, ((27.8, 18),), ((16, 40),), 1000) == pytest.approx(bare + 250)
    assert lateral(4.6, 6343, ((27.8, 18),), ((16, 40),), 1e6) == pytest.approx(2 * bare)


def test_embedding():
    """(8.15), (8.20) from memory; DIN EN 1995-1-1/NA for gypsum, from memory: d 4.6."""
    assert embedding(4.6, 310) == pytest.approx(16.08, abs=0.01)  # 0.082 · 310 · 4.6^−0.3
    assert embedding(4.6, 400, plywood=True) == pytest.approx(27.84, abs=0.02)
    assert embedding_gypsum(4.6, 12.5) == pytest.approx(9.15, abs=0.02)


def test_the_library_s_nogging_screw_is_what_the_formulas_give():
    """d 6, 40 mm in C16 (310 kg/m³), one board of 12.5 mm: 857 N along it, 490 N across it, in daily use (k_mod 0.6, γ 1.3 · 1.4)."""
    limits, row = load.limits(), load.anchors()["screw_nogging"]
    along = allowable(screw_axial(6, 40, 310), 1.3, 1.4, 0.6)
    across = shear_most(row, 12.5, limits)
    assert along == pytest.approx(857, abs=2) and across == pytest.approx(490, abs=1)
    assert 0.97 * along < row.pull <= along and 0.97 * across < row.shear <= across + 0.5
    assert held(row, limits, between=12.5) == row
    assert row.depth <= limits.value("carcass.nogging_deep") - 5  # the point stays in the wood
    assert held(load.anchors()["coach_screw_stud"], limits, between=12.5).shear < 560  # of 700 in the library
    assert shear_most(row, 25.0, limits) < across
