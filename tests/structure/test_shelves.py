from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

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
    assert done.strength == pytest.approx(0.43 * 18)  # MDF
    assert check(shelf(board="particleboard18"), 25, HELD_TO).strength == pytest.approx(0.43 * 11)
    assert check(shelf(board="ply18"), 25, HELD_TO).strength == pytest.approx(0.43 * 30)


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


# board thickness, E, span: sag at once under 30 kg/m, 300 deep, self-weight left out (arithmetic; E from memory)
SAGS = [
    (18, 2800, 800, 3.8), (25, 2800, 800, 1.43), (18, 7000, 800, 1.54), (18, 7000, 700, 0.90), (25, 2800, 700, 0.84),
    (18, 2800, 500, 0.59), (18, 2200, 500, 0.75),
]  # fmt: skip


@pytest.mark.parametrize(("thick", "E", "long", "sag"), SAGS)
def test_a_family_s_bookshelves(thick, E, long, sag):
    from wallwright.structure import beam

    at_once = beam.sag_simple(beam.line_load(30), long, E * beam.second_moment(300, thick))
    assert at_once == pytest.approx(sag, rel=0.02)
    passes = at_once <= long / 600
    assert passes == ((thick, long) not in {(18, 800), (25, 800)})


def test_a_shelf_on_one_support():
    with pytest.raises(ValueError, match="2 supports or more"):
        check(built(supports=1), 25, HELD_TO)
