"""What setting-out and carcass hand on: unit outlines, panelled zones, bays, parts, shelves and hardware."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from wallwright.carcass.arch import Arch
from wallwright.core.shape import Block, Box
from wallwright.core.why import Whys

Grain = Literal["none", "length", "width"]
Role = Literal[
    "side", "top", "bottom", "division", "shelf", "back", "front", "drawer_side", "drawer_end", "drawer_bottom", "rail", "cleat",
    "panel", "batten", "plinth", "filler", "wall_shelf", "backer", "strip", "moulding", "lining",
    "lip", "rib", "face", "gap_rail", "frame",
]  # fmt: skip


USUAL_LOAD = {
    "console": "load_console", "tower": "load_books", "shelf": "load_wall_shelf", "loft": "load_loft", "open_shelves": "load_books",
    "niche": "load_wall_shelf", "arched_niche": "load_wall_shelf", "ledge": "load_ledge", "desk": "load_wall_shelf",
}  # fmt: skip
"""The limit behind what each kind of unit is expected to carry, where nobody said."""


@dataclass(frozen=True, slots=True)
class UnitBox:
    """A unit's outline: it stands from the wall face (y = 0) `depth` into the room.

    rear : the wall behind it that boards and hanging rails leave free for outlet boxes (divisions not counted) · base : what it
    stands on · inset : its fronts stand between its boards' edges, not over them · back : closed behind · build, lip : what its
    shelves are made of, and the height of the lip [mm] · rise, bend : of an arched niche [mm], 0 for any
    other, and how its lining is bent
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
    base: str = "plinth"
    inset: bool = False
    back: bool = True
    build: str = "plain"
    lip: float = 0.0
    rise: float = 0.0
    bend: str = "flexible"

    @property
    def cabinet(self) -> bool:
        """Whether it is a box with bays, that hides what is behind it; the others are boards on the wall, or frames round a hole."""
        return self.kind not in ("shelf", "ledge", "niche", "arched_niche")

    @property
    def board_only(self) -> bool:
        """Whether it is a board held by hidden rods."""
        return self.kind in ("shelf", "ledge")

    @property
    def tall(self) -> bool:
        """Whether it stands as high as a person, and so is fixed near its top."""
        return self.kind in ("tower", "open_shelves")

    @property
    def round_screen(self) -> bool:
        """Whether it is a niche that goes round the screen: what is within its outline is not covered by it."""
        return self.kind == "niche" and self.side == "centre"

    @property
    def usual_load(self) -> str:
        """The limit that says what its shelves are expected to carry [kg/m]."""
        return f"carcass.{USUAL_LOAD[self.kind]}"


@dataclass(frozen=True, slots=True)
class PanelZone:
    """A panelled field: its outline, face thickness, void behind, joints (x of each upright joint) and flutes.

    levels : z of each level joint of tiles, slabs or panes · joint : width of those joints · fields : between the strips, or the
    frames of moulding, row by row from the foot, `columns` in a row · strip : width of strip or profile · boarded : whether a
    board carries it; else it is fixed to the wall itself · layers : from the wall outwards (what, mm) ·
    light_way : what the strips behind it want clear inside its left, right and top edge, 0 without any
    """

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
    levels: tuple[float, ...] = ()
    joint: float = 0.0
    fields: tuple[Box, ...] = ()
    columns: int = 0
    strip: float = 0.0
    arch: Arch | None = None
    match: Literal["slip", "book", "random"] = "slip"
    bend: Literal["kerf", "flexible"] = "flexible"
    boarded: bool = True
    layers: tuple[tuple[str, float], ...] = ()
    light_way: float = 0.0

    @property
    def build_up(self) -> float:
        """From the wall's face to the panel's face [mm]."""
        return self.void + self.thickness


@dataclass(frozen=True, slots=True)
class SetOut:
    """The wall set out: where every unit and panel stands."""

    units: tuple[UnitBox, ...]
    zones: tuple[PanelZone, ...]
    whys: Whys

    def unit(self, ref: str) -> UnitBox:
        """The unit of that reference. KeyError names those there are."""
        for unit in self.units:
            if unit.ref == ref:
                return unit
        raise KeyError(f"no unit {ref!r}; there are {', '.join(unit.ref for unit in self.units) or 'none'}")


