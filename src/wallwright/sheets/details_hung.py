"""How a unit hangs: its rail on the cleat, cut at a fixing, and a shelf on its rods."""

from __future__ import annotations

from typing import TYPE_CHECKING

from wallwright.core.drawing import Hatch, Line, Mark, rectangle
from wallwright.core.shape import Block, Box, Point2
from wallwright.core.units import show_mm
from wallwright.sheets.chains import chain, chains
from wallwright.sheets.details_cut import DEEP, Sketch, boards, cut_board, cut_through, wall_piece
from wallwright.sheets.details_made import Named
from wallwright.sheets.fixings import hole_words

if TYPE_CHECKING:
    from wallwright.carcass.record import Part, UnitBox
    from wallwright.derive import Wall
    from wallwright.structure.record import FixingCheck


def _fixing(wall: Wall, unit: UnitBox) -> FixingCheck | None:
    return next((check for check in wall.structure.fixings if check.ref == unit.ref and check.holes), None)


def hanging(wall: Wall, unit: UnitBox, refs: str) -> Sketch | None:
    """Hanging rail on its cleat, cut at a fixing."""
    own = {
        part.role: part
        for part in wall.carcass.parts
        if part.unit == unit.ref and part.role in ("rail", "cleat", "top", "back")
    }
    fixing = _fixing(wall, unit)
    if "cleat" not in own or fixing is None:
        return None
    cleat = own["cleat"].block
    x, z = max(fixing.holes, key=lambda hole: hole[1])
    low, high = cleat.z - 30.0, unit.box.top + 6.0
    window = Box(-unit.depth - 1, low, unit.depth + 1, high - low).shared(
        Box(cleat.y - 80.0, low, 400.0, high - low)
    )
    if window is None:
        return None
    shaped = [own[role] for role in ("rail", "cleat") if role in own]
    cut = cut_through(wall, x, window, [part.id for part in shaped])
    still = [*wall_piece(low, high), *boards(cut)]
    named: list[Named] = []
    if "rail" in own:
        rail = own["rail"].block
        for part, outline in zip(shaped, bevelled(rail, cleat), strict=True):
            still += [
                Line(outline, "medium", closed=True, fill="#fff", layer="units", ref=part.id),
                Hatch(outline, "board", layer="hatch", ref=part.id),
            ]
        named.append(
            Named(
                (rail.y + rail.dy / 2, rail.z + rail.dz * 0.6),
                f"hanging rail {show_mm(rail.dz)} × {show_mm(rail.dy)}, 45°",
            )
        )
        named.append(
            Named(
                (cleat.y + cleat.dy * 0.3, cleat.z + cleat.dz * 0.3),
                f"cleat {show_mm(cleat.dz)} × {show_mm(cleat.dy)}, 45°",
            )
        )
    else:
        still += cut_board(Box(cleat.y, cleat.z, cleat.dy, cleat.dz), own["cleat"].id)
        named.append(
            Named(
                (cleat.y + cleat.dy / 2, cleat.z + cleat.dz * 0.8),
                f"fixing strip {show_mm(cleat.dz)} × {show_mm(cleat.dy)}",
            )
        )
    still += _screw(fixing, cleat.y, z)
    named.append(Named((DEEP * 0.5, z), hole_words(fixing)))
    named += [
        Named(box.centre, f"{_short(part)} {show_mm(part.thickness, 0)}")
        for part, box in cut
        if part.role in ("top", "back", "panel", "backer")
    ][:4]
    stops = [
        cleat.y,
        0.0,
        *((own["back"].block.y, own["back"].block.y + own["back"].block.dy) if "back" in own else ()),
    ]
    ups = [cleat.z, z, cleat.z + cleat.dz, unit.box.top]
    dims: list[Mark] = [
        *chains(stops, "x", low, -8.0, ref="depths"),
        *chain(ups, "z", window.x, -8.0, "heights"),
    ]
    return still, named, dims, 2.0, f"{refs}: {'rail on cleat' if 'rail' in own else 'fixing strip'}"


