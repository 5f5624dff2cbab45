"""Details at 1:2 and 1:5: how the panels are built up at their edges, how units hang, stand and close, where light lies.

Each is a cut through the parts themselves, where they stand: what the parts do not show is not drawn.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from typing import TYPE_CHECKING

from wallwright.core.drawing import Dim, Drawing, Hatch, Line, Mark, rectangle
from wallwright.core.shape import Box
from wallwright.core.units import show_mm
from wallwright.job.face import obstacle_box
from wallwright.sheets import detail
from wallwright.sheets.beside import Legend, column
from wallwright.sheets.chains import chain, chains
from wallwright.sheets.details_cut import DEEP, Sketch, boards, cut_board, cut_through, wall_piece
from wallwright.sheets.details_hung import hanging, rods
from wallwright.sheets.details_made import Named, composed
from wallwright.sheets.details_panel import arch_drawings, edge_drawings, light_drawing
from wallwright.sheets.ink import extent
from wallwright.sheets.paper import Fields, Sheet, View
from wallwright.sheets.room import FULL

if TYPE_CHECKING:
    from wallwright.carcass.record import UnitBox
    from wallwright.derive import Wall
    from wallwright.light.record import LightRun

CAUTIONS = (
    "Details are of this wall, sizes finished. Fix as on the fixings sheet; unknown wall: stop and ask.",
    "Detect cables, isolate and prove dead before drilling. Boards, stone and glass: extraction, mask, eye protection.",
)
LEGEND_WIDE = 48.0  # paper mm
_BESIDE = Box(FULL.right - LEGEND_WIDE, FULL.z, LEGEND_WIDE, FULL.height)
_WORDS = (
    ("hatch:masonry", "wall: cut"),
    ("hatch:board", "board: cut"),
    ("hatch:stone", "stone or tile: cut"),
    ("hatch:cut", "battens or packing: cut"),
    ("hatch:no_drill", "adhesive bed: cut"),
    ("hatch:screen", "screen"),
    ("pen:extra", "face of wall or floor"),
    ("pen:chain", "centre line of a hole"),
    ("pen:phantom", "screen (fitted later)"),
)


def sheets(wall: Wall) -> tuple[Sheet, ...]:
    """All details, side by side and row under row on as many sheets as they need."""
    found = list(drawings(wall))
    if [one.name for one in found] == ["detail"]:
        return ()  # the mount alone: it stands beside the section
    orders = (found, sorted(found, key=lambda one: -one.extent.height / one.scale))
    out = min((_sheets_of(order) for order in orders), key=len)
    return tuple(
        Sheet(
            f"details_{i}",
            "Details" if len(out) == 1 else f"Details {i} of {len(out)}",
            "Detail",
            views,
            column((_legend(views),), (_BESIDE,)),
            Fields.of(wall.job),
            CAUTIONS,
            job_title=wall.job.title,
        )
        for i, views in enumerate(out, 1)
    )


def _sheets_of(found: list[Drawing]) -> list[tuple[View, ...]]:
    """The details sheet by sheet: in their own order, or the tallest first where that takes fewer sheets."""
    out: list[tuple[View, ...]] = []
    while found:
        views, found = _laid(list(found))
        out.append(views)
    return out


def _legend(views: tuple[View, ...]) -> Legend:
    """The hatches and lines of these details."""
    marks = [mark for view in views for mark in view.drawing.marks]
    used = {f"hatch:{mark.pattern}" for mark in marks if isinstance(mark, Hatch)}
    used |= {f"pen:{mark.pen}" for mark in marks if isinstance(mark, Line)}
    return Legend(tuple((key, words) for key, words in _WORDS if key in used))


def _laid(waiting: list[Drawing]) -> tuple[tuple[View, ...], list[Drawing]]:
    """As many as go on one sheet, each as high up and then as far left as it goes beside or below those before it; those that do not
    go come back. One too large for any sheet is laid all the same.
    """
    views: list[View] = []
    taken: list[Box] = []
    corners = [(FULL.x + 4.0, FULL.top - 6.0)]
    left: list[Drawing] = []
    for one in waiting:
        box, s = extent(one), one.scale
        wide, high = box.width / s, box.height / s
        spots = (Box(x, top - high, wide, high) for x, top in sorted(corners, key=lambda c: (-c[1], c[0])))
        spot = next((at for at in spots if _goes(at, taken)), None)
        if spot is None and views:
            left.append(one)
            continue
        spot = spot or Box(corners[0][0], corners[0][1] - high, wide, high)
        views.append(View(one, round(spot.x - box.x / s, 3), round(spot.z - box.z / s, 3)))
        taken.append(spot)
        corners += [(spot.right + APART, spot.top), (spot.x, spot.z - BELOW), (FULL.x + 4.0, spot.z - BELOW)]
    return tuple(views), left


APART, BELOW = 9.0, 7.0
"""Paper mm between details side by side, and one below the other."""


def _goes(spot: Box, taken: list[Box]) -> bool:
    """Whether a detail goes there: clear of those on the sheet, left of the legend, above the foot."""
    if spot.right > _BESIDE.x - 4.0 or spot.z < FULL.z:
        return False
    clear = Box(spot.x - APART, spot.z - BELOW, spot.width + 2 * APART, spot.height + 2 * BELOW)
    return not any(clear.grown(-0.01).meets(other) for other in taken)


def drawings(wall: Wall) -> Iterator[Drawing]:
    """Every detail that this wall has: panels and arches, the mount, then units from where they hang to where light lies."""
    yield from edge_drawings(wall)
    yield from arch_drawings(wall)
    yield detail.drawing(wall)
    yield from _once(wall, hanging)
    yield from _once(wall, rods)
    yield from _once(wall, _foot)
    yield from _once(wall, _front)
    for run in wall.light.runs:
        made = _light(wall, run)
        if made is not None:
            yield made


def _once(wall: Wall, draw: Callable[[Wall, UnitBox, str], Sketch | None]) -> Iterator[Drawing]:
    """A detail of each unit, those alike but for their title once, under the references of all."""
    alike: dict[tuple[object, ...], tuple[list[str], UnitBox]] = {}
    for unit in wall.setout.units:
        sketch = draw(wall, unit, unit.ref)
        if sketch is not None:
            still, named, dims, scale, _ = sketch
            sizes = tuple(round(dim.value) for dim in dims if isinstance(dim, Dim))
            key = (scale, tuple(one.words for one in named), sizes, len(still))
            alike.setdefault(key, ([], unit))[0].append(unit.ref)
    for refs, unit in alike.values():
        sketch = draw(wall, unit, ", ".join(refs))
        if sketch is not None:
            still, named, dims, scale, words = sketch
            yield composed(words, scale, still, named, dims)


def _foot(wall: Wall, unit: UnitBox, refs: str) -> Sketch | None:
    """What a standing unit stands on."""
    if unit.hung or not unit.cabinet or unit.box.z > 1.0:
        return None
    x, top = _open_at(wall, unit), 240.0
    cut = cut_through(wall, x, Box(-unit.depth - 1, 0.0, unit.depth + 1, top))
    still: list[Mark] = [
        *wall_piece(0.0, top),
        Line(((-unit.depth - 60.0, 0.0), (DEEP, 0.0)), "extra", layer="wall", ref="ffl"),
        *boards(cut),
    ]
    named = [Named((-unit.depth - 40.0, 0.0), "FFL")]
    for thing in wall.face.obstacles:
        box = obstacle_box(thing)
        if thing.kind == "skirting" and box.x < x < box.right and unit.base == "legs":
            still += cut_board(Box(-thing.projection.mm, box.z, thing.projection.mm, box.height), thing.ref)
    lows = [box.z for part, box in cut if part.role == "bottom"]
    stands = lows[0] if lows else 0.0
    stops = [-unit.depth, 0.0]
    if unit.base == "legs":
        inset = wall.limits.value("carcass.leg_inset")
        body = min((part.block.y for part, _ in cut if part.role == "bottom"), default=-unit.depth)
        for y in (body + inset, -inset):
            still += [
                rectangle(Box(y - 15.0, 0.0, 30.0, stands), "medium", fill="#fff", layer="units", ref="leg")
            ]
            stops.append(y)
        named.append(Named((body + inset, stands * 0.4), f"leg {show_mm(stands)} high, adjustable"))
    plinths = [box for part, box in cut if part.role == "plinth"]
    for box in plinths:
        stops += [box.x, box.right]
    if plinths:
        named.append(
            Named(
                plinths[0].centre,
                f"plinth {show_mm(plinths[0].height)}, set back {show_mm(unit.depth + plinths[0].x)}",
            )
        )
    named += [
        Named((box.x + box.width * 0.7, box.centre[1]), "bottom")
        for part, box in cut
        if part.role == "bottom"
    ][:1]
    named += [Named((box.centre[0], top - 30.0), "front") for part, box in cut if part.role == "front"][:1]
    dims: list[Mark] = [
        *chains(stops, "x", 0.0, -8.0, ref="depths"),
        *chain(
            [0.0, stands, *(b.top for part, b in cut if part.role == "bottom")],
            "z",
            -unit.depth,
            -14.0,
            "heights",
        ),
    ]
    return still, named, dims, 5.0, f"{refs}: foot, on {'legs' if unit.base == 'legs' else 'a plinth'}"


def _open_at(wall: Wall, unit: UnitBox) -> float:
    """An x near the unit's middle at which the cut goes through no upright board."""
    upright = [
        part.block
        for part in wall.carcass.parts
        if part.unit == unit.ref and part.role == "division" and part.block.dx < 60
    ]
    for off in (7.0, 47.0, -47.0, 97.0, -97.0):
        x = unit.box.centre[0] + off
        if not any(b.x <= x <= b.x + b.dx for b in upright):
            return x
    return unit.box.centre[0] + 7.0


