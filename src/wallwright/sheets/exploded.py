"""The exploded sheet: the parts of a unit pulled apart along the three axes, numbered in the order in which they go together.

Drawn true to scale along all three axes: across level, up upright, depth at 30 degrees (cavalier). Hidden lines are taken out by
painting the farthest part first.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from math import cos, radians, sin
from typing import TYPE_CHECKING

from wallwright.carcass.niche import arch_of
from wallwright.core.drawing import TEXT_SMALL, Circle, Drawing, Line, Mark, Text
from wallwright.core.shape import Block, Box, Point2, around
from wallwright.core.table import Column, Table
from wallwright.sheets.beside import Block as Beside
from wallwright.sheets.beside import Legend, Notes, column
from wallwright.sheets.crossed import inside
from wallwright.sheets.ink import extent_of
from wallwright.sheets.joinery import CAUTIONS, built
from wallwright.sheets.label_row import spread
from wallwright.sheets.lettering import text_width
from wallwright.sheets.paper import SCALES, Fields, Sheet, View, centred
from wallwright.sheets.room import column_right
from wallwright.sheets.words import unit_words

if TYPE_CHECKING:
    from wallwright.carcass.record import Part, UnitBox
    from wallwright.derive import Wall

AWAY = (cos(radians(30)), sin(radians(30)))
"""Where a step into the wall goes on paper: right and up."""
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


@dataclass(frozen=True, slots=True)
class Step:
    """One step of the assembly: what is done, and the roles of the parts that come to it."""

    words: str
    roles: frozenset[str]


CASE = frozenset({"side", "top", "bottom", "division", "gap_rail"})
DRAWER = frozenset({"drawer_side", "drawer_end", "drawer_bottom", "frame"})


def steps(unit: UnitBox, parts: Sequence[Part]) -> tuple[Step, ...]:
    """How the unit goes together, in order; only what it has. Common practice."""
    has = {part.role for part in parts}
    up = (
        "two people lift it on to the cleat; then screw through the rail"
        if unit.hung
        else "stand it, level it, shim"
    )
    held = "" if unit.hung else "; fix it to the wall near its top before anything is put in"
    if unit.kind in ("niche", "arched_niche"):
        up, held = "set it on the wall and screw through the strip under its head", ""
    if unit.board_only:
        up, held = (
            "screw its bracket to the wall, level, by the fixings sheet; slide the board on to the rods and pin it",
            "",
        )
    every = (
        Step("Glue the ribs between the skins; weights on until dry", frozenset({"rib", "wall_shelf"})),
        Step("Make the plinth frame and level it on its feet", frozenset({"plinth"})),
        Step("Screw divisions and fixed boards between bottom and top, then the sides; both diagonals alike", CASE),
        Step("Bend and glue in the linings, then the face", frozenset({"lining", "face"})),
        Step("Put in the back: it keeps the case square", frozenset({"back"})),
        Step("Screw the hanging rail under the top, its bevel down and towards the case", frozenset({"rail"})),
        Step("Fix this to the wall, level, by the fixings sheet", frozenset({"cleat"})),
        Step(f"Put it up: {up}{held}", frozenset()),
        Step("Scribe the fillers to wall and ceiling", frozenset({"filler"})),
        Step("Make the boxes; hang them on their runners", DRAWER),
        Step("Lay in the loose shelves on their pins", frozenset({"shelf", "lip"})),
        Step("Hang the fronts; set their gaps by the maker's screws", frozenset({"front"})),
    )  # fmt: skip
    return tuple(step for step in every if not step.roles or step.roles & has)


def step_of(part: Part, order: Sequence[Step]) -> int:
    """The number of the step, from 1, at which a part comes; 0 for one that none names."""
    return next((i for i, step in enumerate(order, 1) if part.role in step.roles), 0)


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
    notes = [
        "Measured along the three axes the parts are to scale; pulled apart, not stretched.",
    ]
    if len(own) > 1:
        notes.append(
            f"{unit.ref} is drawn; {', '.join(o.ref for o in own[1:])} of the same parts{_hand(wall, own)}."
        )
    blocks: list[Beside] = [
        LEGEND,
        step_table(order, parts),
        fittings_table(wall, unit),
        Notes("Notes", tuple(notes)),
    ]
    return Sheet(
        f"exploded_{unit.ref}",
        f"Exploded: {refs} {unit_words(unit.kind)}",
        "Assembly",
        (view,),
        column(blocks, beside),
        Fields.of(wall.job),
        CAUTIONS,
        job_title=wall.job.title,
    )


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


def step_table(order: Sequence[Step], parts: Sequence[Part]) -> Table:
    """The steps with the parts that come to each."""
    rows = tuple(
        (i, step.words, _listed([tag(p) for p in parts if step_of(p, order) == i]))
        for i, step in enumerate(order, 1)
    )  # fmt: skip
    return Table(
        "assembly", "Order of assembly", (Column("", "", 0, "right"), Column("Step"), Column("Parts")), rows
    )


def _listed(tags: list[str]) -> str:
    return ", ".join(tags) if tags else "-"


def fittings_table(wall: Wall, unit: UnitBox) -> Table:
    """The fittings of the unit, counted."""
    rows = tuple((h.quantity, h.name, h.note) for h in wall.carcass.hardware if h.unit == unit.ref)
    return Table(
        "fittings",
        f"Fittings of {unit.ref}",
        (Column("No", "", 0, "right"), Column("Fitting"), Column("Note")),
        rows,
    )


def tag(part: Part) -> str:
    """The part's own tag: without its unit's reference."""
    return part.id.removeprefix(part.unit).lstrip("-.")


def pulled(unit: UnitBox, part: Part, gap: float, order: Sequence[Part]) -> Block:
    """The part's block moved out along the axes. gap : real mm between what is pulled apart."""
    b, d = part.block, unit.depth
    left = b.x + b.dx / 2 < unit.box.centre[0]
    low = b.z + b.dz / 2 < unit.box.centre[1]
    dx = dy = dz = 0.0
    match part.role:
        case "side":
            dx = -2.5 * gap if left else 2.5 * gap
        case "filler":
            if b.dx > b.dz:
                dz = d + 3 * gap
            else:
                dx = (-1 if left else 1) * (5 * gap + b.dx)
        case "top":
            dz = d * AWAY[1] + gap
        case "bottom":
            dz = -(d * AWAY[1] + gap)
        case "plinth":
            dz = -(2 * d * AWAY[1] + 2 * gap)
            dy = -gap if b.y + b.dy / 2 < -d / 2 and b.dx > b.dy else gap if b.dx > b.dy else 0.0
        case "back":
            dy = d + 2 * gap
        case "rail":
            dy = 1.3 * d + 2.5 * gap
        case "cleat":
            dy = 1.3 * d + 3.5 * gap + 4 * b.dz  # clear of the rail, which hangs above it
        case "front":
            dy = -(1.65 * d + 2.5 * gap)
        case "face":
            dy = -(d + 4 * gap)
        case "shelf":
            dy = -(0.35 * d + gap)
        case "lip":
            dy = -(0.7 * d + 2 * gap)
        case "gap_rail":
            dy = -(0.4 * d + gap)
        case "wall_shelf":
            dz = (-1 if low else 1) * gap if any(other.role == "rib" for other in order) else 0.0
        case "drawer_side" | "drawer_end" | "drawer_bottom" | "frame":
            dx, dy, dz = _of_box(unit, part, gap, order)
        case _:
            pass
    return replace(b, x=b.x + dx, y=b.y + dy, z=b.z + dz)


