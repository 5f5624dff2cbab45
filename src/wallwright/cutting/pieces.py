"""From the wall's parts to the saw's pieces: one problem for each board, equal parts asked for together.

A group of equal parts is one piece whose name is its part ids joined by ``+``; ``named`` deals the ids out again over a
finished plan, so that every rectangle on the sheet carries the label of one part.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import replace
from typing import TYPE_CHECKING

from wallwright.core.units import show_mm
from wallwright.cutting.model import Piece, Placed, Plan, Problem, Saw, Sheet, SheetPlan, fits, from_mm
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
    Parts that this size cannot give, or whose board is not in the library, are not in it (`unfit_of` names them).
    """
    return tuple(
        Problem(grouped, (sheet,), saw)
        for board, own in _by_board(parts).items()
        if board in load.boards() and (grouped := _grouped(own, (sheet := _size(board, own, saw)), saw))
    )


def unfit_of(parts: Iterable[Part], saw: Saw) -> tuple[tuple[str, str], ...]:
    """(part id, reason) of every part that no sheet of its board gives."""
    return tuple(pair for board, own in _by_board(parts).items() for pair in _unfit(board, own, saw))


def named(plan: Plan) -> Plan:
    """The plan with every placed part under its own id, and every sheet by itself (equal layouts carry different ids)."""
    ids: dict[str, Iterator[str]] = {}
    sheets = tuple(
        replace(layout, count=1, placed=tuple(_own_id(placed, ids) for placed in layout.placed))
        for layout in plan.sheets
        for _ in range(layout.count)
    )
    return replace(plan, sheets=sheets)


def part_area(plan: Plan) -> int:
    """Area of all placed parts [tenths squared]."""
    return sum(_layout_area(layout) for layout in plan.sheets)


def sheet_area(plan: Plan) -> int:
    """Area of all sheets as delivered [tenths squared]."""
    return sum(layout.count * layout.sheet.length * layout.sheet.width for layout in plan.sheets)


def _layout_area(layout: SheetPlan) -> int:
    return layout.count * sum(placed.length * placed.width for placed in layout.placed)


def _own_id(placed: Placed, ids: dict[str, Iterator[str]]) -> Placed:
    left = ids.setdefault(placed.name, iter(placed.name.split(JOIN)))
    return replace(placed, name=next(left))


def _by_board(parts: Iterable[Part]) -> Mapping[str, Sequence[Part]]:
    by: dict[str, list[Part]] = {}
    for part in parts:
        by.setdefault(part.board, []).append(part)
    return by


def _grouped(parts: Sequence[Part], sheet: Sheet, saw: Saw) -> tuple[Piece, ...]:
    """Equal parts as one piece, those that fit the sheet only."""
    groups: dict[tuple[int, int, str], list[Piece]] = {}
    for part in parts:
        piece = _piece(part)
        if fits(piece, sheet, saw.trim):
            groups.setdefault((piece.length, piece.width, piece.grain), []).append(piece)
    return tuple(
        replace(own[0], name=JOIN.join(piece.name for piece in own), quantity=len(own))
        for own in groups.values()
    )


def _piece(part: Part) -> Piece:
    length, width = from_mm(part.cut_length, rounding="up"), from_mm(part.cut_width, rounding="up")
    return Piece(part.id, part.board, length, width, grain=part.grain)


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


def _size(board: str, parts: Sequence[Part], saw: Saw) -> Sheet:
    pieces = [_piece(part) for part in parts]
    return max(_sizes(board), key=lambda sheet: sum(fits(piece, sheet, saw.trim) for piece in pieces))


def _unfit(board: str, parts: Sequence[Part], saw: Saw) -> Iterator[tuple[str, str]]:
    if board not in load.boards():
        yield from (
            (part.id, f"{board or 'no board'} is no board of the library: order it cut to size")
            for part in parts
        )
        return
    sheet = _size(board, parts, saw)
    for part in parts:
        if not fits(_piece(part), sheet, saw.trim):
            size = f"{show_mm(part.cut_length)} x {show_mm(part.cut_width)}"
            yield (
                part.id,
                f"{size} mm is larger than a trimmed sheet of {board} ({sheet.name} mm): joint it, or take a larger sheet",
            )
