"""From the wall's parts to the saw's pieces: one problem for each board, equal parts asked for together.

A group of equal parts is one piece whose name is its part ids joined by ``+``; ``named`` deals the ids out again over a
finished plan, so that every rectangle on the sheet carries the label of one part.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

from wallwright.cutting.larger import other_boards, size_of, would_do
from wallwright.cutting.match import sets_of, whole
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
    from wallwright.job.design import SawSetting, StockSheet

JOIN = "+"
MM2_PER_M2 = 1e6


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
    """A problem for each board that parts are cut from, in order of first mention: all sizes of the library on offer, none in stock.

    Parts that no sheet gives are not in it (`sorted_out` names them). What is no board of the library (battens by the
    metre, glass to size) is not sawn from sheets and not asked for.
    """
    return sorted_out(parts, saw).problems


@dataclass(frozen=True, slots=True)
class Sorted:
    """The saw's problems, one a board; (part id, why) of parts that no sheet gives; (mark, why) of matched fronts that cannot be cut
    from one strip and are cut apart.
    """

    problems: tuple[Problem, ...]
    unfit: tuple[tuple[str, str], ...]
    parted: tuple[tuple[str, str], ...]


def sorted_out(
    parts: Iterable[Part], saw: Saw, stock: Sequence[StockSheet] = (), prices: Mapping[str, float] | None = None
) -> Sorted:  # fmt: skip
    """The problems of `pieces_of` with what is in stock, and what does not fit.

    stock : sheets and offcuts of the workshop · prices : of each board [money per m²]; a board without one is reckoned by its area.
    """
    problems: list[Problem] = []
    unfit: list[tuple[str, str]] = []
    parted: list[tuple[str, str]] = []
    for board, groups in _grouped(parts).items():
        if board not in load.boards():
            continue
        sheets = _on_offer(board, stock, (prices or {}).get(board) or 1.0)
        whole_sets, apart = _matched(groups, sheets, saw)
        parted += apart
        cut = tuple(piece for piece in whole_sets if any(fits(piece, s, saw.trim) for s in sheets))
        fit = {piece.name for piece in cut}
        unfit += (
            pair for piece in groups if piece.name not in fit for pair in _too_large(piece, sheets, saw.trim)
        )
        if cut:
            problems.append(Problem(cut, sheets, saw))
    return Sorted(tuple(problems), tuple(unfit), tuple(parted))


def is_offcut(sheet: Sheet) -> bool:
    """Whether it is an offcut of an earlier job, which costs nothing."""
    return sheet.trim is not None


def in_stock(sheet: Sheet) -> bool:
    """Whether the workshop has it already."""
    return sheet.quantity is not None


def rack_first(plan: Plan, sheets: Sequence[Sheet]) -> Plan:
    """The plan with sheets of the rack in place of bought ones of the same size, as far as they go."""
    left = {
        s: s.quantity - sum(layout.count for layout in plan.sheets if layout.sheet == s)
        for s in sheets
        if s.quantity is not None
    }
    out: list[SheetPlan] = []
    for layout in plan.sheets:
        wanted = layout.count
        for own in () if in_stock(layout.sheet) else tuple(left):
            alike = (own.length, own.width, own.trim) == (
                layout.sheet.length,
                layout.sheet.width,
                layout.sheet.trim,
            )
            take = min(wanted, left[own]) if alike else 0
            if take:
                out.append(replace(layout, sheet=own, count=take))
                left[own], wanted = left[own] - take, wanted - take
        if wanted:
            out.append(replace(layout, count=wanted))
    return replace(plan, sheets=tuple(out))


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
    """Equal parts of each board as one piece; matched fronts each by itself, for they have an order."""
    by: dict[str, dict[tuple[int, int, Grain, str], list[str]]] = {}
    marks: dict[str, str] = {}
    for part in parts:
        length, width = from_mm(part.cut_length, rounding="up"), from_mm(part.cut_width, rounding="up")
        own = part.id if part.match else ""
        marks[own] = part.match
        by.setdefault(part.board, {}).setdefault((length, width, part.grain, own), []).append(part.id)
    return {
        board: [
            Piece(JOIN.join(ids), board, length, width, len(ids), grain, marks[own])
            for (length, width, grain, own), ids in groups.items()
        ]
        for board, groups in by.items()
    }


def _on_offer(board: str, stock: Sequence[StockSheet], price: float) -> tuple[Sheet, ...]:
    """What is in stock first, so that of two that cost the same it is taken; then every size of the library."""
    own = tuple(
        Sheet(
            f"{row.ref}, {'offcut' if row.offcut else 'in stock'}: {row.length.mm:g} x {row.width.mm:g}",
            board,
            from_mm(row.length.mm, rounding="down"),
            from_mm(row.width.mm, rounding="down"),
            0.0 if row.offcut else _price(row.length.mm, row.width.mm, price),
            row.count,
            0 if row.offcut else None,
        )
        for row in stock
        if row.board == board and row.count
    )
    bought = tuple(
        Sheet(
            f"{length:g} x {width:g}",
            board,
            from_mm(length, rounding="down"),
            from_mm(width, rounding="down"),
            _price(length, width, price),
        )
        for length, width in load.boards()[board].sheets
    )
    return own + bought


def _price(length: float, width: float, price: float) -> float:
    return round(length * width / MM2_PER_M2 * price, 2)


def _matched(
    pieces: Sequence[Piece], sheets: Sequence[Sheet], saw: Saw
) -> tuple[list[Piece], list[tuple[str, str]]]:  # fmt: skip
    """The pieces with those sets parted that no sheet gives in one strip, and why each was."""
    parted: dict[str, str] = {}
    for (_, mark), group in sets_of(pieces).items():
        try:
            one = whole(group, saw.kerf)
        except ValueError as problem:
            parted[mark] = str(problem)
            continue
        if not any(fits(one, sheet, saw.trim) for sheet in sheets):
            size = f"{to_mm(one.length):g} x {to_mm(one.width):g}"
            parted[mark] = (
                f"no sheet gives the strip of {size} mm: its fronts are cut apart, from neighbouring places where it goes"
            )
    return [replace(p, match="") if p.match in parted else p for p in pieces], list(parted.items())


def _too_large(piece: Piece, sheets: Sequence[Sheet], trim: int) -> Iterator[tuple[str, str]]:
    largest = max(sheets, key=lambda sheet: sheet.length * sheet.width)
    does = would_do(piece, sheets, trim, other_boards(piece, trim))
    name = load.boards()[piece.material].name
    says = f"{size_of(piece)} is larger than a trimmed sheet of {name} ({largest.name} mm as bought): {does}"
    yield from ((ident, says) for ident in piece.name.split(JOIN))
