"""What the storage stage hands on: the demand, the levels there are, what goes where, what does not fit and why."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Literal

from wallwright.core.shape import Box
from wallwright.core.why import Whys
from wallwright.library.load import Care, Use

Failing = Literal["depth", "height", "reach", "child", "seated", "warm", "load", "hidden", "room", "nothing"]
"""Which limit keeps a thing out of a level; room: every level it may stand in is full; nothing: there is no bay at all."""


@dataclass(frozen=True, slots=True)
class Demand:
    """A kind of thing to keep: count, shelf run [mm] with slack, mass [kg], and the depth and clear height it needs.

    low : within a child's reach · use : how often it is taken out · care : a toy, or what small children must not reach ·
    warm : False where heat harms it · shown : stands where it is seen · stacks : most one upon another as it stands ·
    flat : most lying one upon another · bare : its own thickness · tall : its own height, where known [mm]
    """

    kind: str
    name: str
    count: int
    run: float
    mass: float
    depth: float
    height: float
    low: bool
    use: Use = "monthly"
    care: Care = ""
    warm: bool = True
    shown: bool = False
    stacks: int = 1
    flat: int = 0
    bare: float = 0.0
    tall: float = 0.0

    @property
    def thickness(self) -> float:
        """Its own thickness along the shelf [mm]."""
        return self.bare or self.each

    @property
    def upright(self) -> float:
        """Its own height [mm]."""
        return self.tall or self.height

    @property
    def along(self) -> float:
        """Shelf run of one that lies flat [mm]."""
        return self.upright + self.each - self.thickness

    @property
    def each(self) -> float:
        """Shelf run of one [mm]."""
        return self.run / self.count if self.count else 0.0

    @property
    def one(self) -> float:
        """Mass of one [kg]."""
        return self.mass / self.count if self.count else 0.0


@dataclass(frozen=True, slots=True)
class Level:
    """One drawer, or the space over one board. box : its clear space on the elevation · run : shelf run for things [mm].

    depth : usable, in front of whatever stands behind · load : what its things may weigh together [kg] · front : what closes it ·
    devices : what stands here already (their run is taken off) · warm : beside a device that gives off heat
    """

    ref: str
    bay: str
    unit: str
    box: Box
    depth: float
    run: float
    load: float
    front: str
    devices: tuple[str, ...] = ()
    warm: bool = False

    @property
    def z(self) -> float:
        """Its floor above FFL [mm]."""
        return self.box.z

    @property
    def height(self) -> float:
        """Its clear height [mm]."""
        return self.box.height

    @property
    def drawer(self) -> bool:
        """Whether it is a drawer."""
        return self.front == "drawers"


@dataclass(frozen=True, slots=True)
class Placed:
    """So many of a kind on a level."""

    kind: str
    level: str
    count: int


@dataclass(frozen=True, slots=True)
class Allotted:
    """So many of a kind in a bay."""

    kind: str
    bay: str
    count: int


@dataclass(frozen=True, slots=True)
class Missing:
    """What found no place: how many, which limit fails in the level where least fails, and by how much [mm, kg].

    says : the same in words · spot : that level's ref, "" where there is none
    """

    kind: str
    count: int
    failing: Failing
    short: float
    spot: str
    says: str


@dataclass(frozen=True, slots=True)
class Reach:
    """How high and low the household reaches, all heights of shelves above FFL [mm].

    child : the highest that a child reaches · out : from here up nothing is in a small child's hands, 0 where there is none ·
    easy : from knee to shoulder · standing : the highest without a step, of the shortest adult · step : with one ·
    seated : lowest and highest from a wheelchair, None where nobody uses one
    """

    child: float
    out: float
    easy: tuple[float, float]
    standing: float
    step: float
    seated: tuple[float, float] | None = None


@dataclass(frozen=True, slots=True)
class Behind:
    """What stands out of the wall behind a unit: its outline and how far it stands out [mm]."""

    box: Box
    projection: float


@dataclass(frozen=True, slots=True)
class Bay:
    """A bay to keep things in: its clear inside, depth [mm], front, and what divides it."""

    ref: str
    unit: str
    box: Box
    depth: float
    front: str
    drawers: int
    shelves: int


@dataclass(frozen=True, slots=True)
class Room:
    """What there is to keep things in, before anything is put there.

    edges : wall to the front edge of each unit's boards [mm] · depths : of each unit, over all [mm]
    loads : what a metre of each unit's boards carries [kg/m] ·
    behind : columns and pipes · devices : in each bay, the name and the width, depth and height that each device takes ·
    warm : bays with a device that gives off heat · pinned : units whose load was decided
    """

    bays: tuple[Bay, ...]
    edges: Mapping[str, float] = field(default_factory=dict[str, float])
    depths: Mapping[str, float] = field(default_factory=dict[str, float])
    loads: Mapping[str, float] = field(default_factory=dict[str, float])
    behind: tuple[Behind, ...] = ()
    devices: Mapping[str, tuple[tuple[str, float, float, float], ...]] = field(
        default_factory=dict[str, tuple[tuple[str, float, float, float], ...]]
    )
    warm: frozenset[str] = frozenset()
    pinned: frozenset[str] = frozenset()


@dataclass(frozen=True, slots=True)
class Storage:
    """All of it. capacity and needed : shelf run [mm]; leftovers : (kind, count) that found no place.

    taken : the shelf run that things take on each level, in the levels' order [mm] · score : the allotment's cost in points
    """

    demands: tuple[Demand, ...]
    allotted: tuple[Allotted, ...]
    leftovers: tuple[tuple[str, int], ...]
    capacity: float
    needed: float
    storage_class: str
    whys: Whys
    levels: tuple[Level, ...] = ()
    placed: tuple[Placed, ...] = ()
    missing: tuple[Missing, ...] = ()
    reach: Reach = Reach(1200.0, 0.0, (700.0, 1400.0), 1900.0, 2200.0)
    room: Room = Room(())
    taken: tuple[float, ...] = ()
    score: float = 0.0

    @property
    def used(self) -> float:
        """The shelf run that the things take as they are placed [mm]."""
        return sum(self.taken)

    @property
    def free(self) -> float:
        """The share of the run that is still free, 0..1; 1 where there is no run."""
        return 1.0 - self.used / self.capacity if self.capacity else 1.0

    def free_on(self, level: Level) -> float:
        """The run that is still free on a level [mm]."""
        return level.run - self.taken[self.levels.index(level)]

    @property
    def in_drawers(self) -> dict[str, float]:
        """What is put into each drawer ("C1.2-D1") and pull-out ("T1.3") that anything is put into [kg]."""
        one = {demand.kind: demand.one for demand in self.demands}
        held = {level.ref: level for level in self.levels if level.front in ("drawers", "pull_out")}
        out: dict[str, float] = {}
        for item in self.placed:
            level = held.get(item.level)
            if level and item.count:
                ref = f"{level.bay}-D{level.ref.rpartition('-')[2]}" if level.drawer else level.bay
                out[ref] = out.get(ref, 0.0) + item.count * one[item.kind]
        return out

    def mass_on(self, level: Level) -> float:
        """What the things on a level weigh [kg]."""
        one = {demand.kind: demand.one for demand in self.demands}
        return sum(item.count * one[item.kind] for item in self.placed if item.level == level.ref)
