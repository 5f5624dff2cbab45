"""What is drawn of a zone's face in elevation: its outline, joints, fields and flutes, cut at an arched head."""

from __future__ import annotations

from typing import Literal, NamedTuple

from wallwright.carcass.arch import outline
from wallwright.carcass.record import PanelZone
from wallwright.core.shape import Box, Point2

Weight = Literal["medium", "thin"]


class FaceLine(NamedTuple):
    """A line on the face from a to b, and how heavy it is drawn."""

    a: Point2
    b: Point2
    weight: Weight


def edge(zone: PanelZone) -> tuple[Point2, ...]:
    """The outline of a zone."""
    return outline(zone.box, zone.arch)


def face_lines(zone: PanelZone, *, flutes: bool = True) -> tuple[FaceLine, ...]:
    """Joints, level joints, fields or frames, and flutes where they are wanted (at small scale they are hatched instead)."""
    box = zone.box
    out = [_upright(zone, x, "medium") for x in zone.joints]
    out += [FaceLine((box.x, z), (box.right, z), "medium") for z in zone.levels]
    if zone.flutes and flutes:
        grooves = (box.x + k * zone.flute_pitch for k in range(1, zone.flutes + 1))
        out += [_upright(zone, x, "thin") for x in grooves if x < box.right - 1]
    for field in zone.fields:
        out += _frame(field, "thin")
        if zone.kind == "moulding":
            out += _frame(field.grown(-zone.strip), "thin")
    return tuple(out)


def _upright(zone: PanelZone, x: float, weight: Weight) -> FaceLine:
    top = zone.arch.height_at(x) if zone.arch else zone.box.top
    return FaceLine((x, zone.box.z), (x, top), weight)


def _frame(box: Box, weight: Weight) -> list[FaceLine]:
    corners = box.corners
    return [FaceLine(corners[k - 1], corners[k], weight) for k in range(4)]
