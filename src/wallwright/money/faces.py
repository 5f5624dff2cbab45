"""What faces, tiles and battens are cut from: the pieces of each finish that comes in sheets or slabs, whole tiles, whole lengths.

Sheets and slabs are counted by a cutting plan of these pieces, which the caller has made; here stands only what is to be cut.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from functools import lru_cache
from typing import TYPE_CHECKING

from wallwright.core.limit import Limits
from wallwright.core.shape import Box
from wallwright.library import load

if TYPE_CHECKING:
    from wallwright.carcass.record import PanelZone, Part, SetOut

ONE_FACE = {"glass", "mirror", "cloth", "stone", "stone_veneer"}  # the thing itself, or never on a back
BALANCED = {"laminate", "veneer"}  # a board faced on one side bows: its back takes the same skin
SHEETS = {"laminate", "veneer", "stone", "stone_veneer"}
"""Kinds of finish that come in sheets or slabs; their sizes are limits."""
GRAINED = {"veneer"}
"""Kinds whose figure runs along the sheet."""


@dataclass(frozen=True, slots=True)
class FacePiece:
    """A piece of a face: of which finish, its size [mm], how many, and whether its length follows the sheet's."""

    finish: str
    length: float
    width: float
    count: int
    along: bool


@lru_cache(maxsize=512)
def kind_of(finish: str) -> str:
    """The kind of a finish; "" where the library has none of that key."""
    row = load.finishes().get(finish)
    return row.kind if row else ""


def faces_of(part: Part) -> int:
    """How many faces of a part take its finish."""
    kind = kind_of(part.finish)
    return 1 if kind in ONE_FACE or (part.role == "panel" and kind not in BALANCED) else 2


def sheet_of(finish: str, limits: Limits) -> tuple[float, float]:
    """Length and width of the sheet or slab that a finish comes in [mm]."""
    kind = kind_of(finish)
    if kind == "stone":
        return limits.value("carcass.slab_height"), limits.value("carcass.slab_width")
    return limits.value(f"money.sheet_{kind}_length"), limits.value(f"money.sheet_{kind}_width")


def pieces(setout: SetOut, parts: Iterable[Part], limits: Limits) -> tuple[FacePiece, ...]:
    """Every piece of a face that is cut from a sheet or slab, larger ones than a sheet in equal parts of it."""
    sheets: dict[str, tuple[float, float, float]] = {}
    out: list[FacePiece] = []
    for whole in _whole(setout, parts):
        sheet = sheets.get(whole.finish)
        if sheet is None:
            over = 0.0 if kind_of(whole.finish) == "stone" else limits.value("money.face_over")
            sheet = sheets[whole.finish] = (*sheet_of(whole.finish, limits), over)
        out.append(_within(whole, *sheet))
    return tuple(out)


def _whole(setout: SetOut, parts: Iterable[Part]) -> Iterator[FacePiece]:
    for part in parts:
        kind = kind_of(part.finish)
        if kind in SHEETS and part.length > 0 and part.width > 0:
            yield FacePiece(part.finish, part.length, part.width, faces_of(part), kind in GRAINED)
    for zone in setout.zones:
        if zone.kind == "slab" and kind_of(zone.finish) in SHEETS:
            for box in laid(zone):
                yield FacePiece(zone.finish, box.height, box.width, 1, True)


def laid(zone: PanelZone) -> tuple[Box, ...]:
    """The tiles or slabs of a zone, between its joints."""
    box, half = zone.box, zone.joint / 2
    xs = [(a, b) for a, b in _spans(box.x, box.right, zone.joints, half) if b - a > 0.5]
    zs = [(a, b) for a, b in _spans(box.z, box.top, zone.levels, half) if b - a > 0.5]
    return tuple(Box(x0, z0, x1 - x0, z1 - z0) for z0, z1 in zs for x0, x1 in xs)


def _spans(low: float, high: float, joints: Sequence[float], half: float) -> list[tuple[float, float]]:
    inner = sorted(at for at in joints if low < at < high)
    starts, ends = [low, *(at + half for at in inner)], [*(at - half for at in inner), high]
    return list(zip(starts, ends, strict=True))


def _within(piece: FacePiece, long: float, wide: float, over: float) -> FacePiece:
    """The piece as it is cut: so much over its size as is trimmed off once it is glued, and in equal parts where no sheet gives it.

    long, wide : of its sheet · over : what is trimmed off once it is glued [mm]
    """
    length, width = piece.length, piece.width
    if not piece.along and length < width:
        length, width = width, length
    down, across = math.ceil(length / long - 1e-9), math.ceil(width / wide - 1e-9)
    cut = min(length / down + over, long), min(width / across + over, wide)
    return FacePiece(piece.finish, *cut, piece.count * down * across, piece.along)


@dataclass(frozen=True, slots=True)
class Tiles:
    """The tiles of a zone: whole ones, cut ones, and what they take of the pack [m²]: a tile for each, two halves out of one."""

    whole: int
    cut: int
    bought: int
    area: float


def tiles(zone: PanelZone, size: tuple[float, float]) -> Tiles:
    """The tiles of a zone counted from its setting-out. size : of a whole one, across and up [mm]."""
    wide, high = size
    found = laid(zone)
    whole = sum(box.width >= wide - 0.5 and box.height >= high - 0.5 for box in found)
    halves = sum(
        (box.width <= wide / 2 - 2 and box.height >= high - 0.5)
        or (box.height <= high / 2 - 2 and box.width >= wide - 0.5)
        for box in found
    )
    bought = len(found) - halves // 2
    return Tiles(whole, len(found) - whole, bought, bought * wide * high / 1e6)


def lengths(runs: Iterable[float], stock: float, kerf: float) -> int:
    """How many lengths of stock give these runs [mm], the longest first each where it still goes; a longer one is jointed.

    First fit by falling length: never more than 11/9 of the fewest, and 6/9 of one (Dósa 2007).
    """
    left: list[float] = []
    count = 0
    for run in sorted(runs, reverse=True):
        while run > stock:
            count, run = count + 1, run - stock
        place = next((i for i, rest in enumerate(left) if rest >= run - 1e-6), None)
        if place is None:
            left.append(stock - run - kerf)
        else:
            left[place] -= run + kerf
    return count + len(left)
