"""What is screwed on or let through: handles, push latches, legs and feet, wall fixings through cleats, and air openings."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from wallwright.carcass.bored import Bench, Cut, front_depth
from wallwright.carcass.hardware import leg_count
from wallwright.carcass.record import BayBox, Drawn
from wallwright.core.shape import Box, Point2
from wallwright.library.fittings import Fitting, fittings

LOCK_EDGE = 40.0
"""The middle of a handle from the edge it stands along [mm]."""
FROM_END, UP = 60.0, 40.0
"""Feet: middle from the ends of the plinth's cross pieces and above their lower edge [mm]."""
LATCH = (20.0, 52.0)
"""Screws of a push latch behind the front edge [mm]."""


def handle_of(mover: Drawn) -> Fitting:
    """The handle of a front: the large one where it fits with as much again beside it."""
    upright = mover.kind in ("door", "pull_out")
    run = mover.box.height if upright else mover.box.width
    return fittings()["handle_128" if run >= 250 else "handle_64"]


def handle_box(mover: Drawn) -> Box:
    """Where the handle of a front stands, on the wall's axes: along the closing edge of what turns, in the middle of a drawer."""
    row, box = handle_of(mover), mover.box
    half = row.length / 2
    if mover.kind == "door":
        x = box.right - LOCK_EDGE if mover.hand == "left" else box.x + LOCK_EDGE
        return Box(x - 6, box.centre[1] - half, 12, row.length)
    if mover.kind == "pull_out":
        return Box(box.centre[0] - 6, box.centre[1] - half, 12, row.length)
    z = box.centre[1]
    if mover.kind == "flap":
        edge = min(LOCK_EDGE, box.height / 2)
        z = box.z + edge if mover.lifts else box.top - edge
    return Box(box.centre[0] - half, z - 6, row.length, 12)


def handles(bench: Bench) -> None:
    """The holes of every handle, through its front and through the front end of a drawer."""
    for mover in bench.movers:
        part = next((part for part in bench.of_role("front") if part.id == mover.ref), None)
        if part is None or mover.proud <= 0 or part.board == "glass":
            continue
        x, z = handle_box(mover).centre
        for along, across, size, _ in handle_of(mover).pattern:
            at = (x + across, z + along) if mover.kind in ("door", "pull_out") else (x + along, z + across)
            bench.bore(part, (at[0], part.block.y, at[1]), "+y", size, 0.0, "handle", through=True)
            for end in bench.of_role("drawer_end"):
                face = end.block.face
                mine = mover.kind == "drawer" and end.id == f"{mover.ref.replace('-F', '-D')}F"
                if mine and face.grown(-8).holds(Box(at[0], at[1], 0, 0)):
                    bench.bore(end, (at[0], end.block.y, at[1]), "+y", size, 0.0, "handle", through=True)


def latches(bench: Bench, bay: BayBox) -> None:
    """A push latch a door or flap, near its closing edge: under the board above it, on the board below a flap that lifts."""
    if bench.opening != "push":
        return
    for mover in bench.movers:
        if mover.kind not in ("door", "flap") or not mover.ref.startswith(f"{bay.ref}-F"):
            continue
        board = bench.board(bay, "below" if mover.lifts else "above")
        if board is None:
            continue
        room = bench.value("latch_in")
        edge = bay.box.centre[0]
        if mover.kind == "door":
            edge = (
                min(mover.box.right, bay.box.right) - room
                if mover.hand == "left"
                else max(mover.box.x, bay.box.x) + room
            )
        for y in LATCH:
            z, way = (bay.box.z, "-z") if mover.lifts else (bay.box.top, "+z")
            at = (edge, board.block.y + front_depth(bench, bay) + y, z)
            bench.bore(board, at, way, bench.value("pilot"), bench.value("pilot_deep"), "push latch")