def _front(wall: Wall, unit: UnitBox, refs: str) -> Sketch | None:
    """The upper edge of the uppermost front of a unit: overlay, inset or with a gap for the fingers."""
    fronts = [part for part in wall.carcass.parts if part.unit == unit.ref and part.role == "front"]
    if not fronts or not unit.cabinet:
        return None
    front = max(fronts, key=lambda part: (part.block.z + part.block.dz, -part.block.x))
    b = front.block
    x, top = b.x + b.dx * 0.41, b.z + b.dz
    low, high = top - 70.0, min(max(unit.box.top, top), top + 60.0) + 8.0
    window = Box(-unit.depth - 1, low, 110.0, high - low)
    cut = [
        (part, box)
        for part, box in cut_through(wall, x, window)
        if part.unit == unit.ref and "drawer" not in part.role and part.role != "frame"
    ]
    still = boards(cut)
    over = [box for part, box in cut if part.role in ("top", "division") and part.block.dx > part.block.dz]
    named = [Named((b.y + b.dy / 2, top - 40.0), f"{front.name} {show_mm(front.thickness, 0)}")]
    ups = [top, *(e for box in over for e in (box.z, box.top))]
    named += [
        Named((box.right - 20.0, box.centre[1]), part.name)
        for part, box in cut
        if box in over and part.role in ("top", "division")
    ][:1]
    rails = [box for part, box in cut if part.role == "gap_rail"]
    if rails:
        named.append(
            Named(rails[0].centre, f"finger-gap rail, {show_mm(rails[0].x - b.y - b.dy)} behind the front")
        )
    body = min((part.block.y for part, _ in cut if part.role in ("top", "division")), default=b.y)
    stops = [b.y, b.y + b.dy, body, *(e for box in rails for e in (box.x,))]
    kind = "inset" if unit.inset else "finger gap" if rails else "overlay"
    dims: list[Mark] = [*chain(stops, "x", low, -8.0, "depths"), *chain(ups, "z", window.x, -8.0, "heights")]
    return still, named, dims, 2.0, f"{refs}: front, {kind}"


