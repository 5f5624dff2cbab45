import pytest
from hypothesis import given
from hypothesis import strategies as st

from wallwright.structure import hung

BOX = ((55.0, 200.0), (60.0, 200.0))


def test_a_leaned_on_console():
    """55 + 60 kg at 200 mm, 500 N at 400, lever 290: M 425.55 N·m, T 1467.4 N, V 1627.8 N; on five 293.5 and 325.6 N
    (computed, the pull checked with a frame program)."""
    moment = hung.moment(BOX, 500, 400)
    assert moment / 1000 == pytest.approx(425.55, rel=1e-3)
    assert hung.pull(moment, 290) == pytest.approx(1467.4, rel=1e-3)
    assert hung.shear(BOX, 500) == pytest.approx(1627.8, rel=1e-3)
    assert hung.pull(moment, 290) / 5 == pytest.approx(293.5, rel=1e-3)
    assert hung.shear(BOX, 500) / 5 == pytest.approx(325.6, rel=1e-3)


def test_the_same_left_alone():
    """777.8 N (arithmetic)."""
    assert hung.pull(hung.moment(BOX), 290) == pytest.approx(777.8, rel=1e-3)


def test_a_line_of_load():
    """115 kg over 2.4 m: 0.470 kN/m, more than the 0.4 that DIN 18183-1 allows a plasterboard wall (published)."""
    assert hung.line_load(115, 2400) == pytest.approx(0.470, abs=0.001)


def test_a_kitchen_worthy_case():
    """40 + 60 kg, 75 kg sitter, depth 350, lever 220: V 1.7 kN, T 1.95 kN (arithmetic)."""
    masses = ((100.0, 175.0),)
    sitter = 75 * 9.80665
    assert hung.shear(masses, sitter) == pytest.approx(1.7e3, rel=0.02)
    assert hung.pull(hung.moment(masses, sitter, 350), 220) == pytest.approx(1.95e3, rel=0.01)


def test_an_arm_fully_out():
    """30 kg at 500, h 200: 735.5 N, four times 2942 N (arithmetic; IEC 62368-1 clause 8.7 hangs three times more on it)."""
    assert hung.pull(hung.moment(((30, 500),)), 200) == pytest.approx(735.5, rel=1e-3)
    assert hung.pull(hung.moment(((120, 500),)), 200) == pytest.approx(2942, rel=1e-3)


def test_bolts_and_rods_in_bending():
    """M8 (core 6.65) across 30 mm with 150 N: 4.50 N·m, 155.9 N/mm²; Ø12 rods, 18 kg on three at 100: 34.7 N/mm² (arithmetic)."""
    assert hung.packing_moment(150, 30) == 4500
    assert hung.packing_moment(150, 30, 2) == 2250  # a metal plate clamped by a nut: α_M 2
    assert hung.round_bending(4500, 6.65) == pytest.approx(155.9, rel=2e-3)
    moment = 18 * hung.G / 3 * 100
    assert moment == pytest.approx(5884, rel=1e-3)
    assert hung.round_bending(moment, 12) == pytest.approx(34.7, rel=3e-3)


@given(st.floats(0, 50), st.floats(0, 1))
def test_the_number_needed_is_the_least_that_is_enough(even, more):
    def worst(n):
        return 1 + more / n

    count = hung.needed(even, worst)
    assert count >= 2 and even * worst(count) / count <= 1 + 1e-6
    assert count == 2 or even * worst(count - 1) / (count - 1) > 1 - 1e-6


def test_a_hopeless_load_asks_for_no_endless_row():
    assert hung.needed(1e9, lambda n: 1.2) == 99
    assert hung.needed(1e9, lambda n: 1.2, 60) == 60


@given(st.floats(1, 2000), st.floats(1.1, 4))
def test_half_the_lever_is_twice_the_pull(lever, times):
    assert hung.pull(1e5, lever / times) == pytest.approx(hung.pull(1e5, lever) * times)
