import itertools
from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from tests.structure.frame import G, model, program
from wallwright.carcass.record import Shelf
from wallwright.core.shape import Box
from wallwright.library import load
from wallwright.structure.shelves import check, sag_limits

HELD_TO = sag_limits(load.limits())


def shelf(span=900.0, board="mdf18", depth=300.0):
    return Shelf(
        "T1.1-S1", "T1", span, depth, load.boards()[board].thickness, board, 25.0, Box(0, 0, span, 18)
    )


@pytest.mark.parametrize(
    ("board", "load_kg", "at_once", "later"),
    [
        ("particleboard18", 25, 474, 462),  # P2 18 mm, E 1600, 660 kg/m³, k_def 2.25
        ("mdf18", 25, 525, 511),  # E 2200, 730 kg/m³, k_def 2.25
        ("mdf18", 40, 457, 445),
        ("ply18", 25, 696, 825),  # E 5000, 600 kg/m³, k_def 0.8
        ("ply18", 40, 604, 716),
        ("ply25", 25, 1008, 1195),  # E 6000, 650 kg/m³
    ],
)
def test_longest_spans(board, load_kg, at_once, later):
    """300 deep, self-weight counted: L/600 at once and L/200 after years (computed from the listed E and k_def)."""
    assert check(shelf(board=board), load_kg, HELD_TO).longest == pytest.approx(min(at_once, later), abs=1)
    first = replace(HELD_TO, later=1e-6)
    assert check(shelf(board=board), load_kg, first).longest == pytest.approx(at_once, abs=1)
    last = replace(HELD_TO, at_once=1e-6)
    assert check(shelf(board=board), load_kg, last).longest == pytest.approx(later, abs=1)


def test_case_a_with_a_fibreboard_of_2200():
    """6.6521 mm with E 2500 is 7.559 with 2200; after years 3.25 times that (EN 1995-1-1)."""
    done = check(shelf(), 25, HELD_TO)
    assert done.sag == pytest.approx(6.6521 * 2500 / 2200, rel=1e-3)
    assert done.sag_later == pytest.approx(3.25 * done.sag)
    assert done.stress == pytest.approx(1.774, rel=1e-3)
    assert done.load == pytest.approx(0.283824, rel=1e-5)


def test_a_fibreboard_shelf_after_years(monkeypatch):
    """E 2500: 6.6521 mm at once; k_def 2.25 (EN 1995-1-1 table 3.2): 21.619 where all stays, 19.034 where ψ₂ is 0.8 for the 25 kg/m of
    28.942 (computed by EN 1995-1-1, 2.2.3).
    """
    board = replace(load.boards()["mdf18"], modulus=2500.0)
    monkeypatch.setattr(load, "boards", lambda: {"mdf18": board})
    assert check(shelf(), 25, HELD_TO).sag == pytest.approx(6.6521, rel=1e-3)
    assert check(shelf(), 25, HELD_TO).sag_later == pytest.approx(21.619, rel=1e-3)
    assert check(shelf(), 25, replace(HELD_TO, psi_2=0.8)).sag_later == pytest.approx(19.034, rel=1e-3)


def test_what_comes_and_goes_creeps_less():
    all_year, sometimes = check(shelf(), 25, HELD_TO), check(shelf(), 25, replace(HELD_TO, psi_2=0.8))
    own = 3.942 / 28.942
    assert sometimes.sag_later == pytest.approx(all_year.sag * (own * 3.25 + (1 - own) * 2.8), rel=1e-3)


@given(
    st.floats(200, 1500), st.sampled_from(["mdf18", "ply18", "ply25", "particleboard18"]), st.floats(0, 80)
)
def test_a_shelf_passes_exactly_up_to_its_longest_span(span, board, load_kg):
    done = check(shelf(span, board), load_kg, HELD_TO)
    passes = span / done.sag >= 600 and span / done.sag_later >= 200
    if abs(span - done.longest) > 1e-6 * span:
        assert passes == (span <= done.longest)


def built(**values):
    return replace(shelf(), **values)


def test_a_lip_or_a_second_board_holds_a_shelf_straighter():
    plain, lipped, doubled = (
        check(built(build=build), 25, HELD_TO) for build in ("plain", "lipped", "doubled")
    )
    assert lipped.sag < 0.35 * plain.sag and lipped.longest > 1.3 * plain.longest
    assert doubled.stiffness == pytest.approx(8 * plain.stiffness) and doubled.load > plain.load
    assert lipped.sag_later / lipped.sag < plain.sag_later / plain.sag  # timber creeps less


