"""Which cut frees a part: against a bench sawn here by hand, and on plans of every kind of saw."""

from __future__ import annotations

import pytest

from wallwright.cutting.freed import Freed, freed
from wallwright.cutting.model import Cut, Offcut, Piece, Placed, Problem, Saw, Sheet, SheetPlan, Stages
from wallwright.cutting.solve import quick


def test_a_sheet_sawn_by_hand() -> None:
    """1000 × 500, kerf 4: a strip off the bottom, which gives two parts; a third is what is left above it."""
    sheet = Sheet("s", "ply", 1000, 500)
    left, right = Placed("left", 0, 0, 600, 200, False), Placed("right", 604, 0, 396, 200, False)
    above, offcut = Placed("above", 0, 204, 700, 296, False), Offcut(704, 204, 296, 296)
    cuts = (
        Cut(1, "y", 200, 0, 1000, 1, 2, 3),
        Cut(2, "x", 700, 204, 500, 3, 4, 5),
        Cut(2, "x", 600, 0, 200, 2, 6, 7),
    )
    assert freed(SheetPlan(sheet, 1, (left, right, above), cuts, (offcut,))) == {
        above: Freed(2, 4),
        offcut: Freed(2, 5),
        left: Freed(3, 6),
        right: Freed(3, 7),
    }


def test_a_part_as_large_as_its_sheet_needs_no_cut() -> None:
    whole = Placed("whole", 0, 0, 1000, 500, False)
    assert freed(SheetPlan(Sheet("s", "ply", 1000, 500), 1, (whole,), (), ())) == {whole: Freed(0, 1)}


@pytest.mark.parametrize("stages", ["any", 2, 3])
@pytest.mark.parametrize("kerf", [0, 32])
def test_the_last_cut_that_touches_a_part_frees_it(kerf: int, stages: Stages) -> None:
    """Told apart by geometry alone: no later cut's line runs along the part, and the freeing one does."""
    pieces = tuple(Piece(f"p{i}", "ply", 900 + 370 * i, 700 + 90 * i, 3) for i in range(8))
    plan = quick(Problem(pieces, (Sheet("s", "ply", 24400, 12200, 50.0),), Saw(kerf, 100, stages)))
    for layout in plan.sheets:
        found = freed(layout)
        assert len({panel for _, panel in found.values()}) == len(found)
        for part in layout.placed:
            touching = [
                n for n, cut in enumerate(layout.cuts, 1) if _touches(cut, part, kerf)
            ]  # fmt: skip
            assert found[part].cut == touching[-1], part.name


def _touches(cut: Cut, part: Placed, kerf: int) -> bool:
    low, high, from_, to = (
        (part.x, part.x + part.length, part.y, part.y + part.width)
        if cut.axis == "x"
        else (part.y, part.y + part.width, part.x, part.x + part.length)
    )
    return (cut.at == high or cut.at + kerf == low) and cut.start <= from_ and to <= cut.end
