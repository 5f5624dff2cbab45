"""Sections of built shelves against a section program."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st
from sectionproperties.analysis import Section as Program
from sectionproperties.pre import Material
from sectionproperties.pre.library import rectangular_section

from wallwright.structure.section import BUILDS, Layer, Timber, section, stiffness

MDF = (2500.0, 2.25, 730.0)
OAK = Timber(12500.0, 0.6, 700.0, 780.0)


def material(E):
    return Material("m", elastic_modulus=E, poissons_ratio=0, yield_strength=1, density=1e-9, color="w")


def program(*layers):
    """EI_z, EI_y and the mixed EI about the middle, by the section program."""
    whole = None
    for E, b, h, y, z in layers:
        part = rectangular_section(d=h, b=b, material=material(E)).shift_section(x_offset=y, y_offset=z)
        whole = part if whole is None else whole + part
    whole.create_mesh(mesh_sizes=[200])
    done = Program(whole)
    done.calculate_geometric_properties()
    return done.get_eic(e_ref=1)


def test_a_lipped_board_left_free_and_held():
    """MDF 300 × 18, oak 20 × 45 flush in front: EI 3.38129e9 held (computed), less where it may bend sideways."""
    down, aside, mixed = program((2500, 300, 18, 20, 0), (12500, 20, 45, 0, -27))
    assert down == pytest.approx(3.38129e9, rel=1e-4)
    free = down - mixed**2 / aside
    done = section("lipped", MDF, 320, 18, (45, 20), OAK, 1.0)
    assert pytest.approx(free, rel=1e-3) == done.EI and 0.7 * down < done.EI < down
    assert done.height == 45 and done.mass == pytest.approx((300 * 18 * 730 + 20 * 45 * 700) / 1e6)


def test_a_lip_under_the_front_edge():
    """Oak 20 × 40 glued under the board's edge: 6.52911e9 held (computed)."""
    down, aside, mixed = program((2500, 300, 18, 0, 0), (12500, 20, 40, 0, -40))
    assert down == pytest.approx(6.52911e9, rel=1e-4)
    layers = (Layer(*MDF, 300, 18, 0, 0), Layer(12500, 0.6, 700, 20, 40, 0, -40))
    assert stiffness(layers)[0] == pytest.approx(down - mixed**2 / aside, rel=1e-3)


def test_two_boards_glued_are_eight_times_as_stiff():
    one, two = (section(build, MDF, 300, 18, (0, 0), OAK, 1.0) for build in ("plain", "doubled"))
    assert pytest.approx(8 * one.EI) == two.EI and two.mass == pytest.approx(2 * one.mass)
    assert program((2500, 300, 18, 0, 0), (2500, 300, 18, 0, 18))[0] == pytest.approx(two.EI, rel=1e-4)


def test_a_torsion_box():
    """Two 6 mm ply skins (6000) on three 20 × 38 ribs (9000), 300 wide: EI 1.29884e10 (computed)."""
    done = section(
        "torsion_box", (6000.0, 0.8, 600.0), 300, 6, (38, 20), Timber(9000.0, 0.6, 650.0, 560.0), 1.0
    )
    assert pytest.approx(1.29884e10, rel=1e-4) == done.EI
    assert pytest.approx(560 * 60 * 38 * 5 / 6) == done.GA and done.height == 50
    ribs = [(9000, 20, 38, y, 6) for y in (0, 140, 280)]
    assert program((6000, 300, 6, 0, 0), *ribs, (6000, 300, 6, 0, 44))[0] == pytest.approx(done.EI, rel=1e-4)


def test_what_creeps_less_takes_over():
    """With E/(1 + k_def): plain MDF falls to 1/3.25; an oak lip that creeps less keeps more (EN 1995-1-1, 2.3.2.2)."""
    plain = section("plain", MDF, 300, 18, (0, 0), OAK, 1.0)
    assert plain.EI / plain.EI_stays == pytest.approx(3.25)
    lipped = section("lipped", MDF, 300, 18, (45, 20), OAK, 1.0)
    assert 1.6 < lipped.EI / lipped.EI_stays < 3.25
    half = section("plain", MDF, 300, 18, (0, 0), OAK, 0.5)
    assert half.EI / half.EI_changes == pytest.approx(1 + 0.5 * 2.25)


@given(st.floats(150, 600), st.floats(9, 30))
def test_every_build_is_stiffer_than_one_board(depth, thick):
    plain = section("plain", MDF, depth, thick, (0, 0), OAK, 1.0)
    assert pytest.approx(2500 * depth * thick**3 / 12) == plain.EI and math.inf == plain.GA
    assert plain.per_moment == pytest.approx(6 / (depth * thick**2))
    for build in BUILDS[1:]:
        assert section(build, MDF, depth, thick, (60, 20), OAK, 1.0).EI > plain.EI


def test_what_is_no_shelf():
    with pytest.raises(ValueError, match="leaves no shelf"):
        section("lipped", MDF, 300, 18, (40, 300), OAK, 1.0)
    with pytest.raises(ValueError, match="not 'honeycomb'"):
        section("honeycomb", MDF, 300, 18, (0, 0), OAK, 1.0)
