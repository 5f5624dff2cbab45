"""Savings told apart: what adds up from swap to swap, and what is only bought whole (sheets, loads), which does not.

Half a sheet saved here and half there are one sheet together, and alone they are nothing. So a bound on what a set of swaps can save
counts boards by the area cut from them, and only whole sheets of it.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import TYPE_CHECKING

from wallwright.cutting.pieces import part_area
from wallwright.cutting.plan import TENTHS_PER_M2
from wallwright.library import load

if TYPE_CHECKING:
    from wallwright.derive import Wall

LOADS = "delivery"
OFFCUTS = "waste_removal"
BARS = ("batten", "nogging", "moulding")
"""What is bought in whole lengths."""


@dataclass(frozen=True, slots=True)
class Lump:
    """Something bought whole: what it costs all in (minor units), what of that is used, and what one whole of it costs (0: it comes in
    several sizes, so any part of it may be saved).
    """

    paid: float
    used: float
    whole: float

    @property
    def slack(self) -> float:
        """What is paid for and not used."""
        return self.paid - self.used


@dataclass(frozen=True, slots=True)
class Share:
    """What a swap saves, all in (minor units): plain : what adds up · lumps : what less is used of each thing bought whole."""

    plain: float
    lumps: tuple[tuple[str, float], ...]

    @property
    def at_best(self) -> float:
        """The most it can bring, were nothing bought whole."""
        return self.plain + sum(used for _, used in self.lumps)


NOTHING = Share(0.0, ())


def factor(wall: Wall) -> float:
    """The price over the direct cost: what the chain makes of a unit of cost, at the highest tax of any trade."""
    share = {step.name: step.share for step in wall.money.steps}
    tax = max((part.share for part in wall.money.taxes), default=share["tax"])
    return (1 + share["overhead"]) / (1 - share["margin"]) * (1 + share["contingency"]) * (1 + tax)


def lumps_of(wall: Wall) -> Mapping[str, Lump]:
    """The things of a bill that are bought whole: sheets of each board and face, lengths of battens, loads carried to site."""
    money, by, areas = wall.money, factor(wall), dict(wall.cuts.areas)
    sheets = {board: (count, share) for board, count, share in money.sheets}
    tiled = {zone.finish for zone in wall.setout.zones if zone.kind == "tile"}
    faces = {
        f"finish_{finish}": (share, 1 / count)
        for finish, count, share, _ in money.faces
        if count and finish not in tiled
    }
    out: dict[str, Lump] = {}
    for line in money.lines:
        board = line.ref.removeprefix("board_")
        if line.ref.startswith("board_") and board in sheets:
            count, share = sheets[board]
            out[line.ref] = _boards(wall, board, line.amount * by, count, share, areas.get(board, 0.0))
        elif line.ref in faces:
            share, one = faces[line.ref]
            out[line.ref] = Lump(line.amount * by, line.amount * by * share, one * by * line.amount)
        elif line.ref in BARS and line.quantity:
            metres = sum(part.length for part in wall.carcass.parts if part.board == line.ref) / 1000
            each = wall.limits.value("money.batten_length") / 1000 / line.quantity * line.amount * by
            out[line.ref] = Lump(line.amount * by, line.amount * by * metres / line.quantity, each)
        elif line.ref == LOADS and line.quantity:
            mass = sum(part.mass for part in wall.carcass.parts)
            loads = mass / wall.limits.value("money.load_mass")
            one = line.amount * by / line.quantity
            out[line.ref] = Lump(line.amount * by, one * loads, one)
    return out


def _boards(wall: Wall, board: str, paid: float, count: int, share: float, area: float) -> Lump:  # noqa: PLR0913
    """The sheets of a board. What lies on offcuts of earlier jobs costs nothing, so all that the rack's offcuts hold may be less used:
    it is taken off what is used, and so is slack.
    """
    rack = [row for row in wall.job.design.stock if row.board == board]
    if not rack:
        one = paid / count if count and area and len(load.boards()[board].sheets) == 1 else 0.0
        return Lump(paid, paid * share, one)
    plan = wall.cuts.plan_of(board)
    free = sum(row.count * row.length.mm * row.width.mm / 1e6 for row in rack if row.offcut)
    held = part_area(plan) / TENTHS_PER_M2 if plan else 0.0
    return Lump(paid, (held - free) * paid / area if area else 0.0, 0.0)


def shared(before: Wall, after: Wall) -> Share:
    """What the second wall saves against the first, told apart."""
    old, new = lumps_of(before), lumps_of(after)
    refs = sorted({*old, *new})
    none = Lump(0.0, 0.0, 0.0)
    used = ((ref, old.get(ref, none).used - new.get(ref, none).used) for ref in refs)
    lumps = tuple((ref, less) for ref, less in used if abs(less) > 1e-6)
    plain = _plain(before) - _plain(after)
    return Share(plain if lumps else plain + offcuts(before) - offcuts(after), lumps)


def _plain(wall: Wall) -> float:
    """All in, of the lines that add up: not bought whole, nor paid by what is left of that."""
    whole = {*lumps_of(wall), OFFCUTS}
    return sum(line.amount for line in wall.money.lines if line.ref not in whole) * factor(wall)


def offcuts(wall: Wall) -> float:
    """All in, what taking the rubbish away costs: it goes by the offcuts, which go by the whole sheets."""
    return sum(line.amount for line in wall.money.lines if line.ref == OFFCUTS) * factor(wall)
