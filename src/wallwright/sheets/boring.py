"""Where fittings are bored: hinge cups on the doors, and in words the rows of pins and runners, grooves, gaps and cleats."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from wallwright.sheets.ink import rounded
from wallwright.sheets.vents import vent_words
from wallwright.tables.boring import bored

if TYPE_CHECKING:
    from wallwright.carcass.record import Part, UnitBox
    from wallwright.core.shape import Point2
    from wallwright.derive import Wall


@dataclass(frozen=True, slots=True)
class Cup:
    """A hinge's cup: its middle on the wall's axes, and the door it is bored into."""

    at: Point2
    door: str


def cups(wall: Wall, unit: UnitBox) -> tuple[Cup, ...]:
    """The cups of a unit's board doors and flaps as they are bored. Glass doors go by the maker of their hinges."""
    made = bored(wall)
    own = {part.id for part in wall.carcass.parts if part.unit == unit.ref}
    out: list[Cup] = []
    for hole in made.holes:
        if hole.what == "hinge cup" and hole.part in own:
            x, _, z = made.lies[hole.part].room(hole.x, hole.y)
            out.append(Cup((x, z), hole.part))
    return tuple(out)


def _mm(value: float) -> str:
    return str(rounded(value))


def boring_notes(wall: Wall, unit: UnitBox, parts: list[Part]) -> list[str]:
    """Everything a carpenter would otherwise have to invent, as far as it applies to this unit."""
    value = wall.limits.value
    out: list[str] = []
    fronts = [part for part in parts if part.role == "front"]
    if fronts:
        out.append(
            f"Fronts: {value('carcass.front_reveal'):g} inside the carcass's edges, {value('carcass.front_gap'):g} between "
            f"two fronts, {value('carcass.front_bumper'):g} clear of the carcass (bumpers)."
        )
    out += _back(wall, parts)
    hung = [part for part in parts if part.role in ("rail", "cleat") and "45°" in part.name]
    if hung:
        out.append(
            f"Hanging rail and cleat {_mm(hung[0].width)} high, {_mm(hung[0].thickness)} thick, meeting at 45°; the cleat is set "
            "level to the fixings sheet."
        )
    if cups(wall, unit):
        out.append(
            f"Hinge cups Ø{value('joinery.cup'):g}, {value('joinery.cup_deep'):g} deep, middle {value('joinery.cup_edge'):g} from "
            f"the door's edge; plates {value('joinery.row_setback'):g} from the side's front edge. Bore a trial piece."
        )
    out += _drawers(wall, unit, parts)
    loose = [part for part in parts if part.role == "shelf"]
    if loose:
        out.append(
            f"Loose shelves {', '.join(part.id for part in loose)}: not dimensioned, drawn evenly. Pins Ø{value('joinery.pin_hole'):g} "
            f"in rows {value('joinery.row_setback'):g} from the front edge and from the back, holes {value('joinery.row_pitch'):g} apart, "
            "as on the drilling sheets."
        )
    return out


def _back(wall: Wall, parts: list[Part]) -> list[str]:
    backs = [part for part in parts if part.role == "back" and "planted" not in part.name]
    if not backs:
        return []
    back = backs[0]
    behind = -(back.block.y + back.block.dy)
    return [
        f"Back {back.thickness:g} in a groove {wall.limits.value('carcass.back_groove'):g} deep, the groove's rear edge {behind:g} "
        "from the rear of the sides."
    ]


def _drawers(wall: Wall, unit: UnitBox, parts: list[Part]) -> list[str]:
    """Drawer boxes: outside sizes, height over the bottom, and the runner's line."""
    sides = [part for part in parts if part.role == "drawer_side"]
    if not sides:
        return []
    sizes: dict[str, list[str]] = {}
    for bay in (bay for bay in wall.carcass.bays if bay.unit == unit.ref):
        own = [part for part in sides if part.id.startswith(f"{bay.ref}-")]
        for low, high in zip(own[::2], own[1::2], strict=False):
            wide = abs(high.block.x - low.block.x) + low.thickness
            size = f"{_mm(wide)} wide × {_mm(low.block.dz)} high × {_mm(low.length)} deep, {_mm(low.block.z - bay.box.z)}"
            sizes.setdefault(size, []).append(low.id.removesuffix("L"))
    boxes = [
        f"Drawer {'box' if len(ids) == 1 else 'boxes'} {', '.join(ids)}: {size} above the bottom."
        for size, ids in sizes.items()
    ]
    back, pitch = wall.limits.value("joinery.row_setback"), wall.limits.value("joinery.row_pitch")
    return [
        *boxes,
        f"Runners on the line of the rows nearest the middle of the drawer's sides (drilling sheets); first screw {back:g} from the "
        f"side's front edge, then in steps of {pitch:g}.",
    ]


def vent_notes(wall: Wall, unit: UnitBox) -> list[str]:
    """Openings for the heat of a unit's bays: each with its size and place, low and high."""
    return vent_words(wall, unit)