def _short(part: Part) -> str:
    return {"panel": "panel", "backer": "packing"}.get(part.role, part.name.split(",")[0])


def bevelled(rail: Block, cleat: Block) -> tuple[tuple[Point2, ...], tuple[Point2, ...]]:
    """Rail and cleat cut at 45° where they meet: the cleat's front edge stands higher, so that the rail hooks behind it."""
    meet, half = cleat.z + cleat.dz, cleat.dy / 2
    y0, y1 = cleat.y, cleat.y + cleat.dy
    rise = ((y0, meet + half), (y1, meet - half))
    return (
        (*rise, (y1, rail.z + rail.dz), (y0, rail.z + rail.dz)),
        (*rise, (y1, cleat.z), (y0, cleat.z)),
    )


def _screw(fixing: FixingCheck, front: float, z: float) -> list[Mark]:
    """A hole from the front of what is held into the wall, as much of it as is drawn, and its axis."""
    if fixing.hole_diameter <= 0:
        return []
    r, deep = fixing.hole_diameter / 2, min(fixing.hole_depth, DEEP)
    return [
        Line(((0.0, z - r), (deep, z - r), (deep, z + r), (0.0, z + r)), "medium", closed=True, fill="#fff", layer="fixings", ref=fixing.ref),
        Line(((front, z - r / 2), (deep, z - r / 2)), "thin", layer="fixings", ref=fixing.ref),
        Line(((front, z + r / 2), (deep, z + r / 2)), "thin", layer="fixings", ref=fixing.ref),
        Line(((front - 12.0, z), (DEEP + 6.0, z)), "chain", layer="fixings", ref=fixing.ref),
    ]  # fmt: skip


LEAST_FIGURE = 4.0
"""On paper, the least length of a dimension along which its figure stands [mm]."""


def rods(wall: Wall, unit: UnitBox, refs: str) -> Sketch | None:
    """A board on hidden rods, cut at a rod."""
    fixing = _fixing(wall, unit)
    if not unit.board_only or fixing is None:
        return None
    x, z = fixing.holes[0]
    low, high = unit.box.z - 25.0, unit.box.top + 25.0
    cut = cut_through(wall, x, Box(-unit.depth - 1, low, unit.depth + 1, high - low))
    r = wall.limits.value("structure.rod_diameter") / 2
    into, deep = unit.depth / 2, fixing.hole_depth
    end = max(deep, DEEP)
    still = [
        Hatch(Box(0.0, low, end + 8, high - low).corners, "masonry", layer="hatch", ref="wall"),
        Line(((0.0, low), (0.0, high)), "extra", layer="wall", ref="wall"),
        *boards(cut),
        rectangle(
            Box(-into, z - r, into + deep, 2 * r), "medium", fill="#fff", layer="fixings", ref=fixing.ref
        ),
        Line(((-into - 10.0, z), (end + 6.0, z)), "chain", layer="fixings", ref=fixing.ref),
    ]
    scale = 5.0 if unit.depth > 150 else 2.0
    middle = abs(z - unit.box.centre[1]) < 0.5
    # halves of a thin board leave no room for their figures: the rod is told to be in the middle instead
    thin = middle and unit.box.height / 2 / scale < LEAST_FIGURE
    levels = [unit.box.z, unit.box.top] if thin else [unit.box.z, z, unit.box.top]
    named = [
        Named(
            (-into * 0.5, z),
            f"rod Ø{2 * r:g}, {show_mm(into)} or more into the board{', in its middle' if thin else ''}",
        ),
        Named((deep * 0.6, z), f"into the wall {show_mm(deep)}"),
    ]
    named += [
        Named(box.centre, f"{part.name.split(',')[0]} {show_mm(part.thickness, 0)}")
        for part, box in cut
        if part.role in ("lip", "rib")
    ][:1]
    dims: list[Mark] = [
        *chains([-unit.depth, -into, 0.0, deep], "x", low, -8.0, ref="depths"),
        *chain(levels, "z", -unit.depth, -8.0, "heights"),
    ]
    return still, named, dims, scale, f"{refs}: hidden rods"
