"""The edit that changes the front of one bay, whether the unit's bays were decided or are automatic."""

from __future__ import annotations

from wallwright.core.finding import EditCall, edit_call
from wallwright.derive import Wall


def front_edit(wall: Wall, bay: str, front: str) -> EditCall:
    """Give a bay another front. Where the unit's bays are automatic, all of them are pinned as derived, with this one changed."""
    ref, _, number = bay.rpartition(".")
    unit = next(unit for unit in wall.job.design.units if unit.ref == ref)
    if unit.bays:
        return edit_call("set_bay_front", ref=ref, bay=int(number), front=front)
    bays = [
        {
            "front": front if item.ref == bay else item.front,
            "drawers": max(1, item.drawers),
            "shelves": 0 if item.ref == bay and front == "open" else item.shelves,
        }
        for item in wall.carcass.bays
        if item.unit == ref
    ]
    return edit_call("set_unit_bays", ref=ref, bays=bays)


def bare_edit(wall: Wall, bay: str) -> EditCall:
    """Take the shelves out of one bay; the unit's other bays stay as they are, pinned if they were automatic."""
    ref, _, number = bay.rpartition(".")
    unit = next(unit for unit in wall.job.design.units if unit.ref == ref)
    bays: list[dict[str, object]] = []
    for item in unit.bays:
        width: dict[str, object] = {"width": item.width.mm} if item.width else {}
        bays.append({"front": item.front, "drawers": item.drawers, "shelves": item.shelves, **width})
    for item in () if unit.bays else (bay for bay in wall.carcass.bays if bay.unit == ref):
        bays.append({"front": item.front, "drawers": max(1, item.drawers), "shelves": item.shelves})
    bays[int(number) - 1]["shelves"] = 0
    return edit_call("set_unit_bays", ref=ref, bays=bays)
