"""The exploded sheet: the parts of a unit pulled apart along the three axes, numbered in the order in which they go together.

Drawn true to scale along all three axes: across level, up upright, depth at 30 degrees (cavalier). Hidden lines are taken out by
painting the farthest part first.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from typing import TYPE_CHECKING

from wallwright.carcass.niche import arch_of
from wallwright.core.drawing import TEXT_SMALL, Circle, Drawing, Line, Mark, Text
from wallwright.core.shape import Block, Box, Point2, around
from wallwright.sheets.assembly import Step, fittings_table, step_of, step_table, steps, tag
from wallwright.sheets.beside import Block as Beside
from wallwright.sheets.beside import Legend, Notes, column
from wallwright.sheets.crossed import inside
from wallwright.sheets.ink import extent_of
from wallwright.sheets.joinery import CAUTIONS, built
from wallwright.sheets.label_row import spread
from wallwright.sheets.lettering import text_width
from wallwright.sheets.paper import SCALES, Fields, Sheet, View, centred
from wallwright.sheets.pulled import faces, on_paper, painted, pulled
from wallwright.sheets.room import column_right
from wallwright.sheets.words import unit_words

if TYPE_CHECKING:
    from wallwright.carcass.record import Part, UnitBox
    from wallwright.derive import Wall

NARROW = 112.0  # paper mm for the steps and the fittings
RING = 1.9  # radius of the ring round a step's number, paper mm
GAP = 7.0  # paper mm between parts that are pulled apart
MARGIN = 16.0  # paper mm from the parts to the labels' middles
LEGEND = Legend(
    (
        ("ring:3", "the step at which the part comes"),
        ("pen:medium", "edge of a part that one sees; what is behind another part is left out"),
        ("pen:thin", "leader from a part to its name"),
    )
)


def sheets(wall: Wall) -> tuple[Sheet, ...]:
    """One sheet for each unit made of several parts; of two that are alike or mirrored, one for both."""
    return tuple(_sheet(wall, own) for own in pairs(wall))


def pairs(wall: Wall) -> tuple[tuple[UnitBox, ...], ...]:
    """The built units, those of the same parts together."""
    groups: dict[tuple[object, ...], list[UnitBox]] = {}
    for unit in built(wall):
        made = sorted(
            (p.role, p.board, round(p.length, 1), round(p.width, 1), p.edges) for p in wall.carcass.parts if p.unit == unit.ref
        )  # fmt: skip
        groups.setdefault((unit.kind, *made), []).append(unit)
    return tuple(tuple(own) for own in groups.values())


def _sheet(wall: Wall, own: tuple[UnitBox, ...]) -> Sheet:
    unit = own[0]
    parts = [part for part in wall.carcass.parts if part.unit == unit.ref]
    order = steps(unit, parts)
    room, beside = column_right(NARROW)
    made = (drawing(unit, parts, order, float(scale)) for scale in SCALES[2:])
    fitting = (
        one for one in made
        if one.extent.width / one.scale <= room.width and one.extent.height / one.scale <= room.height
    )  # fmt: skip
    view: View = centred(next(fitting), room)
    refs = " and ".join(one.ref for one in own)
    notes: list[str] = []
    if len(own) > 1:
        notes.append(
            f"{unit.ref} is drawn; {', '.join(o.ref for o in own[1:])} of the same parts{_hand(wall, own)}."
        )
    blocks: list[Beside] = [
        LEGEND,
        step_table(order, parts),
        fittings_table(wall, unit),
        *([Notes("Notes", tuple(notes))] if notes else []),
    ]
    return Sheet(
        f"exploded_{unit.ref}",
        f"Exploded: {refs} {unit_words(unit.kind)}",
        "Assembly",
        (view,),
        column(blocks, beside),
        Fields.of(wall.job),
        (AS_DRAWN, *CAUTIONS),
        job_title=wall.job.title,
    )


AS_DRAWN = "Along its three axes each part is to scale; they are pulled apart, not stretched."


def _hand(wall: Wall, own: tuple[UnitBox, ...]) -> str:
    """Whether the others are the first one's mirror image."""
    first, other = own[0], own[1]
    here = {_place(part, first) for part in wall.carcass.parts if part.unit == first.ref}
    there = {_place(part, other) for part in wall.carcass.parts if part.unit == other.ref}
    if here == there:
        return ", alike"
    wide = round(first.box.width)
    mirrored = {(role, wide - x - dx, y, z, dx, dy, dz) for role, x, y, z, dx, dy, dz in here}
    near = all(any(_close(a, b) for b in there) for a in mirrored)
    return ", mirrored" if near else ", doors hung or holes on the other hand: see their joinery sheets"