def feet(bench: Bench) -> None:
    """Feet inside the plinth's cross pieces; where there is no plinth, the plates of the legs under the bottom."""
    cross = [part for part in bench.of_role("plinth") if bench.lie(part).through == "x"]
    for part in cross:
        inner = part.block.x + part.block.dx if bench.lie(part).ways[2] < 0 else part.block.x
        way = "-x" if bench.lie(part).ways[2] < 0 else "+x"
        room = min(FROM_END, part.block.dy / 3)
        for y in (part.block.y + room, part.block.y + part.block.dy - room):
            for along, across, size, deep in fittings()["foot"].pattern:
                at = (inner, y + along, part.block.z + part.block.dz / 2 + across)
                bench.bore(part, at, way, size, deep, "foot")
    _middle_feet(bench, max(0, bench.feet - 4) // 2 if cross else bench.feet)
    unit, value = bench.unit, bench.limits.value
    if unit.hung or unit.base != "legs" or unit.box.z > 0:
        return
    inset = value("carcass.leg_inset")
    count = max(bench.feet, leg_count(unit.box.width, inset, value("carcass.leg_pitch"))) // 2
    for k in range(count):
        x = unit.box.x + inset + k * (unit.box.width - 2 * inset) / (count - 1)
        for bottom in bench.of_role("bottom"):
            if bottom.block.x + 20 <= x <= bottom.block.x + bottom.block.dx - 20:
                x = _clear_of(
                    x,
                    [
                        part.block.x + part.block.dx / 2
                        for part in bench.uprights()
                        if part.role == "division"
                    ],
                )
                for y in (bottom.block.y + inset, bottom.block.y + bottom.block.dy - inset):
                    for along, across, size, deep in fittings()["leg"].pattern:
                        bench.bore(bottom, (x + along, y + across, bottom.block.z), "+z", size, deep, "leg")


def _middle_feet(bench: Bench, pairs: int) -> None:
    """Feet that the load asks for besides the four, in pairs along the plinth's front and rear boards, evenly; all of them along
    a front board that stands alone.
    """
    for part in bench.of_role("plinth"):
        own = bench.lie(part)
        if own.through != "y":
            continue
        inner, way = (part.block.y + part.block.dy, "-y") if own.ways[2] < 0 else (part.block.y, "+y")
        for k in range(pairs):
            x = part.block.x + (k + 1) * part.block.dx / (pairs + 1)
            for along, across, size, deep in fittings()["foot"].pattern:
                bench.bore(
                    part,
                    (x + along, inner, part.block.z + part.block.dz / 2 + across),
                    way,
                    size,
                    deep,
                    "foot",
                )


def _clear_of(x: float, things: Sequence[float]) -> float:
    """An x moved so that a leg's plate is clear of the screws into a division."""
    return next((thing + (45.0 if x >= thing else -45.0) for thing in things if abs(x - thing) < 40.0), x)


def wall_fixings(bench: Bench, points: Iterable[Point2], diameter: float) -> None:
    """The holes through a hung unit's cleat for its wall fixings, as large as the hole in the wall: they are set through it."""
    for x, z in points:
        for cleat in bench.of_role("cleat"):
            if diameter > 0 and cleat.block.face.grown(-diameter).holds(Box(x, z, 0, 0)):
                bench.bore(cleat, (x, cleat.block.y, z), "+y", diameter, 0.0, "wall fixing", through=True)


@dataclass(frozen=True, slots=True)
class Vent:
    """An air opening planned in a board: upright boards by their place on the wall, level ones by x and how far out from the wall."""

    part: str
    x: float
    z: float
    width: float
    height: float
    what: str


def vents(bench: Bench, planned: Iterable[Vent]) -> None:
    """The air openings, each in its own board."""
    boards = {part.id: part for part in bench.parts}
    for vent in planned:
        part = boards.get(vent.part)
        if part is None:
            continue
        own = bench.lie(part)
        level = own.through == "z"
        ends = [
            own.own((x, -out, part.block.z) if level else (x, part.block.y, out))
            for x in (vent.x, vent.x + vent.width)
            for out in (vent.z, vent.z + vent.height)
        ]
        xs, ys = [p[0] for p in ends], [p[1] for p in ends]
        what = f"vent: {vent.what.partition(',')[0]}"
        bench.cuts.append(Cut(part.id, min(xs), min(ys), max(xs) - min(xs), max(ys) - min(ys), what))
