"""From the wall's parts to the saw's pieces: one problem for each board, equal parts asked for together.

A group of equal parts is one piece whose name is its part ids joined by ``+``; ``named`` deals the ids out again over a
finished plan, so that every rectangle on the sheet carries the label of one part.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import replace
from typing import TYPE_CHECKING

from wallwright.cutting.model import (
    Grain,
    Piece,
    Placed,
    Plan,
    Problem,
    Saw,
    Sheet,
    SheetPlan,
    fits,
    from_mm,
    to_mm,
)
from wallwright.library import load

if TYPE_CHECKING:
    from wallwright.carcass.record import Part
    from wallwright.job.design import SawSetting

JOIN = "+"


def saw_of(setting: SawSetting, least_offcut: float) -> Saw:
    """The workshop's saw in whole tenths; least_offcut [mm].

    Raises:
        ValueError: a setting no saw has, naming `design.saw`.
    """
    stages = "any" if setting.stages == "any" else 2 if setting.stages == "2" else 3
    try:
        return Saw(
            from_mm(setting.kerf.mm, rounding="up"),
            from_mm(setting.trim.mm, rounding="up"),
            stages,
            from_mm(least_offcut, rounding="up"),
        )
    except ValueError as problem:
        msg = f"design.saw: {problem} (tenths of a mm)"
        raise ValueError(msg) from None


def pieces_of(parts: Iterable[Part], saw: Saw) -> tuple[Problem, ...]:
    """A problem for each board that parts are cut from, in order of first mention.

    A board is bought in one size: the first of the library's that gives all its parts, else the one that gives most.
    Parts that this size cannot give are not in it (`sorted_out` names them). What is no board of the library (battens by the
    metre, glass to size) is not sawn from sheets and not asked for.
    """
    return sorted_out(parts, saw)[0]


def sorted_out(parts: Iterable[Part], saw: Saw) -> tuple[tuple[Problem, ...], tuple[tuple[str, str], ...]]:
    """The problems of `pieces_of`, and (part id, reason) of every part that no sheet of its board gives."""
    problems: list[Problem] = []
    unfit: list[tuple[str, str]] = []
    for board, groups in _grouped(parts).items():
        if board not in load.boards():
            continue
        sheet = max(
            _sizes(board), key=lambda s: sum(piece.quantity for piece in groups if fits(piece, s, saw.trim))
        )
        cut = tuple(piece for piece in groups if fits(piece, sheet, saw.trim))
        unfit += (pair for piece in groups if piece not in cut for pair in _too_large(piece, sheet))
        if cut:
            problems.append(Problem(cut, (sheet,), saw))
    return tuple(problems), tuple(unfit)


def named(plan: Plan) -> Plan:
    """The plan with every placed part under its own id, and every sheet by itself (equal layouts carry different ids)."""
    ids: dict[str, Iterator[str]] = {}
    sheets = tuple(
        SheetPlan(
            layout.sheet,
            1,
            tuple(_own_id(placed, ids) for placed in layout.placed),
            layout.cuts,
            layout.offcuts,
        )
        for layout in plan.sheets
        for _ in range(layout.count)
    )
    return replace(plan, sheets=sheets)


def part_area(plan: Plan) -> int:
    """Area of all placed parts [tenths squared]."""
    return sum(layout.count * sum(p.length * p.width for p in layout.placed) for layout in plan.sheets)


def sheet_area(plan: Plan) -> int:
    """Area of all sheets as delivered [tenths squared]."""
    return sum(layout.count * layout.sheet.length * layout.sheet.width for layout in plan.sheets)


def _own_id(placed: Placed, ids: dict[str, Iterator[str]]) -> Placed:
    if JOIN not in placed.name:
        return placed
    left = ids.setdefault(placed.name, iter(placed.name.split(JOIN)))
    return Placed(next(left), placed.x, placed.y, placed.length, placed.width, placed.turned)


def _grouped(parts: Iterable[Part]) -> Mapping[str, Sequence[Piece]]:
    """Equal parts of each board as one piece."""
    by: dict[str, dict[tuple[int, int, Grain], list[str]]] = {}
    for part in parts:
        length, width = from_mm(part.cut_length, rounding="up"), from_mm(part.cut_width, rounding="up")
        by.setdefault(part.board, {}).setdefault((length, width, part.grain), []).append(part.id)
    return {
        board: [
            Piece(JOIN.join(ids), board, length, width, len(ids), grain)
            for (length, width, grain), ids in groups.items()
        ]
        for board, groups in by.items()
    }


def _sizes(board: str) -> tuple[Sheet, ...]:
    return tuple(
        Sheet(
            f"{length:g} x {width:g}",
            board,
            from_mm(length, rounding="down"),
            from_mm(width, rounding="down"),
        )
        for length, width in load.boards()[board].sheets
    )


def _too_large(piece: Piece, sheet: Sheet) -> Iterator[tuple[str, str]]:
    size = f"{to_mm(piece.length):g} x {to_mm(piece.width):g}"
    says = f"{size} mm is larger than a trimmed sheet of {piece.material} ({sheet.name} mm): joint it, or take a larger sheet"
    yield from ((ident, says) for ident in piece.name.split(JOIN))
