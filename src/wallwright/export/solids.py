"""Solids that are no boxes, as triangles in wall axes [mm]: fluted boards, boards under an arch, bent linings, boxes with pieces
cut out.

Every face is flat and turned outwards; normals are the faces' own, so that an edge looks sharp.
"""

from __future__ import annotations

import itertools
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field
from math import sqrt
from typing import TYPE_CHECKING

from wallwright.core.shape import Block

if TYPE_CHECKING:
    from wallwright.carcass.arch import Arch
    from wallwright.carcass.record import Part
    from wallwright.cooling.record import VentOpening

Point3 = tuple[float, float, float]
ARCH_STEPS = 24


@dataclass(frozen=True, slots=True)
class Flutes:
    """Square grooves across a field: its left edge, pitch, width of the rib between two grooves, and depth [mm]."""

    left: float
    pitch: float
    rib: float
    depth: float

    def face(self, block: Block) -> list[tuple[float, float]]:
        """The face of a board in the field, from left to right, as (x, y): two points at each edge of a groove."""
        right, deep = block.x + block.dx, block.y + min(self.depth, block.dy / 2)
        out = [(block.x, block.y)]
        for k in range(int((block.x - self.left) // self.pitch), int((right - self.left) // self.pitch) + 1):
            start = max(self.left + k * self.pitch + self.rib, block.x)
            end = min(self.left + (k + 1) * self.pitch, right)
            if end - start > 0.01:
                out += [(start, block.y), (start, deep), (end, deep), (end, block.y)]
        out.append((right, block.y))
        while (
            out[1][0] - out[0][0] < 0.01
        ):  # a board that begins or ends in a groove has no edge as thin as nothing there
            del out[0]
        while out[-1][0] - out[-2][0] < 0.01:
            del out[-1]
        return out


@dataclass(frozen=True, slots=True)
class Station:
    """An upright slice of a board: where it stands, how far its face is from the wall (negative: room), its foot and its top."""

    x: float
    front: float
    foot: float
    top: float


@dataclass(slots=True)
class Mesh:
    """Corners with their normals, and triangles of them."""

    points: list[Point3] = field(default_factory=list[Point3])
    normals: list[Point3] = field(default_factory=list[Point3])
    triangles: list[int] = field(default_factory=list[int])

    def quad(self, a: Point3, b: Point3, c: Point3, d: Point3) -> None:
        """A flat face, its corners counter-clockwise seen from outside; one without area is left out."""
        ux, uy, uz = (c[i] - a[i] for i in range(3))
        vx, vy, vz = (d[i] - b[i] for i in range(3))
        n = (uy * vz - uz * vy, uz * vx - ux * vz, ux * vy - uy * vx)
        size = sqrt(n[0] ** 2 + n[1] ** 2 + n[2] ** 2)
        if size < 1e-3:
            return
        base = len(self.points)
        self.points += (a, b, c, d)
        self.normals += [(n[0] / size, n[1] / size, n[2] / size)] * 4
        self.triangles += (base, base + 1, base + 2, base, base + 2, base + 3)


def slatted(stations: Sequence[Station], back: float) -> Mesh:
    """The solid between a board's face, as its stations give it from left to right, and its flat back.

    Edges are split at the depth of the deepest station, so that no corner of one face lies in the middle of another's edge.
    """
    mesh = Mesh()
    deepest = max(station.front for station in stations)
    for a, b in itertools.pairwise(stations):
        mesh.quad(
            (a.x, a.front, a.foot), (b.x, b.front, b.foot), (b.x, b.front, b.top), (a.x, a.front, a.top)
        )
        if b.x == a.x:
            continue
        for near, far in _bands(a.front, deepest, back):
            mesh.quad((a.x, near, a.top), (b.x, near, b.top), (b.x, far, b.top), (a.x, far, a.top))
            mesh.quad((a.x, far, a.foot), (b.x, far, b.foot), (b.x, near, b.foot), (a.x, near, a.foot))
        mesh.quad((b.x, back, b.foot), (a.x, back, a.foot), (a.x, back, a.top), (b.x, back, b.top))
    first, last = stations[0], stations[-1]
    for near, far in _bands(first.front, deepest, back):
        x, foot, top = first.x, first.foot, first.top
        mesh.quad((x, far, foot), (x, near, foot), (x, near, top), (x, far, top))
    for near, far in _bands(last.front, deepest, back):
        x, foot, top = last.x, last.foot, last.top
        mesh.quad((x, near, foot), (x, far, foot), (x, far, top), (x, near, top))
    return mesh


def _bands(front: float, deepest: float, back: float) -> tuple[tuple[float, float], ...]:
    return ((front, deepest), (deepest, back)) if front < deepest else ((front, back),)


def board(block: Block, arch: Arch | None = None, flutes: Flutes | None = None) -> Mesh:
    """A board whose head may be cut to an arch and whose face may be fluted."""
    right, top = block.x + block.dx, block.z + block.dz
    face = [(block.x, block.y), (right, block.y)] if flutes is None else flutes.face(block)
    if arch:
        stops = (x for x, _ in arch.points(ARCH_STEPS) if block.x < x < right)
        face = sorted([*face, *((x, _front(face, x)) for x in stops)], key=lambda point: point[0])
    stations = [
        Station(x, y, block.z, max(block.z, min(top, arch.height_at(x)) if arch else top)) for x, y in face
    ]
    return slatted(stations, block.y + block.dy)


def _front(face: Sequence[tuple[float, float]], x: float) -> float:
    """How far the face is from the wall at x: between the points on both sides of it."""
    before = max(i for i, (at, _) in enumerate(face) if at <= x)
    return face[before][1]


def under_arch(block: Block, hole: Arch, foot: float) -> Mesh:
    """A board with an arched cut-out: `hole` gives its head and width, `foot` its lower edge."""
    left, right, top = hole.x, hole.x + hole.span, block.z + block.dz
    y, back = block.y, block.y + block.dy
    mesh = slatted([Station(x, y, z, top) for x, z in hole.points(ARCH_STEPS)], back)
    for x0, x1, low, high in (
        (block.x, left, block.z, top),
        (right, block.x + block.dx, block.z, top),
        (left, right, block.z, foot),
    ):
        if x1 - x0 > 0.01 and high - low > 0.01:
            joined(mesh, slatted([Station(x0, y, low, high), Station(x1, y, low, high)], back))
    return mesh


def ring(arch: Arch, thickness: float, front: float, back: float, *, outwards: bool) -> Mesh:
    """A strip bent along an arch, its thickness outwards from the curve or inwards."""
    mesh = Mesh()
    cx, cz = arch.centre
    curve = arch.points(ARCH_STEPS)
    share = 1 + thickness / arch.radius * (1 if outwards else -1)
    moved = [(cx + (x - cx) * share, cz + (z - cz) * share) for x, z in curve]
    outer, inner = (moved, curve) if outwards else (curve, moved)
    for (a, b), (c, d) in zip(itertools.pairwise(outer), itertools.pairwise(inner), strict=True):
        for y, (p, q, r, s) in ((front, (c, d, b, a)), (back, (a, b, d, c))):
            mesh.quad((p[0], y, p[1]), (q[0], y, q[1]), (r[0], y, r[1]), (s[0], y, s[1]))
        mesh.quad((a[0], front, a[1]), (b[0], front, b[1]), (b[0], back, b[1]), (a[0], back, a[1]))
        mesh.quad((c[0], back, c[1]), (d[0], back, d[1]), (d[0], front, d[1]), (c[0], front, c[1]))
    for p, q in ((inner[0], outer[0]), (outer[-1], inner[-1])):
        mesh.quad((p[0], front, p[1]), (q[0], front, q[1]), (q[0], back, q[1]), (p[0], back, p[1]))
    return mesh


def joined(mesh: Mesh, more: Mesh) -> None:
    """Add one mesh to another."""
    base = len(mesh.points)
    mesh.points += more.points
    mesh.normals += more.normals
    mesh.triangles += [base + i for i in more.triangles]


def pieces(block: Block, cuts: Iterable[Block]) -> tuple[Block, ...]:
    """What is left of a block when others are cut out of it, as blocks that touch."""
    left = [block]
    for cut in cuts:
        left = [piece for one in left for piece in _without(one, cut)]
    return tuple(left)


def left_of(part: Part, openings: Sequence[VentOpening]) -> tuple[Block, ...]:
    """What is left of a part without its notches and its air openings, as blocks that touch. openings : of the whole wall"""
    block = part.block
    vents = tuple(
        Block(vent.x, -vent.z - vent.height, block.z - 1.0, vent.width, vent.height, block.dz + 2.0)
        if vent.level
        else Block(vent.x, block.y - 1.0, vent.z, vent.width, block.dy + 2.0, vent.height)
        for vent in openings
        if vent.part == part.id
    )
    cuts = (*part.cuts, *vents)
    return (pieces(block, cuts) or (block,)) if cuts else (block,)


def _without(block: Block, cut: Block) -> list[Block]:
    """One block less another: up to six blocks, taken off side by side."""
    lows, sizes = [block.x, block.y, block.z], [block.dx, block.dy, block.dz]
    for low, size, c, d in zip(lows, sizes, (cut.x, cut.y, cut.z), (cut.dx, cut.dy, cut.dz), strict=True):
        if min(low + size, c + d) - max(low, c) < 0.01:
            return [block]
    out: list[Block] = []
    for axis, (c, d) in enumerate(((cut.x, cut.dx), (cut.y, cut.dy), (cut.z, cut.dz))):
        start, end = max(lows[axis], c), min(lows[axis] + sizes[axis], c + d)
        for low, size in ((lows[axis], start - lows[axis]), (end, lows[axis] + sizes[axis] - end)):
            if size > 0.01:
                at, span = [*lows], [*sizes]
                at[axis], span[axis] = low, size
                out.append(Block(*at, *span))
        lows[axis], sizes[axis] = start, end - start
    return out


def volume(mesh: Mesh) -> float:
    """What the mesh encloses [mm³], by the divergence theorem; of a closed mesh turned outwards it is above nought."""
    total = 0.0
    for i in range(0, len(mesh.triangles), 3):
        a, b, c = (mesh.points[k] for k in mesh.triangles[i : i + 3])
        total += (
            a[0] * (b[1] * c[2] - b[2] * c[1])
            + a[1] * (b[2] * c[0] - b[0] * c[2])
            + a[2] * (b[0] * c[1] - b[1] * c[0])
        )
    return total / 6
