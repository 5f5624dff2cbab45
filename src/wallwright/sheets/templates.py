"""1:1 templates for the wall: the mount's holes and the boxes behind the screen, tiled on A4; and the rods as tables of marks.

Tiles meet edge to edge on their corner crosses. Every tile carries a 100 mm check line: measure it before drilling.
"""

from __future__ import annotations

import itertools
from collections.abc import Iterable, Iterator
from dataclasses import replace
from math import ceil, floor
from typing import TYPE_CHECKING

from wallwright.core.drawing import TEXT_LABEL, TEXT_SMALL, Circle, Drawing, Line, Mark, Text, rectangle
from wallwright.core.shape import Box, Point2
from wallwright.core.table import Column, Table
from wallwright.core.units import show_mm
from wallwright.sheets.beside import Notes, column
from wallwright.sheets.figures import DATUM
from wallwright.sheets.fixings import hole_words
from wallwright.sheets.ink import rounded, text_box
from wallwright.sheets.lettering import fitted, text_width, wrap
from wallwright.sheets.paper import A4, Fields, Sheet, View, numbered
from wallwright.sheets.place import Taken, strokes
from wallwright.sheets.words import point_words, unit_words

if TYPE_CHECKING:
    from wallwright.derive import Wall
    from wallwright.services.record import ServicePoint
    from wallwright.structure.record import FixingCheck

Place = tuple[int, int]
"""Row from the top and column from the left of a tile."""
TILE = Box(15.0, 42.0, 180.0, 235.0)  # the part of an A4 page that joins to its neighbours
_CAUTIONS = ("Print at 100 %. Detect cables and pipes, isolate and prove dead before drilling.",)


def templates(wall: Wall) -> tuple[Sheet, ...]:
    """The rods and the drilling template, numbered."""
    return numbered((*_rods(wall), *_tiles(wall)), wall)


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
    for hole, diameter, _ in _holes(wall):
        marks += [Circle(hole, diameter / 2, "medium", layer="fixings"), *_cross(hole, 10)]
    for hole in _unchosen(wall):
        marks += _cross(hole, 6)
    for point in _hidden(wall):
        marks += [
            rectangle(point.box, "wide", layer="points", ref=point.ref),
            *_cross((point.x, point.z), 12),
        ]
    return tuple(marks)


def not_to_drill(wall: Wall) -> str:
    """What stands in place of drill heights while nothing verifies the bracket's; "" where they may be given."""
    hanging = wall.sight.hanging
    return hanging.drill if hanging is not None else ""


def hook_words(wall: Wall) -> str:
    """How far the screen's hole group hangs below the plate's middle, or that nobody entered it; "" where unknown."""
    hanging = wall.sight.hanging
    if hanging is None:
        return ""
    if not hanging.hook_given:
        return "Hook drop of the mount not entered: plate drawn level with the screen's holes. Measure it on the mount."
    drop = hanging.hook_drop
    side = "below" if drop >= 0 else "above"
    return f"Hook drop {show_mm(abs(drop))}: the screen's holes hang that far {side} the plate's middle."


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


def _holes(wall: Wall) -> Iterator[tuple[Point2, float, str]]:
    """The mount's wall holes as the structure stage set them out: none where it could choose no fixing.

    None at all while nothing verifies the bracket's height: a printed hole is an invitation to drill.
    """
    own = _chosen(wall)
    if own is None or not_to_drill(wall):
        return
    for hole in own.holes:
        yield hole, own.hole_diameter, hole_words(own)


def _chosen(wall: Wall) -> FixingCheck | None:
    """The mount's fixing, where one was chosen."""
    plate = wall.sight.screen.plate.grown(60)
    found = (check for check in wall.structure.fixings if check.holes and plate.holds(_round(check.holes)))
    return next((check for check in found if check.hole_diameter > 0), None)


def _unchosen(wall: Wall) -> tuple[Point2, ...]:
    """Where the mount would be held, were it known by what: crosses without a hole."""
    if _chosen(wall) is not None or not_to_drill(wall):
        return ()
    return wall.sight.screen.holes.corners


def _no_fixing(wall: Wall) -> str:
    """Why the mount has no holes."""
    mount = next((check for check in wall.structure.fixings if check.ref == "screen"), None)
    if mount is None or mount.hole_diameter > 0 or wall.job.survey.wall.substrate == "unknown":
        return "fixing not chosen: wall unknown"
    return hole_words(mount)


def _round(points: Iterable[Point2]) -> Box:
    xs, zs = zip(*points, strict=True) if points else ((0.0,), (0.0,))
    return Box(min(xs), min(zs), max(xs) - min(xs), max(zs) - min(zs))


def _cross(at: Point2, arm: float) -> list[Mark]:
    x, z = at
    return [
        Line(((x - arm, z), (x + arm, z)), "thin", layer="fixings"),
        Line(((x, z - arm), (x, z + arm)), "thin", layer="fixings"),
    ]


def template_area(wall: Wall) -> Box:
    """What the template covers: plate, holes and hidden boxes, with a little about them."""
    across, up = _seams(wall)
    return Box(across[0], up[-1], across[-1] - across[0], up[0] - up[-1])


