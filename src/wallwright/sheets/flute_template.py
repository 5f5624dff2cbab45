"""The flute rod 1:1: a fluted field's ribs from edge to edge, in strips that join on their register crosses, several on a page.

Every edge stands at its own distance from the middle, to the machine's step, as on the rod's sheet; the datum lies within a strip,
never on a seam.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from typing import TYPE_CHECKING

from wallwright.core.drawing import TEXT_SMALL, Drawing, Line, Mark, Pen, Text, rectangle
from wallwright.core.shape import Box
from wallwright.sheets.flute_rod import both_ways, patches, rib_of
from wallwright.sheets.lettering import fitted, text_width
from wallwright.sheets.paper import Fields, Sheet, View
from wallwright.sheets.tiles import ON_A4, Leaf

if TYPE_CHECKING:
    from wallwright.carcass.record import PanelZone
    from wallwright.derive import Wall

LEFT = ON_A4.tile.x
"""Where strips begin on the paper [mm]; a strip shows as much of the field as its page's tile is wide."""
DEEP, PITCH = 20.0, 47.0
"""How high the ribs are drawn, and from one strip to the next below it [mm]."""
HEADING = 3.4
"""From the first strip's upper limit down to its heading [mm]."""
RIBS = 32.0
"""From there down to the feet of the ribs [mm]."""
_CAUTIONS = (
    "Print at 100 %. Grey: ribs; figures: their left edges from the middle. Lay strips cross on cross.",
)


def sheets(wall: Wall, leaf: Leaf = ON_A4) -> Iterator[Sheet]:
    """The 1:1 rod of each fluted field."""
    for zone in wall.setout.zones:
        if zone.flutes:
            yield from _of_zone(wall, zone, leaf)


def strips(width: float, wide: float = ON_A4.tile.width) -> list[tuple[float, float]]:
    """Where the strips of a field lie, from its middle [mm]: the middle in the middle of one, the last cut at the field's edges."""
    half = width / 2
    aside = max(0, math.ceil((half - wide / 2) / wide - 1e-9))
    whole = [((k - 0.5) * wide, (k + 0.5) * wide) for k in range(-aside, aside + 1)]
    return [(max(a, -half), min(b, half)) for a, b in whole]


