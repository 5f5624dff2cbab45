"""Weight of a panelled wall against what the layers behind it carry [kg/m²]."""

from __future__ import annotations

from typing import TYPE_CHECKING

from wallwright.core.limit import Limits
from wallwright.library import load
from wallwright.structure.hung import G
from wallwright.structure.record import CladdingCheck
from wallwright.structure.wall import Wall, anchors_for

if TYPE_CHECKING:
    from wallwright.carcass.record import PanelZone

LAYERS = {
    "plaster": ("skim", "gypsum plaster"),
    "skim": ("skim", "the plaster skim"),
    "plasterboard": ("plasterboard", "bare plasterboard"),
    "bare": ("masonry", "bare masonry"),
    "tile": ("tile", "the old tile"),
}
"""The wall's finish → the limit of that layer and its name."""
GLUED = frozenset({"stone", "stone_veneer"})
"""Facings that are glued on with an adhesive bed."""


def batten_capacity(shear: float, batten_pitch: float, screw_pitch: float) -> float:
    """What screwed battens carry [kg/m²]: screws a m² times the shear of one [N]; pitches in mm."""
    return 1e6 / (batten_pitch * screw_pitch) * shear / G


def check(zone: PanelZone, finish: str, wall: Wall, limits: Limits) -> CladdingCheck:
    """The weakest layer of a zone: the facing on its board, or the board on the wall or on its battens. finish : of the wall."""
    adhesive = limits.value("structure.adhesive")
    facing = load.finishes()[zone.finish]
    layers: list[tuple[float, float, str]] = []
    if facing.kind in GLUED:
        layers.append(
            (facing.mass + adhesive, limits.value("structure.layer_board"), "the board it is glued to")
        )
    anchors = anchors_for(wall.substrate)
    if zone.void > 0 and anchors:
        pitch = limits.value(
            "carcass.batten_pitch_stone" if zone.kind == "stone_veneer" else "carcass.batten_pitch"
        )
        carries = batten_capacity(anchors[0].shear, pitch, limits.value("structure.batten_screw_pitch"))
        layers.append((zone.mass_per_m2, carries, "the screwed battens"))
    else:
        name, said = LAYERS[finish]
        layers.append((zone.mass_per_m2 + adhesive, limits.value(f"structure.layer_{name}"), said))
    mass, carries, layer = max(layers, key=lambda item: item[0] / item[1])
    return CladdingCheck(zone.ref, mass, carries, layer)
