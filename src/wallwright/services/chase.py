"""What lies where along a run: in a void, in a chase cut into the wall, in a framed wall's hollow, or on the surface; and how
deep a chase may be cut.

Cutting makes dust: water or extraction, and a fitted mask; never into beams, columns, lintels or structural concrete.
Source: guidance on Approved Document A (England): an upright chase to a third of the leaf, a level one to a sixth.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from itertools import pairwise

from wallwright.core.limit import Limits
from wallwright.core.shape import Box, Point2
from wallwright.job.survey import SurveyedWall

MASONRY = frozenset({"brick", "solid_block", "hollow_block", "aac_block", "dot_and_dab"})
FRAMED = frozenset({"metal_stud", "timber_stud"})


def deepest(leaf: float, level: bool, upright_share: float = 3.0, level_share: float = 6.0) -> float:
    """The deepest chase [mm] in a leaf of that thickness [mm]."""
    return leaf / (level_share if level else upright_share)


def needed(conduit: float, cover: float) -> float:
    """The depth [mm] that a conduit of that outside diameter needs with its cover of plaster."""
    return conduit + cover


@dataclass(frozen=True, slots=True)
class Masonry:
    """What a chase is cut into: leaf, whether that is assumed, cover over a conduit, and the deepest chase each way [mm]."""

    leaf: float
    assumed: bool
    cover: float
    upright: float
    level: float

    def may_cut(self, conduit: float, level: bool) -> bool:
        """Whether a conduit of that outside diameter [mm] goes into the leaf in that direction."""
        return needed(conduit, self.cover) <= (self.level if level else self.upright)


def masonry_of(wall: SurveyedWall, limits: Limits) -> Masonry | None:
    """The leaf as surveyed, else the usual one; None for a wall that is not chased (framed, concrete, unknown)."""
    if wall.substrate not in MASONRY:
        return None
    v = limits.value
    leaf = wall.leaf.mm if wall.leaf else v(f"services.leaf_{wall.substrate}")
    shares = v("services.chase_vertical"), v("services.chase_horizontal")
    return Masonry(
        leaf, wall.leaf is None, v("services.chase_cover"), deepest(leaf, False, *shares), deepest(leaf, True, *shares)
    )  # fmt: skip


def lies(substrate: str, in_void: bool) -> str:
    """Where a run lies: void, chase, cavity (of a framed wall), surface (concrete is not cut), or unknown."""
    if in_void:
        return "void"
    if substrate in MASONRY:
        return "chase"
    return "cavity" if substrate in FRAMED else "surface" if substrate == "concrete" else "unknown"


def outside(path: Sequence[Point2], covers: Iterable[Box]) -> tuple[tuple[Point2, Point2], ...]:
    """The pieces of a path (of level and upright segments) that none of the boxes covers, edges counted as covered."""
    boxes = tuple(covers)
    return tuple(piece for a, b in pairwise(path) if a != b for piece in _left(a, b, boxes))


def _left(a: Point2, b: Point2, boxes: Sequence[Box]) -> Iterable[tuple[Point2, Point2]]:
    level = a[1] == b[1]
    start, end = sorted((a[0], b[0]) if level else (a[1], b[1]))
    at = a[1] if level else a[0]
    spans = [
        ((box.x, box.right) if level else (box.z, box.top))
        for box in boxes
        if (box.z <= at <= box.top if level else box.x <= at <= box.right)
    ]
    for low, high in sorted(spans):
        if high <= start:
            continue
        if low >= end:
            break
        if low > start:
            yield _piece(level, at, start, low)
        start = max(start, high)
        if start >= end:
            return
    yield _piece(level, at, start, end)


def _piece(level: bool, at: float, start: float, end: float) -> tuple[Point2, Point2]:
    return ((start, at), (end, at)) if level else ((at, start), (at, end))
