"""Fronts whose figure runs on: those in one line along the grain are cut from one strip in their order, one behind the other.

A wood figure runs across a console and up a tower. A front that is alone in its line is matched to those beside it across the grain,
drawers under one another of one bay say, and lies beside them in the strip. What has no figure is not matched. Common practice.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Sequence
from string import ascii_lowercase
from typing import TYPE_CHECKING

from wallwright.library import load

if TYPE_CHECKING:
    from wallwright.carcass.fronts import Front
    from wallwright.carcass.record import Part, UnitBox

WOOD = "wood"
END_TO_END = " >"
"""Behind the mark of a set whose members lie one behind the other along the grain; without it they lie side by side."""
Fronts = Sequence[tuple["Front", "Part"]]


def match_marks(unit: UnitBox, fronts: Fronts) -> dict[str, str]:
    """Part id → mark, of the fronts that are cut from one strip; what is not in it is cut as it comes."""
    lines: dict[tuple[object, ...], list[str]] = defaultdict(list)
    beside: dict[tuple[object, ...], list[str]] = defaultdict(list)
    for front, part in fronts:
        if not figured(part):
            continue
        of, upright = (part.board, part.finish), unit.tall or front.kind == "pull_out"
        low, across = (front.box.x, front.box.width) if upright else (front.box.z, front.box.height)
        lines[(upright, *of, round(low, 1), round(across, 1))].append(part.id)
        beside[(upright, *of, front.cell.number, round(part.cut_length, 2))].append(part.id)
    runs = [(ids, END_TO_END) for ids in lines.values() if len(ids) > 1]
    taken = {ident for ids, _ in runs for ident in ids}
    rest = ([ident for ident in ids if ident not in taken] for ids in beside.values())
    runs += [(ids, "") for ids in rest if len(ids) > 1]
    return {
        ident: f"{unit.ref}{_letter(number)}{how}" for number, (ids, how) in enumerate(runs) for ident in ids
    }


def figured(part: Part) -> bool:
    """Whether a front shows a figure with a direction."""
    return part.grain != "none" and bool(part.finish) and load.face_of(part.finish).look == WOOD


def _letter(number: int) -> str:
    """From a to z, then aa, ab: no unit has that many lines, but a name must never be given twice."""
    head, tail = divmod(number, len(ascii_lowercase))
    return (_letter(head - 1) if head else "") + ascii_lowercase[tail]
