"""Where an outlet may sit behind the screen: hidden at every tilt and swivel, clear of the mount's plate and arms, of ports, vents
and studs, and of what is there already; and the smallest change that makes room where there is none.

The region is exact and holds the middle of the box: convex pieces that do not overlap.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, replace

from wallwright.core.finding import EditCall, edit_call
from wallwright.core.limit import Limits
from wallwright.core.shape import (
    Box,
    Outline,
    Point2,
    box_around,
    cut_box,
    cut_out,
    outline_area,
    shrunk,
    sides,
)
from wallwright.services.hidden import KeepOut, boxes, inner_box

BoxSize = tuple[float, float]
STEP = 10.0
"""Screen and plate are tried aside in steps of this [mm]."""


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
    hidden: Outline, margin: float, size: BoxSize, keep_out: Iterable[Box]
) -> tuple[Outline, ...]:
    """The region for a box's middle: what the screen hides, less the margin, less every keep-out [mm]; the largest piece first.

    Source: common practice (box at least 25 from the plate, 50 inside the outline).
    """
    width, height = size
    whole = shrunk(hidden, margin, width, height)
    region: tuple[Outline, ...] = (whole,) if whole else ()
    for hole in keep_out:
        region = cut_box(
            region, Box(hole.x - width / 2, hole.z - height / 2, hole.width + width, hole.height + height)
        )
    return tuple(sorted(region, key=lambda piece: -outline_area(piece)))


def edges(region: Sequence[Outline]) -> tuple[tuple[Point2, Point2], ...]:
    """The outer edges of a region of pieces that do not overlap, to draw it as one: where two pieces meet there is none."""
    out: list[tuple[Point2, Point2]] = []
    for piece in region:
        for i, b in enumerate(piece):
            out += _unshared(piece[i - 1], b, [other for other in region if other is not piece])
    return tuple(out)


def _unshared(a: Point2, b: Point2, others: Sequence[Outline]) -> Iterator[tuple[Point2, Point2]]:
    """The parts of an edge along which no other piece lies: only upright and level edges are ever shared."""
    axis = 0 if abs(a[1] - b[1]) < 1e-6 else 1
    if axis == 1 and abs(a[0] - b[0]) > 1e-6:
        yield a, b
        return
    low, high = sorted((a[axis], b[axis]))
    spans = sorted(
        (min(c[axis], d[axis]), max(c[axis], d[axis]))
        for other in others
        for c, d in zip(other, (*other[1:], other[0]), strict=True)
        if abs(c[1 - axis] - a[1 - axis]) < 1e-6 and abs(d[1 - axis] - a[1 - axis]) < 1e-6
    )
    for start, end in (*spans, (high, high)):
        if low < min(start, high) - 1e-9:
            top = min(start, high)
            yield ((low, a[1]), (top, a[1])) if axis == 0 else ((a[0], low), (a[0], top))
        low = max(low, end)


def holds(outline: Outline, box: Box) -> bool:
    """Whether a box lies wholly within a convex outline, to a hundredth of a millimetre."""
    return bool(outline) and all(
        nx * x + nz * z <= most + 0.01 for nx, nz, most in sides(outline) for x, z in box.corners
    )


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


def upright(outline: Outline) -> bool:
    """Whether an outline is an upright rectangle."""
    return len(outline) == 4 and all(
        abs(x - outline[i - 1][0]) < 1e-9 or abs(z - outline[i - 1][1]) < 1e-9
        for i, (x, z) in enumerate(outline)
    )


@dataclass(frozen=True, slots=True)
class Behind:
    """What is behind a screen: what it hides whichever way it moves, how far inside that a box lies, its mount's plate and how far a box
    keeps off it [mm], and what else keeps boxes out.
    """

    hidden: Outline
    margin: float
    plate: Box
    clear: float
    kept: tuple[KeepOut, ...] = ()

    def region(self, size: BoxSize) -> tuple[Outline, ...]:
        """Where the middle of a box of that size may lie."""
        if self.inner is not None and upright(self.hidden):  # the same in boxes, and quicker
            return tuple(box.corners for box in self.fields(size))
        return behind_screen(
            self.hidden, self.margin, size, (self.plate.grown(self.clear), *boxes(self.kept))
        )

    @property
    def inner(self) -> Box | None:
        """The upright rectangle within what is hidden, less the margin."""
        return inner_box(shrunk(self.hidden, self.margin))

    def fields(self, size: BoxSize) -> tuple[Box, ...]:
        """The same region in upright boxes: exact where what is hidden is an upright rectangle, else within it."""
        inner = self.inner
        return centre_region(
            (inner,) if inner else (), size, (self.plate.grown(self.clear), *boxes(self.kept))
        )

    def moved(self, dx: float, dz: float) -> Behind:
        """The same with the screen hung elsewhere, its mount with it."""
        return replace(
            self,
            hidden=tuple((x + dx, z + dz) for x, z in self.hidden),
            plate=_moved(self.plate, dx, dz),
            kept=tuple(replace(one, box=_moved(one.box, dx, dz)) if one.moves else one for one in self.kept),
        )


def _moved(box: Box, dx: float, dz: float) -> Box:
    return replace(box, x=box.x + dx, z=box.z + dz)


@dataclass(frozen=True, slots=True)
class Opening:
    """A change that opens an empty region: what to change, by how much [mm], in a sentence, and as an edit."""

    what: str
    by: float
    says: str
    edit: EditCall


def openings(
    behind: Behind, size: BoxSize, single: float, middle: Point2, drop: float, limits: Limits
) -> tuple[Opening, ...]:
    """Every single change that makes room behind the screen for a box of that size, each the least of its kind, the smallest first.

    single : width of a single box · middle : of the screen · drop : of the hole group below the plate's middle [mm]
    """
    found = [
        *_other_box(behind, size, single),
        *_smaller_plate(behind, size, limits),
        *_taken_away(behind, size),
        *_moved_aside(behind, size, middle, drop, limits),
    ]
    return tuple(sorted(found, key=lambda item: item.by))


def _other_box(behind: Behind, size: BoxSize, single: float) -> Iterator[Opening]:
    if single < size[0] and behind.region((single, size[1])):
        says = f"take twin outlets in a box {single:.0f} mm wide instead of {size[0]:.0f}"
        edit = edit_call("set_limit", name="services.box_twin_width", value=single)
        yield Opening("box", size[0] - single, says, edit)


def _smaller_plate(behind: Behind, size: BoxSize, limits: Limits) -> Iterator[Opening]:
    """A plate that is just so much narrower, or lower, or both."""
    small, plate = limits.value("services.small_plate"), behind.plate

    def less(width: float, height: float) -> Behind:
        return replace(behind, plate=box_around(plate.centre, width, height))

    for name, most in (("width", plate.width - small), ("height", plate.height - small)):
        wide = name == "width"
        low, high = 0, math.floor(most)
        if high < 1 or not (
            less(plate.width - high, plate.height) if wide else less(plate.width, plate.height - high)
        ).region(size):
            continue
        while high - low > 1:
            half = (low + high) // 2
            one = less(plate.width - half, plate.height) if wide else less(plate.width, plate.height - half)
            low, high = (low, half) if one.region(size) else (half, high)
        to = math.floor((plate.width if wide else plate.height) - high)
        edit = edit_call("set_mount", plate_width=to) if wide else edit_call("set_mount", plate_height=to)
        yield Opening(
            "plate", float(high), f"take a mount whose plate is {to} mm {'wide' if wide else 'high'}", edit
        )
    both = min(plate.width, small), min(plate.height, small)
    by = plate.width - both[0] + plate.height - both[1]
    if by > 0 and less(*both).region(size):
        edit = edit_call("set_mount", plate_width=math.floor(both[0]), plate_height=math.floor(both[1]))
        yield Opening("plate", by, f"take a mount with a plate {both[0]:.0f} × {both[1]:.0f} mm", edit)


def _taken_away(behind: Behind, size: BoxSize) -> Iterator[Opening]:
    """An outlet that is there already, taken out: as much a change as its box is large."""
    for one in behind.kept:
        kind = one.what.removeprefix("the ").rsplit(" ", 1)[0]
        if kind in ("socket", "switch", "data point") and one.ref:
            others = tuple(other for other in behind.kept if other is not one)
            if replace(behind, kept=others).region(size):
                edit = edit_call("set_obstacle_state", ref=one.ref, state="remove")
                says = f"have {one.what} taken out; its cable stays a keep-out until it is dead"
                yield Opening("obstacle", max(one.box.width, one.box.height), says, edit)


def _moved_aside(
    behind: Behind, size: BoxSize, middle: Point2, drop: float, limits: Limits
) -> Iterator[Opening]:
    """The plate up or down on the screen's back, or the screen itself to a side, up or down."""
    steps = [STEP * (n + 1) for n in range(int(limits.value("services.outlet_shift") // STEP))]
    for by in steps:
        for way in (by, -by):
            plate = _moved(behind.plate, 0.0, way)
            if holds(behind.hidden, plate) and replace(behind, plate=plate).region(size):
                says = f"set the mount's plate {by:.0f} mm {'higher' if way > 0 else 'lower'} on the screen's back"
                yield Opening("plate", by, says, edit_call("set_mount", hook_drop=round(drop + way)))
                steps = []
                break
        if not steps:
            break
    for axis in (0, 1):
        for by in (STEP * (n + 1) for n in range(int(limits.value("services.outlet_shift") // STEP))):
            way = next(
                (
                    way
                    for way in (by, -by)
                    if behind.moved(*((way, 0.0) if axis == 0 else (0.0, way))).region(size)
                ),
                None,
            )
            if way is None:
                continue
            to = round(middle[axis] + way)
            edit = (
                edit_call("set_screen_x", centre_x=to)
                if axis == 0
                else edit_call("set_screen_height", centre_height=to)
            )
            word = (
                ("to the right" if way > 0 else "to the left")
                if axis == 0
                else ("higher" if way > 0 else "lower")
            )
            yield Opening("screen", by, f"hang the screen {by:.0f} mm {word}", edit)
            break


def gap_to_plate(centre: Point2, size: BoxSize, plate: Box) -> float:
    """The clear distance between a box and the plate [mm]; 0 where they overlap."""
    return box_around(centre, *size).gap(plate)


def clear_of_holes(centre: Point2, size: BoxSize, holes: Iterable[Point2], clear: float) -> bool:
    """Whether a box keeps `clear` [mm] from the middle of every fixing hole."""
    box = box_around(centre, *size)
    return all(box.gap(Box(x, z, 0.0, 0.0)) >= clear for x, z in holes)
