"""What is bored, grooved and cut in boards, in each board's own axes, and what is at hand while a unit is bored."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field
from typing import Literal

from wallwright.carcass.lie import Lie, lie
from wallwright.carcass.record import BayBox, Drawn, Part, UnitBox
from wallwright.core.limit import Limits

Side = Literal["inside", "outside", "both", "long1", "long2", "short1", "short2"]
"""A face, or an edge as in Part.edges: long1 and short1 meet at the datum corner. both : through, used from both faces."""
NEAR = 0.05


@dataclass(frozen=True, slots=True)
class Hole:
    """A round hole. x along the board's length and y across it from its datum corner, as seen from the inside face; in an edge,
    x along that edge and y below the inside face. depth : the board's thickness where it is through [mm].
    """

    part: str
    face: Side
    x: float
    y: float
    diameter: float
    depth: float
    what: str
    through: bool = False


@dataclass(frozen=True, slots=True)
class Groove:
    """A groove along a board in its inside face: from x0 to x1, from y0 to y1 [mm]."""

    part: str
    x0: float
    x1: float
    y0: float
    y1: float
    depth: float
    what: str


@dataclass(frozen=True, slots=True)
class Cut:
    """A rectangle cut through a board: its corner nearest the datum, its sizes along the board's length and width [mm]."""

    part: str
    x: float
    y: float
    dx: float
    dy: float
    what: str


@dataclass(frozen=True, slots=True)
class Bored:
    """Everything bored, grooved and cut in the boards of a wall. lies : how each board lies, by its reference."""

    holes: tuple[Hole, ...]
    grooves: tuple[Groove, ...]
    cuts: tuple[Cut, ...]
    lies: Mapping[str, Lie]

    def of(self, part: str) -> tuple[Hole, ...]:
        """The holes of one board."""
        return tuple(hole for hole in self.holes if hole.part == part)


@dataclass(frozen=True, slots=True)
class End:
    """A screw or dowel in the end of an upright: its place along the depth, the level of the end, how far it reaches in [mm]."""

    part: str
    y: float
    z: float
    deep: float


@dataclass(slots=True)
class Bench:
    """A unit on the bench: its boards and bays, the rule set, what it stands on, and what has been bored so far."""

    unit: UnitBox
    parts: list[Part]
    bays: list[BayBox]
    movers: list[Drawn]
    limits: Limits
    opening: str
    lies: dict[str, Lie]
    feet: int = 4
    holes: list[Hole] = field(default_factory=list[Hole])
    grooves: list[Groove] = field(default_factory=list[Groove])
    cuts: list[Cut] = field(default_factory=list[Cut])
    ends: list[End] = field(default_factory=list["End"])

    def value(self, name: str) -> float:
        """A limit of the joinery."""
        return self.limits.value(f"joinery.{name}")

    def lie(self, part: Part) -> Lie:
        """How a board lies: a door from its hinges, a drawer's front from the unit's end, a division seen from there."""
        known = self.lies.get(part.id)
        if known is None:
            hand = next(
                (mover.hand for mover in self.movers if part.role == "front" and mover.ref == part.id), ""
            )
            right = part.block.face.centre[0] > self.unit.box.centre[0] + 1.0
            known = lie(part, right=hand == "right" or (part.role == "front" and not hand and right))
            if part.role == "division" and known.through == "x" and right:
                known = lie(part, inside=-1)
            self.lies[part.id] = known
        return known

    def of_role(self, *roles: str) -> Iterator[Part]:
        """The unit's boards of these roles."""
        return (part for part in self.parts if part.role in roles)

    def uprights(self) -> list[Part]:
        """The boards that stand between bays and at the ends."""
        return [part for part in self.of_role("side", "division") if self.lie(part).through == "x"]

    def levels(self) -> list[Part]:
        """The fixed boards that lie: tops, bottoms and fixed shelves."""
        return [part for part in self.of_role("top", "bottom", "division") if self.lie(part).through == "z"]

    def board(self, bay: BayBox, where: Literal["left", "right", "below", "above"]) -> Part | None:
        """The board that bounds a bay on one side."""
        box = bay.box
        for part in self.uprights() if where in ("left", "right") else self.levels():
            face = part.block.face
            if where in ("left", "right"):
                edge = face.right - box.x if where == "left" else face.x - box.right
                beside = min(face.top, box.top) - max(face.z, box.z)
            else:
                edge = face.top - box.z if where == "below" else face.z - box.top
                beside = min(face.right, box.right) - max(face.x, box.x)
            if abs(edge) < NEAR and beside > 1.0:
                return part
        return None

    def bore(  # noqa: PLR0913
        self, part: Part, at: tuple[float, float, float], towards: str, diameter: float, depth: float, what: str, *, through: bool = False
    ) -> None:  # fmt: skip
        """A hole from a point on a board's skin. towards : the room's direction in which one bores: +x, -x, +y, -y, +z, -z.

        What must not come through stops short of the other face.
        """
        own = self.lie(part)
        x, y, deep = own.own(at)
        length, width, thick = own.size
        axis, way = towards[1], 1 if towards[0] == "+" else -1
        face: Side
        if axis == own.through:
            face = "inside" if way == own.ways[2] else "outside"
            depth = thick if through else min(depth, thick - self.value("skin"))
        elif axis == own.along:
            face = "short1" if way == own.ways[0] else "short2"
            x, y, depth = y, deep, min(depth, length - 1.0)
        else:
            face = "long1" if way == own.ways[1] else "long2"
            y, depth = deep, min(depth, width - 1.0)
        self.holes.append(
            Hole(part.id, face, round(x, 3), round(y, 3), diameter, round(depth, 3), what, through)
        )


def front_depth(bench: Bench, bay: BayBox) -> float:
    """Behind the front edge of a bay's boards to where its inside begins [mm]: 0 where the front lies over the edges."""
    if not bench.unit.inset or bay.front == "open":
        return 0.0
    thick = max((mover.thick for mover in bench.movers if mover.ref.startswith(f"{bay.ref}-F")), default=0.0)
    return thick + bench.limits.value("carcass.front_bumper")


def clear_heights(bench: Bench, bay: BayBox) -> tuple[float, float]:
    """Between which heights a bay's boards may be bored [mm]: a rail behind a finger gap takes its head, or its foot."""
    low, high = bay.box.z, bay.box.top
    for rail in bench.of_role("gap_rail"):
        face = rail.block.face
        if not face.grown(-1.0).meets(bay.box):
            continue
        if abs(face.z - bay.box.z) < NEAR:
            low = max(low, face.top)
        elif abs(face.top - bay.box.top) < NEAR:
            high = min(high, face.z)
    return low, high
