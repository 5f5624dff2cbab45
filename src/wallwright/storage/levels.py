"""The levels of all bays: each drawer and each space over a board, less what stands behind it and what the devices take."""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass, replace
from functools import lru_cache
from itertools import pairwise

from wallwright.core.limit import Limits
from wallwright.core.shape import Box
from wallwright.storage.record import Bay, Behind, Level, Room


def levels(room: Room, limits: Limits) -> tuple[Level, ...]:
    """The levels of all bays, each bay's from its floor up, with the run that is left beside the devices."""
    out: list[Level] = []
    for bay in room.bays:
        place = Place(
            bay,
            room.edges.get(bay.unit, bay.depth),
            room.loads.get(bay.unit, limits.value("storage.load")),
            room.behind,
            bay.ref in room.warm,
            bay.unit in room.pinned,
        )
        out += _there(place, room.devices.get(bay.ref, ()), limits)
    return tuple(out)


@dataclass(frozen=True, slots=True)
class Place:
    """A bay and what of the room bears on its levels. edge : wall to the front edge of its boards [mm] · carries : what a metre of
    them carries [kg/m] · behind : columns and pipes · pinned : that load was decided
    """

    bay: Bay
    edge: float
    carries: float
    behind: tuple[Behind, ...]
    warm: bool
    pinned: bool


@lru_cache(maxsize=8192)
def _there(
    place: Place, devices: tuple[tuple[str, float, float, float], ...], limits: Limits
) -> tuple[Level, ...]:
    """A bay's levels beside its devices; kept, for a change of one bay leaves the others as they are."""
    made = list(_of_bay(place, limits))
    _stand(made, devices)
    return tuple(made)


def _of_bay(place: Place, limits: Limits) -> Iterator[Level]:
    """The bay's levels, equal within it; a level partly in front of a column is two, each with its own depth."""
    bay, carries, warm = place.bay, place.carries, place.warm
    v = limits.value
    drawer = bay.front == "drawers"
    count = max(1, bay.drawers) if drawer else bay.shelves + 1
    board = v("storage.shelf_thickness")
    pitch = bay.box.height / count if drawer else (bay.box.height - board * bay.shelves) / count + board
    height = pitch - v("storage.drawer_height_loss") if drawer else pitch - board
    for number in range(count):
        clear = Box(bay.box.x, bay.box.z + number * pitch, bay.box.width, max(0.0, height))
        ref = f"{bay.ref}-{number + 1}"
        if drawer:
            depth = drawer_depth(min(depth for _, depth in _strips(place, clear)), limits)
            run = max(0.0, clear.width - v("storage.drawer_loss"))
            load = v("storage.drawer_load")
            if place.pinned:
                load = min(load, carries * clear.width / 1000 / count)
            yield Level(ref, bay.ref, bay.unit, clear, depth, run, load, bay.front, warm=warm)
            continue
        parts = list(_strips(place, clear))
        for i, (strip, depth) in enumerate(parts):
            name = ref if len(parts) == 1 else f"{ref}{'abcdefgh'[min(i, 7)]}"
            load = carries * strip.width / 1000
            yield Level(name, bay.ref, bay.unit, strip, depth, strip.width, load, bay.front, warm=warm)


def _strips(place: Place, clear: Box) -> Iterator[tuple[Box, float]]:
    """The level cut at the sides of what stands behind it, with the depth in front of that."""
    bay, edge = place.bay, place.edge
    behind = [thing for thing in place.behind if thing.box.meets(clear)]
    cuts = sorted(
        {clear.x, clear.right}
        | {x for thing in behind for x in (thing.box.x, thing.box.right) if clear.x < x < clear.right}
    )
    for left, right in pairwise(cuts):
        strip = Box(left, clear.z, right - left, clear.height)
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