def _of_box(unit: UnitBox, part: Part, gap: float, order: Sequence[Part]) -> tuple[float, float, float]:
    """How far a part of a drawer's box goes: the box comes out of the case, and its boards a little apart."""
    stem = part.id[: part.id.rindex("-") + 2] if part.role == "frame" else part.id[:-1]
    own = [other.block for other in order if other.id.startswith(stem) and other.role == part.role]
    b, out = part.block, -(0.95 * unit.depth + 2 * gap)
    if part.role == "drawer_side":
        middle = sum(o.x + o.dx / 2 for o in own) / len(own)
        return (-0.6 if b.x + b.dx / 2 < middle else 0.6) * gap, out, 0.0
    if part.role == "drawer_end" or (part.role == "frame" and b.dz > b.dy):
        middle = sum(o.y + o.dy / 2 for o in own) / len(own)
        return 0.0, out + (-0.8 if b.y + b.dy / 2 < middle else 0.8) * gap, 0.0
    return 0.0, out, -0.8 * gap if part.role == "drawer_bottom" else 0.0


def on_paper(x: float, y: float, z: float) -> Point2:
    """A point of the room on the drawing: y into the wall goes right and up."""
    return x + y * AWAY[0], z + y * AWAY[1]


def faces(block: Block) -> tuple[tuple[Point2, ...], tuple[Point2, ...], tuple[Point2, ...]]:
    """The three faces of a block that one sees: its top, its right side, its front."""
    x, y, z = block.x, block.y, block.z
    x1, y1, z1 = x + block.dx, y + block.dy, z + block.dz
    p = on_paper
    return (
        (p(x, y, z1), p(x1, y, z1), p(x1, y1, z1), p(x, y1, z1)),
        (p(x1, y, z), p(x1, y1, z), p(x1, y1, z1), p(x1, y, z1)),
        (p(x, y, z), p(x1, y, z), p(x1, y, z1), p(x, y, z1)),
    )


def painted(blocks: Sequence[Block]) -> list[int]:
    """The order in which blocks are painted so that what is nearer hides what is farther: by which of two stands to the left of,
    behind or below the other. Blocks that do not overlap never tie in a ring but by three or more; such a ring is cut.
    """
    outlines = [around([point for face in faces(block) for point in face]) for block in blocks]
    behind: list[set[int]] = [set() for _ in blocks]
    for i, a in enumerate(blocks):
        for k, b in enumerate(blocks):
            if i != k and outlines[i].meets(outlines[k]) and _farther(b, a):
                behind[i].add(k)
    out: list[int] = []
    left = set(range(len(blocks)))
    while left:
        first = min(left, key=lambda i: (len(behind[i] & left), -blocks[i].y, blocks[i].x, blocks[i].z))
        left.remove(first)
        out.append(first)
    return out


def _farther(a: Block, b: Block) -> bool:
    """Whether a must be painted before b: one sees fronts (small y), right sides (large x) and tops (large z)."""
    near = 0.05
    if a.y >= b.y + b.dy - near:
        return True
    if b.y >= a.y + a.dy - near:
        return False
    if a.x + a.dx <= b.x + near:
        return True
    if b.x + b.dx <= a.x + near:
        return False
    return a.z + a.dz <= b.z + near


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
