"""One flat on one A4 page: its number, hand and state, its wall as it is there, its sizes and fillers, outlets, what is otherwise."""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

from wallwright.core.drawing import TEXT_LABEL, TEXT_SMALL, Drawing, Line, Mark, Text, rectangle
from wallwright.core.shape import Box
from wallwright.core.table import Column, Table
from wallwright.core.units import show_mm
from wallwright.sheets import elevation
from wallwright.sheets.beside import Block, Notes, column, height_of
from wallwright.sheets.ink import extent, extent_of
from wallwright.sheets.lettering import fitted, printable
from wallwright.sheets.long_table import stands
from wallwright.sheets.paper import A4, Fields, Sheet, View
from wallwright.sheets.words import count, point_words

if TYPE_CHECKING:
    from wallwright.core.finding import Finding
    from wallwright.derive import Wall
    from wallwright.tower.fit import Fit
    from wallwright.tower.record import Flat, TowerFile

SCALES = (20.0, 25.0, 30.0, 40.0, 50.0)
"""ISO 5455 lets a scale stand between its own where the paper asks for it; the scale bar's place is taken by the figures."""
ROOM = Box(15.0, 138.0, 180.0, 125.0)
"""Where the elevation stands [paper mm]."""
HEAD = Box(15.0, 266.0, 180.0, 22.0)
WHOLE = (Box(15.0, 36.0, 88.0, 222.0), Box(107.0, 36.0, 88.0, 222.0))
"""And on a second page."""
LISTS = (Box(15.0, 36.0, 88.0, 98.0), Box(107.0, 36.0, 88.0, 98.0))
MUST = ("danger", "fix")
MOST_POINTS = 14


@dataclass(frozen=True, slots=True)
class FlatWall:
    """A flat and its wall as made. series : whether it is its type's as drawn · fit : where it was measured · undecided : ordered or
    further, it does not take its unit, and nobody said by what it was made
    """

    flat: Flat
    wall: Wall
    findings: tuple[Finding, ...]
    series: bool
    fit: Fit | None
    fillers: tuple[tuple[str, float], ...]
    undecided: bool = False

    @property
    def made(self) -> str:
        """By what it is made, in a word; in capitals what nobody may overlook."""
        if self.undecided:
            return "TO MEASURE? NOT SAID"
        return "as drawn" if self.series else "MADE TO MEASURE"

    @property
    def measured(self) -> bool:
        """Whether its fillers are those of its own wall."""
        return self.fit is not None and bool(self.flat.measured.widths)


def fields_of(tower: TowerFile) -> Fields:
    """What the tower's sheets have in common."""
    owner = tower.designer or "Designer not named"
    return Fields(
        owner,
        tower.client,
        tower.number,
        tower.revision,
        tower.date,
        tower.designer or "-",
        "-",
        "Preliminary",
    )


def sheets(one: FlatWall, tower: TowerFile, view: Drawing | None = None) -> tuple[Sheet, ...]:
    """The flat's page, and a second one where it has more to say. view : its elevation, where it is drawn already"""
    drawn = view or drawing(one.wall)
    box = extent(drawn)
    s = drawn.scale
    place = View(
        drawn,
        round(ROOM.x + (ROOM.width - box.width / s) / 2 - box.x / s, 3),
        round(ROOM.top - box.height / s - box.z / s, 3),
    )
    blocks = _blocks(one)
    marks, rest = _beside(blocks)
    first = _page(one, tower, f"Scale 1:{s:g}; work to the figures.", (place,), marks)
    if not rest:
        return (first,)
    more = _page(one, tower, "Second page of this flat.", (), column(rest, WHOLE))
    return first, replace(more, name=f"{more.name}_2", title=f"{more.title}, continued")


def _beside(blocks: list[Block]) -> tuple[tuple[Mark, ...], list[Block]]:
    """The blocks below the elevation, the last one, the outlets, whole in its own column where that goes; and those that do not go."""
    left, right = LISTS
    high = sum(height_of(block, left.width) + 3.0 for block in blocks[:-1])
    if high <= left.height and height_of(blocks[-1], right.width) <= right.height:
        return (*column(blocks[:-1], (left,)), *column(blocks[-1:], (right,))), []
    n = next((n for n in range(len(blocks), 0, -1) if stands(column(blocks[:n], LISTS), LISTS)), 0)
    return column(blocks[:n], LISTS) if n else (), blocks[n:]


def _page(
    one: FlatWall, tower: TowerFile, says: str, views: tuple[View, ...], marks: tuple[Mark, ...]
) -> Sheet:
    return Sheet(
        f"flat_{one.flat.id}",
        f"Flat {one.flat.id}",
        "Flat sheet",
        views,
        (*_head(one), *marks),
        fields_of(tower),
        (
            f"{says} Sizes in mm, heights from FFL (finished floor level).",
            "Hidden cables and pipes: detect before drilling. Electrical work by the locally licensed electrician.",
        ),
        size=A4,
        job_title=tower.title,
        dangers=sum(item.severity == "danger" for item in one.findings),
    )


def drawing(wall: Wall) -> Drawing:
    """The elevation at the largest scale that goes on the page, without the mark of a section that is not on it."""
    made = _elevation(wall, SCALES[-1])
    for scale in SCALES:
        if wall.face.width / scale > ROOM.width or wall.face.height / scale > ROOM.height:
            continue
        made = _elevation(wall, scale)
        box = extent(made)
        if box.width / scale <= ROOM.width and box.height / scale <= ROOM.height:
            return made
    return made


