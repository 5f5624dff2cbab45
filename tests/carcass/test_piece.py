import pytest
from hypothesis import given
from hypothesis import strategies as st

from wallwright.carcass.piece import band, cut_size, piece
from wallwright.carcass.stock import stock
from wallwright.core.shape import Block


def test_a_panel_banded_all_round_is_cut_smaller():
    """600 × 400 with 2 mm on all edges is cut 596 × 396 (common practice)."""
    part = piece(
        "P", "C1", "shelf", "shelf", stock("mdf18"), Block(0, -400, 0, 600, 400, 18), "x", "y", ("2.0",) * 4
    )
    assert (part.length, part.width) == (600, 400)
    assert (part.cut_length, part.cut_width) == (596, 396)


bands = st.sampled_from(["", "0.4", "0.8", "1.0", "2.0"])


@given(st.floats(100, 2000), st.floats(100, 1000), bands, bands, bands, bands)
def test_cut_and_bands_make_the_finished_size(length, width, long1, long2, short1, short2):
    part = piece(
        "P",
        "C1",
        "side",
        "side",
        stock("ply18"),
        Block(0, 0, 0, 18, width, length),
        "z",
        "y",
        (long1, long2, short1, short2),
    )
    assert part.cut_width + band(long1) + band(long2) == pytest.approx(part.width) == pytest.approx(width)
    assert (
        part.cut_length + band(short1) + band(short2) == pytest.approx(part.length) == pytest.approx(length)
    )
    assert part.mass == pytest.approx(length * width * 10.8 / 1e6)


def test_a_bare_edge_takes_nothing():
    assert cut_size(500, "", "") == 500


def test_what_is_cut_out_weighs_nothing():
    whole = piece("P", "C1", "front", "frame", stock("ply18"), Block(0, 0, 0, 500, 18, 400), "x", "z")
    frame = piece(
        "P", "C1", "front", "frame", stock("ply18"), Block(0, 0, 0, 500, 18, 400), "x", "z", hollow=1e5
    )
    assert frame.mass == pytest.approx(whole.mass / 2)