def test_a_torsion_box_yields_to_shear_too():
    """Two mdf9 skins on ribs 18 × 32: the sag is 5wL⁴/384EI + wL²/8GA (Wood Handbook, chapter 9)."""
    made = check(built(build="torsion_box", board="mdf9", thickness=9.0), 25, HELD_TO)
    GA = 560 * 3 * 18 * 32 * 5 / 6
    bending = 5 * made.load * 900**4 / (384 * made.stiffness)
    assert made.sag == pytest.approx(bending + made.load * 900**2 / (8 * GA)) and made.sag > 1.02 * bending
    again = check(built(build="torsion_box", board="mdf9", thickness=9.0, span=made.longest), 25, HELD_TO)
    assert min(again.span / again.sag / 600, again.span / again.sag_later / 200) == pytest.approx(1, rel=1e-6)


def test_a_shelf_on_three_supports_sags_less_even_where_one_span_stands_empty():
    """Two spans, all loaded: 0.005416 wL⁴/EI; books on one of them only: 0.0092 of theirs (PyNiteFEA in test_span)."""
    one, two = check(shelf(), 25, HELD_TO), check(built(supports=3), 25, HELD_TO)
    own, carried = 3.942 * 9.80665e-3, 25 * 9.80665e-3
    full = 0.005416 * (own + carried) * 900**4 / two.stiffness
    assert full < two.sag < one.sag
    alone = 0.005416 * own * 900**4 / two.stiffness + 0.00918 * carried * 900**4 / two.stiffness
    assert two.sag == pytest.approx(alone, rel=0.01)
    passing = check(built(supports=3, span=two.longest), 25, HELD_TO)
    assert min(passing.span / passing.sag / 600, passing.span / passing.sag_later / 200) == pytest.approx(1)


def test_a_load_in_the_middle():
    """200 N in the middle of 900 × 300 × 18: PL³/48EI; 45 N·m over b·t²/6 = 16200 mm³: 2.78 N/mm² more."""
    done = check(shelf(), 25, HELD_TO, 200.0)
    assert done.sag_point == pytest.approx(200 * 900**3 / (48 * done.stiffness))
    assert done.stress_point - done.stress == pytest.approx(45000 / 16200)


def test_in_humid_air_boards_creep_more():
    """Service class 2: k_def 3.0 for MDF, 1.0 for plywood (EN 1995-1-1 table 3.2, from memory)."""
    humid = sag_limits(load.limits(), humid=True)
    for board, dry, wet in (("mdf18", 3.25, 4.0), ("ply18", 1.8, 2.0)):
        assert check(shelf(board=board), 25, HELD_TO).sag_later / check(
            shelf(board=board), 25, HELD_TO
        ).sag == pytest.approx(dry)
        assert check(shelf(board=board), 25, humid).sag_later / check(
            shelf(board=board), 25, humid
        ).sag == pytest.approx(wet)


# board, least bending strength, k_mod short and long, γ_M: EN 1995-1-1 tables 3.1 and 2.3, EN 312, EN 622-5, IS 303 (from memory)
STRONG = [
    ("mdf18", 20, 0.80, 0.40, 1.3), ("mdf25", 18, 0.80, 0.40, 1.3), ("hdf18", 20, 0.80, 0.40, 1.3), ("ply18", 30, 0.90, 0.70, 1.2),
    ("particleboard18", 11, 0.85, 0.45, 1.3), ("particleboard25", 10.5, 0.85, 0.45, 1.3), ("ply25", 30, 0.90, 0.70, 1.2),
]  # fmt: skip
WET = {"mdf": (0.45, 0.20), "hdf": (0.45, 0.20), "ply": (0.90, 0.70), "par": (0.60, 0.30)}


@pytest.mark.parametrize(("board", "f_m", "short", "long", "gamma"), STRONG)
def test_each_class_of_board_has_its_own_k_mod_and_gamma(board, f_m, short, long, gamma):
    """f_m·k_mod / (γ_M·1.5), 1.5 on the load: for a person, and for what is stored for years; less in humid air."""
    done = check(shelf(board=board), 25, HELD_TO)
    assert done.strength == pytest.approx(f_m * short / gamma / 1.5)
    assert done.strength_long == pytest.approx(f_m * long / gamma / 1.5)
    humid = check(shelf(board=board), 25, sag_limits(load.limits(), humid=True))
    wet_short, wet_long = WET[board[:3]]
    assert humid.strength == pytest.approx(f_m * wet_short / gamma / 1.5)
    assert humid.strength_long == pytest.approx(f_m * wet_long / gamma / 1.5)


def test_books_for_years_break_what_a_person_does_not():
    """Particleboard 18 × 300 over 900 under 45 kg/m: own 3.56; 48.6 kg/m: w 0.476, M 48.2 N·m over 16200: 2.98 N/mm²; allowed for
    years 11 × 0.45 / 1.3 / 1.5 = 2.54, for a moment 4.79 (by hand).
    """
    done = check(shelf(board="particleboard18"), 45, HELD_TO)
    assert done.stress == pytest.approx(2.98, rel=3e-3) and done.strength_long == pytest.approx(
        2.538, rel=1e-3
    )
    assert done.strength_long < done.stress < done.strength