Place = tuple[str, int, int, int, int, int, int]


def _place(part: Part, unit: UnitBox) -> Place:
    """A part's role and its block from its unit's lower left corner, in whole mm."""
    b = part.block
    x, y, z = round(b.x - unit.box.x), round(b.y), round(b.z - unit.box.z)
    return part.role, x, y, z, round(b.dx), round(b.dy), round(b.dz)


def _close(a: Place, b: Place) -> bool:
    """The same but for a rounding."""
    return a[0] == b[0] and all(abs(one - other) <= 1 for one, other in zip(a[1:], b[1:], strict=True))


def drawing(unit: UnitBox, parts: Sequence[Part], order: Sequence[Step], scale: float) -> Drawing:
    """The exploded unit at 1:`scale`, each part by a leader with its tag and the ring of its step."""
    home = [
        replace(p, block=replace(p.block, x=p.block.x - unit.box.x, z=p.block.z - unit.box.z)) for p in parts
    ]
    at_home = replace(unit, box=Box(0.0, 0.0, unit.box.width, unit.box.height))
    blocks = [pulled(at_home, part, GAP * scale, home) for part in home]
    turn = painted(blocks)
    marks: list[Mark] = []
    shapes: list[tuple[tuple[Point2, ...], ...]] = []
    for i in turn:
        seen = faces(blocks[i])
        shapes.append(seen)
        for face in seen:
            marks.append(Line(face, "medium", closed=True, fill="#fff", layer="units", ref=parts[i].id))
        marks += _curved(unit, parts[i], blocks[i])
    points = [_seen_point(k, shapes) for k in range(len(turn))]
    labels = [
        (tag(parts[i]), step_of(parts[i], order), point)
        for i, point in zip(turn, points, strict=True) if point is not None
    ]  # fmt: skip
    marks += _labels(labels, extent_of(tuple(marks), scale), scale)
    made = tuple(marks)
    return Drawing(f"{unit.ref} exploded", "Exploded", scale, made, extent_of(made, scale))


def _curved(unit: UnitBox, part: Part, block: Block) -> list[Mark]:
    """The arch on the face of an arched niche, and the curve of its bent lining."""
    if (
        not unit.rise
        or part.role not in ("face", "lining")
        or (part.role == "lining" and "arch" not in part.name)
    ):
        return []
    arch = arch_of(unit)
    shift_x, shift_z = block.x - (part.block.x - unit.box.x), block.z - (part.block.z - unit.box.z)
    curve = [(x - unit.box.x + shift_x, z - unit.box.z + shift_z) for x, z in arch.points(16)]
    if part.role == "face":
        foot = block.z + part.thickness
        curve = [(curve[0][0], foot), *curve, (curve[-1][0], foot)]
    path = tuple(on_paper(x, block.y, z) for x, z in curve)
    return [Line(path, "medium", closed=part.role == "face", layer="units", ref=part.id)]


def _seen_point(k: int, shapes: Sequence[tuple[tuple[Point2, ...], ...]]) -> Point2 | None:
    """A point of the k-th painted part that nothing painted later hides, the nearest to the middle of one of its faces."""
    later = [(face, around(face)) for other in shapes[k + 1 :] for face in other]
    box = around([point for face in shapes[k] for point in face])
    over = [(face, bound) for face, bound in later if bound.meets(box)]
    return _bare_point(shapes[k], over, COARSE) or _bare_point(shapes[k], over, FINE)


COARSE = ((0.5, 0.25, 0.75, 0.1, 0.9, 0.03, 0.97), (0.5, 0.25, 0.75, 0.1, 0.9))
FINE = (tuple((i + 0.5) / 40 for i in range(40)), tuple((j + 0.5) / 12 for j in range(12)))
"""Where on a face one looks for a bare point: first near its middle, then all over."""


