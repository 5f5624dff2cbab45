"""Bays wide enough for the boxes that stand in them: how many a console wants, and how wide each of them must be.

Boxes are shared out as they are when the bays are made: the warmest first, each into the bay where it goes in and that is least warm.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import replace

from wallwright.core.units import Length
from wallwright.job.brief import Brief
from wallwright.job.design import Bay
from wallwright.library import load

MOVES = frozenset({"drawers", "pull_out"})
"""What is pulled out drags its boxes' cables along: no bay for them."""
Wants = tuple[float, float]
"""What a box gives off [W], and the clear width it takes with the air beside it [mm]."""


def in_cabinet(brief: Brief, side: float, place: str = "cabinet") -> list[Wants]:
    """The boxes that the brief puts into a cabinet, the warmest first. side : clear width each takes besides its own [mm] · place : a
    tower's compartments instead
    """
    kinds = load.devices()
    found: list[tuple[float, str, float]] = []
    for device in brief.devices:
        kind = kinds.get(device.kind)
        if kind is None or (kind.place if device.place == "auto" else device.place) != place:
            continue
        if device.kind == "cabinet_fan":  # it hangs behind a grille
            continue
        watts = kind.watts if device.watts is None else device.watts
        found.append((-watts, device.ref, (device.width.mm if device.width else kind.width) + side))
    return [(-cooler, width) for cooler, _, width in sorted(found)]


def shared_out(boxes: Sequence[Wants], clears: Sequence[float]) -> list[float] | None:
    """The clear width that is taken in each bay [mm]; None where a box goes into none of them."""
    heat, used = [0.0] * len(clears), [0.0] * len(clears)
    for watts, width in boxes:
        fit = [i for i, clear in enumerate(clears) if used[i] + width <= clear + 1e-6]
        if not fit:
            return None
        i = min(fit, key=lambda bay: (heat[bay], bay))
        heat[i] += watts
        used[i] += width
    return used


def widened(  # noqa: PLR0913
    bays: Sequence[Bay], boxes: Sequence[Wants], shared: float, most: float, least: float
) -> tuple[Bay, ...] | None:
    """The bays with the widths that their boxes ask for; as they are where each takes its boxes already, None where it cannot be.

    shared : clear width of all bays together [mm] · most : of a bay that is widened · least : of any other whose width is not given
    """
    free = [i for i, bay in enumerate(bays) if bay.width is None]
    left = shared - sum(bay.width.mm for bay in bays if bay.width)
    hold = [i for i, bay in enumerate(bays) if bay.front not in MOVES]
    if not free or not hold:
        return None

    def clears(share: float) -> list[float]:
        return [width.mm if (width := bays[i].width) else share for i in hold]

    equal = left / len(free)
    if shared_out(boxes, clears(equal)) is not None:
        return tuple(bays)
    used = shared_out(boxes, clears(min(most, left - least * (len(free) - 1))))
    if used is None:
        return None
    wants = {i: float(math.ceil(width - 1e-6)) for i, width in zip(hold, used, strict=True) if i in free}
    held: dict[int, float] = {}
    while more := {i: w for i, w in wants.items() if i not in held and w > equal}:
        held |= more
        rest = len(free) - len(held)
        spare = left - sum(held.values())
        if spare < -1e-6 or (rest and spare / rest < least):
            return None
        if not rest:  # all of them are held: the last takes what is over
            held.pop(max(held))
            break
        equal = spare / rest
    return tuple(replace(bay, width=Length(held[i])) if i in held else bay for i, bay in enumerate(bays))
