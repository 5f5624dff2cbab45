"""The build-up where the screen is fixed, 1:5: wall, hole, void, panel, plate, gap and screen, with the sizes between them."""

from __future__ import annotations

from math import radians, tan
from typing import TYPE_CHECKING

from wallwright.core.drawing import TEXT_LABEL, Drawing, Hatch, Leader, Line, Mark, Text, rectangle
from wallwright.core.shape import Box, Point2
from wallwright.core.units import show_mm
from wallwright.sheets.chains import chains
from wallwright.sheets.fixings import hole_words
from wallwright.sheets.grounds import grounded
from wallwright.sheets.ink import extent_of
from wallwright.sheets.place import settle

if TYPE_CHECKING:
    from wallwright.carcass.record import PanelZone
    from wallwright.derive import Wall
    from wallwright.structure.record import FixingCheck

SCALE = 5.0
HALF = 90.0  # half the height shown [mm]
PLATE = 4.0  # the mount plate as drawn [mm]


def drawing(wall: Wall) -> Drawing:
    """The detail. Across: y of the wall (the room left, negative); up: height above the hole's middle."""
    at = wall.sight.screen.centre[0]
    zone = next((z for z in wall.setout.zones if z.box.x <= at < z.box.right), None)
    fixing = next((f for f in wall.structure.fixings if f.ref == "screen" or "screen" in f.what), None)
    deep = (fixing.hole_depth if fixing and fixing.hole_depth else 20.0) + 25.0
    face = zone.build_up if zone else 0.0
    still = [*_wall(deep), *_panel(zone), *_screen(wall, face, fixing), *_hole(fixing, face)]
    labels = [*_labels(wall, zone, fixing, deep), *_sizes(wall, zone)]
    title = Text(
        (-wall.sight.screen.stand_off - wall.sight.screen.depth, HALF + 3.5 * SCALE),
        "Build-up at a mount hole 1:5",
        TEXT_LABEL,
        bold=True,
        layer="text",
    )
    marks = grounded(still, settle((title, *labels), SCALE), SCALE)
    return Drawing("detail", "Build-up at the mount", SCALE, marks, extent_of(marks, SCALE))


def _wall(deep: float) -> list[Mark]:
    """A piece of the wall, its face drawn extra wide; broken off behind."""
    box = Box(0.0, -HALF, deep, 2 * HALF)
    return [
        Hatch(box.corners, "masonry", layer="hatch", ref="wall"),
        Line(((0.0, -HALF), (0.0, HALF)), "extra", layer="wall", ref="wall"),
    ]


def _panel(zone: PanelZone | None) -> list[Mark]:
    """The panel's layers from the wall outwards but for its battens, which stop at the packing; what is thinner than half a
    millimetre is its face line.
    """
    if zone is None:
        return []
    marks: list[Mark] = []
    y = -zone.void
    for what, mm in _face_layers(zone):
        layer = Box(y - mm, -HALF, mm, 2 * HALF)
        y -= mm
        if mm >= 0.5:
            stone = zone.kind in ("stone_veneer", "tile", "slab") and what == zone.layers[-1][0]
            marks.append(Hatch(layer.corners, "stone" if stone else "board", layer="hatch", ref=zone.ref))
            marks.append(
                Line(((layer.right, -HALF), (layer.right, HALF)), "wide", layer="panels", ref=zone.ref)
            )
    marks.append(
        Line(((-zone.build_up, -HALF), (-zone.build_up, HALF)), "wide", layer="panels", ref=zone.ref)
    )
    if zone.void:
        box = Box(-zone.void, -HALF * 0.8, zone.void, HALF * 1.6)
        marks += [
            Hatch(box.corners, "cut", layer="hatch", ref="packing"),
            rectangle(box, "medium", layer="panels", ref="packing"),
        ]
    return marks


def _face_layers(zone: PanelZone) -> tuple[tuple[str, float], ...]:
    """The layers in front of the void; a record without any is one layer."""
    layers = zone.layers or (("panel", zone.thickness),)
    return layers[1:] if zone.layers and zone.void else layers


