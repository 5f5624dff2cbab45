"""Solids that are no boxes: closed, turned outwards, of the volume they should have."""

from __future__ import annotations

import math
from collections import Counter

import pytest
from hypothesis import given
from hypothesis import strategies as st

from wallwright.carcass.arch import Arch
from wallwright.core.shape import Block
from wallwright.export.solids import Flutes, Mesh, board, pieces, ring, under_arch, volume


def open_edges(mesh: Mesh) -> int:
    """Edges that not exactly two triangles share, once each way."""
    edges: Counter[tuple[object, object]] = Counter()
    points = [tuple(round(v, 3) for v in point) for point in mesh.points]
    for i in range(0, len(mesh.triangles), 3):
        a, b, c = (points[k] for k in mesh.triangles[i : i + 3])
        edges.update([(a, b), (b, c), (c, a)])
    return sum(edges[(b, a)] != n for (a, b), n in edges.items())


def test_a_plain_board_is_its_block() -> None:
    block = Block(100, -43, 500, 900, 18, 1400)
    mesh = board(block)
    assert volume(mesh) == pytest.approx(block.volume)
    assert open_edges(mesh) == 0


def test_grooves_are_taken_out() -> None:
    """10 pitches of 30 with ribs of 10: 10 grooves of 20 x 6 in a field of 310."""
    block = Block(0, -18, 0, 310, 18, 1000)
    mesh = board(block, flutes=Flutes(0.0, 30.0, 10.0, 6.0))
    assert volume(mesh) == pytest.approx(block.volume - 10 * 20 * 6 * 1000)
    assert open_edges(mesh) == 0


def test_a_board_that_begins_in_a_groove() -> None:
    """Its left 15 mm are groove: 6 x 15 more is gone, and its end is 12 thick."""
    mesh = board(Block(15, -18, 0, 295, 18, 1000), flutes=Flutes(0.0, 30.0, 10.0, 6.0))
    assert volume(mesh) == pytest.approx(295 * 18 * 1000 - (9 * 20 + 15) * 6 * 1000)
    assert open_edges(mesh) == 0
    assert min(y for x, y, _ in mesh.points if x == 15) == -12


def test_a_half_round_head() -> None:
    """A half round of radius 500 over 1000 upright: area 1000·1000 + π·500²/2; 24 chords fall short by under half a percent."""
    block = Block(0, -12, 0, 1000, 12, 1500)
    mesh = board(block, Arch(0.0, 1000.0, 1000.0, 500.0))
    whole = (1000 * 1000 + math.pi * 500**2 / 2) * 12
    assert 0.995 * whole < volume(mesh) < whole
    assert open_edges(mesh) == 0


@pytest.mark.parametrize("outwards", [True, False])
def test_a_bent_strip_is_as_long_as_its_curve(outwards: bool) -> None:
    arch = Arch(0.0, 800.0, 0.0, 200.0)
    mesh = ring(arch, 8.0, -40.0, 0.0, outwards=outwards)
    middle = (arch.radius + (4 if outwards else -4)) * 2 * arch.half_angle
    assert volume(mesh) == pytest.approx(middle * 8 * 40, rel=0.003)
    assert open_edges(mesh) == 0


def test_a_face_with_an_arched_hole() -> None:
    hole = Arch(30.0, 400.0, 700.0, 200.0)
    block = Block(0, -20, 0, 460, 20, 1000)
    area = hole.area + 400 * (700 - 20)
    assert volume(under_arch(block, hole, 20.0)) == pytest.approx(block.volume - area * 20, rel=0.005)


@given(
    st.tuples(*[st.floats(-50, 120)] * 3), st.tuples(*[st.floats(1, 80)] * 3), st.tuples(*[st.floats(-50, 120)] * 3),
)  # fmt: skip
def test_cutting_out_leaves_the_rest(
    at: tuple[float, float, float], size: tuple[float, float, float], second: tuple[float, float, float]
) -> None:
    """What is left and what was cut make the whole; no two pieces share anything; none lies in a cut."""
    block = Block(0, 0, 0, 100, 60, 40)
    cuts = (Block(*at, *size), Block(*second, 30, 30, 30))
    left = pieces(block, cuts)
    both = Block(
        max(cuts[0].x, cuts[1].x), max(cuts[0].y, cuts[1].y), max(cuts[0].z, cuts[1].z),
        *(max(0.0, min(a + da, b + db) - max(a, b)) for a, da, b, db in (
            (cuts[0].x, cuts[0].dx, cuts[1].x, cuts[1].dx), (cuts[0].y, cuts[0].dy, cuts[1].y, cuts[1].dy),
            (cuts[0].z, cuts[0].dz, cuts[1].z, cuts[1].dz))),
    )  # fmt: skip
    gone = sum(block.overlap(cut) for cut in cuts) - block.overlap(both)
    assert sum(piece.volume for piece in left) == pytest.approx(
        block.volume - gone, abs=200
    )  # slivers of 0.01 mm are kept
    for i, one in enumerate(left):
        assert all(one.overlap(cut) < 200 for cut in cuts)
        assert all(one.overlap(other) < 1e-6 for other in left[i + 1 :])
