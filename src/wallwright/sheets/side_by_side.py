"""Several panelled zones on one sheet: side by side at the scale that each would have on a sheet of its own."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from typing import TYPE_CHECKING

from wallwright.core.drawing import Drawing
from wallwright.core.shape import Box
from wallwright.sheets.paper import View

if TYPE_CHECKING:
    from wallwright.carcass.record import PanelZone

Zones = tuple["PanelZone", ...]


def grouped(
    zones: Sequence[PanelZone], scale_of: Callable[[Zones], float], written: Callable[[Zones], bool]
) -> list[Zones]:
    """The zones in groups that go on a sheet together, none smaller than it would be on one of its own.

    scale_of : at which scale zones go on a sheet side by side · written : whether what is said of them stands beside them
    """
    alone = {zone.ref: scale_of((zone,)) for zone in zones}
    out: list[Zones] = []
    for zone in zones:
        scale = alone[zone.ref]
        for at, some in enumerate(out):
            both = (*some, zone)
            if alone[some[0].ref] == scale and written(both) and scale_of(both) == scale:
                out[at] = both
                break
        else:
            out.append((zone,))
    return out


def on_one_line(views: list[Drawing], room: Box) -> tuple[View, ...]:
    """Side by side with their lower edges on one line; nothing where they do not fit."""
    boxes = [(view.extent, view.scale) for view in views]
    gap = 8.0
    wide = sum(box.width / s for box, s in boxes) + gap * (len(views) - 1)
    high = max(box.height / s for box, s in boxes)
    if wide > room.width or high > room.height:
        return ()
    spare = (room.width - wide) / (len(views) + 1)
    x, low = room.x + spare, room.z + (room.height - high) / 2
    out: list[View] = []
    for view, (box, s) in zip(views, boxes, strict=True):
        out.append(View(view, round(x - box.x / s, 3), round(low - box.z / s, 3)))
        x += box.width / s + gap + spare
    return tuple(out)
