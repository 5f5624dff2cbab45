"""1:1 templates for the wall, tiled on A4 or A3: the mount's holes and the boxes behind the screen; rods, flutes and arches go with them.

Tiles meet edge to edge on their corner crosses. Every tile carries a 100 mm check line: measure it before drilling.
"""

from __future__ import annotations

import itertools
from math import ceil, floor
from typing import TYPE_CHECKING

from wallwright.core.drawing import TEXT_LABEL, TEXT_SMALL, Circle, Drawing, Line, Mark, Text, rectangle
from wallwright.core.shape import Box, Point2
from wallwright.core.units import show_mm
from wallwright.sheets import arch_template, flute_template, mount_holes, rod_strips, rods
from wallwright.sheets.fixings import hole_words
from wallwright.sheets.ink import text_box
from wallwright.sheets.lettering import fitted, text_width, wrap
from wallwright.sheets.mount_holes import not_to_drill
from wallwright.sheets.paper import Fields, Sheet, View, numbered
from wallwright.sheets.taken import Taken, strokes
from wallwright.sheets.tiles import (
    LEAVES,
    ON_A4,
    Leaf,
    Paper,
    Place,
    clipped,
    cross,
    joins,
    registers,
    seams,
    tile_name,
)
from wallwright.sheets.words import point_words

if TYPE_CHECKING:
    from wallwright.derive import Wall
    from wallwright.services.record import ServicePoint

_CAUTIONS = ("Print at 100 %. Detect cables and pipes, isolate and prove dead before drilling.",)


def templates(wall: Wall, paper: Paper = "A4") -> tuple[Sheet, ...]:
    """The rods, the drilling template, the flutes and the arches at full size on that paper, numbered; the rods' lists are A4."""
    leaf = LEAVES[paper]
    strips = rod_strips.sheets(wall, rods.full(wall), leaf)
    made = (
        rods.sheets(wall), strips, _tiles(wall, leaf), flute_template.sheets(wall, leaf), arch_template.sheets(wall, leaf)
    )  # fmt: skip
    return numbered(tuple(sheet for part in made for sheet in part), wall)


def template_marks(wall: Wall) -> tuple[Mark, ...]:
    """What is marked through on to the wall, in wall axes: plate, holes, boxes, centre and level lines. Each tile says what they
    are: a label on a seam would be lost.
    """
    screen = wall.sight.screen
    x, z = screen.centre
    area = template_area(wall)
    marks: list[Mark] = [
        Line(((area.x, z), (area.right, z)), "chain", layer="levels", ref="level"),
        Line(((x, area.z), (x, area.top)), "chain", layer="levels", ref="plumb"),
        rectangle(screen.plate, "dashed" if not_to_drill(wall) else "medium", layer="screen", ref="plate"),
    ]
    marks += _plate_words(wall)
    for hole, diameter, _ in mount_holes.holes(wall):
        marks += [Circle(hole, diameter / 2, "medium", layer="fixings"), *cross(hole, 10)]
    for hole in _unchosen(wall):
        marks += cross(hole, 6)
    for point in _hidden(wall):
        marks += [
            rectangle(point.box, "wide", layer="points", ref=point.ref),
            *cross((point.x, point.z), 12),
        ]
    return tuple(marks)


def _plate_words(wall: Wall) -> list[Mark]:
    """The plate's name, or the refusal to drill wrapped inside it; and the hook drop where it is given."""
    plate = wall.sight.screen.plate
    words = not_to_drill(wall)
    lines = ["mount plate"]
    if words:
        lines += wrap(words, 90.0, TEXT_LABEL, bold=True)
    elif wall.sight.hanging is not None and wall.sight.hanging.hook_given:
        lines.append(f"hook drop {show_mm(wall.sight.hanging.hook_drop)}")
    return [
        Text(
            (plate.x + 3, plate.top - 6 - 5.4 * i),
            line,
            TEXT_LABEL if words and i else TEXT_SMALL,
            bold=bool(words and i),
            layer="fixings" if words and i else "text",
            ref="drill" if words and i else "",
        )
        for i, line in enumerate(lines)
    ]


def _hidden(wall: Wall) -> list[ServicePoint]:
    """The points whose boxes the screen hides."""
    return [point for point in wall.services.points if wall.sight.screen.frame.holds(point.box)]


def _unchosen(wall: Wall) -> tuple[Point2, ...]:
    """Where the mount would be held, were it known by what: crosses without a hole."""
    if mount_holes.chosen(wall) is not None or not_to_drill(wall):
        return ()
    return wall.sight.screen.holes.corners


