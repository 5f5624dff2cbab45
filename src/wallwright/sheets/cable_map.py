"""The cable map: every box with its sockets, what plugs into what, and the number and length of each cable. Not to scale.

Players stand at the left, what they feed to the right of them, the screen last. Leads into outlets are named inside each box;
cables from box to box are drawn, each with a way of its own between the columns.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from wallwright.core.drawing import TEXT_SMALL, Line, Mark, Text, rectangle
from wallwright.core.shape import Box, Point2
from wallwright.core.table import Column, Table
from wallwright.services.plugs import HUBS, RECEIVERS, SCREEN, Plug
from wallwright.sheets.beside import Block, Legend, Notes, column
from wallwright.sheets.lettering import fitted, printable, text_width
from wallwright.sheets.paper import Fields, Sheet
from wallwright.sheets.room import FULL
from wallwright.sheets.services import CAUTIONS
from wallwright.tables.plugs import plug_list, plug_notes, through_words
from wallwright.tables.reach import reach

if TYPE_CHECKING:
    from wallwright.derive import Wall

WIDE, HEAD, ROW_HIGH, APART = 60.0, 7.0, 5.0, 6.0  # paper mm: a box, its heading, a row of it, between boxes
STEP = 2.6  # between the ways of two cables
LABEL = 24.0  # what a cable's number and length take beside its box
BESIDE = 118.0  # the column of the list


def _legend(wall: Wall) -> Legend:
    """What a line and a frame are, with a lead of this wall that ends in an outlet as the example."""
    points = {point.ref for point in wall.services.points}
    one = next((p for p in wall.services.plugs if p.end in points), None)
    named = (
        f" ({one.ref} > {one.end}: cable {one.ref.removeprefix('CA')} goes to outlet {one.end})"
        if one
        else ""
    )
    return Legend(
        (
            ("pen:medium", "cable from box to box, with its number and the length to buy; the arrow stands where it ends"),
            ("pen:extra", f"box or screen; its leads into outlets are named inside{named}"),
        )
    )  # fmt: skip


LAST = frozenset((*RECEIVERS, *HUBS, "soundbar", "stereo_amplifier"))


@dataclass(frozen=True, slots=True)
class Placed:
    """A box on the map: its outline, its name, and its rows from the top, each with the cable it is for."""

    ref: str
    name: str
    box: Box
    rows: tuple[tuple[Plug, str, bool], ...]
    rank: int

    def at(self, plug: Plug, *, right: bool) -> Point2:
        """Where a cable meets this box, at its right or left side."""
        row = next(i for i, (other, _, _) in enumerate(self.rows) if other is plug)
        z = self.box.top - HEAD - (row + 0.5) * ROW_HIGH
        return (self.box.right if right else self.box.x), z


def sheets(wall: Wall) -> tuple[Sheet, ...]:
    """The map, on as many sheets as its boxes need; nothing without boxes."""
    plugs = plug_list(wall) if wall.services.points else ()
    if not plugs:
        return ()
    pages = _pages(wall, plugs)
    return tuple(_sheet(wall, page, plugs if i == 0 else (), i, len(pages)) for i, page in enumerate(pages))


def _sheet(wall: Wall, placed: tuple[Placed, ...], listed: tuple[Plug, ...], page: int, pages: int) -> Sheet:
    room = Box(FULL.right - BESIDE + 2, FULL.z, BESIDE - 6, FULL.height)
    blocks: list[Block] = [_legend(wall), Notes("Notes", plug_notes(wall))]
    if listed:
        blocks.append(_table(listed))
    low = min(item.box.z for item in placed) - 8.0
    below = Box(FULL.x + 5.0, FULL.z, FULL.width - BESIDE - 8.0, low - FULL.z)
    reached = reach(wall)
    under = column([reached], (below,)) if reached.rows and page == 0 and below.height > 50.0 else ()
    more = f", {page + 1} of {pages}" if pages > 1 else ""
    return Sheet(
        f"cable_map{page + 1 if page else ''}",
        f"Cable map{more}",
        "Electrical",
        (),
        (*_drawn(placed), *column(blocks, (room,)), *under),
        Fields.of(wall.job),
        CAUTIONS[:2],
        job_title=wall.job.title,
    )


def _names(wall: Wall) -> dict[str, tuple[str, int]]:
    """Each box's name and the column it stands in."""
    names = {SCREEN: (f"Screen, {wall.sight.screen.diagonal:g} in", 2)}
    for device in wall.services.devices:
        names[device.ref] = device.name, 1 if device.kind in LAST else 0
    return names


def _pages(wall: Wall, plugs: tuple[Plug, ...]) -> list[tuple[Placed, ...]]:
    """The boxes in three columns; the players that do not fit below one another begin a new sheet, with what they feed."""
    names = _names(wall)
    held = {ref: _rows(ref, plugs, names) for ref in names}
    sources = [ref for ref, (_, rank) in names.items() if rank == 0 and held[ref]]
    pages: list[list[str]] = [[]]
    used = 0.0
    for ref in sources:
        high = _high(held[ref]) + APART
        if used + high > FULL.height - 14.0 and pages[-1]:
            pages.append([])
            used = 0.0
        pages[-1].append(ref)
        used += high
    rest = [ref for ref, (_, rank) in names.items() if rank and held[ref]]
    return [_page([*page, *rest], plugs, names) for page in pages]


