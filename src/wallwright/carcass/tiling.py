"""Tiles, slabs and panes set out along one direction: whole pieces, the cuts at the ends, joints between.

Two ways are open: a piece on the middle, or a joint on it. The one that leaves the wider cut is taken; a sliver shows.
Common practice.
"""

from __future__ import annotations

import math
from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Row:
    """Pieces side by side with joints between: their widths from the left [mm], and whether a joint stands on the middle."""

    pieces: tuple[float, ...]
    joint: float
    middle_joint: bool

    @property
    def cuts(self) -> tuple[float, float]:
        """The two end pieces [mm]."""
        return self.pieces[0], self.pieces[-1]

    def joints(self, start: float) -> tuple[float, ...]:
        """Where the middle of each joint lies, from `start` [mm]."""
        out: list[float] = []
        at = start
        for piece in self.pieces[:-1]:
            at += piece + self.joint
            out.append(at - self.joint / 2)
        return tuple(out)


def even(width: float, most: float, joint: float, *, pairs: bool = False) -> Row:
    """The fewest equal pieces that none is wider than `most` [mm]: slabs, panes and boards.

    pairs : an even number, so that a joint stands on the middle and leaves can be opened like a book about it
    """
    count = max(1, math.ceil((width + joint) / (most + joint) - 1e-9))
    if pairs and count % 2:
        count += 1
    each = (width - (count - 1) * joint) / count
    return Row((each,) * count, joint, count % 2 == 0)


def centred(width: float, tile: float, joint: float) -> Row:
    """Whole tiles about the middle and equal cuts at both ends, a tile or a joint on the middle: whichever cuts wider."""
    if width <= tile:
        return Row((width,), joint, middle_joint=False)
    return max((_about(width, tile, joint, on) for on in (False, True)), key=lambda row: row.cuts[0])


def _about(width: float, tile: float, joint: float, middle_joint: bool) -> Row:
    """Tiles laid outwards from the middle."""
    half = (width - (joint if middle_joint else tile)) / 2
    side = _laid(half - (0.0 if middle_joint else joint), tile, joint)
    if not side:
        return (
            Row((width,), joint, middle_joint=False)
            if middle_joint or width <= tile
            else even(width, tile, joint)
        )
    middle = () if middle_joint else (tile,)
    return Row((*reversed(side), *middle, *side), joint, middle_joint)


def _laid(length: float, tile: float, joint: float) -> tuple[float, ...]:
    """Whole tiles along a length and the cut that closes it [mm]; what a joint would more than fill is two cuts instead."""
    if length <= 0:
        return ()
    whole = math.floor((length + joint) / (tile + joint) + 1e-9)
    cut = length - whole * (tile + joint)
    if cut > 0:
        return (*([tile] * whole), cut)
    if cut + joint < 1e-6 * tile:
        return (tile,) * whole
    return (*([tile] * (whole - 1)), (tile + cut) / 2, (tile + cut) / 2)


def from_head(height: float, tile: float, joint: float) -> Row:
    """Courses with whole tiles at the head, where one looks, and the cut at the foot behind the console; foot first."""
    if height <= tile:
        return Row((height,), joint, middle_joint=False)
    return Row(tuple(reversed(_laid(height, tile, joint))), joint, middle_joint=False)


def courses(height: float, tile: float, joint: float, least: float) -> Row:
    """Courses from the head down; where the foot's cut is less than the share `least` of a tile, equal cuts at head and foot."""
    down = from_head(height, tile, joint)
    return down if down.pieces[0] >= least * tile or len(down.pieces) == 1 else centred(height, tile, joint)


def joint_width(width: float, height: float, small: float, large: float, slab: float) -> float:
    """The joint [mm] that a piece of that size asks for: below 0.1 m², up to 1200 mm of side, and larger.

    Source: BS 5385-1:2018 as adhesive makers' technical notes give it.
    """
    if max(width, height) > 1200:
        return slab
    return small if width * height < 0.1e6 else large
