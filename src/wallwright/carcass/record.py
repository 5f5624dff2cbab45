"""What setting-out and carcass hand on: unit outlines, panelled zones, bays, parts, shelves and hardware."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from wallwright.core.shape import Block, Box
from wallwright.core.why import Why

Grain = Literal["none", "length", "width"]
Role = Literal[
    "side", "top", "bottom", "division", "shelf", "back", "front", "drawer_side", "drawer_end", "drawer_bottom", "rail", "cleat",
    "panel", "batten", "plinth", "filler", "wall_shelf", "backer",
]  # fmt: skip


@dataclass(frozen=True, slots=True)
class UnitBox:
    """A unit's outline: it stands from the wall face (y = 0) `depth` into the room.

    rear : the wall behind it that boards and hanging rails leave free for outlet boxes (divisions not counted)
    """

    ref: str
    kind: str
    side: str
    box: Box
    depth: float
    hung: bool
    anchored: bool
    board: str
    front_finish: str
    pinned: frozenset[str]
    rear: Box | None = None


@dataclass(frozen=True, slots=True)
class PanelZone:
    """A panelled field: its outline, face thickness, void behind, joints (x of each upright joint) and flutes."""

    ref: str
    kind: str
    box: Box
    board: str
    finish: str
    thickness: float
    void: float
    joints: tuple[float, ...]
    flute_pitch: float
    flutes: int
    mass_per_m2: float
    pinned: frozenset[str]

    @property
    def build_up(self) -> float:
        """From the wall's face to the panel's face [mm]."""
        return self.void + self.thickness


@dataclass(frozen=True, slots=True)
class SetOut:
    """The wall set out: where every unit and panel stands."""

    units: tuple[UnitBox, ...]
    zones: tuple[PanelZone, ...]
    whys: tuple[Why, ...]

    def unit(self, ref: str) -> UnitBox:
        """The unit of that reference. KeyError names those there are."""
        for unit in self.units:
            if unit.ref == ref:
                return unit
        raise KeyError(f"no unit {ref!r}; there are {', '.join(unit.ref for unit in self.units) or 'none'}")


@dataclass(frozen=True, slots=True)
class BayBox:
    """A bay: the clear inside of one compartment, its front, and what the front's material lets through."""

    ref: str
    unit: str
    box: Box
    depth: float
    front: str
    drawers: int
    shelves: int
    ir_open: bool


@dataclass(frozen=True, slots=True)
class Part:
    """One piece of board. length runs along the grain where there is one.

    finished and cut sizes [mm]: cut = finished less the edge bands on that direction · edges : band on the two long edges
    (long1, long2) and the two short ones (short1, short2), "" where bare · block : where it stands in the room · mass [kg]
    """

    id: str
    unit: str
    role: Role
    name: str
    board: str
    finish: str
    length: float
    width: float
    thickness: float
    cut_length: float
    cut_width: float
    grain: Grain
    edges: tuple[str, str, str, str]
    mass: float
    block: Block


@dataclass(frozen=True, slots=True)
class Shelf:
    """A board that carries: its clear span, depth, what it is made of and what it is expected to carry [kg/m]."""

    ref: str
    unit: str
    span: float
    depth: float
    thickness: float
    board: str
    load_kg_per_m: float
    box: Box


@dataclass(frozen=True, slots=True)
class Hardware:
    """A line of the hardware schedule."""

    kind: str
    name: str
    unit: str
    quantity: int
    note: str


@dataclass(frozen=True, slots=True)
class Drawn:
    """A drawer, door or flap and the room it sweeps when opened."""

    ref: str
    unit: str
    kind: str
    box: Box
    swept: Block


@dataclass(frozen=True, slots=True)
class Carcass:
    """All that is made of board."""

    bays: tuple[BayBox, ...]
    parts: tuple[Part, ...]
    shelves: tuple[Shelf, ...]
    hardware: tuple[Hardware, ...]
    movers: tuple[Drawn, ...]
    unit_mass: tuple[tuple[str, float], ...]
    whys: tuple[Why, ...]

    def mass_of(self, unit: str) -> float:
        """The mass of a unit's boards [kg]; 0 for an unknown one."""
        return dict(self.unit_mass).get(unit, 0.0)