def _page(refs: list[str], plugs: tuple[Plug, ...], names: dict[str, tuple[str, int]]) -> tuple[Placed, ...]:
    """The boxes of one sheet where they stand, each with the cables whose both ends are on it."""
    here = [p for p in plugs if p.start in refs and (p.outlet or p.end in refs)]
    columns: dict[int, list[str]] = {
        rank: [ref for ref in refs if names[ref][1] == rank] for rank in (0, 1, 2)
    }
    gap = (FULL.width - BESIDE - 6.0 - 3 * WIDE) / 2
    out: list[Placed] = []
    for rank, inside in columns.items():
        top = FULL.top - 6.0 - (STEP * 2 * len(here) / 3 if rank == 1 else 0.0)
        for ref in inside:
            rows = _rows(ref, tuple(here), names)
            high = _high(rows)
            box = Box(FULL.x + 3.0 + rank * (WIDE + gap), top - high, WIDE, high)
            out.append(Placed(ref, names[ref][0], box, rows, rank))
            top -= high + APART
    return tuple(out)


def _high(rows: tuple[tuple[Plug, str, bool], ...]) -> float:
    return HEAD + ROW_HIGH * len(rows) + 1.0


def _rows(
    ref: str, plugs: tuple[Plug, ...], names: dict[str, tuple[str, int]]
) -> tuple[tuple[Plug, str, bool], ...]:
    """The rows of a box: (cable, words, whether it is drawn): what comes in, what goes out, then what goes into outlets."""
    into = [(p, p.end_port, True) for p in plugs if p.end == ref and not p.outlet]
    out = [(p, p.start_port, True) for p in plugs if p.start == ref and not p.outlet]
    walls = [
        (p, f"{p.ref} {p.start_port} > {p.end} {p.end_port}", False)
        for p in plugs
        if p.start == ref and p.outlet
    ]
    del names
    return (*into, *out, *walls)


def _drawn(placed: tuple[Placed, ...]) -> list[Mark]:
    """The cables, then the boxes on white over them, then the words."""
    by_ref = {item.ref: item for item in placed}
    cables = [
        row[0]
        for item in placed
        for row in item.rows
        if row[2] and row[0].start == item.ref and row[0].end in by_ref
    ]
    lines: list[Mark] = []
    words: list[Mark] = []
    ways: dict[int, int] = {}
    over = 0
    for plug in cables:
        a, b = by_ref[plug.start], by_ref[plug.end]
        start, end = a.at(plug, right=True), b.at(plug, right=b.rank == a.rank)
        first = _way(placed, a.rank, ways, len(cables))
        if b.rank == a.rank + 2:  # over the boxes of the middle column
            over += 1
            lane = FULL.top - 4.0 - STEP * over
            second = _way(placed, a.rank + 1, ways, len(cables))
            path = (start, (first, start[1]), (first, lane), (second, lane), (second, end[1]), end)
        else:
            path = (start, (first, start[1]), (first, end[1]), end)
        lines.append(Line(path, "medium", layer="cables", ref=plug.ref))
        lines.append(_head(end, to_left=b.rank == a.rank))
        said = f"{plug.ref}, {plug.bought / 1000:g} m"
        words.append(Text((start[0] + 1.5, start[1] + 0.9), said, TEXT_SMALL, bold=True, layer="cables"))
    return [*lines, *(mark for item in placed for mark in _box(item)), *words]


def _way(placed: tuple[Placed, ...], rank: int, ways: dict[int, int], count: int) -> float:
    """The x of the next upright way right of a column: they fill the gap from its far side, clear of the labels. count : of cables"""
    right = max((item.box.right for item in placed if item.rank == rank), default=FULL.x)
    gap = (FULL.width - BESIDE - 6.0 - 3 * WIDE) / 2
    ways[rank] = ways.get(rank, 0) + 1
    return right + gap - 3.0 - (ways[rank] - 1) * min(STEP, (gap - LABEL) / max(8, count))


def _head(at: Point2, *, to_left: bool) -> Line:
    """An arrowhead where a cable ends."""
    back = 2.2 if to_left else -2.2
    x, z = at
    return Line((at, (x + back, z + 0.8), (x + back, z - 0.8)), "thin", True, "#000", layer="cables")


def _box(item: Placed) -> list[Mark]:
    """A box: its outline, its heading with a rule below, its rows."""
    box = item.box
    head, height = fitted(printable(f"{item.ref}  {item.name}"), WIDE - 3.0, (3.5, TEXT_SMALL), bold=True)
    marks: list[Mark] = [
        rectangle(box, "extra", fill="#fff", layer="boxes", ref=item.ref),
        Line(((box.x, box.top - HEAD), (box.right, box.top - HEAD)), "thin", layer="boxes"),
        Text((box.x + 1.5, box.top - HEAD + 2.0), head, height, bold=True, layer="boxes", ref=item.ref),
    ]
    for i, (plug, words, drawn) in enumerate(item.rows):
        z = box.top - HEAD - (i + 0.5) * ROW_HIGH - 1.1
        said, height = fitted(printable(words), WIDE - 3.0, (TEXT_SMALL,))
        goes = drawn and plug.start == item.ref
        x = box.right - 1.5 - text_width(said, height) if goes else box.x + 1.5
        marks.append(Text((x, z), said, height, layer="boxes", ref=plug.ref))
    return marks


def _table(plugs: tuple[Plug, ...]) -> Table:
    cols = (
        Column("Ref"),
        Column("Cable"),
        Column("From"),
        Column("To"),
        Column("Through"),
        Column("m", "", 1, "right"),
    )
    rows = tuple(
        (p.ref, p.words, p.start, f"{p.end} {p.end_port}".strip(), through_words(p) or "-", p.bought / 1000)
        for p in plugs
    )
    return Table("cables", "Cables, with the length to buy", cols, rows)
