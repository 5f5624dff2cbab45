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