def _screen(wall: Wall, face: float, fixing: FixingCheck | None) -> list[Mark]:
    """Plate, and the screen's back and front as they stand at this height, leaning by the tilt."""
    screen = wall.sight.screen
    plate = rectangle(
        Box(-face - PLATE, -HALF * 0.6, PLATE, HALF * 1.2), "medium", fill="#000", layer="screen", ref="plate"
    )
    up = _height(wall, fixing) - screen.centre[1]
    lean = tan(radians(screen.tilt))

    def edge(back: float) -> tuple[Point2, Point2]:
        return (-back - (up - HALF) * lean, -HALF), (-back - (up + HALF) * lean, HALF)

    back, front = edge(screen.stand_off), edge(screen.stand_off + screen.depth)
    corners = (*back, front[1], front[0])
    if (
        screen.turned_to is not None and abs(screen.swivel) > 0.05
    ):  # watched elsewhere: here only where it folds back to
        return [
            plate,
            Line(back, "phantom", layer="screen", ref="screen"),
            Line(front, "phantom", layer="screen", ref="screen"),
        ]
    return [
        plate,
        Hatch(corners, "screen", layer="screen", ref="screen"),
        Line(back, "phantom", layer="screen", ref="screen"),
        Line(front, "phantom", layer="screen", ref="screen"),
    ]


def _height(wall: Wall, fixing: FixingCheck | None) -> float:
    """The height of the hole that is drawn: the highest."""
    if fixing and fixing.holes:
        return max(z for _, z in fixing.holes)
    return wall.sight.screen.holes.top


def _hole(fixing: FixingCheck | None, face: float) -> list[Mark]:
    """The hole into the wall and the fixing's axis."""
    if fixing is None or fixing.hole_diameter <= 0:
        return []
    r, deep = fixing.hole_diameter / 2, fixing.hole_depth
    return [
        Line(
            ((-face, r), (deep, r), (deep, -r), (-face, -r)),
            "medium",
            fill="#fff",
            closed=True,
            layer="fixings",
            ref="hole",
        ),
        Line(((-face - 25.0, 0.0), (deep + 12.0, 0.0)), "chain", layer="fixings", ref="hole"),
    ]


def _labels(wall: Wall, zone: PanelZone | None, fixing: FixingCheck | None, deep: float) -> list[Mark]:
    screen = wall.sight.screen
    right = deep + 4 * SCALE
    named: list[tuple[Point2, str]] = [
        ((deep * 0.7, HALF * 0.75), wall.job.survey.wall.substrate.replace("_", " "))
    ]
    if zone:
        named.append(
            (
                (-zone.build_up + zone.thickness / 2, HALF * 0.45),
                f"{zone.ref} panel {show_mm(zone.thickness)}",
            )
        )
    if fixing:
        chosen = fixing.hole_diameter > 0
        at = (fixing.hole_depth * 0.6 if chosen else 4.0, 0.0)
        named.append((at, f"{'hole ' if chosen else ''}{hole_words(fixing)}"))
    if zone and zone.void:
        named.append(((-zone.void / 2, -HALF * 0.72), f"void {show_mm(zone.void)}, packed solid"))
    face = zone.build_up if zone else 0.0
    named.append(
        (
            (-face - PLATE / 2, -HALF * 0.35),
            f"{screen.mount} mount, plate"
            + (", arm folded" if screen.turned_to is not None and abs(screen.swivel) > 0.05 else ""),
        )
    )
    named.sort(key=lambda item: -item[0][1])
    return [
        Leader((point, (right, HALF * 0.9 - i * 5.5 * SCALE)), words, layer="text")
        for i, (point, words) in enumerate(named)
    ]


def _sizes(wall: Wall, zone: PanelZone | None) -> list[Mark]:
    """Across at the foot: screen, gap, panel, void, to the wall's face."""
    screen = wall.sight.screen
    stops = [
        -screen.stand_off - screen.depth,
        -screen.stand_off,
        0.0,
        *([-zone.build_up, -zone.void] if zone else []),
    ]
    return list(chains(stops, "x", -HALF, -8.0, ref="build-up"))
