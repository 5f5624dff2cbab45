"""The edits that change one bay, whether the unit's bays were decided or are automatic."""

from __future__ import annotations

import math
from dataclasses import fields
from typing import Literal

from wallwright.core.finding import EditCall, edit_call
from wallwright.derive import Wall
from wallwright.library import load

FACED = 2.0
"""What facing adds to an upright's thickness at most [mm]."""
LEAST_BAY = 150.0
"""A bay narrower than this holds nothing of use [mm]."""


def front_edit(wall: Wall, bay: str, front: str) -> EditCall:
    """Give a bay another front. Where the unit's bays are automatic, all of them are pinned as derived, with this one changed."""
    ref, _, number = bay.rpartition(".")
    if _decided(wall, ref):
        return edit_call("set_bay_front", ref=ref, bay=int(number), front=front)
    bays = bays_of(wall, ref)
    bays[int(number) - 1]["front"] = front
    if front == "open":
        bays[int(number) - 1]["shelves"] = 0
    return edit_call("set_unit_bays", ref=ref, bays=bays)


def bare_edit(wall: Wall, bay: str) -> EditCall:
    """Take the shelves out of one bay; the unit's other bays stay as they are, pinned if they were automatic."""
    ref, _, number = bay.rpartition(".")
    bays = bays_of(wall, ref)
    bays[int(number) - 1]["shelves"] = 0
    return edit_call("set_unit_bays", ref=ref, bays=bays)


def split_edit(wall: Wall, bay: str, span: float, longest: float) -> EditCall | None:
    """Put uprights into a bay whose boards are too long [mm], so that each lies free over `longest` at most; the unit's other bays
    stay as they are, pinned if they were automatic. None where bays lie one above the other, or that would leave slivers.
    """
    ref, _, number = bay.rpartition(".")
    unit = wall.setout.unit(ref)
    thick = load.boards()[unit.board].thickness + FACED  # a faced board is a little thicker
    parts = max(2, math.ceil((span + thick) / (longest + thick)))
    if unit.kind == "tower" or (span - (parts - 1) * thick) / parts < LEAST_BAY:
        return None
    bays = bays_of(wall, ref)
    at = int(number) - 1
    one = {name: value for name, value in bays[at].items() if name not in ("width", "hinged")}
    return edit_call("set_unit_bays", ref=ref, bays=[*bays[:at], *([one] * parts), *bays[at + 1 :]])


def hinge_edit(wall: Wall, bay: str, hinged: Literal["left", "right"]) -> EditCall:
    """Hang a bay's door on the other side; the unit's other bays stay as they are, pinned if they were automatic."""
    ref, _, number = bay.rpartition(".")
    if _decided(wall, ref):
        return edit_call("set_bay_hinge", ref=ref, bay=int(number), hinged=hinged)
    bays = bays_of(wall, ref)
    bays[int(number) - 1]["hinged"] = hinged
    return edit_call("set_unit_bays", ref=ref, bays=bays)


def vents_edit(wall: Wall, bay: str, vents: bool) -> EditCall:
    """Have a bay's air openings cut, or left out; the unit's other bays stay as they are, pinned if they were automatic."""
    ref, _, number = bay.rpartition(".")
    if _decided(wall, ref):
        return edit_call("set_bay_vents", ref=ref, bay=int(number), vents=vents)
    bays = bays_of(wall, ref)
    bays[int(number) - 1]["vents"] = vents
    return edit_call("set_unit_bays", ref=ref, bays=bays)


def _decided(wall: Wall, ref: str) -> bool:
    """Whether a unit's bays were decided."""
    return bool(next(unit for unit in wall.job.design.units if unit.ref == ref).bays)


def bays_of(wall: Wall, ref: str) -> list[dict[str, object]]:
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
