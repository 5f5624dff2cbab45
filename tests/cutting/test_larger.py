"""A part that no sheet gives is told what would do: turned, jointed of so many, another board or sheet by name and size."""

import pytest

from wallwright.cutting.larger import other_boards, other_sheets, would_do
from wallwright.cutting.model import Piece, Problem, Saw, Sheet

PLY = Sheet("8x4", "ply18", 24400, 12200)
JUMBO = Sheet("jumbo", "mdf", 28000, 20700)


@pytest.mark.parametrize(
    ("piece", "says"),
    [
        (Piece("rail", "ply18", 27000, 400), "joint it of 2 lengths, about 1350 x 40 mm each"),
        (Piece("rail", "ply18", 48400, 400), "joint it of 2 lengths, about 2420 x 40 mm each"),
        (Piece("rail", "ply18", 48401, 400), "joint it of 3 lengths, about 1613 x 40 mm each"),
        (Piece("field", "ply18", 24000, 13000), "joint it of 2 widths, about 2400 x 650 mm each"),
        (Piece("field", "ply18", 30000, 14000), "joint it of 3 lengths, about 1000 x 1400 mm each"),  # lying across
        (Piece("field", "ply18", 30000, 14000, grain="length"), "joint it of 2 lengths and of 2 widths, about 1500 x 700 mm each"),
        # lies with its length across the sheet: two lengths of 1200 lie there, one along would be cut across its grain
        (Piece("door", "ply18", 15000, 25000, grain="width"), "joint it of 2 lengths and of 2 widths, about 750 x 1250 mm each"),
    ],
)  # fmt: skip
def test_jointed_of_the_fewest(piece: Piece, says: str) -> None:
    assert would_do(piece, (PLY,), 100, ()) == says


def test_turned_where_the_grain_alone_bars_it() -> None:
    door = Piece("door", "ply18", 15000, 6000, grain="width")
    assert would_do(door, (PLY,), 100, ()).startswith(
        "free its grain, if it may run the other way: turned it fits, or joint"
    )
    assert "turned" not in would_do(Piece("door", "ply18", 27000, 6000, grain="width"), (PLY,), 100, ())


def test_another_board_by_name_and_size() -> None:
    (take,) = other_boards(Piece("side", "ply18", 27000, 4000), 100)
    assert take.startswith("take ") and "(2800 x 2070 mm)" in take and "18 mm" in take
    (longer,) = other_boards(Piece("side", "ply18", 30000, 4000), 100)
    assert longer == "take Plywood, birch throughout, 18 mm (3050 x 1525 mm)"
    (none,) = other_boards(Piece("side", "ply18", 40000, 4000), 100)
    assert none == "order it to size: no board about as thick comes large enough"


def test_another_sheet_of_the_table() -> None:
    rail, big = Piece("rail", "ply18", 27000, 400), Piece("big", "ply18", 40000, 400)
    assert other_sheets(rail, (PLY, JUMBO), 100) == ["take 'jumbo' of 'mdf' (2800 x 2070 mm)"]
    assert other_sheets(big, (PLY, JUMBO), 100) == ["add a larger sheet"]
    with pytest.raises(ValueError, match=r"joint it of 2 lengths.* or take 'jumbo' of 'mdf'"):
        Problem((rail,), (PLY, JUMBO), Saw(trim=100))