def _elevation(wall: Wall, scale: float) -> Drawing:
    whole = elevation.drawing(wall, scale)
    marks = tuple(mark for mark in whole.marks if mark.layer != "section")
    return replace(whole, marks=marks, extent=extent_of(marks, scale))


def _head(one: FlatWall) -> list[Mark]:
    """Whose page it is, large enough to be read across a room; the hand as a word and as an arrow."""
    flat = one.flat
    marks: list[Mark] = [rectangle(HEAD, "wide", layer="frame")]
    name, height = fitted(printable(f"Flat {flat.id}"), 70.0, (9.0, 7.0, 5.0), bold=True)
    marks.append(Text((HEAD.x + 3, HEAD.z + 8.5), name, height, bold=True, layer="text"))
    under = f"floor {flat.floor} · type {flat.type} · {one.made}"
    words, tall = fitted(printable(under), 86.0, (TEXT_LABEL, TEXT_SMALL), bold=not one.series)
    marks.append(Text((HEAD.x + 3, HEAD.z + 2.6), words, tall, bold=not one.series, layer="text"))
    x = HEAD.x + 92
    marks.append(
        Text((x, HEAD.z + 13.5), f"{flat.hand.upper()} HAND", TEXT_LABEL + 1.5, bold=True, layer="text")
    )
    marks += _arrow(Box(x + 40, HEAD.z + 12.5, 18.0, 6.0), flat.hand == "left")
    for i, words in enumerate((f"state: {flat.state}", f"delivery: {flat.delivery or 'not called for'}")):
        marks.append(Text((x, HEAD.z + 8.0 - 5.2 * i), printable(words), TEXT_LABEL, layer="text"))
    return marks


def _arrow(box: Box, left: bool) -> list[Mark]:
    """An arrow to the hand's side."""
    tip, tail = (box.x, box.right) if left else (box.right, box.x)
    back = tip + (4.0 if left else -4.0)
    mid = box.centre[1]
    head = ((tip, mid), (back, mid + 2.2), (back, mid - 2.2))
    return [
        Line(((tail, mid), (back, mid)), "extra", layer="text"),
        Line(head, "thin", closed=True, fill="#000", layer="text"),
    ]


def _blocks(one: FlatWall) -> list[Block]:
    blocks: list[Block] = [_sizes(one)]
    if one.flat.exceptions:
        blocks.append(Notes("Otherwise in this flat", tuple(_exceptions(one))))
    if one.fit and not one.fit.takes:
        blocks.append(Notes("Does not take the unit as drawn", one.fit.why[:4]))
    if one.fit and one.fit.again:
        blocks.append(Notes("Measure again", one.fit.again[:3]))
    must = [item for item in one.findings if item.severity in MUST]
    if must:
        lines = tuple(f"{item.where}: {item.says}" for item in must[:4])
        more = (
            (f"and {count(len(must) - 4, 'more', 'more')} in the list of findings",) if len(must) > 4 else ()
        )
        blocks.append(Notes("To put right before it is built", (*lines, *more)))
    return [*blocks, _points(one)]


def _exceptions(one: FlatWall) -> list[str]:
    return [
        f"{item.edit.replace('_', ' ')}: {', '.join(f'{key} {value}' for key, value in item.values.items())}"
        f"{f' ({item.why})' if item.why else ''}"
        for item in one.flat.exceptions
    ]


def _sizes(one: FlatWall) -> Table:
    """The wall's sizes, how sure they are, and what is set to them."""
    wall, flat = one.wall, one.flat
    sure = "measured" if flat.measured.widths else "as the type"
    high = "measured" if flat.measured.heights else "as the type"
    rows: list[tuple[str, str, str]] = [
        ("Wall width, narrowest", show_mm(wall.face.width), sure),
        ("wider elsewhere by", show_mm(wall.face.spread_x), sure),
        ("Ceiling, lowest", show_mm(wall.face.height), high),
    ]
    rows += [(f"Filler at the {end} end", show_mm(gap, 1), "scribe on site") for end, gap in one.fillers]
    screen = wall.sight.screen
    rows += [
        ("Screen centre, height", show_mm(screen.centre[1]), ""),
        ("Screen centre from left", show_mm(screen.centre[0]), ""),
    ]
    rows += [
        (f"{unit.ref} left end", show_mm(unit.box.x, 1), f"{unit.box.width:.0f} wide")
        for unit in wall.setout.units
    ]
    cols = (Column("Size, mm"), Column("", "", 0, "right"), Column(""))
    return Table("flat_sizes", "Sizes in this flat", cols, tuple(rows))


def _points(one: FlatWall) -> Table:
    """The outlets by their middles, from this flat's left corner and FFL."""
    points = one.wall.services.points
    rows: list[tuple[str, str, float | None, float | None, str]] = [
        (point.ref, point_words(point.kind), round(point.x), round(point.z), "")
        for point in points[:MOST_POINTS]
    ]
    cols = (
        Column("Box"),
        Column("What"),
        Column("x", "", 0, "right"),
        Column("z", "", 0, "right"),
        Column("ok"),
    )
    more = (
        (f"and {len(points) - MOST_POINTS} more in the type's schedule",) if len(points) > MOST_POINTS else ()
    )
    return Table("flat_points", "Boxes, to their middles", cols, tuple(rows), more)
