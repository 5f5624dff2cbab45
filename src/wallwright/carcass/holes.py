"""Every board of a wall with its holes, grooves and cut-outs. Not on the way of deriving: asked for by a sheet or a table."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import replace

from wallwright.carcass import attached, hinge_line, joints, runner_line, system_32
from wallwright.carcass.bored import Bench, Bored, Cut, Groove, Hole
from wallwright.carcass.lie import Lie
from wallwright.carcass.record import Carcass, SetOut
from wallwright.core.limit import Limits
from wallwright.core.shape import Box, Point2


def bore(  # noqa: PLR0913
    setout: SetOut,
    carcass: Carcass,
    limits: Limits,
    openings: Mapping[str, str],
    *,
    fixed: Mapping[str, tuple[Sequence[Point2], float]] | None = None,
    boxes: Sequence[tuple[str, Box]] = (),
    vents: Sequence[attached.Vent] = (),
) -> Bored:
    """The holes of every cabinet's boards.

    openings : how each unit's fronts open (push, handle, gap) · fixed : a hung unit's wall fixings (x, z) and the hole's diameter ·
    boxes : what is in the wall behind backs, its reference and outline · vents : air openings planned in boards
    """
    holes: list[Hole] = []
    grooves: list[Groove] = []
    cuts: list[Cut] = []
    lies: dict[str, Lie] = {}
    for unit in setout.units:
        if not unit.cabinet:
            continue
        bench = Bench(
            unit, [part for part in carcass.parts if part.unit == unit.ref], [bay for bay in carcass.bays if bay.unit == unit.ref],
            [mover for mover in carcass.movers if mover.unit == unit.ref], limits, openings.get(unit.ref, "push"), lies,
            sum(item.quantity for item in carcass.hardware if item.unit == unit.ref and item.kind in ("foot", "leg")),
        )  # fmt: skip
        joints.joints(bench)
        joints.connectors(bench)
        joints.grooves(bench)
        joints.openings(bench, boxes)
        for bay in bench.bays:
            plates = hinge_line.hinges(bench, bay)
            system_32.pins(bench, bay, plates)
            runner_line.runners(bench, bay)
            runner_line.pull_out(bench, bay)
            attached.latches(bench, bay)
        attached.vents(bench, vents)
        attached.handles(bench)
        attached.feet(bench)
        points, size = (fixed or {}).get(unit.ref, ((), 0.0))
        attached.wall_fixings(bench, points, size)
        for part in bench.parts:
            bench.lie(part)
        thick = {part.id: bench.lie(part).size[2] for part in bench.parts}
        holes += merged(_clear(bench, bench.holes), thick)
        grooves += bench.grooves
        cuts += bench.cuts
    return Bored(tuple(holes), tuple(grooves), tuple(cuts), lies)


def _clear(bench: Bench, holes: Sequence[Hole]) -> list[Hole]:
    """Without the holes that would lie where a board is cut out for a column, a pipe or the skirting."""
    cut = {part.id: part for part in bench.parts if part.cuts}
    out: list[Hole] = []
    for hole in holes:
        part = cut.get(hole.part)
        if part is not None and hole.face in FACES:
            x, y, z = bench.lies[hole.part].room(hole.x, hole.y, bench.lies[hole.part].size[2] / 2)
            if any(
                c.x <= x <= c.x + c.dx and c.y <= y <= c.y + c.dy and c.z <= z <= c.z + c.dz
                for c in part.cuts
            ):
                continue
        out.append(hole)
    return out


FACES = ("inside", "outside", "both")
"""Of a hole in the face of a board; else it is bored into an edge."""
NEAR = 1.0
"""Two bores this near to one place are one [mm]: fronts of unlike thickness set their rows so little apart."""


def merged(holes: Sequence[Hole], thick: Mapping[str, float]) -> list[Hole]:
    """Each hole once: what two bays bore at one place from both faces of a board is one hole through it.

    A hinge plate gives way by as much as `NEAR` when the door is set. Two dowels in a division stand back to back, and stop
    short of one another.
    """
    out: dict[str, list[Hole]] = {}
    for hole in holes:
        own = out.setdefault(hole.part, [])
        at = next((k for k, before in enumerate(own) if _one_place(before, hole)), None)
        if at is None:
            own.append(hole)
            continue
        before = own[at]
        what = before.what if hole.what in before.what.split(", ") else f"{before.what}, {hole.what}"
        both = before.face != hole.face
        through = before.through or hole.through or both
        own[at] = replace(
            before, what=what, through=through, face="both" if both else before.face, diameter=max(before.diameter, hole.diameter),
            depth=thick[hole.part] if through else max(before.depth, hole.depth),
        )  # fmt: skip
    return [hole for own in out.values() for hole in own]


def _one_place(one: Hole, other: Hole) -> bool:
    """Whether two bores of a board are one hole: on its faces at the same place, or on the same edge."""
    faces = one.face in FACES and other.face in FACES and "dowel" not in (one.what, other.what)
    if not faces and one.face != other.face:
        return False
    near = NEAR if faces and one.face != other.face else 0.05
    return abs(one.x - other.x) <= near and abs(one.y - other.y) <= near
