"""What the structure stage hands on: shelves checked for sag, hung things for their fixings, towers for tipping."""

from __future__ import annotations

from dataclasses import dataclass

from wallwright.core.shape import Box, Point2
from wallwright.core.why import Why


@dataclass(frozen=True, slots=True)
class ShelfCheck:
    """A shelf: load with self-weight [N/mm], sag at once and after years [mm], the longest span [mm] that passes both limits."""

    ref: str
    unit: str
    span: float
    load: float
    stiffness: float
    sag: float
    sag_later: float
    stress: float
    longest: float


@dataclass(frozen=True, slots=True)
class FixingCheck:
    """A hung unit or the screen: moment [N·mm], total pull and shear [N], the fixings and how much of each is used (≤ 1 passes).

    holes : where the fixings go (x, z) · capacity_pull, capacity_shear : allowable of one fixing [N], 0 = unknown wall ·
    needed : number of fixings of this kind that would pass · group : share of its capacity one keeps beside the others and near
    an opening · backer : to be let into a framed wall for these fixings, None where none is needed or one is there · packing :
    what the bolts cross between plate and wall [mm] · bending : of a bolt there [N/mm²]
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


@dataclass(frozen=True, slots=True)
class TipCheck:
    """A standing tower: the push at its top that tips it loose [N], its tilt-up diagonal [mm], whether it is anchored."""

    ref: str
    mass: float
    push_to_tip: float
    anchored: bool
    tilt_up: float


@dataclass(frozen=True, slots=True)
class CladdingCheck:
    """A panelled zone: its mass with adhesive and what the layer behind carries [kg/m²]."""

    ref: str
    mass_per_m2: float
    carries: float
    layer: str


@dataclass(frozen=True, slots=True)
class LoadConflict:
    """A load that was pinned [kg/m] below what is stored in one bay of the unit [kg/m]."""

    unit: str
    bay: str
    pinned: float
    stored: float


@dataclass(frozen=True, slots=True)
class Structure:
    """All of it. backers : plywood to be let into a framed wall · conflicts : the worst bay of each unit."""

    shelves: tuple[ShelfCheck, ...]
    fixings: tuple[FixingCheck, ...]
    towers: tuple[TipCheck, ...]
    cladding: tuple[CladdingCheck, ...]
    whys: tuple[Why, ...]
    backers: tuple[Box, ...] = ()
    conflicts: tuple[LoadConflict, ...] = ()
