"""Sheets and slabs of face material, counted by a cutting plan of the real pieces: at once, and kept by the value of its question."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Mapping
from functools import lru_cache
from typing import TYPE_CHECKING

from wallwright.cutting.construct import first_plan
from wallwright.cutting.model import Piece, Problem, Saw, Sheet, from_mm
from wallwright.cutting.tree import tasks

if TYPE_CHECKING:
    from wallwright.money.faces import FacePiece


def sheets(
    pieces: Iterable[FacePiece], sizes: Mapping[str, tuple[float, float]], kerf: float
) -> tuple[tuple[str, int, float, float], ...]:
    """(finish, sheets bought, used share of their area, their area [m²]) of each finish, by a valid plan: at most so many.

    sizes : length and width of each finish's sheet [mm] · kerf : lost at each cut [mm]
    """
    wanted: dict[str, dict[tuple[float, float, bool], int]] = defaultdict(lambda: defaultdict(int))
    for piece in pieces:
        wanted[piece.finish][piece.length, piece.width, piece.along] += piece.count
    out: list[tuple[str, int, float, float]] = []
    for finish, counts in wanted.items():
        length, width = sizes[finish]
        found, used = _counted(
            tuple(sorted((*size, count) for size, count in counts.items())), length, width, kerf
        )
        out.append((finish, found, used, found * length * width / 1e6))
    return tuple(out)


@lru_cache(maxsize=256)
def _counted(
    sizes: tuple[tuple[float, float, bool, int], ...], length: float, width: float, kerf: float
) -> tuple[int, float]:
    parts = tuple(
        Piece(
            f"f{i}",
            "face",
            from_mm(a, rounding="up"),
            from_mm(b, rounding="up"),
            count,
            "length" if along else "none",
        )
        for i, (a, b, along, count) in enumerate(sizes)
    )
    sheet = Sheet("face", "face", from_mm(length, rounding="down"), from_mm(width, rounding="down"))
    (task,) = tasks(Problem(parts, (sheet,), Saw(from_mm(kerf, rounding="up"), 0)))
    boards, _ = first_plan(task)
    area = sum(part.quantity * part.length * part.width for part in parts)
    return len(boards), area / (len(boards) * sheet.length * sheet.width)
