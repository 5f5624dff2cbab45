"""The signs of fronts on an elevation and in its legend: told by lines, never by colour."""

from __future__ import annotations

from collections.abc import Callable

from wallwright.core.drawing import Hatch, Line, Mark
from wallwright.core.shape import Box


def _drawers(box: Box, scale: float, right: bool) -> list[Mark]:
    del right
    x, z = box.centre
    w, h = 2.2 * scale, 0.9 * scale
    return [Line(((x - w, z + h / 2), (x, z - h / 2), (x + w, z + h / 2)), "thin", layer="units")]


def _hinged(box: Box, scale: float, right: bool) -> list[Mark]:
    del scale
    hinge, lock = (box.right, box.x) if right else (box.x, box.right)
    return [Line(((lock, box.top), (hinge, box.centre[1]), (lock, box.z)), "dashed", layer="units")]


def _flap(box: Box, scale: float, right: bool) -> list[Mark]:
    del scale, right
    return [Line(((box.x, box.top), (box.centre[0], box.z), (box.right, box.top)), "dashed", layer="units")]


def _lifted(box: Box) -> list[Mark]:
    """A flap that is hung at its head: the point of its dashes is up there."""
    return [Line(((box.x, box.z), (box.centre[0], box.top), (box.right, box.z)), "dashed", layer="units")]


def _glass(box: Box, scale: float, right: bool) -> list[Mark]:
    x, z = box.centre
    s = min(1.4 * scale, box.height / 3, box.width / 4)
    return [
        *_hinged(box, scale, right),
        *(Line(((x + d - s, z - s), (x + d + s, z + s)), "thin", layer="units") for d in (-s, 0.0, s)),
    ]


def _cloth(box: Box, scale: float, right: bool) -> list[Mark]:
    del scale, right
    return [Hatch(box.corners, "light", layer="units")]


def _open(box: Box, scale: float, right: bool) -> list[Mark]:
    del scale, right
    (a, b, c, d) = box.corners
    return [Line((a, c), "thin", layer="units"), Line((b, d), "thin", layer="units")]


def _slatted(box: Box, scale: float, right: bool) -> list[Mark]:
    """A door, and a few of its slats."""
    step = max(box.width / 12, 1.6 * scale)
    lines = [box.x + k * step for k in range(1, int(box.width / step))]
    slats: list[Mark] = [Line(((x, box.z), (x, box.top)), "thin", layer="units") for x in lines]
    return [*slats, *_hinged(box, scale, right)]


def _pull_out(box: Box, scale: float, right: bool) -> list[Mark]:
    """The sign of a drawer, stretched upright: an arrow down its middle."""
    del right
    x, z = box.centre
    w, h = 0.9 * scale, min(box.height / 4, 6 * scale)
    return [
        Line(((x, z + h), (x, z - h)), "thin", layer="units"),
        Line(((x - w, z - h + 2 * w), (x, z - h), (x + w, z - h + 2 * w)), "thin", layer="units"),
    ]


_FRONTS: dict[str, Callable[[Box, float, bool], list[Mark]]] = {
    "drawers": _drawers,
    "shutter": _hinged,
    "glass": _glass,
    "slatted": _slatted,
    "cloth": _cloth,
    "flap": _flap,
    "pull_out": _pull_out,
    "open": _open,
}
FRONT_WORDS = {
    "drawers": "drawer front",
    "shutter": "door, hinged at the point of the dashes",
    "glass": "glass door, hinged at the point of the dashes",
    "slatted": "slatted door, hinged at the point of the dashes",
    "pull_out": "pull-out: comes out whole",
    "open": "open bay",
    "cloth": "cloth front (lets remote signals through)",
    "flap": "flap, hinged along the edge at the point of the dashes",
}


def front_marks(
    front: str, box: Box, scale: float, *, right: bool = False, lifts: bool = False
) -> list[Mark]:
    """The sign of a kind of front inside its outline, told by lines, never by colour. right : hinged at its right edge · lifts : a
    flap hung at its head
    """
    if lifts:
        return _lifted(box)
    return _FRONTS[front](box, scale, right) if front in _FRONTS else []