def _seams(wall: Wall) -> tuple[list[float], list[float]]:
    """Where the tiles meet: from left to right and from the top down."""
    boxes = [point.box.grown(3) for point in _hidden(wall)]
    boxes += [
        Box(x, z, 0, 0).grown(13) for x, z in (*(hole for hole, _, _ in _holes(wall)), *_unchosen(wall))
    ]
    every = [wall.sight.screen.plate, *boxes]
    left, right = min(b.x for b in every) - 6, max(b.right for b in every) + 6
    low, high = min(b.z for b in every) - 6, max(b.top for b in every) + 6
    across = seams(floor(left), ceil(right), TILE.width, [(b.x, b.right) for b in boxes])
    down = seams(-ceil(high), -floor(low), TILE.height, [(-b.top, -b.z) for b in boxes])
    return across, [-seam for seam in down]


def seams(first: float, last: float, tile: float, whole: Iterable[tuple[float, float]]) -> list[float]:
    """Seams from `first` to `last`, each at most a tile from the one before, drawn back so that none goes through what should
    stay whole: a box or a hole. What is wider than a tile is cut.
    """
    spans = sorted(whole, reverse=True)
    out = [first]
    while out[-1] < last:
        seam = min(out[-1] + tile, last)
        for start, end in spans:
            if start < seam < end and start - out[-1] > tile / 4:
                seam = start
        out.append(seam)
    return out


def _tiles(wall: Wall) -> list[Sheet]:
    """The template cut into tiles; those without a single line on them are left out, and named by no other."""
    marks = template_marks(wall)
    across, down = _seams(wall)
    found: dict[tuple[int, int], tuple[Box, tuple[Mark, ...]]] = {}
    for row, (top, low) in enumerate(itertools.pairwise(down)):
        for col, (left, right) in enumerate(itertools.pairwise(across)):
            window = Box(left, low, right - left, top - low)
            if inside := tuple(clipped(marks, window)):
                found[row, col] = window, (*inside, *_labelled(wall, window, inside))
    return [_tile(wall, window, inside, where, frozenset(found)) for where, (window, inside) in found.items()]


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
    for hole, _, words in _holes(wall):
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


def _tile_name(where: Place) -> str:
    return f"{chr(65 + where[0])}{where[1] + 1}"


def _tile(wall: Wall, window: Box, inside: tuple[Mark, ...], where: Place, there: frozenset[Place]) -> Sheet:
    name = _tile_name(where)
    view = View(Drawing(f"tile {name}", name, 1.0, inside), TILE.x - window.x, TILE.top - window.top)
    marks: list[Mark] = []
    for x, z in window.corners:
        corner = view.on_paper((x, z))
        marks += [replace(line, layer="frame") for line in _cross(corner, 5) if isinstance(line, Line)]
    for i, line in enumerate(_heading(wall, window, where, there)):
        text, height = fitted(line, TILE.width - 14, (TEXT_SMALL,))
        marks.append(Text((TILE.x + 7, TILE.top + 11.4 - 4.2 * i), text, height, layer="frame"))
    stop = not_to_drill(wall)
    if stop:
        text, height = fitted(stop, TILE.width - 14, (TEXT_LABEL, TEXT_SMALL), bold=True)
        marks.append(Text((TILE.x + 7, TILE.z - 5.2), text, height, bold=True, layer="frame", ref="drill"))
    return Sheet(
        f"template_{name}",
        f"Drilling template 1:1, tile {name}",
        "Template 1:1",
        (view,),
        tuple(marks),
        Fields.of(wall.job),
        _CAUTIONS,
        size=A4,
        job_title=wall.job.title,
    )


def _heading(wall: Wall, window: Box, where: Place, there: frozenset[Place]) -> tuple[str, ...]:
    """Above a tile: its neighbours, where it lies on the wall, and what the holes keep between them."""
    row, col = where
    beside = (
        ("left", (row, col - 1)),
        ("right", (row, col + 1)),
        ("above", (row - 1, col)),
        ("below", (row + 1, col)),
    )
    joins = [f"{side} {_tile_name(place)}" for side, place in beside if place in there]
    x, z = wall.sight.screen.centre
    holes = [Box(*hole, 0, 0) for hole, _, _ in _holes(wall)]
    mount = _no_fixing(wall)[:1].upper() + _no_fixing(wall)[1:]
    if not_to_drill(wall):
        mount = "No mount holes"
    elif holes:
        xs, zs = [box.x for box in holes], [box.z for box in holes]
        mount = f"Outer mount holes {show_mm(max(xs) - min(xs))} × {show_mm(max(zs) - min(zs))} apart"
    return (
        f"Tile {_tile_name(where)} of {len(there)}. Joins on its corner crosses: {', '.join(joins) or 'none, it stands alone'}.",
        f"Its left edge is x {show_mm(window.x)} from the left corner, its lower edge {show_mm(window.z)} above FFL.",
        f"Screen middle x {show_mm(x)}, {show_mm(z)} above FFL. {mount}.",
    )