@dataclass(frozen=True, slots=True)
class BayBox:
    """A bay: the clear inside of one compartment, its front, and what the front's material lets through.

    hinged : on which side its door was decided to turn, "" where that is automatic
    """

    ref: str
    unit: str
    box: Box
    depth: float
    front: str
    drawers: int
    shelves: int
    ir_open: bool
    hinged: str = ""


@dataclass(frozen=True, slots=True)
class Part:
    """One piece of board. length runs along the grain where there is one.

    finished and cut sizes [mm]: cut = finished less the edge bands on that direction · edges : band on the two long edges
    (long1, long2) and the two short ones (short1, short2), "" where bare · block : where it stands in the room · mass [kg] ·
    cuts : what is cut out of the block for a skirting, pipe or column · match : the mark of the fronts that are cut from one strip in
    their order, "" = cut as it comes
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
    cuts: tuple[Block, ...] = ()
    match: str = ""


@dataclass(frozen=True, slots=True)
class Shelf:
    """A board that carries: its clear span, depth, what it is made of and what it is expected to carry [kg/m].

    thickness : of one board · build : plain, lipped, doubled (two boards glued) or torsion_box · lip, lip_thick : height and
    thickness of the strip in front of its edge, tops flush; of a torsion box, of its ribs [mm] ·
    supports : on how many it lies, `span` apart
    """

    ref: str
    unit: str
    span: float
    depth: float
    thickness: float
    board: str
    load_kg_per_m: float
    box: Box
    build: str = "plain"
    lip: float = 0.0
    lip_thick: float = 0.0
    supports: int = 2


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
    """A drawer, door, flap or pull-out and the room it sweeps when opened.

    kind : drawer, door, flap or pull_out · box : its front, closed · open : how far it turns [degrees], 0 for what is drawn ·
    hand : on which side a door turns, "" for what does not turn about an upright edge · proud : how far a handle stands in front
    of it [mm], 0 without one · thick : of its front [mm] · lifts : a flap hung at its head, which opens upwards
    """

    ref: str
    unit: str
    kind: str
    box: Box
    swept: Block
    open: float = 0.0
    hand: str = ""
    proud: float = 0.0
    thick: float = 0.0
    lifts: bool = False


@dataclass(frozen=True, slots=True)
class Behind:
    """What stands proud of the wall behind a unit, and the clear inside that is left in front of it [mm]."""

    unit: str
    thing: str
    proud: float
    left: float
    box: Box


@dataclass(frozen=True, slots=True)
class Carried:
    """One box of a unit as it is carried in: its sizes [mm] and whether it passes the surveyed way in."""

    unit: str
    box: str
    width: float
    height: float
    depth: float
    passes: bool


@dataclass(frozen=True, slots=True)
class OnRunners:
    """A drawer or pull-out and what its runners are chosen by: run [mm], its own boards and all that goes in at the usual density
    [kg]. kind : runner or pull_out · ends : push-open or soft-close
    """

    ref: str
    unit: str
    kind: str
    run: float
    ends: str
    own: float
    full: float


@dataclass(frozen=True, slots=True)
class Carcass:
    """All that is made of board."""

    bays: tuple[BayBox, ...]
    parts: tuple[Part, ...]
    shelves: tuple[Shelf, ...]
    hardware: tuple[Hardware, ...]
    movers: tuple[Drawn, ...]
    unit_mass: tuple[tuple[str, float], ...]
    whys: Whys
    behind: tuple[Behind, ...] = ()
    carried: tuple[Carried, ...] = ()
    on_runners: tuple[OnRunners, ...] = ()

    def mass_of(self, unit: str) -> float:
        """The mass of a unit's boards [kg]; 0 for an unknown one."""
        return dict(self.unit_mass).get(unit, 0.0)
