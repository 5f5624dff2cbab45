"""Parts and sheets out of CSV text, a plan into plain numbers for JSON: the edge of the cutting room."""

from __future__ import annotations

import csv
import difflib
import io
from collections.abc import Callable, Iterator, Sequence
from typing import Any, TypeVar

from wallwright.core.units import read_length
from wallwright.cutting.model import GRAINS, Cut, Grain, Piece, Plan, Sheet, SheetPlan, from_mm, to_mm

PARTS = ("name", "material", "length", "width", "quantity", "grain", "match")
SHEETS = ("name", "material", "length", "width", "price", "quantity", "trim")
Row = tuple[int, dict[str, str]]
T = TypeVar("T")


def parse_parts(csv_text: str) -> tuple[Piece, ...]:
    """Parts from CSV with the columns name, material, length, width, quantity, grain (none, length or width), match.

    Lengths as people write them: 720, 72 cm, 2'-4 3/8". Rounded up to a tenth of a mm. An empty grain is none. Parts
    with the same word under match are cut from one strip in the order of their lines.

    Raises:
        ValueError: names the line, the field, what was read and what would do.
    """
    return tuple(
        _row(line, row, _piece) for line, row in _rows(csv_text, "parts", PARTS, optional=("grain", "match"))
    )


def parse_sheets(csv_text: str) -> tuple[Sheet, ...]:
    """Sheets from CSV with the columns name, material, length, width, price, quantity (empty = as many as wanted), trim.

    Lengths as people write them, rounded down to a tenth of a mm. An empty trim is the saw's; 0 for an offcut of an
    earlier job, whose edges are sawn already.

    Raises:
        ValueError: names the line, the field, what was read and what would do.
    """
    return tuple(
        _row(line, row, _sheet)
        for line, row in _rows(csv_text, "sheets", SHEETS, optional=("price", "quantity", "trim"))
    )


NO_BOUND = (
    "the stock did not suffice: what a plan with all parts needs is no bound for one that leaves some out"
)


def plan_json(plan: Plan, unchecked: Sequence[str] = ()) -> dict[str, Any]:
    """The plan as plain values, lengths in mm: what ``wallwright cut --json`` prints.

    ``x``: how many sheets are cut to this layout. ``length`` of a part lies along the sheet's length as placed, so a
    ``turned`` part shows its own width there. ``cuts`` are in sawing order; the blade takes ``at`` to ``at`` + kerf;
    panel 1 is the sheet, ``gives`` the panels below and above the blade (null: nothing is left there). ``iterations``
    are the steps taken. ``seed`` and ``steps`` make the plan again where steps were asked for, ``seed`` and ``replay`` where
    the clock ended the search; both are null where the user did, where the
    machine had to compile first, or where a mix of sheet sizes ran out of its time. ``seconds`` went into
    the search, ``loading`` of them into fetching the compiled kernels. ``bound_unchecked``: the materials whose bound the
    verifier found too much work to price again; then ``proved`` is false. Where the stock ran out ``lower_bound`` and
    ``price_bound`` are null, and
    ``no_bound`` says why.
    """
    return {
        "sheets": [_layout_json(layout) for layout in plan.sheets],
        "lower_bound": None if plan.unplaced else plan.lower_bound,
        "no_bound": NO_BOUND if plan.unplaced else "",
        "used": plan.used,
        "seconds": round(plan.seconds, 3),
        "loading": round(plan.loading, 3),
        "price": plan.price,
        "price_bound": None if plan.unplaced else plan.price_bound,
        "proved": plan.proved and not unchecked,
        "bound_unchecked": list(unchecked),
        "unplaced": [{"name": p.name, "material": p.material, "quantity": p.quantity} for p in plan.unplaced],
        "seed": plan.seed,
        "iterations": plan.iterations,
        "steps": plan.steps,
        "replay": None if plan.replay is None else replay_text(plan.replay),
    }


def replay_text(replay: Sequence[Sequence[int]]) -> str:
    """What ``wallwright cut --replay`` takes: numbers with commas, materials with slashes."""
    return "/".join(",".join(map(str, stops)) for stops in replay)


def read_replay(text: str) -> tuple[tuple[int, ...], ...]:
    """A replay as ``replay_text`` writes it.

    Raises:
        ValueError: something that is no whole number above 0.
    """
    try:
        found = tuple(tuple(int(n) for n in row.split(",") if n.strip()) for row in text.split("/"))
    except ValueError:
        found = ((0,),)
    if any(n < 1 for row in found for n in row):
        raise ValueError(
            f"--replay {text}: write it as the plan's JSON has it, whole numbers with commas, materials with slashes"
        )
    return found


def _layout_json(layout: SheetPlan) -> dict[str, Any]:
    return {
        "sheet": layout.sheet.name,
        "material": layout.sheet.material,
        "length": to_mm(layout.sheet.length),
        "width": to_mm(layout.sheet.width),
        "x": layout.count,
        "parts": [
            {
                "name": p.name,
                "x": to_mm(p.x),
                "y": to_mm(p.y),
                "length": to_mm(p.length),
                "width": to_mm(p.width),
                "turned": p.turned,
            }
            for p in layout.placed
        ],
        "cuts": [_cut_json(cut) for cut in layout.cuts],
        "offcuts": [
            {"x": to_mm(o.x), "y": to_mm(o.y), "length": to_mm(o.length), "width": to_mm(o.width)}
            for o in layout.offcuts
        ],
    }


