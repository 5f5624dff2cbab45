"""Weight of a panelled wall against what the layers behind it carry [kg/m²], its load on the floor, and what would do instead."""

from __future__ import annotations

from typing import TYPE_CHECKING

from wallwright.core.limit import Limits
from wallwright.library import load
from wallwright.structure.hung import G
from wallwright.structure.record import CladdingCheck, WayOut
from wallwright.structure.wall import Wall, anchors_for

if TYPE_CHECKING:
    from wallwright.carcass.record import PanelZone

LAYERS: dict[str, tuple[tuple[str, str], ...]] = {
    "plaster": (("skim", "gypsum plaster"),),
    "skim": (("skim", "the plaster skim"),),
    "plasterboard": (("plasterboard", "bare plasterboard"),),
    "bare": (("masonry", "bare masonry"),),
    "tile": (("tile", "the old tile"),),
    "paint": (("paint", "the old paint"),),
    "cement_board": (("cement_board", "cement board"),),
    "gypsum_fibre": (("gypsum_fibre", "gypsum-fibre board"),),
    "foam_backer": (("foam_backer", "foam-core backer"),),
}
"""The wall's finish → the limits of the layers that a glued facing hangs on, and their names."""
GLUED = frozenset({"stone", "stone_veneer", "tile", "porcelain"})
"""Facings that are glued on with an adhesive bed."""
BEDDED = frozenset({"slab", "tile"})
"""Zones whose own mass counts their bed: by its thickness, heavier than trade tables take adhesive to be."""
PORCELAIN = "porcelain"
"""How the keys of thin porcelain begin, where the library has one."""

Layer = tuple[str, float]
"""A layer's name and what it carries [kg/m²]."""


def batten_capacity(shear: float, batten_pitch: float, screw_pitch: float) -> float:
    """What screwed battens carry [kg/m²]: screws a m² times the shear of one [N]; pitches in mm."""
    return 1e6 / (batten_pitch * screw_pitch) * shear / G


def weakest(layers: tuple[Layer, ...]) -> Layer:
    """The layer that carries least."""
    return min(layers, key=lambda layer: layer[1])


def line_on_floor(mass_per_m2: float, height: float) -> float:
    """Load of a cladding that stands on the floor [kN a metre of wall]: mass × height × g; height in mm."""
    return mass_per_m2 * height * G / 1e6


def layers_of(finish: str, wall: Wall, limits: Limits) -> tuple[Layer, ...]:
    """What a glued facing hangs on, from the outside in: paint or skim, and on a framed wall its boarding behind."""
    names = LAYERS[finish]
    if wall.framed and finish in ("plaster", "skim", "paint"):
        names = (*names, ("plasterboard", "plasterboard"))
    return tuple((said, limits.value(f"structure.layer_{name}")) for name, said in names)


def ways_out(mass: float, carries: float, substrate: str, limits: Limits) -> tuple[WayOut, ...]:
    """What would do in the place of a facing of that mass with adhesive [kg/m²], nearest to the wish first.

    Thin porcelain, flexible stone veneer, the stone itself on the floor and tied to a frame by an engineer, or on another wall.
    """
    adhesive = limits.value("structure.adhesive")
    finishes = load.finishes()
    thin = next((key for key, one in finishes.items() if key.startswith(PORCELAIN) and one.mass <= 16), "")
    porcelain = limits.value("structure.way_porcelain") + adhesive
    veneer = next((key for key, one in finishes.items() if one.kind == "stone_veneer"), "")
    flexible = limits.value("structure.way_veneer") + adhesive
    if veneer:
        flexible = max(flexible, finishes[veneer].mass + adhesive)
    ways = [
        WayOut("porcelain slab, 6 mm, in a solid bed", porcelain, thin, porcelain <= carries),
        WayOut("flexible stone veneer", flexible, veneer, flexible <= carries),
        WayOut("the stone standing on the floor, pinned to a frame that an engineer designs", mass, "", True),
    ]
    if substrate not in ("brick", "solid_block", "concrete"):
        masonry = limits.value("structure.layer_masonry")
        ways.append(WayOut("the stone on a masonry wall of this room", mass, "", mass <= masonry))
    return tuple(ways)


def check(zone: PanelZone, finish: str, wall: Wall, limits: Limits) -> CladdingCheck:
    """The weakest layer of a zone: the facing on its board, or the board on the wall or on its battens. finish : of the wall."""
    adhesive = limits.value("structure.adhesive")
    facing = load.finishes()[zone.finish]
    tried: list[tuple[float, Layer]] = []
    if facing.kind in GLUED and zone.boarded:
        board = ("the board it is glued to", limits.value("structure.layer_board"))
        tried.append((facing.mass + adhesive, board))
    anchors = anchors_for(wall.substrate)
    if zone.void > 0 and anchors:
        pitch = limits.value(
            "carcass.batten_pitch_stone" if zone.kind == "stone_veneer" else "carcass.batten_pitch"
        )
        carries = batten_capacity(anchors[0].shear, pitch, limits.value("structure.batten_screw_pitch"))
        tried.append((zone.mass_per_m2, ("the screwed battens", carries)))
    else:
        # what a layer carries is said with the trade's adhesive, so a bedded facing is weighed with the same
        bare = facing.mass if zone.kind in BEDDED else zone.mass_per_m2
        tried.append((bare + adhesive, weakest(layers_of(finish, wall, limits))))
    mass, (layer, carries) = max(tried, key=lambda item: item[0] / item[1][1])
    area = zone.box.area / 1e6
    heavy = facing.kind in GLUED and facing.kind != "stone_veneer"
    return CladdingCheck(
        zone.ref, mass, carries, layer, mass * area, carries * area,
        line_on_floor(max(one for one, _ in tried), zone.box.height),
        heavy and mass - adhesive > limits.value("structure.solid_bed") * carries,
        ways_out(mass, carries, wall.substrate, limits) if mass > carries else (),
    )  # fmt: skip
