"""Where an outlet may sit behind the screen: inside the frame, clear of the mount's plate and of what is there already.

The region is exact and holds the middle of the box: upright rectangles that do not overlap, the largest first.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from wallwright.core.shape import Box, Point2, box_around, cut_out

BoxSize = tuple[float, float]


def centre_region(fields: Iterable[Box], size: BoxSize, keep_out: Iterable[Box]) -> tuple[Box, ...]:
    """Where the middle of a box of that size [mm] may lie so that it is inside a field and touches no keep-out."""
    width, height = size
    region = tuple(
        Box(field.x + width / 2, field.z + height / 2, field.width - width, field.height - height)
        for field in fields
        if field.width > width and field.height > height
    )
    for hole in keep_out:
        around = Box(hole.x - width / 2, hole.z - height / 2, hole.width + width, hole.height + height)
        region = cut_out(region, around)
    return tuple(sorted(region, key=lambda box: -box.area))


def behind_screen(
    frame: Box, margin: float, plate: Box, clear: float, size: BoxSize, obstacles: Iterable[Box]
) -> tuple[Box, ...]:
    """The region for a box's middle: frame less margin, less the plate grown by `clear`, less the obstacles [mm].

    Source: common practice (box at least 25 from the plate, 50 inside the frame).
    """
    return centre_region((frame.grown(-margin),), size, (plate.grown(clear), *obstacles))


def least_offset(plate_width: float, clear: float, box_width: float) -> float:
    """How far sideways the middle of a box must lie from the middle of the plate [mm]."""
    return plate_width / 2 + clear + box_width / 2


def nearest(region: Iterable[Box], want: Point2, side: int = 0, *, columns: bool = False) -> Point2 | None:
    """The point of the region at the wanted height if there is one, then on that side (-1, 0, 1), then nearest sideways.

    Height goes first because boxes of a wall stand in one row; last where they stand in columns. None where the region is empty.
    """
    best: Point2 | None = None
    least = (0.0, 0, 0.0)
    for box in region:
        z = min(max(want[1], box.z), box.top)
        x = min(max(want[0], box.x), box.right)
        wrong = 1 if side and (x - want[0]) * side < 0 else 0
        up, along = round(abs(z - want[1]), 6), round(abs(x - want[0]), 6)
        key = (along, wrong, up) if columns else (up, wrong, along)
        if best is None or key < least:
            best, least = (x, z), key
    return best


def whole(region: Iterable[Box], spot: Point2) -> Point2:
    """The spot on whole millimetres, as one marks it on a wall, where that is still in the region."""
    for x in (float(round(spot[0])), float(math.floor(spot[0])), float(math.ceil(spot[0]))):
        for z in (float(round(spot[1])), float(math.floor(spot[1])), float(math.ceil(spot[1]))):
            if any(box.x <= x <= box.right and box.z <= z <= box.top for box in region):
                return x, z
    return spot


@dataclass(frozen=True, slots=True)
class Opening:
    """The smallest change that opens an empty region: what to change, by how much [mm], in a sentence."""

    what: str
    by: float
    says: str


def smallest_change(
    frame: Box, margin: float, plate: Box, clear: float, size: BoxSize, obstacles: Sequence[Box]
) -> Opening:
    """What would let a box hide behind the screen: one obstacle less, or a narrower, lower or moved plate."""
    for index, obstacle in enumerate(obstacles):
        others = (*obstacles[:index], *obstacles[index + 1 :])
        if behind_screen(frame, margin, plate, clear, size, others):
            x, z = obstacle.centre
            return Opening(
                "obstacle",
                0.0,
                f"take away what stands at x {x:.0f}, z {z:.0f} and a box fits behind the screen",
            )
    inside = frame.grown(-margin)
    rooms = {
        "to the right": (plate.x - clear) - inside.x - size[0],
        "to the left": inside.right - (plate.right + clear) - size[0],
        "up": (plate.z - clear) - inside.z - size[1],
        "down": inside.top - (plate.top + clear) - size[1],
    }
    way, room = max(rooms.items(), key=lambda item: item[1])
    by = max(0.0, -room)
    if inside.width < size[0] or inside.height < size[1]:
        return Opening(
            "screen", by, "the frame is too small for a box of this size behind it; take a smaller box"
        )
    if by == 0.0:
        return Opening(
            "obstacle", 0.0, "what stands behind the screen fills the room beside the plate; move it away"
        )
    sideways = way.startswith("to")
    less = "narrower" if sideways else "lower"
    return Opening(
        "plate", by, f"move the plate {by:.0f} mm {way}, or take one that is {2 * by:.0f} mm {less}"
    )


def gap_to_plate(centre: Point2, size: BoxSize, plate: Box) -> float:
    """The clear distance between a box and the plate [mm]; 0 where they overlap."""
    return box_around(centre, *size).gap(plate)


def clear_of_holes(centre: Point2, size: BoxSize, holes: Iterable[Point2], clear: float) -> bool:
    """Whether a box keeps `clear` [mm] from the middle of every fixing hole."""
    box = box_around(centre, *size)
    return all(box.gap(Box(x, z, 0.0, 0.0)) >= clear for x, z in holes)
