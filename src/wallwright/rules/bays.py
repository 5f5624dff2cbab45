"""The edits that change one bay, whether the unit's bays were decided or are automatic."""

from __future__ import annotations

import math
from dataclasses import fields
from itertools import pairwise
from typing import Any, Literal

from wallwright.core.finding import EditCall, edit_call
from wallwright.derive import Wall
from wallwright.library import load

FACED = 2.0
"""What facing adds to an upright's thickness at most [mm]."""
ALIKE = 0.5
"""Bays that differ by less are of one size [mm]."""
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
    if any("width" in bay for bay in bays):  # then the parts alone share what this bay had
        bays = [
            bay | {"width": bay.get("width", size)}
            for bay, size in zip(bays, bay_sizes(wall, ref), strict=True)
        ]
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


def bays_of(wall: Wall, ref: str) -> list[dict[str, Any]]:
    """The bays of a unit as `set_unit_bays` takes them: as decided; or as derived, with their sizes where they are not all alike.

    The last one's size is left open, so that the unit may still be made larger.
    """
    unit = next(unit for unit in wall.job.design.units if unit.ref == ref)
    if unit.bays:
        out: list[dict[str, Any]] = []
        for item in unit.bays:
            given = {field.name: getattr(item, field.name) for field in fields(item)}
            width = {"width": item.width.written or item.width.mm} if item.width else {}
            out.append({name: value for name, value in given.items() if value is not None} | width)
        return out
    there = [bay for bay in wall.carcass.bays if bay.unit == ref]
    sizes = bay_sizes(wall, ref)
    alike = max(sizes, default=0.0) - min(sizes, default=0.0) < ALIKE
    return [
        {"front": bay.front, "drawers": max(1, bay.drawers), "shelves": bay.shelves}
        | ({} if alike or bay is there[-1] else {"width": size})
        for bay, size in zip(there, sizes, strict=True)
    ]


def bay_sizes(wall: Wall, ref: str) -> list[float]:
    """The clear size of each bay of a unit along the way they follow one another, to a tenth [mm]: widths, of a tower heights."""
    there = [bay.box for bay in wall.carcass.bays if bay.unit == ref]
    stacked = any(beyond.z >= box.top for box, beyond in pairwise(there))
    return [round(box.height if stacked else box.width, 1) for box in there]
