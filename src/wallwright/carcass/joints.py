"""How the boards of a case meet: case screws through one into the end of the other, a dowel between them, and the back's groove."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from itertools import pairwise

from wallwright.carcass.bored import NEAR, Bench, Cut, End, Groove
from wallwright.carcass.record import Part
from wallwright.core.shape import Box


def joints(bench: Bench) -> None:
    """Every board that ends at another of the case: lying boards and rails at uprights, divisions at tops and bottoms, and the plinth."""
    uprights, levels = bench.uprights(), bench.levels()
    divisions = [part for part in uprights if part.role == "division"]
    for part in [*levels, *bench.of_role("rail")]:
        for other in uprights:
            _at(bench, part, other, "x")
    for part in divisions:
        for other in levels:
            _at(bench, part, other, "z")
    frame = list(bench.of_role("plinth"))
    for part in frame:
        for other in frame:
            if bench.lie(part).through == "x" and bench.lie(other).through == "y":
                _at(bench, part, other, "y")
    for rail in bench.of_role("gap_rail"):
        for other in uprights:
            _dowelled(bench, rail, other)


def _at(bench: Bench, part: Part, other: Part, axis: str) -> None:
    """The joint where an end of one board stands against the face of another; nothing where they do not meet."""
    for ahead, point in _ends(part, other, axis):
        way = f"{'+' if ahead > 0 else '-'}{axis}"
        back = f"{'-' if ahead > 0 else '+'}{axis}"
        spots, middle = _spots(bench, part, other, axis)
        outer = point + ahead * other.thickness
        long = bench.value("case_long") - other.thickness
        for spot in spots:
            bench.bore(
                other,
                _place(axis, outer, spot),
                back,
                bench.value("case_screw"),
                0.0,
                "case screw",
                through=True,
            )
            bench.bore(part, _place(axis, point, spot), back, bench.value("case_core"), long, "case screw")
            if axis == "z":
                bench.ends.append(End(part.id, spot[1], point, long))
        if middle is not None:
            bench.bore(
                other,
                _place(axis, point, middle),
                way,
                bench.value("dowel"),
                bench.value("dowel_face"),
                "dowel",
            )
            bench.bore(
                part,
                _place(axis, point, middle),
                back,
                bench.value("dowel"),
                bench.value("dowel_edge"),
                "dowel",
            )
            if axis == "z":
                bench.ends.append(End(part.id, middle[1], point, bench.value("dowel_edge")))


RAIL_DOWEL, RAIL_IN = 6.0, 5.0
"""Dowels of a rail behind a finger gap, and their middle behind its front face: in front of the first row of holes [mm]."""


def _dowelled(bench: Bench, rail: Part, other: Part) -> None:
    """A rail behind a finger gap: dowels at each end, short in a division so that those of two bays do not meet."""
    for ahead, point in _ends(rail, other, "x"):
        way, back = ("+x", "-x") if ahead > 0 else ("-x", "+x")
        deep = min(bench.value("dowel_face"), (other.thickness - bench.value("skin")) / 2)
        for share in (0.25, 0.75) if rail.block.dz > 45 else (0.5,):
            at = (point, rail.block.y + RAIL_IN, rail.block.z + share * rail.block.dz)
            bench.bore(other, at, way, RAIL_DOWEL, deep, "dowel")
            bench.bore(rail, at, back, RAIL_DOWEL, bench.value("dowel_edge"), "dowel")


Point3 = tuple[float, float, float]
Flat = tuple[float, float]
"""The two coordinates of a spot that are left beside the axis along which a board ends: in the order x, y, z."""


def _place(axis: str, value: float, spot: Flat) -> Point3:
    if axis == "x":
        return value, spot[0], spot[1]
    return (spot[0], value, spot[1]) if axis == "y" else (spot[0], spot[1], value)


def _ends(part: Part, other: Part, axis: str) -> Iterator[tuple[int, float]]:
    """The ends of a board that stand against another: 1 or -1 as it ends ahead or behind along the axis, and where."""
    if part.id == other.id:
        return
    a, b = part.block, other.block
    low, high = {"x": (a.x, a.x + a.dx), "y": (a.y, a.y + a.dy), "z": (a.z, a.z + a.dz)}[axis]
    near, far = {"x": (b.x, b.x + b.dx), "y": (b.y, b.y + b.dy), "z": (b.z, b.z + b.dz)}[axis]
    spans = {
        "x": (min(a.x + a.dx, b.x + b.dx) - max(a.x, b.x)), "y": (min(a.y + a.dy, b.y + b.dy) - max(a.y, b.y)),
        "z": (min(a.z + a.dz, b.z + b.dz) - max(a.z, b.z)),
    }  # fmt: skip
    if any(span < 5.0 for name, span in spans.items() if name != axis):
        return
    if abs(low - far) < NEAR:
        yield -1, low
    if abs(high - near) < NEAR:
        yield 1, high


def _spots(bench: Bench, part: Part, other: Part, axis: str) -> tuple[list[Flat], Flat | None]:
    """Where the screws of a joint stand, and its dowel: along the board's end, on the middle of its thickness."""
    block = part.block
    if part.role in ("rail", "plinth"):
        high = [block.z + share * block.dz for share in (0.25, 0.75)]
        across = block.y + block.dy / 2 if axis == "x" else block.x + block.dx / 2
        return [(across, z) for z in high], None
    end = bench.value("case_end")
    if (
        axis == "z"
    ):  # a hinge's plate or the dowels of a rail may stand in the first row, next to a division's end
        end += bench.value("row_pitch")
    rear = min(
        block.y + block.dy - end, _behind(bench, part, other) - end / 4 - bench.value("case_screw") / 2
    )
    ys = [block.y + end, max(rear, block.y + end + 32.0)]
    middle = (block.x + block.dx / 2) if axis == "z" else (block.z + block.dz / 2)
    at = [(middle, y) if axis == "z" else (y, middle) for y in (*ys, (ys[0] + ys[1]) / 2)]
    return at[:2], at[2] if ys[1] - ys[0] > 80 else None