def clipped(marks: Iterable[Mark], window: Box) -> Iterator[Mark]:
    """What of the marks lies in the window: lines cut at its edge, circles by their centre, texts only when whole."""
    for mark in marks:
        match mark:
            case Line():
                points = (*mark.points, mark.points[0]) if mark.closed else mark.points
                for a, b in itertools.pairwise(points):
                    piece = cut_to(a, b, window)
                    if piece is not None:
                        yield replace(mark, points=piece, closed=False, fill="")
            case Circle():
                if window.holds(Box(*mark.centre, 0, 0)):
                    yield mark
            case Text():
                if window.holds(text_box(mark, 1.0)):
                    yield mark
            case _:
                yield mark


def cut_to(a: Point2, b: Point2, window: Box) -> tuple[Point2, Point2] | None:
    """The piece of the line from a to b inside the window; None where there is none (Liang and Barsky 1984)."""
    dx, dz = b[0] - a[0], b[1] - a[1]
    low, high = 0.0, 1.0
    for p, q in (
        (-dx, a[0] - window.x),
        (dx, window.right - a[0]),
        (-dz, a[1] - window.z),
        (dz, window.top - a[1]),
    ):
        if p == 0:
            if q < 0:
                return None
        elif p < 0:
            low = max(low, q / p)
        else:
            high = min(high, q / p)
    if low >= high:
        return None
    return (a[0] + low * dx, a[1] + low * dz), (a[0] + high * dx, a[1] + high * dz)


ROWS = 38  # rows of a rod's table on one page


def _rods(wall: Wall) -> tuple[Sheet, ...]:
    """Height rod and width rod as tables: every mark with its distance, for a lath marked on site."""
    room = Box(22.0, 48.0, 174.0, 232.0)
    notes = Notes(
        "How to use it",
        (
            "Strike the marks on a straight lath, all from one end: FFL for the height rod, the left corner for the width rod.",
            "Never add one size to the next. Set the datum line first; work up and down from it.",
            *(words for words in (not_to_drill(wall), hook_words(wall)) if words),
        ),
    )
    out: list[Sheet] = []
    for title, table in (("Height rod", height_rod(wall)), ("Width rod", width_rod(wall))):
        for i in range(0, len(table.rows), ROWS):
            page = replace(table, rows=table.rows[i : i + ROWS])
            marks = column((notes, page), (room,))
            name = f"{table.name}_{i // ROWS + 1}"
            out.append(
                Sheet(
                    name,
                    title,
                    "Setting-out",
                    (),
                    marks,
                    Fields.of(wall.job),
                    _CAUTIONS,
                    size=A4,
                    job_title=wall.job.title,
                )
            )
    return tuple(out)


def height_rod(wall: Wall) -> Table:
    """Every height to strike, from the top down."""
    screen = wall.sight.screen
    marks = [(0.0, "FFL: end of the rod"), (DATUM, "datum line"), (wall.face.height, "ceiling")]
    marks += [
        (screen.frame.z, "screen, lower edge"),
        (screen.centre[1], "screen, centre"),
        (screen.frame.top, "screen, upper edge"),
    ]
    marks += [(z, "mount hole") for (_, z), _, _ in _holes(wall)]
    for unit in wall.setout.units:
        marks += [
            (unit.box.z, f"{unit.ref} {unit_words(unit.kind)}, underside"),
            (unit.box.top, f"{unit.ref} {unit_words(unit.kind)}, top"),
        ]
    marks += [
        (point.z, f"{point.ref} {point_words(point.kind)}, centre of box") for point in wall.services.points
    ]
    return _rod("height_rod", "Height rod: above FFL", marks, up=True)


def width_rod(wall: Wall) -> Table:
    """Every place across, from the left corner."""
    screen = wall.sight.screen
    marks = [
        (0.0, "left corner: end of the rod"),
        (wall.face.width, "right corner"),
        (screen.centre[0], "screen, centre"),
    ]
    marks += [(screen.frame.x, "screen, left edge"), (screen.frame.right, "screen, right edge")]
    for unit in wall.setout.units:
        marks += [
            (unit.box.x, f"{unit.ref} {unit_words(unit.kind)}, left"),
            (unit.box.right, f"{unit.ref} {unit_words(unit.kind)}, right"),
        ]
    marks += [
        (point.x, f"{point.ref} {point_words(point.kind)}, centre of box") for point in wall.services.points
    ]
    return _rod("width_rod", "Width rod: from the left corner", marks, up=False)


def _rod(name: str, title: str, marks: list[tuple[float, str]], *, up: bool) -> Table:
    by: dict[int, list[str]] = {}
    for at, words in sorted(marks, key=lambda mark: mark[0]):
        by.setdefault(rounded(at), []).append(words)
    rows = [(str(rounded(at)), "; ".join(dict.fromkeys(words))) for at, words in by.items()]
    return Table(
        name, title, (Column("Mark", "mm", 0, "right"), Column("What")), tuple(reversed(rows) if up else rows)
    )
