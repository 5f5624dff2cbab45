"""Boards alike but for name and price a square metre: one search, each with its own price, bound and proof."""

from __future__ import annotations

from dataclasses import replace

import pytest

from wallwright.cutting import alike
from wallwright.cutting.model import Piece, Plan, Problem, Saw, Sheet
from wallwright.cutting.solve import light
from wallwright.cutting.verify import verify

SIZES = (("2440 x 1220", 24400, 12200), ("2800 x 2070", 28000, 20700))


def problem(board: str, metre: float, *, turned: bool = False, offcut: bool = False) -> Problem:
    sizes = ((6100, 5500, 6), (12000, 5900, 5), (8000, 3000, 4), (4500, 4400, 5))
    pieces = tuple(Piece(f"p{i}", board, a, b, n, "none") for i, (a, b, n) in enumerate(sizes))
    sheets = [Sheet(name, board, x, y, round(x * y / 1e8 * metre, 2)) for name, x, y in SIZES]
    sheets += [Sheet("rest", board, 9000, 6000, 0.0, 1, 0)] if offcut else []
    return Problem(pieces, tuple(sheets[::-1] if turned else sheets), Saw(32, 100))


@pytest.mark.parametrize("offcut", [False, True])
def test_searched_once_and_right_for_each(offcut: bool) -> None:
    alike._searched.cache_clear()  # pyright: ignore[reportPrivateUsage]
    plans: list[Plan] = []
    for board, metre, turned in (("ply", 8.4, False), ("mdf", 5.2, False), ("hdf", 6.6, True)):
        own = problem(board, metre, turned=turned, offcut=offcut)
        bounded = light(own, 0)
        plan = alike.as_one_board(own, bounded, 300)
        assert plan is not None
        assert verify(own, plan) == []
        assert plan.price <= bounded.price
        assert (plan.lower_bound, plan.price_bound) == (bounded.lower_bound, bounded.price_bound)
        assert plan.price == pytest.approx(sum(s.count * s.sheet.price for s in plan.sheets))
        assert {s.sheet.material for s in plan.sheets} == {board}
        plans.append(plan)
    assert alike._searched.cache_info().misses == 1  # pyright: ignore[reportPrivateUsage]
    assert len({tuple(layout.placed for layout in plan.sheets) for plan in plans}) == 1
    direct = light(problem("ply", 8.4, offcut=offcut), 300)
    assert plans[0].price == direct.price


def test_a_price_that_does_not_go_by_the_area_is_searched_for_itself() -> None:
    own = problem("ply", 8.4)
    dear = replace(own, sheets=(own.sheets[0], replace(own.sheets[1], price=own.sheets[1].price + 0.06)))
    bounded = light(own, 0)
    assert alike.as_one_board(dear, bounded, 50) is None
    none = replace(own, sheets=tuple(replace(sheet, price=0.0) for sheet in own.sheets))
    assert alike.as_one_board(none, bounded, 50) is None
    two = replace(
        own,
        pieces=(*own.pieces, Piece("q", "mdf", 900, 900)),
        sheets=(*own.sheets, Sheet("s", "mdf", 9999, 9999, 1.0)),
    )
    assert alike.as_one_board(two, bounded, 50) is None


def test_parts_without_a_sheet_keep_their_board() -> None:
    own = problem("ply", 8.4)
    short = replace(own, sheets=(replace(own.sheets[0], quantity=1),))
    plan = alike.as_one_board(short, light(short, 0), 50)
    assert plan is not None and plan.unplaced
    assert {piece.material for piece in plan.unplaced} == {"ply"}
    assert verify(short, plan) == []
