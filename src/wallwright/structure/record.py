"""What the structure stage hands on: shelves checked for sag, hung things for their fixings, standing units for tipping."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from wallwright.core.shape import Box, Point2
from wallwright.core.why import Whys


@dataclass(frozen=True, slots=True)
class ShelfCheck:
    """A shelf: load with self-weight [N/mm], sag at once and after years [mm], the longest span [mm] that passes both limits.

    build : what it is made of · supports : on how many it lies · stress : in its board under the even load [N/mm²] · point, sag_point,
    stress_point : a load in the middle of a span besides [N], the sag it adds, the stress with it · strength : what the stress
    may be [N/mm²] · strength_long : what it may be for years
    """

    ref: str
    unit: str
    span: float
    load: float
    stiffness: float
    sag: float
    sag_later: float
    stress: float
    longest: float
    build: str = "plain"
    supports: int = 2
    point: float = 0.0
    sag_point: float = 0.0
    stress_point: float = 0.0
    strength: float = 0.0
    strength_long: float = 0.0


@dataclass(frozen=True, slots=True)
class FixingCheck:
    """A hung unit or the screen: moment [N·mm], total pull and shear [N], the fixings and how much of each is used (≤ 1 passes).

    holes : where the fixings go (x, z) · capacity_pull, capacity_shear : allowable of one fixing [N], 0 = unknown wall ·
    needed : number of fixings of this kind that would pass · group : share of its capacity one keeps beside the others and near
    an opening · backer : to be let into a framed wall for these fixings, None where none is needed or one is there · packing :
    what lies between the thing and the wall [mm], a panel's build-up or the gap
    behind a back, that its fixings cross · bending : of a bolt there [N/mm²] · pack : where solid packing must fill the
    panel's void behind what hangs, None where it hangs on the wall itself · uneven : what the worst fixing gets over the mean ·
    length : of the fixing, from what it holds to its end in the wall [mm] · bending_most : what its bending may be [N/mm²] ·
    spacing : from which fixings lose nothing to one another [mm] · rod : diameter of its steel where it crosses a gap [mm] ·
    rods : they are a shelf's hidden rods · cone : concrete's cone by EN 1992-4 is what it would pull out ·
    into : columns and the like that stand where it would go, where no wall is left beside them · on : the column or beam it goes into,
    "" for the wall itself · base : what that is made of
    """

    ref: str
    what: str
    mass: float
    lean: float
    moment: float
    lever: float
    pull: float
    shear: float
    count: int
    needed: int
    holes: tuple[Point2, ...]
    hole_diameter: float
    hole_depth: float
    anchor: str
    capacity_pull: float
    capacity_shear: float
    used: float
    group: float = 1.0
    backer: Box | None = None
    packing: float = 0.0
    bending: float = 0.0
    pack: Box | None = None
    uneven: float = 1.0
    length: float = 0.0
    bending_most: float = 0.0
    into: tuple[str, ...] = ()
    on: str = ""
    base: str = ""
    spacing: float = 0.0
    rod: float = 0.0
    rods: bool = False
    cone: bool = False
    thread: float = 0.0
    edge: float = 0.0


@dataclass(frozen=True, slots=True)
class HungBeam:
    """A hung box as a beam on its fixings: how far it stands out beyond them, its largest free span, its sag there [mm]."""

    ref: str
    length: float
    out_left: float
    out_right: float
    span: float
    stiffness: float
    sag: float
    sag_later: float


@dataclass(frozen=True, slots=True)
class TipCheck:
    """A standing tower: the push at its top that tips it loose [N], its tilt-up diagonal [mm], whether it is anchored.

    lever : how far its centre of mass stands behind its front foot [mm], below 0 where it falls by itself
    """

    ref: str
    mass: float
    push_to_tip: float
    anchored: bool
    tilt_up: float
    lever: float = 0.0


@dataclass(frozen=True, slots=True)
class StandCheck:
    """A unit that stands on the floor: its standing moment over its tipping moment with all drawers out and full, and with a child
    on its front besides; the force that then holds it at `height` [N], what it is given there [N]. Infinite ratios never tip.

    lever : how far the centre of mass of what stays stands behind the front foot [mm]
    """

    ref: str
    kind: str
    mass: float
    drawers: int
    open: float
    climbed: float
    height: float
    force: float
    given: float
    anchored: bool
    lever: float = 0.0


@dataclass(frozen=True, slots=True)
class WayOut:
    """Something lighter, or held otherwise, that would do in a facing's place: what it weighs with adhesive [kg/m²].

    finish : of the library, "" where no edit makes it · passes : whether the layer behind carries it
    """

    name: str
    mass_per_m2: float
    finish: str
    passes: bool


@dataclass(frozen=True, slots=True)
class CladdingCheck:
    """A panelled zone: its mass with adhesive and what the layer behind carries [kg/m²]; its whole mass and what that layer would
    carry of it [kg]; its load on the floor along the wall [kN/m]; whether tiles must lie in a solid bed; what would do, best first.
    """

    ref: str
    mass_per_m2: float
    carries: float
    layer: str
    mass: float = 0.0
    most: float = 0.0
    line: float = 0.0
    solid_bed: bool = False
    ways: tuple[WayOut, ...] = ()


@dataclass(frozen=True, slots=True)
class HoleRow:
    """Screws of a batten, of packing, or a panel's clips: where they go (x, z), what is drilled. Named as a fixing's are, so that all
    are asked alike. into : what they end in: the wall, or a batten before it
    """

    ref: str
    what: str
    holes: tuple[Point2, ...]
    hole_diameter: float
    hole_depth: float
    anchor: str = ""
    into: Literal["wall", "batten"] = "wall"


@dataclass(frozen=True, slots=True)
class Structure:
    """All of it. backers : plywood to be let into a framed wall · beams : hung boxes ·
    standing : units on the floor · batten_rows : the screws of every batten · panel_rows : clips of
    panels on their battens, and the screws of packing.
    """

    shelves: tuple[ShelfCheck, ...]
    fixings: tuple[FixingCheck, ...]
    towers: tuple[TipCheck, ...]
    cladding: tuple[CladdingCheck, ...]
    whys: Whys
    backers: tuple[Box, ...] = ()
    beams: tuple[HungBeam, ...] = ()
    standing: tuple[StandCheck, ...] = ()
    batten_rows: tuple[HoleRow, ...] = ()
    panel_rows: tuple[HoleRow, ...] = ()
