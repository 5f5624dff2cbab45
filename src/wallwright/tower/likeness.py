"""Is the wall of the other hand the mirror of the first? What differs is told, for a choice of the program may have a side."""

from __future__ import annotations

from collections import Counter
from collections.abc import Hashable, Iterator
from dataclasses import dataclass
from typing import TYPE_CHECKING

from wallwright.core.counted import counted
from wallwright.core.shape import Box

if TYPE_CHECKING:
    from wallwright.carcass.record import Part
    from wallwright.derive import Wall

LEAST = 0.5
"""Smaller differences are not worth telling [mm]."""
_KINDS = {"data": "data outlet", "rf": "aerial outlet", "led_feed": "LED feed", "conduit": "conduit end"}


@dataclass(frozen=True, slots=True)
class Unlike:
    """One thing of the mirrored wall that is not the mirror of the first. ref : of the thing · says : a sentence"""

    ref: str
    says: str


def unlike(wall: Wall, other: Wall) -> tuple[Unlike, ...]:
    """What of `other`, the wall of the other hand, is not the mirror of `wall`: places, boards, doors, outlets."""
    return (*_places(wall, other), *_hands(wall, other), *_parts(wall, other), *_points(wall, other))


def _over(box: Box, width: float) -> Box:
    return Box(width - box.right, box.z, box.width, box.height)


def _far(a: Box, b: Box) -> bool:
    return any(
        abs(p - q) >= LEAST for p, q in ((a.x, b.x), (a.z, b.z), (a.width, b.width), (a.height, b.height))
    )


def _boxes(wall: Wall) -> dict[str, Box]:
    return {
        "screen": wall.sight.screen.frame,
        **{unit.ref: unit.box for unit in wall.setout.units},
        **{zone.ref: zone.box for zone in wall.setout.zones},
    }


def _places(wall: Wall, other: Wall) -> Iterator[Unlike]:
    there = _boxes(other)
    for ref, box in _boxes(wall).items():
        wanted = _over(box, wall.face.width)
        if ref in there and _far(wanted, there[ref]):
            got = there[ref]
            yield Unlike(
                ref,
                f"stands at x {got.x:.0f}, z {got.z:.0f}, {got.width:.0f} × {got.height:.0f}; the mirror has x "
                f"{wanted.x:.0f}, z {wanted.z:.0f}, {wanted.width:.0f} × {wanted.height:.0f}",
            )


def _hands(wall: Wall, other: Wall) -> Iterator[Unlike]:
    """Doors by where they hang: each turns the other way."""
    there = list(other.carcass.movers)
    for mover in wall.carcass.movers:
        place = _over(mover.box, wall.face.width)
        found = next((one for one in there if one.kind == mover.kind and not _far(one.box, place)), None)
        wanted = {"left": "right", "right": "left"}.get(mover.hand, "")
        if found is None:
            yield Unlike(mover.ref, f"the {mover.kind} at x {place.x:.0f} has none like it in the other hand")
            continue
        there.remove(found)
        if found.hand != wanted:
            yield Unlike(
                mover.ref, f"the door is hinged {found.hand} in both hands; the mirror is hinged {wanted}"
            )


def made_of(part: Part) -> Hashable:
    """What a board is to the workshop but for its number and hand: equal boards are cut alike."""
    sizes = (round(value, 1) for value in (part.length, part.width, part.thickness))
    return part.role, part.board, part.finish, part.grain, *sizes, tuple(sorted(part.edges))


def _parts(wall: Wall, other: Wall) -> Iterator[Unlike]:
    """Boards by what they are: a pair of sides changes hands, the number of boards of one size does not."""
    mine, theirs = (Counter(made_of(part) for part in one.carcass.parts) for one in (wall, other))
    for what, count in (mine - theirs).items():
        yield Unlike("boards", f"{counted(count, 'board')} {_said(what)} only in the first hand")
    for what, count in (theirs - mine).items():
        yield Unlike("boards", f"{counted(count, 'board')} {_said(what)} only in the other hand")


def _said(what: Hashable) -> str:
    role, board, _, _, length, width, thick, _ = what  # type: ignore[misc]
    return f"({role}, {board}, {length:g} × {width:g} × {thick:g})"


def _kind(kind: str) -> str:
    """A kind of outlet in words."""
    return _KINDS.get(kind) or kind.replace("_", " ")


def _points(wall: Wall, other: Wall) -> Iterator[Unlike]:
    """Outlets by kind and place: where they are automatic the program may have set them by a side of its own."""
    there = list(other.services.points)
    for point in wall.services.points:
        x = wall.face.width - point.x
        found = next(
            (
                p
                for p in there
                if p.kind == point.kind and abs(p.x - x) < LEAST and abs(p.z - point.z) < LEAST
            ),
            None,
        )
        if found is None:
            yield Unlike(
                point.ref,
                f"the {_kind(point.kind)} would be at x {x:.0f}, z {point.z:.0f}; in the other hand none is there",
            )
        else:
            there.remove(found)