def _no_fixing(wall: Wall) -> str:
    """Why the mount has no holes."""
    mount = next((check for check in wall.structure.fixings if check.ref == "screen"), None)
    if mount is None or mount.hole_diameter > 0 or wall.job.survey.wall.substrate == "unknown":
        return "fixing not chosen: wall unknown"
    return hole_words(mount)


def template_area(wall: Wall) -> Box:
    """What the template covers: plate, holes and hidden boxes, with a little about them."""
    across, up = _seams(wall)
    return Box(across[0], up[-1], across[-1] - across[0], up[0] - up[-1])


def _seams(wall: Wall, leaf: Leaf = ON_A4) -> tuple[list[float], list[float]]:
    """Where the tiles meet: from left to right and from the top down."""
    boxes = [point.box.grown(3) for point in _hidden(wall)]
    boxes += [
        Box(x, z, 0, 0).grown(13)
        for x, z in (*(hole for hole, _, _ in mount_holes.holes(wall)), *_unchosen(wall))
    ]
    every = [wall.sight.screen.plate, *boxes]
    left, right = min(b.x for b in every) - 6, max(b.right for b in every) + 6
    low, high = min(b.z for b in every) - 6, max(b.top for b in every) + 6
    across = seams(floor(left), ceil(right), leaf.tile.width, [(b.x, b.right) for b in boxes])
    down = seams(-ceil(high), -floor(low), leaf.tile.height, [(-b.top, -b.z) for b in boxes])
    return across, [-seam for seam in down]


def _tiles(wall: Wall, leaf: Leaf) -> list[Sheet]:
    """The template cut into tiles; those without a single line on them are left out, and named by no other."""
    marks = template_marks(wall)
    across, down = _seams(wall, leaf)
    found: dict[tuple[int, int], tuple[Box, tuple[Mark, ...]]] = {}
    for row, (top, low) in enumerate(itertools.pairwise(down)):
        for col, (left, right) in enumerate(itertools.pairwise(across)):
            window = Box(left, low, right - left, top - low)
            if inside := tuple(clipped(marks, window)):
                found[row, col] = window, (*inside, *_labelled(wall, window, inside))
    there = frozenset(found)
    return [_tile(wall, window, inside, where, there, leaf) for where, (window, inside) in found.items()]


def _labelled(wall: Wall, window: Box, inside: tuple[Mark, ...]) -> list[Mark]:
    """The labels of a tile, each whole within it and clear of the others, and of lines where there is such a place."""
    written = [text_box(mark, 1.0) for mark in inside if isinstance(mark, Text)]
    texts, lines = Taken(1.0, written), Taken(1.0, strokes(inside, 1.0))
    room = window.grown(-1.0)
    out: list[Mark] = []
    for words, at in _tile_labels(wall, window):
        wide = max(text_width(line, TEXT_SMALL) for line in words)
        places = sorted(
            ((i * 8.0, j * 4.0) for i in range(-22, 23) for j in range(-30, 31)),
            key=lambda step: abs(step[0]) + abs(step[1]),
        )
        second: Box | None = None
        chosen: Box | None = None
        high = 4.2 * len(words)
        for dx, dz in places:
            box = Box(at[0] + dx, at[1] + dz - high + 3.4, wide, high)
            if not room.holds(box) or not texts.free(box.grown(0.3)):
                continue
            if lines.free(box):
                chosen = box
                break
            second = second or box
        chosen = chosen or second
        if chosen is None:  # too wide for a narrow tile: its neighbour has it
            continue
        texts.add(chosen)
        out += [
            Text((chosen.x, chosen.top - 3.4 - 4.2 * i), line, TEXT_SMALL, layer="text")
            for i, line in enumerate(words)
        ]
    return out


def _tile_labels(wall: Wall, window: Box) -> list[tuple[tuple[str, ...], Point2]]:
    """What lies on this tile, and where its label would best begin: each hole and box by its place from the left corner, FFL
    and the screen's middle.
    """
    x, z = wall.sight.screen.centre
    out: list[tuple[tuple[str, ...], Point2]] = []
    for hole, _, words in mount_holes.holes(wall):
        if window.holds(Box(*hole, 0, 0)):
            out.append(((words, *_from(hole, (x, z))), (hole[0] + 8, hole[1] + 9)))
    for hole in _unchosen(wall):
        if window.holds(Box(*hole, 0, 0)):
            out.append(((_no_fixing(wall),), (hole[0] + 7, hole[1] + 5)))
    for point in _hidden(wall):
        if part := point.box.shared(window):
            size = (
                f"{show_mm(point.box.width)} × {show_mm(point.box.height)}, {show_mm(point.box_depth)} deep"
            )
            rest = "" if window.holds(point.box) else " (part)"
            where, far = _from((point.x, point.z), (x, z))
            words = (f"{point.ref} {point_words(point.kind)}{rest}", size, f"middle {where}", far)
            out.append((words, (part.x + 3, part.top - 6)))
    if window.z < z < window.top:
        out.append(((f"level: screen middle, {show_mm(z)} above FFL",), (window.x + 4, z + 2)))
    if window.x < x < window.right:
        out.append(((f"plumb: screen middle, x {show_mm(x)}",), (x + 3, window.top - 12)))
    whole = wall.sight.screen.plate
    corner = window.holds(Box(whole.x, whole.top - 20, 40, 20))  # named there already
    if (plate := whole.shared(window)) and not corner:
        out.append((("mount plate",), (plate.x + 4, plate.top - 8)))
    return out