def _cut_json(cut: Cut) -> dict[str, Any]:
    return {
        "stage": cut.stage,
        "panel": cut.panel,
        "axis": cut.axis,
        "at": to_mm(cut.at),
        "from": to_mm(cut.start),
        "to": to_mm(cut.end),
        "gives": [cut.first, cut.second],
    }


# --- one row ---------------------------------------------------------------------------------------------------------


def _piece(row: dict[str, str]) -> Piece:
    return Piece(
        name=_text(row, "name"),
        material=_text(row, "material"),
        length=_length(row, "length", rounding="up"),
        width=_length(row, "width", rounding="up"),
        quantity=_whole(row, "quantity", least=1),
        grain=_grain(row["grain"]),
        match=row["match"],
    )


def _sheet(row: dict[str, str]) -> Sheet:
    return Sheet(
        name=_text(row, "name"),
        material=_text(row, "material"),
        length=_length(row, "length", rounding="down"),
        width=_length(row, "width", rounding="down"),
        price=_price(row["price"]),
        quantity=_whole(row, "quantity", least=0) if row["quantity"] else None,
        trim=_own_trim(row["trim"]) if row["trim"] else None,
    )


def _row(line: int, row: dict[str, str], make: Callable[[dict[str, str]], T]) -> T:
    try:
        return make(row)
    except ValueError as fault:
        msg = f"line {line}: {fault}"
        raise ValueError(msg) from None


def _text(row: dict[str, str], name: str) -> str:
    if not row[name]:
        msg = f"{name}: is empty; write a {name}"
        raise ValueError(msg)
    return row[name]


def _length(row: dict[str, str], name: str, *, rounding: Any) -> int:
    text = _text(row, name)
    try:
        tenths = from_mm(read_length(text), rounding=rounding)
    except ValueError as fault:
        msg = f"{name} {text!r}: {fault}"
        raise ValueError(msg) from None
    if tenths < 1:
        msg = f"{name} {text!r}: must be above zero, such as 720 or 72 cm"
        raise ValueError(msg)
    return tenths


def _whole(row: dict[str, str], name: str, *, least: int) -> int:
    text = row[name]
    if not (text.isascii() and text.isdigit() and len(text) < 10 and int(text) >= least):
        msg = f"{name} {text!r}: must be a whole number from {least} up, such as 2"
        raise ValueError(msg)
    return int(text)


def _price(text: str) -> float:
    try:
        price = float(text or 0)
    except ValueError:
        price = -1.0
    if not 0 <= price <= 1e9:
        msg = f"price {text!r}: must be a number from 0 to 1e9 without a currency sign, such as 58.50"
        raise ValueError(msg)
    return price


def _own_trim(text: str) -> int:
    try:
        tenths = from_mm(read_length(text), rounding="up")
    except ValueError as fault:
        msg = f"trim {text!r}: {fault}"
        raise ValueError(msg) from None
    if tenths < 0:
        msg = f"trim {text!r}: must be zero or more, such as 0 for an offcut with sawn edges"
        raise ValueError(msg)
    return tenths


def _grain(text: str) -> Grain:
    word = text.lower() or "none"
    if word not in GRAINS:
        msg = f"grain {text!r}: must be none, length or width (the direction of the part that follows the sheet's grain)"
        raise ValueError(msg)
    return word


# --- the table -------------------------------------------------------------------------------------------------------


def _rows(text: str, what: str, columns: Sequence[str], *, optional: Sequence[str]) -> Iterator[Row]:
    """Line number and fields by column of every row that is not empty."""
    reader = csv.reader(
        io.StringIO(text.removeprefix("\ufeff"), newline=""), strict=True, skipinitialspace=True
    )
    head: list[str] | None = None
    rows = 0
    try:
        for cells in reader:
            fields = [cell.strip() for cell in cells]
            if not any(fields):
                continue
            if head is None:
                head = _head([f.lower() for f in fields], what, columns, optional)
                continue
            if len(fields) > len(head) or "\0" in "".join(fields):
                msg = f"line {reader.line_num}: {len(fields)} fields where {len(head)} belong ({','.join(head)})"
                raise ValueError(msg)
            rows += 1
            given = dict(zip(head, fields, strict=False))
            yield reader.line_num, {name: given.get(name, "") for name in columns}
    except csv.Error as fault:
        msg = f"line {reader.line_num}: not CSV ({fault})"
        raise ValueError(msg) from None
    if head is None:
        msg = f"{what}: the file is empty; its first line must be {','.join(columns)}"
        raise ValueError(msg)
    if not rows:
        msg = f"{what}: no {what} below the first line; write each on a line of its own: {','.join(head)}"
        raise ValueError(msg)


def _head(found: list[str], what: str, columns: Sequence[str], optional: Sequence[str]) -> list[str]:
    for name in found:
        if name not in columns:
            near = difflib.get_close_matches(name[:40], columns, 1)
            hint = f"did you mean {near[0]!r}?" if near else f"the columns are {','.join(columns)}"
            msg = f"line 1: unknown column {name[:40]!r} in {what}; {hint}"
            raise ValueError(msg)
        if found.count(name) > 1:
            msg = f"line 1: column {name!r} stands twice in {what}"
            raise ValueError(msg)
    for name in columns:
        if name not in found and name not in optional:
            msg = f"line 1: column {name!r} is missing in {what}; the columns are {','.join(columns)}"
            raise ValueError(msg)
    return found
