"""Air openings on the drawings of a unit: grilles in its front and plinth, slots in its back, top and bottom, and their measures."""

from __future__ import annotations

from typing import TYPE_CHECKING

from wallwright.core.drawing import Line, Mark, rectangle
from wallwright.core.shape import Box

if TYPE_CHECKING:
    from wallwright.carcass.record import UnitBox
    from wallwright.cooling.record import VentOpening
    from wallwright.derive import Wall

SLAT = 2.0  # paper mm between the lines of a grille


def openings_of(wall: Wall, unit: UnitBox) -> tuple[VentOpening, ...]:
    """The openings cut in a unit's boards."""
    refs = {bay.bay for bay in wall.cooling.bays if bay.unit == unit.ref}
    return tuple(vent for vent in wall.cooling.openings if vent.bay in refs)


def vent_marks(
    wall: Wall, unit: UnitBox, scale: float, dx: float = 0.0, dz: float = 0.0, *, inside: bool = False
) -> list[Mark]:
    """The openings on a unit's elevation, moved by (dx, dz). inside : its fronts are off, so their grilles are left out and the
    slots behind them are seen; with the fronts on those are dashed. A slot in a level board is drawn as its edge.
    """
    marks: list[Mark] = []
    for vent in openings_of(wall, unit):
        if vent.level:
            z = _height(wall, vent) + dz
            pen = "wide" if inside else "dashed"
            ends = (vent.x + dx, z), (vent.x + vent.width + dx, z)
            marks.append(Line(ends, pen, layer="vents", ref=vent.part))
            continue
        box = Box(vent.x + dx, vent.z + dz, vent.width, vent.height)
        if vent.face in ("front", "plinth") and not inside:
            marks.append(rectangle(box, "medium", fill="#fff", layer="vents", ref=vent.part))
            marks += _slats(box, scale, vent.part)
        elif vent.face not in ("front",):
            marks.append(rectangle(box, "medium" if inside else "dashed", layer="vents", ref=vent.part))
    return marks


def _height(wall: Wall, vent: VentOpening) -> float:
    """The middle of the level board that a slot goes through [mm above FFL]."""
    block = next(part.block for part in wall.carcass.parts if part.id == vent.part)
    return block.z + block.dz / 2


def _slats(box: Box, scale: float, ref: str) -> list[Mark]:
    count = int(box.height / (SLAT * scale))
    return [
        Line(
            ((box.x, box.z + i * SLAT * scale), (box.right, box.z + i * SLAT * scale)),
            "thin",
            layer="vents",
            ref=ref,
        )
        for i in range(1, count + 1)
        if i * SLAT * scale < box.height - 1e-6
    ]


def _from(wall: Wall, unit: UnitBox, vent: VentOpening) -> float:
    """From the unit's foot to the lower edge; on a level board from its front edge to the opening's."""
    if not vent.level:
        return vent.z - unit.box.z
    block = next(part.block for part in wall.carcass.parts if part.id == vent.part)
    return -block.y - (vent.z + vent.height)


def vent_words(wall: Wall, unit: UnitBox) -> list[str]:
    """The same as sentences, and what is left to be done where the openings alone do not keep a bay cool."""
    out: list[str] = []
    for bay in wall.cooling.bays:
        if bay.unit != unit.ref:
            continue
        cuts = [
            f"{vent.part}, {vent.what.partition(',')[0]}: {vent.width:.0f} × {vent.height:.0f}, {vent.x - unit.box.x:.0f} from the "
            f"left edge, {_from(wall, unit, vent):.0f} from the {'front edge' if vent.level else 'foot'}"
            for vent in bay.openings
        ]
        if cuts:
            out.append(f"Air openings of {bay.bay} ({bay.watts:.0f} W): {'; '.join(cuts)}.")
        if bay.opening < bay.opening_needed - 0.5:
            fan = f", or a fan of {bay.fan_m3h:.0f} m³/h" if bay.fan_m3h > 0 else ""
            fans = f"; {bay.fans} planned" if bay.fans else ""
            out.append(
                f"{bay.bay} stays too warm ({bay.rise:.0f} K over the room): it has {bay.opening:.0f} cm² low and high and wants "
                f"{bay.opening_needed:.0f} cm² each{fan}{fans}."
            )
    return out
