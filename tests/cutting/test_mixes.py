"""Mixes of sheet sizes: all of them, none twice, against counting them out; and the filling of one."""

from __future__ import annotations

import itertools

from wallwright.cutting.mixes import Mixes, fill, mixes
from wallwright.cutting.model import Piece, Problem, Saw, Sheet
from wallwright.cutting.tree import Task, tasks


def task() -> Task:
    sheets = (
        Sheet("s", "ply", 1000, 600, 3.0, 3), Sheet("m", "ply", 1200, 800, 5.0, 4), Sheet("l", "ply", 2000, 1000, 9.0),
    )  # fmt: skip
    pieces = (Piece("a", "ply", 900, 500, 4), Piece("b", "ply", 700, 350, 6), Piece("c", "ply", 300, 300, 5))
    return tasks(Problem(pieces, sheets, Saw(0, 0, 3)))[0]


def test_every_mix_that_is_cheaper_and_large_enough_once_the_dearest_first() -> None:
    one, below = task(), 3100
    need = sum(a * p.quantity for a, p in zip(one.areas, one.pieces, strict=True))
    counted = {
        mix
        for mix in itertools.product(range(4), range(5), range(4))
        if sum(n * c for n, c in zip(mix, (300, 500, 900), strict=True)) < below
        and sum(n * s.x * s.y for n, s in zip(mix, one.stock, strict=True)) >= need
    }
    found = mixes(one, below)
    assert len(found) == len(set(found))
    assert set(found) == counted
    costs = [sum(n * c for n, c in zip(mix, (300, 500, 900), strict=True)) for mix in found]
    assert costs == sorted(costs, reverse=True)


def test_nothing_to_choose_from_below_the_area() -> None:
    assert mixes(task(), 1000) == []


def test_a_mix_is_filled_with_every_part_and_its_own_sheets() -> None:
    one = task()
    tried = Mixes(one, 1)
    for _ in range(20):
        for filling in tried.nearest(3100, 2):
            boards = fill(filling, 2000)
            if boards is None:
                continue
            kinds = [sum(b.kind == k for b in boards) for k in range(3)]
            assert all(used <= own for used, own in zip(kinds, filling.mix, strict=True))
            parts = sorted(part for b in boards for part in b.root.parts())
            assert parts == sorted(k for k, p in enumerate(one.pieces) for _ in range(p.quantity))
            return
    raise AssertionError("no mix was filled")


def test_a_mix_is_left_as_it_is_when_it_is_late() -> None:
    (filling,) = Mixes(task(), 1).nearest(3100, 1)
    before = filling.ruin.waiting()
    assert fill(filling, 2000, late=lambda: True) is None
    assert filling.ruin.waiting() == before and filling.ruin.at == 0