def _from(at: Point2, middle: Point2) -> tuple[str, str]:
    """A place from the left corner and FFL, and from the screen's middle."""
    dx, dz = at[0] - middle[0], at[1] - middle[1]
    across = f"{show_mm(abs(dx))} {'right' if dx > 0 else 'left'}" if abs(dx) >= 0.5 else ""
    up = f"{show_mm(abs(dz))} {'above' if dz > 0 else 'below'}" if abs(dz) >= 0.5 else ""
    words = ", ".join(part for part in (across, up) if part)
    return (
        f"x {show_mm(at[0])}, z {show_mm(at[1])}",
        f"{words} of screen middle" if words else "at the screen's middle",
    )


def _tile(  # noqa: PLR0913
    wall: Wall, window: Box, inside: tuple[Mark, ...], where: Place, there: frozenset[Place], leaf: Leaf
) -> Sheet:  # fmt: skip
    name, tile = tile_name(where), leaf.tile
    view = View(Drawing(f"tile {name}", name, 1.0, inside), tile.x - window.x, tile.top - window.top)
    marks: list[Mark] = [*registers(view.on_paper(corner) for corner in window.corners)]
    for i, line in enumerate(_heading(wall, window, where, there)):
        text, height = fitted(line, tile.width - 14, (TEXT_SMALL,))
        marks.append(Text((tile.x + 7, tile.top + 13.2 - 3.6 * i), text, height, layer="frame"))
    stop = not_to_drill(wall)
    if stop:
        marks += _refusal(stop, Box(tile.x + 7, tile.z - 10.0, tile.width - 14, 8.0))
    return Sheet(
        f"template_{name}",
        f"Drilling template 1:1, tile {name}",
        "Template 1:1",
        (view,),
        tuple(marks),
        Fields.of(wall.job),
        _CAUTIONS,
        size=leaf.size,
        job_title=wall.job.title,
    )


def _refusal(words: str, room: Box) -> list[Mark]:
    """Why nothing may be drilled, whole, on a white ground: over the foot of a cross, where a narrow tile ends below it."""
    lines, height = [words], TEXT_LABEL
    if text_width(words, TEXT_LABEL, bold=True) > room.width:
        lines, height = wrap(words, room.width, TEXT_SMALL, bold=True), TEXT_SMALL
    marks: list[Mark] = []
    for i, line in enumerate(lines):
        text = Text((room.x, room.top - 1.6 - 3.5 * i), line, height, bold=True, layer="frame", ref="drill")
        marks += [rectangle(text_box(text, 1.0).grown(0.15), "none", fill="#fff", layer="frame"), text]
    return marks


def _heading(wall: Wall, window: Box, where: Place, there: frozenset[Place]) -> tuple[str, ...]:
    """Above a tile: its neighbours, where it lies on the wall, and what the holes keep between them."""
    x, z = wall.sight.screen.centre
    holes = [Box(*hole, 0, 0) for hole, _, _ in mount_holes.holes(wall)]
    mount = _no_fixing(wall)[:1].upper() + _no_fixing(wall)[1:]
    if not_to_drill(wall):
        mount = "No mount holes"
    elif holes:
        xs, zs = [box.x for box in holes], [box.z for box in holes]
        mount = f"Outer mount holes {show_mm(max(xs) - min(xs))} × {show_mm(max(zs) - min(zs))} apart"
    return (
        f"Tile {tile_name(where)} of {len(there)}. Joins on its corner crosses: {joins(where, there)}.",
        f"Its left edge is x {show_mm(window.x)} from the left corner, its lower edge {show_mm(window.z)} above FFL.",
        f"Screen middle x {show_mm(x)}, {show_mm(z)} above FFL. {mount}.",
    )