def _behind(bench: Bench, part: Part, other: Part) -> float:
    """How far back screws may go: to the face of the back in its groove, or to the rear of both boards [mm, y]."""
    backs = [
        back.block.y for back in bench.of_role("back") if back.block.face.grown(20).meets(part.block.face)
    ]
    return min([part.block.y + part.block.dy, other.block.y + other.block.dy, *backs])


def grooves(bench: Bench) -> None:
    """The grooves of the backs: in the boards round each, as long as the back and a little more, never through an end that shows."""
    deep, spare = bench.limits.value("carcass.back_groove"), bench.value("groove_spare")
    for back in bench.of_role("back"):
        face = back.block.face
        for part in [*bench.of_role("side"), *bench.of_role("top", "bottom")]:
            if not _in(face, part.block.face):
                continue
            own = bench.lie(part)
            ends = (
                (face.z - spare, face.top + spare)
                if own.along == "z"
                else (face.x - spare, face.right + spare)
            )
            at = [own.own(_on(part, own.along, end, back.block.y))[0] for end in ends]
            x0, x1 = max(min(at), 0.0), min(max(at), own.size[0])
            y0 = back.block.y - part.block.y
            bench.grooves.append(
                Groove(
                    part.id, x0, x1, y0, y0 + back.thickness, deep, f"groove for the back {back.thickness:g}"
                )
            )


def _in(back: Box, board: Box) -> bool:
    """Whether a back stands in that board a little, as in a groove."""
    shared = back.shared(board)
    return (
        shared is not None
        and min(shared.width, shared.height) < 12.0
        and max(shared.width, shared.height) > 30.0
    )


def _on(part: Part, axis: str, value: float, y: float) -> Point3:
    return (part.block.x, y, value) if axis == "z" else (value, y, part.block.z)


def connectors(bench: Bench) -> None:
    """Four screws where two boxes of a unit meet: through both sides, or through a top and the bottom on it."""
    pitch, hole = bench.value("row_pitch"), bench.value("pin_hole")
    sides = sorted(bench.of_role("side"), key=lambda part: part.block.x)
    for one, other in pairwise(sides):
        if abs(one.block.x + one.block.dx - other.block.x) < NEAR:
            bottom = max((p.block.z + p.block.dz / 2 for p in bench.of_role("bottom")), default=one.block.z)
            levels = [bottom + 16.0 + pitch * round((share * one.block.dz) / pitch) for share in (0.2, 0.75)]
            for y in _rows(bench, one):
                for z in levels:
                    _both(bench, (one, other), (one.block.x, y, z), "+x", hole)
    flat = [*bench.of_role("top"), *bench.of_role("bottom")]
    for one in flat:
        for other in flat:
            if (
                abs(one.block.z + one.block.dz - other.block.z) < NEAR
                and one.block.face.shared_span(other.block.face) > 50
            ):
                for y in _rows(bench, one):
                    for x in (one.block.x + 80.0, one.block.x + one.block.dx - 80.0):
                        _both(bench, (one, other), (x, y, one.block.z), "+z", hole)


def _rows(bench: Bench, part: Part) -> tuple[float, float]:
    first = part.block.y + bench.value("row_setback") + bench.value("row_pitch")
    return first, max(first + 32.0, part.block.y + part.block.dy - 110.0)


def _both(bench: Bench, boards: tuple[Part, Part], at: Point3, way: str, hole: float) -> None:
    for board in boards:
        skin = (board.block.x, at[1], at[2]) if way == "+x" else (at[0], at[1], board.block.z)
        bench.bore(board, skin, way, hole, 0.0, "connecting screw", through=True)


def openings(bench: Bench, boxes: Iterable[tuple[str, Box]]) -> None:
    """Openings in the backs for what is in the wall behind them. boxes : its reference and its outline on the wall."""
    for ref, box in boxes:
        for back in bench.of_role("back"):
            common = back.block.face.shared(box)
            if common is not None and min(common.width, common.height) > 0.5:
                add_cut(bench, back, common, f"for {ref}")


def add_cut(bench: Bench, part: Part, box: Box, what: str) -> None:
    """A rectangle of the wall cut through a board that stands along it."""
    own = bench.lie(part)
    corners = [own.own((x, part.block.y, z)) for x in (box.x, box.right) for z in (box.z, box.top)]
    xs, ys = [p[0] for p in corners], [p[1] for p in corners]
    bench.cuts.append(Cut(part.id, min(xs), min(ys), max(xs) - min(xs), max(ys) - min(ys), what))