# board thickness, E, span: sag at once under 30 kg/m, 300 deep, self-weight left out (arithmetic; E from memory)
SAGS = [
    (18, 2800, 800, 3.8), (25, 2800, 800, 1.43), (18, 7000, 800, 1.54), (18, 7000, 700, 0.90), (25, 2800, 700, 0.84),
    (18, 2800, 500, 0.59), (18, 2200, 500, 0.75),
]  # fmt: skip


@pytest.mark.parametrize(("thick", "E", "long", "sag"), SAGS)
def test_a_family_s_bookshelves(thick, E, long, sag, monkeypatch):
    weightless = replace(load.boards()["mdf18"], modulus=float(E), density=0.0, thickness=float(thick))
    monkeypatch.setattr(load, "boards", lambda: {"mdf18": weightless})
    done = check(replace(shelf(long), thickness=float(thick)), 30, HELD_TO)
    assert done.sag == pytest.approx(sag, rel=0.02)
    assert (done.sag <= long / 600) == ((thick, long) not in {(18, 800), (25, 800)})


# board, build, depth, span, supports, load [kg/m], a load in the middle [N]: every shelf of a wall is one of these
FRAMES = [
    ("ply18", "plain", 300, 900, 2, 25, 200), ("mdf18", "plain", 350, 700, 2, 40, 0), ("particleboard18", "plain", 280, 560, 2, 25, 200),
    ("ply25", "plain", 400, 1100, 2, 15, 1000), ("ply18", "doubled", 300, 1200, 2, 30, 500), ("mdf25", "doubled", 250, 900, 2, 20, 0),
    ("ply18", "plain", 300, 700, 3, 30, 200), ("mdf18", "plain", 300, 600, 4, 25, 200), ("particleboard25", "plain", 450, 500, 4, 30, 0),
    ("ply18", "lipped", 300, 1000, 2, 25, 200), ("mdf18", "lipped", 320, 900, 3, 25, 0), ("ply25", "doubled", 220, 400, 4, 18, 100),
    ("particleboard18", "plain", 300, 400, 5, 40, 200), ("ply_birch18", "plain", 500, 860, 2, 12, 1000), ("solid_oak20", "plain", 240, 800, 3, 20, 0),
]  # fmt: skip


@pytest.mark.parametrize(("board", "build", "depth", "long", "supports", "kg", "point"), FRAMES)
def test_a_shelf_is_the_program_s(board, build, depth, long, supports, kg, point):  # noqa: PLR0913
    """Sag, stress and what a load in the middle adds: PyNiteFEA, every span loaded or not in all ways; EI by sectionproperties
    (lipped) or b·t³/12.
    """
    of = load.boards()[board]
    done = check(
        replace(shelf(float(long), board, float(depth)), build=build, supports=supports),
        kg,
        HELD_TO,
        float(point),
    )
    high = of.thickness * (2 if build == "doubled" else 1)
    own, EI, W = depth * high * of.density / 1e6, of.modulus * depth * high**3 / 12, depth * high**2 / 6
    if build == "lipped":
        EI, own, W = lipped(of, depth)
    assert done.stiffness == pytest.approx(EI, rel=2e-3)
    stiff = (EI / (300 * 18**3 / 12), 300.0, 18.0)  # a board of 300 × 18 of the same EI
    own, carried = own * G / 1000, kg * G / 1000
    ways = list(itertools.product((0, 1), repeat=supports - 1))
    spans, step = (float(long),) * (supports - 1), long / (12 if supports > 3 else 20)
    ran = [program(spans, even=[own + on * carried for on in way], step=step, stiff=stiff) for way in ways]
    assert done.sag == pytest.approx(max(sag for sag, *_ in ran), rel=5e-3)
    assert done.stress == pytest.approx(max(moment for *_, moment in ran) / W, rel=1.2e-2)
    if point:
        nodes = 20 * (supports - 1)
        down, _ = model(supports - 1, long, points=[(10, point)], stiff=stiff, n=20)
        assert len(down) == nodes + 1 and done.sag_point == pytest.approx(max(down), rel=5e-3)


def lipped(of, depth):
    """EI, mass and E·W of a board with a lip of 40 × 20 flush in front, left free to bend sideways: sectionproperties."""
    from tests.structure.test_section import program as sections

    t = of.thickness
    lip = HELD_TO.timber
    parts = ((of.modulus, depth - 20.0, t, 20.0, 0.0), (lip.E, 20.0, 40.0, 0.0, t - 40.0))
    down, aside, mixed = sections(*parts)
    EI = down - mixed**2 / aside
    whole = sum(E * b * h for E, b, h, _, _ in parts)
    axis = sum(E * b * h * (z + h / 2) for E, b, h, _, z in parts) / whole
    mass = ((depth - 20) * t * of.density + 20 * 40 * lip.density) / 1e6
    return EI, mass, EI / (of.modulus * max(abs(axis), abs(t - axis)))


def test_a_shelf_on_one_support():
    with pytest.raises(ValueError, match="2 supports or more"):
        check(built(supports=1), 25, HELD_TO)