def _bare_point(
    shape: tuple[tuple[Point2, ...], ...],
    over: Sequence[tuple[tuple[Point2, ...], Box]],
    spots: tuple[tuple[float, ...], tuple[float, ...]],
) -> Point2 | None:
    best: tuple[float, Point2] | None = None
    for face in sorted(shape, key=lambda f: -_area(f)):
        a, b, _, d = face
        for i, u in enumerate(spots[0]):
            for j, v in enumerate(spots[1]):
                at = (
                    a[0] + u * (b[0] - a[0]) + v * (d[0] - a[0]),
                    a[1] + u * (b[1] - a[1]) + v * (d[1] - a[1]),
                )
                if best is not None and best[0] <= i + j:
                    continue
                if not any(
                    bound.x <= at[0] <= bound.right and bound.z <= at[1] <= bound.top and inside(at, other)
                    for other, bound in over
                ):
                    best = (float(i + j), at)
    return None if best is None else best[1]


def _area(face: tuple[Point2, ...]) -> float:
    (ax, az), (bx, bz), _, (dx, dz) = face
    return abs((bx - ax) * (dz - az) - (dx - ax) * (bz - az))


def _labels(labels: Sequence[tuple[str, int, Point2]], box: Box, scale: float) -> list[Mark]:
    """Tags round the drawing: each on the nearest side that has room, in the order of what they point at."""
    wide = [text_width(words, TEXT_SMALL, True) + 2 * RING + 1.2 for words, _, _ in labels]
    mean = sum(wide) / max(len(wide), 1) + 2.5
    room = {
        "left": int(box.height / scale / 5.2), "right": int(box.height / scale / 5.2),
        "top": int(box.width / scale / mean), "bottom": int(box.width / scale / mean),
    }  # fmt: skip
    sides: dict[str, list[int]] = {side: [] for side in room}

    def distance(side: str, point: Point2) -> float:
        return {
            "left": point[0] - box.x, "right": box.right - point[0],
            "top": box.top - point[1], "bottom": point[1] - box.z,
        }[side]  # fmt: skip

    for i in sorted(range(len(labels)), key=lambda i: min(distance(s, labels[i][2]) for s in room)):
        free = [side for side in room if len(sides[side]) < room[side]] or list(room)
        sides[min(free, key=lambda s: distance(s, labels[i][2]))].append(i)
    marks: list[Mark] = []
    for side, own in sides.items():
        level = side in ("top", "bottom")
        wanted = [labels[i][2][0 if level else 1] for i in own]
        sizes = [(wide[i] if level else 2 * RING) * scale for i in own]
        for i, at in zip(own, spread(wanted, sizes, 1.2 * scale), strict=True):
            marks += _label(labels[i], side, at, wide[i], box, scale)
    return marks


def _label(
    label: tuple[str, int, Point2], side: str, at: float, wide: float, box: Box, scale: float
) -> list[Mark]:
    """One tag with its ring and its leader."""
    words, step, point = label
    off = (MARGIN - 6.0) * scale
    if side in ("top", "bottom"):
        z = box.top + off if side == "top" else box.z - off
        left = at - wide / 2 * scale
        end = (at, z - (RING + 0.5) * scale if side == "top" else z + (RING + 0.5) * scale)
    else:
        z = at
        left = box.x - off - wide * scale if side == "left" else box.right + off
        end = (left + wide * scale + 0.6 * scale, z) if side == "left" else (left - 0.6 * scale, z)
    ring = (left + RING * scale, z)
    foot = z - TEXT_SMALL / 2 * scale
    marks: list[Mark] = [
        Line((point, end), "thin", layer="text", ref=f"leader {words}"),
        Circle(point, 0.5 * scale, "medium", layer="text", ref=words),
        Text((left + (2 * RING + 0.8) * scale, foot), words, TEXT_SMALL, bold=True, layer="text", ref=words),
    ]
    if step:
        marks += [
            Circle(ring, RING * scale, "thin", layer="text", ref=words),
            Text((ring[0], foot), str(step), TEXT_SMALL, "middle", layer="text", ref=words),
        ]
    return marks
