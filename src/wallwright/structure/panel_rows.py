"""The holes of panels that are neither a hung thing's nor a batten's own: the clips that hold boards on battens, and the screws that
hold packing to the wall. Clips end in their batten; packing is drilled for as battens are.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from typing import TYPE_CHECKING

from wallwright.core.limit import Limits
from wallwright.core.shape import Box, Point2
from wallwright.structure.battens import beside, screw_places
from wallwright.structure.record import HoleRow
from wallwright.structure.wall import Wall, anchors_for, stud_lines

if TYPE_CHECKING:
    from wallwright.carcass.record import Part

CLIP = "panel clip"
_LEVEL_FROM_MIDDLE = 0.25  # of a batten's height: clips stand over the row of its own screws


def rows(parts: Iterable[Part], wall: Wall, limits: Limits) -> tuple[HoleRow, ...]:
    """The clips of every batten and the screws of every packing. On a wall nobody knows nothing is drilled for either."""
    if not anchors_for(wall.substrate):
        return ()
    out: list[HoleRow] = []
    seen: set[Box] = set()
    for part in parts:
        if part.role == "batten":
            out.append(_clips(part, wall, limits))
        elif part.role == "backer" and part.name.startswith("packing"):
            face = part.block.face
            if face not in seen:  # a packing in layers is screwed through once
                seen.add(face)
                out += _packing(part, wall, limits)
    return tuple(out)


def _clips(part: Part, wall: Wall, limits: Limits) -> HoleRow:
    """Along a batten at a pitch, off its own screws and off whatever crosses it in the void."""
    box = part.block.face
    level = box.width >= box.height
    pitch, end = limits.value("structure.clip_pitch"), limits.value("structure.batten_end")
    size, deep = limits.value("structure.clip_screw"), limits.value("structure.clip_depth")
    over = _LEVEL_FROM_MIDDLE * (box.height if level else box.width)
    strip = (
        Box(box.x, box.z + over, box.width, box.height)
        if level
        else Box(box.x + over, box.z, box.width, box.height)
    )
    places = beside(screw_places(strip, pitch, end), strip, end, limits.value("structure.slide"), size, wall)
    return HoleRow(part.unit, f"{CLIP}s on {part.id}", places, size, min(deep, part.block.dy), CLIP, "batten")


def _packing(part: Part, wall: Wall, limits: Limits) -> Iterator[HoleRow]:
    """Two level rows near its edges, at a pitch; on a framed wall into its studs."""
    box = part.block.face
    pitch, end = limits.value("structure.batten_screw_pitch"), limits.value("structure.batten_end")
    inset = min(end, box.height / 2)
    of = anchors_for(wall.substrate)[0]
    heights = dict.fromkeys((box.z + inset, box.top - inset))
    places: list[Point2] = []
    for z in heights:
        line = Box(box.x, z - 0.5, box.width, 1.0)
        if wall.framed:
            places += [(x, z) for x in stud_lines(box, wall)]
        else:
            places += beside(
                screw_places(line, pitch, end), line, end, limits.value("structure.slide"), of.hole, wall
            )
    if places:
        yield HoleRow(part.unit, f"packing {part.id}", tuple(places), of.hole, of.depth, of.name)
