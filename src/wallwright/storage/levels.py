"""The levels of all bays: each drawer and each space over a board, less what stands behind it and what the devices take."""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import replace
from itertools import pairwise

from wallwright.core.limit import Limits
from wallwright.core.shape import Box
from wallwright.storage.record import Bay, Level, Room


def levels(room: Room, limits: Limits) -> tuple[Level, ...]:
    """The levels of all bays, each bay's from its floor up, with the run that is left beside the devices."""
    out: list[Level] = []
    for bay in room.bays:
        made = list(_of_bay(bay, room, limits))
        _stand(made, room.devices.get(bay.ref, ()))
        out += made
    return tuple(out)


def _of_bay(bay: Bay, room: Room, limits: Limits) -> Iterator[Level]:
    """The bay's levels, equal within it; a level partly in front of a column is two, each with its own depth."""
    v = limits.value
    drawer = bay.front == "drawers"
    count = max(1, bay.drawers) if drawer else bay.shelves + 1
    board = v("storage.shelf_thickness")
    pitch = bay.box.height / count if drawer else (bay.box.height - board * bay.shelves) / count + board
    height = pitch - v("storage.drawer_height_loss") if drawer else pitch - board
    carries = room.loads.get(bay.unit, v("storage.load"))
    warm = bay.ref in room.warm
    for number in range(count):
        clear = Box(bay.box.x, bay.box.z + number * pitch, bay.box.width, max(0.0, height))
        ref = f"{bay.ref}-{number + 1}"
        if drawer:
            depth = drawer_depth(min(depth for _, depth in _strips(bay, clear, room)), limits)
            run = max(0.0, clear.width - v("storage.drawer_loss"))
            load = v("storage.drawer_load")
            if bay.unit in room.pinned:
                load = min(load, carries * clear.width / 1000 / count)
            yield Level(ref, bay.ref, bay.unit, clear, depth, run, load, bay.front, warm=warm)
            continue
        parts = list(_strips(bay, clear, room))
        for i, (strip, depth) in enumerate(parts):
            name = ref if len(parts) == 1 else f"{ref}{'abcdefgh'[min(i, 7)]}"
            load = carries * strip.width / 1000
            yield Level(name, bay.ref, bay.unit, strip, depth, strip.width, load, bay.front, warm=warm)


def _strips(bay: Bay, clear: Box, room: Room) -> Iterator[tuple[Box, float]]:
    """The level cut at the sides of what stands behind it, with the depth in front of that."""
    edge = room.edges.get(bay.unit, bay.depth)
    behind = [thing for thing in room.behind if thing.box.meets(clear)]
    cuts = sorted(
        {clear.x, clear.right}
        | {x for thing in behind for x in (thing.box.x, thing.box.right) if clear.x < x < clear.right}
    )
    for left, right in pairwise(cuts):
        strip = replace(clear, x=left, width=right - left)
        out = max((thing.projection for thing in behind if thing.box.meets(strip)), default=0.0)
        yield strip, max(0.0, min(bay.depth, edge - out)) if out else bay.depth


def drawer_depth(inside: float, limits: Limits) -> float:
    """The clear depth of a drawer [mm]: of the longest runner that goes in, less its front and back; 0 where none does."""
    v = limits.value
    step = v("carcass.runner_step")
    run = math.floor((inside - v("carcass.runner_spare")) / step + 1e-9) * step
    return max(0.0, min(run, v("carcass.runner_longest")) - v("storage.drawer_depth_loss"))


def _stand(made: list[Level], devices: tuple[tuple[str, float, float, float], ...]) -> None:
    """Take the run of each device from the lowest shelf that holds it; never from a drawer."""
    for name, width, depth, height in devices:
        for i, level in enumerate(made):
            if not level.drawer and level.run >= width and level.depth >= depth and level.height >= height:
                made[i] = replace(level, run=level.run - width, devices=(*level.devices, name))
                break
