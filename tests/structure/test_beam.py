"""Beam formulas against printed values, a finite-element program and their own scaling."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st
from Pynite import FEModel3D

from wallwright.structure import beam

E, B, T, L = 2500.0, 300.0, 18.0, 900.0
EI = E * beam.second_moment(B, T)
W = beam.line_load(25 + beam.board_mass(B, T, 730))


def model(spans, length, w=0.0, fixed=False, points=(), supports=None, stiff=(E, B, T), n=40):
    """A row of equal members between n·spans + 1 nodes; points: (node, N down); supports: nodes (default every n-th)."""
    modulus, wide, thick = stiff
    m = FEModel3D()
    m.add_material("M", modulus, modulus / 2.6, 0.3, 0)
    m.add_section("S", wide * thick, 1e6, wide * thick**3 / 12, 1e5)
    for i in range(n * spans + 1):
        m.add_node(f"N{i}", i * length / n, 0, 0)
    for i in range(n * spans):
        m.add_member(f"E{i}", f"N{i}", f"N{i + 1}", "M", "S")
        if w:
            m.add_member_dist_load(f"E{i}", "FY", -w, -w)
    for node, force in points:
        m.add_node_load(f"N{node}", "FY", -force)
    held = list(supports if supports is not None else range(0, n * spans + 1, n))
    for i in held:
        turn = fixed and i in (0, n * spans)
        m.def_support(f"N{i}", i == held[0], True, True, i == held[0], i == held[0] or turn, turn)
    m.analyze(check_statics=False)
    down = [-m.nodes[f"N{i}"].DY["Combo 1"] for i in range(n * spans + 1)]
    return down, [m.nodes[f"N{i}"].RxnFY["Combo 1"] for i in held]


def test_case_a_simple():
    """MDF 18 × 300, E 2500, 730 kg/m³, 900 span, 25 kg/m: w 0.283824 N/mm, sag 6.6521 mm, stress 1.774 N/mm² (computed)."""
    assert pytest.approx(0.2838240643, rel=1e-6) == W
    assert beam.sag_simple(W, L, EI) == pytest.approx(6.6521, rel=1e-3)
    assert beam.stress(beam.moment_simple(W, L), B, T) == pytest.approx(1.774, rel=1e-3)
    down, forces = model(1, L, W)
    assert beam.sag_simple(W, L, EI) == pytest.approx(max(down), rel=1e-3)
    assert beam.reactions(1, W, L) == pytest.approx(forces, rel=1e-3)


def test_ends_held():
    """1.3304 mm (computed)."""
    down, _ = model(1, L, W, fixed=True)
    assert beam.sag_fixed(W, L, EI) == pytest.approx(1.3304, rel=1e-3) == pytest.approx(max(down), rel=1e-3)


def test_two_spans():
    """2.767 mm; the middle support takes 1.25 wL = 319.30 N (computed)."""
    down, forces = model(2, L, W)
    assert (
        beam.sag_two_spans(W, L, EI) == pytest.approx(2.767, rel=3e-3) == pytest.approx(max(down), rel=3e-3)
    )
    assert beam.reactions(2, W, L) == pytest.approx(forces, rel=1e-3)
    assert beam.reactions(2, W, L)[1] == pytest.approx(319.30, rel=1e-3)


def test_three_spans():
    """3.516 mm; 102.18 and 280.99 N (computed)."""
    down, forces = model(3, L, W)
    assert (
        beam.sag_three_spans(W, L, EI) == pytest.approx(3.516, rel=3e-3) == pytest.approx(max(down), rel=3e-3)
    )
    assert beam.reactions(3, W, L) == pytest.approx(forces, rel=1e-3)
    assert beam.reactions(3, W, L)[:2] == pytest.approx((102.18, 280.99), rel=3e-3)


def test_a_load_in_the_middle():
    """200 N: 8.3333 mm (computed)."""
    down, _ = model(1, L, points=[(20, 200)])
    assert (
        beam.sag_point_middle(200, L, EI)
        == pytest.approx(8.3333, rel=1e-3)
        == pytest.approx(max(down), rel=1e-3)
    )
    down, _ = model(1, L, points=[(20, 200)], fixed=True)
    assert beam.sag_point_fixed(200, L, EI) == pytest.approx(max(down), rel=1e-3)


def test_a_load_off_the_middle():
    """200 N at 300 of 900: 7.1681 mm at 410.1 (computed)."""
    sag, at = beam.sag_point(200, 300, L, EI)
    assert (sag, at) == (pytest.approx(7.1681, rel=1e-3), pytest.approx(410.1, rel=1e-3))
    down, _ = model(1, L, points=[(30, 200)], n=90)
    assert sag == pytest.approx(max(down), rel=1e-3) and down.index(max(down)) * 10 == pytest.approx(
        at, abs=10
    )
    assert beam.sag_point(200, 600, L, EI) == (pytest.approx(sag), pytest.approx(900 - at))


def test_a_cantilever():
    """300 mm: 0.78840 mm (computed)."""
    assert beam.sag_cantilever(W, 300, EI) == pytest.approx(0.78840, rel=1e-3)
    m, n = FEModel3D(), 20
    m.add_material("M", E, E / 2.6, 0.3, 0)
    m.add_section("S", B * T, 1e6, B * T**3 / 12, 1e5)
    for i in range(n + 1):
        m.add_node(f"N{i}", i * 300 / n, 0, 0)
    for i in range(n):
        m.add_member(f"E{i}", f"N{i}", f"N{i + 1}", "M", "S")
        m.add_member_dist_load(f"E{i}", "FY", -W, -W)
    m.add_node_load(f"N{n}", "FY", -50)
    m.def_support("N0", True, True, True, True, True, True)
    m.analyze(check_statics=False)
    both = beam.sag_cantilever(W, 300, EI) + beam.sag_cantilever_tip(50, 300, EI)
    assert both == pytest.approx(-m.nodes[f"N{n}"].DY["Combo 1"], rel=1e-3)


def test_overhangs():
    """A board 1800 long on supports at 402 and 1398, 400 × 18, E 2500, 30 kg/m: 1.6914 and 1.7500 mm (computed)."""
    ei = E * beam.second_moment(400, 18)
    w = beam.line_load(30)
    middle, end = beam.sag_overhanging(w, 996, 402, ei)
    assert (middle, end) == (pytest.approx(1.6914, rel=1e-3), pytest.approx(1.7500, rel=1e-3))
    down, _ = model(1, 1800, w, supports=(67, 233), stiff=(E, 400, 18), n=300)
    assert middle == pytest.approx(down[150], rel=1e-3) and end == pytest.approx(down[0], rel=1e-3)


def test_overhang_of_equal_sag_and_of_equal_moment():
    """0.22315 and 0.20711 of the whole length (computed)."""
    whole, low, high = 1800.0, 0.2, 0.24
    for _ in range(60):
        share = (low + high) / 2
        middle, end = beam.sag_overhanging(1, whole * (1 - 2 * share), whole * share, 1e9)
        low, high = (share, high) if end < middle else (low, share)
    assert share == pytest.approx(0.22315, abs=1e-4)
    # moments: over the support wa²/2, mid-span wL²/8 − wa²/2
    a = 0.20711 * whole
    assert a * a / 2 == pytest.approx(beam.moment_simple(1, whole - 2 * a) - a * a / 2, rel=5e-4)


def test_a_console_bottom_on_three_supports_bears_its_load():
    """2400 × 400 × 18, 30 kg/m, supports at 300, 1200, 2100: the support forces sum to 706.08 N (arithmetic)."""
    w = beam.line_load(30)
    assert w * 2400 == pytest.approx(706.08, rel=1e-4)
    _, forces = model(1, 2400, w, supports=(30, 120, 210), stiff=(E, 400, 18), n=240)
    assert sum(forces) == pytest.approx(706.08, rel=1e-4)


def test_lipped_boards():
    """MDF 300 × 18 and oak 20 × 45 in front, tops flush: EI 3.38129e9, axis 2.864 above the underside; oak 20 × 40 under the
    front edge 6.52911e9 (computed with a section program)."""
    flush = beam.composite(((2500, 300, 18, 0), (12500, 20, 45, -27)))
    assert flush[0] == pytest.approx(3.38129e9, rel=1e-3) and flush[1] == pytest.approx(2.864, abs=0.01)
    assert beam.composite(((2500, 300, 18, 0), (12500, 20, 40, -40)))[0] == pytest.approx(6.52911e9, rel=1e-3)


def test_laminated_ply_and_torsion_box():
    """Ply 18 with 0.8 laminate on both faces 1.25675e9; two 6 mm skins and three 20 × 38 ribs 1.29884e10 (computed)."""
    laminated = ((9000, 300, 0.8, 0), (6000, 300, 18, 0.8), (9000, 300, 0.8, 18.8))
    assert beam.composite(laminated)[0] == pytest.approx(1.25675e9, rel=1e-3)
    box = ((6000, 300, 6, 0), (9000, 60, 38, 6), (6000, 300, 6, 44))
    assert beam.composite(box)[0] == pytest.approx(1.29884e10, rel=1e-3)


@given(st.floats(200, 1500), st.floats(1.1, 3.0))
def test_sag_grows_with_the_fourth_power_of_the_span(span, times):
    for sag in (beam.sag_simple, beam.sag_fixed, beam.sag_propped, beam.sag_three_spans, beam.sag_cantilever):
        assert sag(W, span * times, EI) == pytest.approx(sag(W, span, EI) * times**4)
    assert beam.sag_point_middle(9, span * times, EI) == pytest.approx(
        beam.sag_point_middle(9, span, EI) * times**3
    )


@given(st.floats(100, 600), st.floats(6, 50), st.floats(1.1, 3.0))
def test_stiffness_grows_with_the_third_power_of_the_thickness(width, thick, times):
    assert beam.second_moment(width, thick * times) == pytest.approx(
        beam.second_moment(width, thick) * times**3
    )
    assert beam.composite(((E, width, thick, 7.0),))[0] == pytest.approx(E * beam.second_moment(width, thick))


@given(st.floats(0.05, 2.0), st.floats(1e8, 1e11), st.floats(100, 700), st.floats(1, 4))
def test_the_longest_span_sags_exactly_to_its_limit(w, ei, ratio, creep):
    span = beam.longest_simple(w, ei, ratio, creep)
    assert creep * beam.sag_simple(w, span, ei) == pytest.approx(span / ratio)


@given(st.floats(50, 850))
def test_a_load_at_the_middle_is_the_worst(at):
    assert beam.sag_point(100, at, L, EI)[0] <= beam.sag_point_middle(100, L, EI) * (1 + 1e-9)
    assert beam.sag_point(100, L / 2, L, EI)[0] == pytest.approx(beam.sag_point_middle(100, L, EI))


def test_no_more_than_three_spans():
    with pytest.raises(ValueError, match="not 4"):
        beam.reactions(4, 1, 1)
    assert math.isclose(sum(beam.reactions(3, 2, 5)), 30)
