"""Where fittings are bored: hinge cups on the doors, and in words the rows of pins and runners, grooves, gaps and cleats."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from wallwright.carcass.hardware import hinge_count
from wallwright.core.units import show_mm
from wallwright.sheets.fronts import hinged_right
from wallwright.sheets.ink import rounded
from wallwright.sheets.words import count

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
    """The cups of a unit's board doors, evenly between the two end hinges. Glass doors go by the maker of their hinges."""
    edge, end = wall.limits.value("joinery.cup_edge"), wall.limits.value("joinery.hinge_end")
    out: list[Cup] = []
    for bay in wall.carcass.bays:
        if bay.unit != unit.ref or bay.front != "shutter":
            continue
        doors = [p for p in wall.carcass.parts if p.role == "front" and p.id.startswith(f"{bay.ref}-F")]
        boxes = [door.block.face for door in doors]
        for door, box in zip(doors, boxes, strict=True):
            n = hinge_count(door.mass, box.height, box.width, wall.limits)
            x = box.right - edge if hinged_right(box, boxes, unit) else box.x + edge
            first = min(end, box.height / 4)
            step = (box.height - 2 * first) / (n - 1)
            out += [Cup((x, box.z + first + i * step), door.id) for i in range(n)]
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
    hung = [part for part in parts if part.role in ("rail", "cleat")]
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
            f"in rows {value('joinery.row_setback'):g} from the front edge and from the back, holes {value('joinery.row_pitch'):g} apart."
        )
    return out


def _back(wall: Wall, parts: list[Part]) -> list[str]:
    backs = [part for part in parts if part.role == "back"]
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
        f"Runners level with the middle of the drawer sides; first screw {back:g} from the side's front edge, then in steps of "
        f"{pitch:g}.",
    ]


def vent_notes(wall: Wall, unit: UnitBox) -> list[str]:
    """Openings for the heat of a unit's bays, low and high."""
    out: list[str] = []
    for bay in wall.cooling.bays:
        if bay.unit != unit.ref or bay.opening_needed <= 0 or bay.opening >= bay.opening_needed:
            continue
        fan = f", or a fan of {bay.fan_m3h:.0f} m³/h" if bay.fan_m3h > 0 else ""
        fans = f"; {count(bay.fans, 'fan is', 'fans are')} planned" if bay.fans else ""
        out.append(
            f"Vents of {bay.bay} ({bay.watts:.0f} W): two openings of {bay.opening_needed:.0f} cm² free each, one low and one high"
            f"{fan}{fans}. As drawn it has {show_mm(bay.opening)} cm² each."
        )
    return out
