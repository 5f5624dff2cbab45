"""The edits that change one bay, whether the unit's bays were decided or are automatic."""

from __future__ import annotations

from dataclasses import fields
from typing import Literal

from wallwright.core.finding import EditCall, edit_call
from wallwright.derive import Wall


def front_edit(wall: Wall, bay: str, front: str) -> EditCall:
    """Give a bay another front. Where the unit's bays are automatic, all of them are pinned as derived, with this one changed."""
    ref, _, number = bay.rpartition(".")
    if _decided(wall, ref):
        return edit_call("set_bay_front", ref=ref, bay=int(number), front=front)
    bays = _bays(wall, ref)
    bays[int(number) - 1]["front"] = front
    if front == "open":
        bays[int(number) - 1]["shelves"] = 0
    return edit_call("set_unit_bays", ref=ref, bays=bays)


def bare_edit(wall: Wall, bay: str) -> EditCall:
    """Take the shelves out of one bay; the unit's other bays stay as they are, pinned if they were automatic."""
    ref, _, number = bay.rpartition(".")
    bays = _bays(wall, ref)
    bays[int(number) - 1]["shelves"] = 0
    return edit_call("set_unit_bays", ref=ref, bays=bays)


def hinge_edit(wall: Wall, bay: str, hinged: Literal["left", "right"]) -> EditCall:
    """Hang a bay's door on the other side; the unit's other bays stay as they are, pinned if they were automatic."""
    ref, _, number = bay.rpartition(".")
    if _decided(wall, ref):
        return edit_call("set_bay_hinge", ref=ref, bay=int(number), hinged=hinged)
    bays = _bays(wall, ref)
    bays[int(number) - 1]["hinged"] = hinged
    return edit_call("set_unit_bays", ref=ref, bays=bays)


def vents_edit(wall: Wall, bay: str, vents: bool) -> EditCall:
    """Have a bay's air openings cut, or left out; the unit's other bays stay as they are, pinned if they were automatic."""
    ref, _, number = bay.rpartition(".")
    if _decided(wall, ref):
        return edit_call("set_bay_vents", ref=ref, bay=int(number), vents=vents)
    bays = _bays(wall, ref)
    bays[int(number) - 1]["vents"] = vents
    return edit_call("set_unit_bays", ref=ref, bays=bays)


def _decided(wall: Wall, ref: str) -> bool:
    """Whether a unit's bays were decided."""
    return bool(next(unit for unit in wall.job.design.units if unit.ref == ref).bays)


def _bays(wall: Wall, ref: str) -> list[dict[str, object]]:
    """The bays of a unit as `set_unit_bays` takes them: as decided, or as derived."""
    unit = next(unit for unit in wall.job.design.units if unit.ref == ref)
    out: list[dict[str, object]] = []
    for item in unit.bays:
        given = {field.name: getattr(item, field.name) for field in fields(item)}
        width: dict[str, object] = {"width": item.width.mm} if item.width else {}
        out.append({name: value for name, value in given.items() if value is not None} | width)
    for item in () if unit.bays else (bay for bay in wall.carcass.bays if bay.unit == ref):
        out.append({"front": item.front, "drawers": max(1, item.drawers), "shelves": item.shelves})
    return out