def _light(wall: Wall, run: LightRun) -> Drawing | None:
    """A strip under a board with the edge and the lip that hide it, cut across the strip."""
    if run.along == "behind_panel":
        return light_drawing(wall, run)
    unit = next((unit for unit in wall.setout.units if unit.ref == run.of), None)
    if unit is None or run.along not in ("under_console", "under_shelf") or not run.path:
        return None
    z, x = run.path[0][1], (run.path[0][0] + run.path[-1][0]) / 2 + 3.0
    low, high = z - 70.0, z + 60.0
    cut = [
        (p, box)
        for p, box in cut_through(wall, x, Box(-unit.depth - 1, low, unit.depth + 1, high - low))
        if p.role != "drawer_bottom"
    ]
    strip = Box(run.y - 6.0, z - wall.limits.value("light.profile_depth"), 12.0, wall.limits.value("light.profile_depth")) if run.profile else Box(
        run.y - 5.0, z - 3.0, 10.0, 3.0
    )  # fmt: skip
    edge = -unit.depth
    still = [
        *wall_piece(low, high),
        *boards(cut),
        rectangle(strip, "medium", fill="#000", layer="lights", ref=run.ref),
    ]
    named = [
        Named(
            strip.centre,
            f"{run.ref}: strip {'in a profile' if run.profile else 'without a profile'}, {run.watts_per_m:g} W/m",
        )
    ]
    own_lip = [box for part, box in cut if part.role == "lip"]
    if run.lip and not own_lip:
        lip = Box(edge, z - run.lip, 12.0, run.lip)
        still += cut_board(lip, "lip")
        named.append(Named(lip.centre, f"lip {show_mm(run.lip)} down"))
    elif own_lip:
        named.append(Named(own_lip[0].centre, "lip"))
    dims: list[Mark] = [*chains([edge, run.y, 0.0], "x", low, -8.0, ref="setback")]
    if run.lip:
        dims += chain([z - run.lip, z], "z", edge, -8.0, "lip")
    scale = 2.0 if unit.depth <= 150 else 5.0
    return composed(f"{run.ref} under {run.of}: light and lip", scale, still, named, dims)
