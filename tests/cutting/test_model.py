from __future__ import annotations

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from wallwright.cutting.model import Piece, Problem, Saw, Sheet, from_mm, to_mm

BOARD = Sheet("8x4", "ply", 24400, 12200, 100.0)


def test_parts_round_up_and_sheets_down() -> None:
    assert from_mm(720.01, rounding="up") == 7201
    assert from_mm(2440.19, rounding="down") == 24401
    assert from_mm(28.375 * 25.4, rounding="up") == 7208  # 28 3/8 in = 720.725 mm


@given(st.integers(0, 10**6))
def test_a_tenth_survives_the_way_through_floats(tenths: int) -> None:
    assert from_mm(to_mm(tenths), rounding="up") == tenths
    assert from_mm(to_mm(tenths), rounding="down") == tenths
    assert from_mm(tenths * 0.1, rounding="up") == tenths


@pytest.mark.parametrize("bad", [math.nan, math.inf, -math.inf])
def test_a_length_must_be_finite(bad: float) -> None:
    with pytest.raises(ValueError, match="finite"):
        from_mm(bad, rounding="up")


@pytest.mark.parametrize(
    ("field", "value", "said"),
    [
        ("length", -5, "part 'side': length -5 must be from 1"),
        ("width", 0, "part 'side': width 0 must be from 1"),
        ("width", 3.5, "width 3.5 must be a whole number"),
        ("length", math.nan, "length nan must be a whole number"),
        ("quantity", 0, "quantity 0 must be from 1"),
        ("quantity", True, "quantity True must be a whole number"),
        ("grain", "up", "grain 'up' must be one of none, length, width"),
    ],
)
def test_a_bad_part_is_named(field: str, value: object, said: str) -> None:
    good: dict[str, object] = {"name": "side", "material": "ply", "length": 7200, "width": 3000}
    with pytest.raises(ValueError, match=said):
        Piece(**{**good, field: value})


@pytest.mark.parametrize("price", [-1.0, math.nan, math.inf, True, "12"])
def test_a_bad_price_is_named(price: object) -> None:
    with pytest.raises(ValueError, match="price"):
        Sheet("8x4", "ply", 24400, 12200, price)  # type: ignore[arg-type]


def test_a_part_larger_than_the_trimmed_sheet() -> None:
    Problem((Piece("top", "ply", 24200, 3000),), (BOARD,), Saw(trim=100))
    with pytest.raises(
        ValueError, match=r"'top': 2420.1 x 300 mm is larger than every sheet of 'ply' after trimming"
    ):
        Problem((Piece("top", "ply", 24201, 3000),), (BOARD,), Saw(trim=100))


def test_a_part_that_fits_only_across_the_grain() -> None:
    Problem((Piece("door", "ply", 15000, 4000, grain="length"),), (BOARD,))
    with pytest.raises(ValueError, match="with grain along its width"):
        Problem((Piece("door", "ply", 15000, 4000, grain="width"),), (BOARD,))


def test_an_unknown_material_names_the_nearest() -> None:
    with pytest.raises(ValueError, match=r"material 'plyy' has no sheet; did you mean 'ply'\?"):
        Problem((Piece("top", "plyy", 100, 100),), (BOARD,))


def test_too_many_parts() -> None:
    with pytest.raises(ValueError, match="the most that can be planned at once"):
        Problem((Piece("a", "ply", 10, 10, 60_000), Piece("b", "ply", 11, 10, 60_000)), (BOARD,))


def test_one_name_with_two_grains() -> None:
    with pytest.raises(ValueError, match="two different names"):
        Problem((Piece("a", "ply", 100, 50), Piece("a", "ply", 100, 50, grain="length")), (BOARD,))
