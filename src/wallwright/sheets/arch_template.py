"""The head of each arch at full size: its left half from the springing to the crown, tiled; turned over it is the right half."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import pairwise
from math import ceil, cos, sin
from typing import TYPE_CHECKING

from wallwright.carcass.niche import arch_of
from wallwright.core.drawing import TEXT_SMALL, Drawing, Line, Mark, Text
from wallwright.core.shape import Box, Point2, around
from wallwright.core.units import show_mm
from wallwright.sheets.ink import text_box
from wallwright.sheets.lettering import fitted, text_width
from wallwright.sheets.paper import Fields, Sheet, View
from wallwright.sheets.taken import Taken, strokes
from wallwright.sheets.tiles import ON_A4, Leaf, Place, clipped, joins, registers, tile_name

if TYPE_CHECKING:
    from wallwright.carcass.arch import Arch
    from wallwright.derive import Wall

FLAT = 0.05
"""The most by which a drawn chord lies off the curve [mm]: less than a line is wide."""
EVERY = 50.0
"""From one height that is written to the next, across [mm]."""
MARGIN = 8.0
"""What is shown beyond the middle and below the springing [mm]."""
LEAST = 3.0
"""The same where that saves a tile [mm]."""
_CAUTIONS = (
    "Print at 100 %. Check rise and half span with a tape on the joined tiles before a board is cut.",
)


def arches(wall: Wall) -> tuple[tuple[str, Arch], ...]:
    """Every arch of the wall with the ref of what it belongs to."""
    of_zones = ((zone.ref, zone.arch) for zone in wall.setout.zones if zone.arch is not None)
    of_units = ((unit.ref, arch_of(unit)) for unit in wall.setout.units if unit.rise)
    return (*of_zones, *of_units)


def sheets(wall: Wall, leaf: Leaf = ON_A4) -> Iterator[Sheet]:
    """The tiles of each arch; none where there is no arch."""
    for ref, arch in arches(wall):
        yield from _of_arch(wall, ref, arch, leaf)


def curve(arch: Arch) -> tuple[Point2, ...]:
    """The left half of the curve from the springing to the crown; x from the middle, z from the springing [mm]. Chords are so short
    that none lies more than `FLAT` off it.
    """
    r, turn = arch.radius, arch.half_angle
    steps = max(4, ceil(turn / (2 * (2 * FLAT / r) ** 0.5)))  # sagitta r·a²/8 of a step a
    low = arch.rise - r  # the centre, from the springing
    angles = [turn - turn * k / steps for k in range(steps + 1)]
    return tuple((-r * sin(a), low + r * cos(a)) for a in angles)


def _marks(ref: str, arch: Arch) -> tuple[Mark, ...]:
    half = arch.span / 2
    upright = [-(k + 1) * EVERY for k in range(int(half // EVERY))]
    marks: list[Mark] = [
        Line(curve(arch), "wide", layer="panels", ref=ref),
        Line(((-half - MARGIN, 0.0), (MARGIN, 0.0)), "chain", layer="levels", ref="springing"),
        Line(((0.0, -MARGIN), (0.0, arch.rise + MARGIN)), "chain", layer="levels", ref="middle"),
    ]
    for x in upright:
        high = _height(arch, x)
        if high > 2.0:
            marks.append(Line(((x, 0.0), (x, high)), "thin", layer="dims", ref=f"{x:.0f}"))
    return tuple(marks)


def _height(arch: Arch, x: float) -> float:
    """The curve above the springing at x from the middle [mm]."""
    return arch.height_at(arch.centre[0] + x) - arch.springing


def _of_arch(wall: Wall, ref: str, arch: Arch, leaf: Leaf) -> Iterator[Sheet]:
    found = {
        where: (window, (*inside, *_labels(arch, window, inside)))
        for where, (window, inside) in _tiles(arch, _marks(ref, arch), leaf).items()
    }
    for where, (window, inside) in found.items():
        yield _tile(wall, (ref, arch), window, inside, where, frozenset(found), leaf)


Tiles = dict[Place, tuple[Box, tuple[Mark, ...]]]
"""The tiles on which there is a line, each with the part of the arch that it shows, and what lies there."""


def _tiles(arch: Arch, marks: tuple[Mark, ...], leaf: Leaf) -> Tiles:
    """The arch cut so that no tile holds a mere sliver, where there is such a way, and into the fewest."""
    cuts = [
        _cut(marks, across, up)
        for more in (MARGIN, LEAST)
        for across in _ways(-arch.span / 2 - more, more, leaf.tile.width)
        for up in _ways(-more, arch.rise + more, leaf.tile.height)
    ]
    return min(cuts, key=lambda tiles: (sum(_sliver(inside) for _, inside in tiles.values()), len(tiles)))


def _ways(low: float, high: float, tile: float) -> list[list[float]]:
    """Where the seams may lie from `low` to `high`: alike, or whole tiles from either end."""
    n = ceil((high - low) / tile - 1e-9)
    alike = [low + (high - low) * i / n for i in range(n + 1)]
    return [
        alike,
        [*(low + tile * i for i in range(n)), high],
        [low, *(high - tile * i for i in range(n - 1, -1, -1))],
    ]


def _cut(marks: tuple[Mark, ...], across: list[float], up: list[float]) -> Tiles:
    found: Tiles = {}
    for row, (top, low) in enumerate(pairwise(reversed(up))):
        for col, (left, right) in enumerate(pairwise(across)):
            window = Box(left, low, right - left, top - low)
            if inside := tuple(clipped(marks, window)):
                found[row, col] = window, inside
    return found


SLIVER = 30.0
"""A tile whose lines reach less far than this either way is not worth its paper [mm]."""


def _sliver(inside: tuple[Mark, ...]) -> bool:
    box = around(point for mark in inside if isinstance(mark, Line) for point in mark.points)
    return max(box.width, box.height) < SLIVER


def _labels(arch: Arch, window: Box, inside: tuple[Mark, ...]) -> list[Mark]:
    """The heights along the curve that this tile shows, and the names of its lines, clear of both and of one another."""
    used, lines = Taken(1.0), Taken(1.0, strokes(inside, 1.0))
    out: list[Mark] = []
    wanted: list[tuple[str, float, float]] = []
    if window.z < 0.0 < window.top:
        wanted.append(("springing", max(window.x + 20.0, 3.0 - arch.span / 2), 1.5))
    if window.x < 0.0 < window.right:
        wanted.append(("middle", -14.0, min(max(window.z + 12.0, 12.0), arch.rise - 6.0)))
    for k in range(1, int(arch.span / 2 // EVERY) + 1):
        x = -k * EVERY
        high = _height(arch, x)
        if window.x < x < window.right and window.z < high < window.top and high > 2.0:
            wanted.append((f"{x:+.0f}: {high:.1f}", x + 1.2, high - 9.0))
    for words, x, z in wanted:
        wide = text_width(words, TEXT_SMALL)
        for dx, dz in (
            (0.0, 0.0),
            (0.0, -4.0),
            (0.0, -9.0),
            (0.0, -16.0),
            (6.0, 4.0),
            (-wide - 3.0, -4.0),
            (-wide - 3.0, -12.0),
            (2.0, 6.0),
        ):
            text = Text((x + dx, z + dz), words, TEXT_SMALL, layer="text")
            box = text_box(text, 1.0).grown(0.3)
            if window.grown(-6.0).holds(box) and used.free(box) and lines.free(box):
                used.add(box)
                out.append(text)
                break
    return out


def _tile(  # noqa: PLR0913
    wall: Wall, of: tuple[str, Arch], window: Box, inside: tuple[Mark, ...], where: Place, there: frozenset[Place],
    leaf: Leaf,
) -> Sheet:  # fmt: skip
    tile = leaf.tile
    ref, arch = of
    name = tile_name(where)
    view = View(
        Drawing(f"arch {ref} {name}", f"arch {ref} {name}", 1.0, inside),
        tile.x - window.x,
        tile.top - window.top,
    )
    marks: list[Mark] = [*registers(view.on_paper(corner) for corner in window.corners)]
    heading = (
        f"Arch of {ref}, left half, tile {name} of {len(there)}. Joins on its crosses: {joins(where, there)}.",
        f"Span {show_mm(arch.span)}, rise {show_mm(arch.rise)}, radius {show_mm(arch.radius)}. Turned over: the right half.",
        f"Figures: from the middle, and the curve's height above the springing, {show_mm(arch.springing)} above FFL.",
    )
    for i, line in enumerate(heading):
        text, height = fitted(line, tile.width - 14, (TEXT_SMALL,))
        marks.append(Text((tile.x + 7, tile.top + 13.2 - 3.6 * i), text, height, layer="frame"))
    return Sheet(
        f"arch_{ref}_{name}", f"Arch of {ref} 1:1, tile {name}", "Template 1:1", (view,), tuple(marks), Fields.of(wall.job),
        _CAUTIONS, size=leaf.size, job_title=wall.job.title,
    )  # fmt: skip