def _of_zone(wall: Wall, zone: PanelZone, leaf: Leaf) -> Iterator[Sheet]:
    found = strips(zone.box.width, leaf.tile.width)
    a_page = int(leaf.tile.height // PITCH)
    pages = math.ceil(len(found) / a_page)
    for page in range(pages):
        marks: list[Mark] = []
        for row, k in enumerate(range(page * a_page, min((page + 1) * a_page, len(found)))):
            marks += _strip(wall, zone, found, k, leaf.tile.top - row * PITCH, leaf.tile.width)
        name = f"flute_rod_{zone.ref}_{page + 1}"
        yield Sheet(
            name,
            f"Flute rod of {zone.ref} 1:1, page {page + 1} of {pages}",
            "Template 1:1",
            (View(Drawing(name, name, 1.0, tuple(marks)), 0.0, 0.0),),
            (),
            Fields.of(wall.job),
            _CAUTIONS,
            size=leaf.size,
            job_title=wall.job.title,
        )


def _strip(  # noqa: PLR0913
    wall: Wall, zone: PanelZone, found: Sequence[tuple[float, float]], k: int, top: float, wide: float
) -> list[Mark]:  # fmt: skip
    """One strip on the paper: its heading, figures above its ribs, joints and datum named below them, its crosses."""
    left, right = found[k]
    foot = top - RIBS
    marks: list[Mark] = []

    def at(x: float) -> float:
        return LEFT + x - left

    for a, b in both_ways(zone, rib_of(wall, zone)):
        if b > left and a < right:
            low, high = max(a, left), min(b, right)
            marks.append(
                rectangle(
                    Box(at(low), foot, high - low, DEEP), "thin", fill="#e6e6e6", layer="panels", ref=zone.ref
                )
            )
            if low == a and a - left > 5.0 and a < right - 5.0 and _figured(a, zone):
                marks.append(Line(((at(a), foot + DEEP), (at(a), foot + DEEP + 1.4)), "thin", layer="dims"))
                figure = Text(
                    (at(a), foot + DEEP + 2.2), f"{abs(a):.1f}", TEXT_SMALL, anchor="middle", layer="dims"
                )
                marks.append(figure)
    marks += _named(wall, zone, (left, right), foot, wide)
    for x in (at(left), at(right)):
        for z in (foot, foot + DEEP):
            marks.append(Line(((x - 3.0, z), (x + 3.0, z)), "thin", layer="frame", ref="register"))
            marks.append(Line(((x, z - 3.0), (x, z + 3.0)), "thin", layer="frame", ref="register"))
    text, height = fitted(_heading(found, k), wide, (TEXT_SMALL,))
    marks.append(Text((LEFT, top - HEADING), text, height, layer="text", ref="strip"))
    return marks


def _figured(a: float, zone: PanelZone) -> bool:
    """Whether a rib's left edge has its figure: as many as there is room for, counted from the field's left edge."""
    k = round((a + zone.box.width / 2) / zone.flute_pitch)
    return k % max(1, math.ceil(12.0 / zone.flute_pitch)) == 0


def _heading(found: Sequence[tuple[float, float]], k: int) -> str:
    left, right = found[k]
    joins = [
        f"{side} {other + 1}"
        for side, other in (("left", k - 1), ("right", k + 1))
        if 0 <= other < len(found)
    ]
    return (
        f"Strip {k + 1} of {len(found)}: from {left:+.1f} to {right:+.1f} of the middle. "
        f"Joins on its crosses: {', '.join(joins) or 'none'}."
    )


def _named(wall: Wall, zone: PanelZone, span: tuple[float, float], foot: float, wide: float) -> list[Mark]:
    """The lines that run below the ribs, each with its name: datum, joints, the field's edges; and under them the flat patches."""
    left, right = span
    middle, half = zone.box.centre[0], zone.box.width / 2
    lines: list[tuple[float, str, Pen]] = [
        (0.0, "datum: middle", "chain"),
        (-half, f"left edge of {zone.ref}", "wide"),
        (half, f"right edge of {zone.ref}", "wide"),
    ]
    for x in zone.joints:
        if abs(x - middle) < 0.05:
            lines[0] = (0.0, "datum: middle, and joint", "chain")
        else:
            lines.append((x - middle, f"joint {x - middle:+.1f}", "wide"))
    marks: list[Mark] = []
    names: list[tuple[float, str]] = []
    for x, name, weight in sorted(lines):
        if left <= x <= right:
            paper = LEFT + x - left
            marks.append(Line(((paper, foot - 3.2), (paper, foot + DEEP)), weight, layer="levels", ref=name))
            names.append((paper, name))
    marks += _in_a_row(names, foot - 6.6, wide)
    flats: list[tuple[float, str]] = []
    for box, ref in patches(wall, zone):
        low, high = max(box.x - middle, left), min(box.right - middle, right)
        if low < high:
            marks.append(
                Line(
                    ((LEFT + low - left, foot - 8.2), (LEFT + high - left, foot - 8.2)),
                    "wide",
                    layer="panels",
                    ref=f"flat {ref}",
                )
            )
            flats.append((LEFT + (low + high) / 2 - left, f"flat for {ref}, z {box.z:.0f} to {box.top:.0f}"))
    return [*marks, *_in_a_row(sorted(flats), foot - 12.0, wide)]


def _in_a_row(names: Sequence[tuple[float, str]], z: float, wide: float) -> list[Mark]:
    """Names under their places from the left, each pushed right off the one before, and back off the strip's end."""
    out: list[Mark] = []
    ends = LEFT
    widths = [text_width(name, TEXT_SMALL) for _, name in names]
    for i, (x, name) in enumerate(names):
        room = LEFT + wide - sum(widths[i:]) - 2.0 * (len(widths) - i - 1)
        begin = max(ends, min(x - widths[i] / 2, room))
        out.append(Text((begin, z), name, TEXT_SMALL, layer="text"))
        ends = begin + widths[i] + 2.0
    return out
