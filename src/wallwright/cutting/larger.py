"""What to do with a part that is larger than every sheet: turn it, joint it, or take a board or a sheet that is large enough."""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import replace

from wallwright.cutting.model import Piece, Sheet, fits, from_mm, lays, own_trim, to_mm
from wallwright.library import load

ALIKE = 2.0
"""Another board serves for one that is thicker or thinner by no more than this [mm]."""
NAMED = 2
"""So many other boards are named, those with the smallest sheet that does first."""


def size_of(piece: Piece) -> str:
    """Its size as cut, in words."""
    return f"{to_mm(piece.length):g} x {to_mm(piece.width):g} mm"


def would_do(piece: Piece, sheets: Sequence[Sheet], trim: int, others: Iterable[str]) -> str:
    """What would do for a part that fits none of the sheets, the least change first. others : sheets of something else that take it"""
    ways = [*_turned(piece, sheets, trim), *_jointed(piece, sheets, trim), *others]
    return ", or ".join(ways)


def _turned(piece: Piece, sheets: Sequence[Sheet], trim: int) -> Iterator[str]:
    free = replace(piece, grain="none")
    if piece.grain != "none" and any(fits(free, sheet, trim) for sheet in sheets):
        yield "free its grain, if it may run the other way: turned it fits"


def _jointed(piece: Piece, sheets: Sequence[Sheet], trim: int) -> Iterator[str]:
    """The fewest pieces that it can be jointed of, the fewest lengths among equals."""
    best: tuple[int, int, int, Sheet] | None = None
    for sheet in sheets:
        room_x, room_y = (side - 2 * own_trim(sheet, trim) for side in (sheet.length, sheet.width))
        for x, y, turned in lays(piece) if min(room_x, room_y) > 0 else ():
            along, across = math.ceil(x / room_x), math.ceil(y / room_y)
            lengths, widths = (across, along) if turned else (along, across)
            if best is None or (lengths * widths, lengths) < (best[0], best[1]):
                best = lengths * widths, lengths, widths, sheet
    if best is None:
        return
    _, lengths, widths, _ = best
    each = f"{to_mm(piece.length) / lengths:.0f} x {to_mm(piece.width) / widths:.0f} mm"
    how = [f"of {lengths} lengths"] * (lengths > 1) + [f"of {widths} widths"] * (widths > 1)
    yield f"joint it {' and '.join(how)}, about {each} each"


def other_boards(piece: Piece, trim: int) -> list[str]:
    """Boards of the library of about its thickness that come in a sheet which takes it, by name and size."""
    own = load.boards()[piece.material]
    found: list[tuple[float, float, str]] = []
    for row in load.boards().values():
        thicker = abs(row.thickness - own.thickness)
        sizes = [size for size in row.sheets if fits(piece, _bought(row.key, size), trim)]
        if row.key != own.key and thicker <= ALIKE and sizes:
            length, width = min(sizes, key=lambda size: size[0] * size[1])
            found.append((thicker, length * width, f"{row.name} ({length:g} x {width:g} mm)"))
    names = [name for _, _, name in sorted(found)][:NAMED]
    return (
        [f"take {' or '.join(names)}"]
        if names
        else ["order it to size: no board about as thick comes large enough"]
    )


def _bought(board: str, size: tuple[float, float]) -> Sheet:
    length, width = (from_mm(side, rounding="down") for side in size)
    return Sheet(f"{size[0]:g} x {size[1]:g}", board, length, width)


def other_sheets(piece: Piece, sheets: Iterable[Sheet], trim: int) -> list[str]:
    """Sheets of the table's other materials that take it, by name, material and size; else that a larger one is wanted."""
    names = [
        f"{sheet.name!r} of {sheet.material!r} ({to_mm(sheet.length):g} x {to_mm(sheet.width):g} mm)"
        for sheet in sheets
        if sheet.material != piece.material and fits(piece, sheet, trim)
    ]
    return [f"take {' or '.join(names[:NAMED])}"] if names else ["add a larger sheet"]
