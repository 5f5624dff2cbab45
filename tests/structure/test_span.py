"""Boards over several supports against a finite-element program."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from tests.structure.frame import G, model, program, second_moment
from wallwright.structure import span

E, B, T, L = 2500.0, 300.0, 18.0, 900.0
EI = E * second_moment(B, T)
W = (25 + B * T * 730 / 1e6) * G / 1000  # 25 kg/m and the board's own weight


@pytest.mark.parametrize("spans", [1, 2, 3, 4])
def test_equal_spans(spans):
    """Even load over one to four spans of 900: PyNiteFEA."""
    down, forces = model(spans, L, W)
    done = span.bent(span.Laid((L,) * spans, EI), (W,) * spans)
    assert done.sag == pytest.approx(max(down), rel=3e-3)
    assert done.forces == pytest.approx(forces, rel=1e-3)


def test_four_spans_share_as_the_tables_say():
    """Four equal spans: 0.393, 1.143, 0.929, 1.143, 0.393 wL; hogging 0.107 wL² (steel designers' tables, from memory)."""
    done = span.bent(span.Laid((1.0,) * 4, 1.0), (1.0,) * 4)
    assert done.forces == pytest.approx((0.393, 1.143, 0.929, 1.143, 0.393), abs=5e-4)
    assert done.moment == pytest.approx(0.107, abs=2e-4)


def test_unequal_spans_with_loads_and_ends_that_stand_out():
    """500 + 700 + 400, ends out 200 and 100, single loads in the first and last span and at one tip: PyNiteFEA."""
    laid = span.Laid((500.0, 700.0, 400.0), EI, (200.0, 100.0))
    done = span.bent(laid, (0.3,) * 3, ((0, 250.0, 150.0), (2, 100.0, 80.0)), (0.3, 0.3), (40.0, 0.0))
    down, forces = model(
        1, 1900, 0.3, supports=(20, 70, 140, 180), points=((45, 150), (150, 80), (0, 40)), n=190
    )
    assert done.forces == pytest.approx(forces, rel=1e-3)
    assert done.ends == pytest.approx((down[0], down[190]), rel=2e-3)
    assert done.sag == pytest.approx(max(down[20:181]), rel=5e-3)


def test_a_console_bottom_on_three_supports():
    """2400 × 400 × 18, E 2500, 30 kg/m, supports at 300, 1200, 2100: sag 1.391, ends lift 0.306, forces 209.6, 286.8, 209.6 N
    (computed with PyNiteFEA)."""
    ei, w = 2500 * second_moment(400, 18), 30 * G / 1000
    done = span.bent(span.Laid((900.0, 900.0), ei, (300.0, 300.0)), (w, w), out=(w, w))
    assert done.sag == pytest.approx(1.391, rel=2e-3)
    assert done.ends == pytest.approx((-0.306, -0.306), abs=1e-3)
    assert done.forces == pytest.approx((209.6, 286.8, 209.6), abs=0.06)


def test_overhanging_board_and_another_program():
    """1800 on supports at 402 and 1398: 1.6914 and 1.7500 (computed); the same from anastruct."""
    from anastruct import SystemElements

    ei, w = 2500 * second_moment(400, 18), 30 * G / 1000
    done = span.bent(span.Laid((996.0,), ei, (402.0, 402.0)), (w,), out=(w, w))
    assert (done.sag, *done.ends) == pytest.approx((1.6914, 1.75, 1.75), rel=1e-3)
    frame = SystemElements(EA=2500 * 400 * 18.0, EI=ei)
    for k in range(36):
        frame.add_element([[k * 50, 0], [(k + 1) * 50, 0]])
        frame.q_load(-w, k + 1)
    frame.add_support_hinged(9)
    frame.add_support_roll(29)
    frame.solve()
    other = span.bent(span.Laid((1000.0,), ei, (400.0, 400.0)), (w,), out=(w, w))
    sag = -min(one["uy"] for one in frame.get_node_displacements())
    assert max(other.sag, other.ends[0]) == pytest.approx(sag, rel=2e-3)


@given(st.floats(0.05, 3), st.floats(0.0, 3))
def test_a_load_on_every_other_span_sags_more_than_on_all(own, carried):
    laid = span.Laid((900.0,) * 3, EI)
    worst, whole = span.worst_even(laid, own, carried), span.bent(laid, (own + carried,) * 3)
    assert worst.sag >= whole.sag * (1 - 1e-9)
    assert worst.moment >= whole.moment * (1 - 1e-9)
    if carried > own:
        assert worst.sag > 1.05 * whole.sag


def test_pattern_load_against_the_program():
    """Two spans, own weight 0.05 N/mm on both and 0.3 on one: PyNiteFEA with only one span loaded."""
    laid = span.Laid((L, L), EI)
    done = span.worst_even(laid, 0.05, 0.3)
    ref = span.bent(laid, (0.35, 0.05))
    assert done.sag == pytest.approx(ref.sag)
    down, forces = model(
        2, L, 0.05, points=tuple((k, 0.3 * L / 40 * (0.5 if k in (0, 40) else 1)) for k in range(41))
    )
    assert done.sag == pytest.approx(max(down), rel=3e-3)
    assert ref.forces == pytest.approx(forces, abs=0.05)


@given(st.lists(st.floats(100, 1200), min_size=1, max_size=5), st.floats(0.01, 2))
def test_support_forces_carry_the_load(spans, w):
    done = span.bent(
        span.Laid(tuple(spans), EI, (50.0, 80.0)), (w,) * len(spans), out=(w, w), tips=(10.0, 0.0)
    )
    assert sum(done.forces) == pytest.approx(w * (sum(spans) + 130) + 10)


def test_loads_for_spans_that_are_not_there():
    with pytest.raises(ValueError, match="2 spans want as many"):
        span.bent(span.Laid((1.0, 1.0), 1.0), (1.0,))


def test_the_plain_case_is_the_closed_form():
    """MDF 18 × 300, E 2500, 730 kg/m³, 900 span, 25 kg/m: 6.6521 mm, 5wL⁴/384EI (computed)."""
    assert span.bent(span.Laid((L,), EI), (W,)).sag == pytest.approx(6.6521, rel=1e-3)
    assert span.bent(span.Laid((L,), EI), (W,)).sag == pytest.approx(5 * W * L**4 / (384 * EI))


# spans and what stands out at both ends, as holes of rails fall on studs and beside columns
LAID = [
    ((600.0,), (300.0, 300.0)), ((600.0,), (0.0, 450.0)), ((400.0, 400.0), (40.0, 40.0)), ((400.0, 400.0), (500.0, 300.0)),
    ((600.0, 600.0), (150.0, 450.0)), ((300.0, 700.0, 250.0), (40.0, 60.0)), ((610.0, 580.0, 600.0, 600.0), (200.0, 10.0)),
    ((100.0, 900.0), (0.0, 0.0)), ((373.3,) * 3, (40.0, 40.0)), ((400.0, 390.0, 210.0, 610.0, 400.0), (40.0, 330.0)),
]  # fmt: skip


@pytest.mark.parametrize(("spans", "out"), LAID)
def test_support_forces_sag_and_moment_are_the_program_s(spans, out):
    """Even load over spans and ends: PyNiteFEA."""
    sag, ends, forces, moment = program(spans, out)
    done = span.bent(span.Laid(spans, EI, out), (1.0,) * len(spans), out=(1.0, 1.0))
    assert done.forces == pytest.approx(forces, rel=1e-3, abs=0.5)
    assert span.even_forces(spans, out) == pytest.approx(forces, rel=1e-3, abs=0.5)
    assert max(done.sag, 0.0) == pytest.approx(max(sag, 0.0), rel=6e-3, abs=1e-3 * abs(max(ends)))
    assert done.ends == pytest.approx(ends, rel=5e-3, abs=2e-3 * sag if sag > 0 else 1e-6)
    assert done.moment == pytest.approx(moment, rel=5e-3)


def test_a_board_without_a_span_has_no_forces():
    with pytest.raises(ValueError, match="without a span"):
        span.even_forces((), (0.0, 0.0))
