"""The composition sheet: proportion guides over the wall, what stands by which line, and where the strips are fed."""

from __future__ import annotations

from dataclasses import replace
from math import dist
from typing import TYPE_CHECKING

from wallwright.core.drawing import (
    TEXT_SMALL,
    Drawing,
    Leader,
    Line,
    Mark,
    Pen,
    Symbol,
    SymbolKind,
    Text,
    rectangle,
)
from wallwright.core.shape import Box, Point2
from wallwright.core.table import Column, Table
from wallwright.core.units import show_mm
from wallwright.sheets.beside import Block, Legend, column, of_what_is_drawn
from wallwright.sheets.ink import extent_of, text_box
from wallwright.sheets.label_row import spread
from wallwright.sheets.long_table import beside_and_after, stands
from wallwright.sheets.paper import Fields, Sheet, raised
from wallwright.sheets.place import settle
from wallwright.sheets.room import about, layout

if TYPE_CHECKING:
    from wallwright.derive import Wall
    from wallwright.look.record import Guide

PENS: dict[str, Pen] = {
    "axis": "chain", "seats": "phantom", "edge": "thin", "third": "spaced", "console": "long", "mirror": "dotted",
}  # fmt: skip
"""Each kind of guide has a line of its own; the strips are dashed, as on the elevation."""
NUMBER = 4.6
"""Room for a guide's number, paper mm."""
PATIENCE = 400
"""So many places are tried for a label that no guide crosses."""
BESIDE_LINE = 300.0
"""Further than this from a line of the screen a thing does not belong to it [mm]."""

_FEEDS = " Feeds: design aid, to be checked by the licensed electrician."


def sheets(wall: Wall) -> tuple[Sheet, ...]:
    """The guides on their sheet, and their lists beside them or on the next one."""
    on = layout(wall.face.width, wall.face.height, alone=True)
    made = drawing(wall, on.scale)
    view, rooms = raised(made, on.view, on.beside)
    words, fed = _beside(wall, made), bool(wall.light.runs)
    first = Sheet(
        "composition",
        "Composition and feeds" if fed else "Composition",
        "Elevation",
        (view,),
        (),
        Fields.of(wall.job),
        (f"Guides to compose by, not sizes to work to.{_FEEDS if fed else ''}",),
        job_title=wall.job.title,
    )
    if (
        len(rooms) == 2
    ):  # the view leaves room below it: the table of the screen's lines stands there in two columns
        side, below = rooms
        beyond = Box(below.right + 6.0, below.z, below.width, below.height)
        apart = column(words, (side,)), column(_rows(aligned_table(wall)), (below, beyond))
        if stands(apart[0], (side,)) and stands(apart[1], (below,)):
            return (replace(first, marks=(*apart[0], *apart[1])),)
    return beside_and_after(first, [*words, *_rows(aligned_table(wall))], rooms)


def numbered_guides(wall: Wall) -> tuple[tuple[int, Guide], ...]:
    """The guides that lie on the wall's face, in order: upright ones from the left, then level ones from the floor; each with its
    number.
    """
    face = wall.face.box
    on = [
        guide
        for guide in wall.look.guides
        if (face.x <= guide.at <= face.right if guide.upright else face.z <= guide.at <= face.top)
    ]
    told: dict[tuple[bool, float, str], Guide] = {}
    for guide in sorted(on, key=lambda guide: (not guide.upright, guide.at)):
        told.setdefault(
            (guide.upright, round(guide.at), guide.says), guide
        )  # axis and seats give the same line twice
    return tuple(enumerate(told.values(), 1))


def drawing(wall: Wall, scale: float) -> Drawing:
    """The wall's outlines with every guide, its number at its end, and the feeds and drivers of the strips."""
    face = wall.face.box
    still: list[Mark] = [rectangle(face, "wide", layer="wall", ref="wall")]
    still += [rectangle(zone.box, "thin", layer="panels", ref=zone.ref) for zone in wall.setout.zones]
    still += [
        rectangle(unit.box, "medium", fill="#fff", layer="units", ref=unit.ref) for unit in wall.setout.units
    ]
    still.append(rectangle(wall.sight.screen.frame, "medium", fill="#fff", layer="screen", ref="screen"))
    for number, guide in numbered_guides(wall):
        ends = (
            ((guide.at, guide.low), (guide.at, guide.high))
            if guide.upright
            else ((guide.low, guide.at), (guide.high, guide.at))
        )
        still.append(Line(ends, PENS[guide.kind], layer="guides", ref=str(number)))
    still += [Line(run.path, "dashed", layer="lights", ref=run.ref) for run in wall.light.runs]
    labels: list[Mark] = []
    for kind, at, words, ref in _signs(wall, scale):
        still.append(Symbol(kind, at, layer="lights", ref=ref))
        aside = (-6.0, 5.0) if kind == "led_feed" else (-10.0, 0.0)
        end = (at[0] + aside[0] * scale, at[1] + aside[1] * scale)
        labels.append(Leader((at, end), words, layer="lights", ref=ref))
    still += _numbers(wall, scale)
    taken = [text_box(mark, scale) for mark in still if isinstance(mark, Text)]
    marks = (*still, *settle(labels, scale, about(face, scale), taken, still, PATIENCE))
    return Drawing("composition", "Composition and feeds", scale, marks, extent_of(marks, scale))


def _signs(wall: Wall, scale: float) -> list[tuple[SymbolKind, Point2, str, str]]:
    """The feeds and the drivers of the strips: kind, place, words, ref. What would lie on its like is one sign with both names."""
    runs = wall.light.runs
    feeds = [(point, run.ref) for run in runs for point in run.feed_points]
    drivers = [(run.driver_at, run.ref) for run in runs if run.driver_at is not None]
    out: list[tuple[SymbolKind, Point2, str, str]] = []
    kinds: tuple[tuple[SymbolKind, str, list[tuple[Point2, str]]], ...] = (
        ("led_feed", "{}", feeds),
        ("driver", "{} driver", drivers),
    )
    for kind, words, places in kinds:
        for group in _together(places, 6.0 * scale):
            refs = ", ".join(dict.fromkeys(ref for _, ref in group))
            out.append((kind, group[0][0], words.format(refs), group[0][1]))
    return out


def _together(places: list[tuple[Point2, str]], near: float) -> list[list[tuple[Point2, str]]]:
    """The places in groups, each within `near` of its group's first one."""
    groups: list[list[tuple[Point2, str]]] = []
    for point, ref in places:
        group = next((g for g in groups if dist(g[0][0], point) < near), None)
        if group is None:
            groups.append([(point, ref)])
        else:
            group.append((point, ref))
    return groups


def _numbers(wall: Wall, scale: float) -> list[Mark]:
    """The guides' numbers in a row above the wall and a row right of it, led to their guides where those stand close."""
    face = wall.face.box
    out: list[Mark] = []
    for upright, edge in ((True, face.top), (False, face.right)):
        guides = [(number, guide) for number, guide in numbered_guides(wall) if guide.upright == upright]
        size = NUMBER if upright else TEXT_SMALL
        at = spread([guide.at for _, guide in guides], [size * scale] * len(guides), 1.2 * scale)
        for (number, guide), moved in zip(guides, at, strict=True):
            path = ((guide.at, edge), (guide.at, edge + 1.5 * scale), (moved, edge + 5.0 * scale))
            words = (moved, edge + 6.0 * scale)
            if not upright:
                path = tuple((x, z) for z, x in path)
                words = (edge + 6.0 * scale, moved - TEXT_SMALL / 2 * scale)
            out.append(Line(path, "thin", layer="text", ref=f"leader {number}"))
            out.append(
                Text(
                    words, str(number), anchor="middle" if upright else "start", layer="text", ref=str(number)
                )
            )
    return out


def guide_table(wall: Wall) -> Table:
    """Every guide with its place."""
    rows = tuple(
        (number, "x" if guide.upright else "z", guide.at, guide.says)
        for number, guide in numbered_guides(wall)
    )
    columns = (Column("No", "", 0, "right"), Column("Along"), Column("At", "mm", 0, "right"), Column("Guide"))
    return Table("guides", "Guides", columns, rows)


def aligned_table(wall: Wall) -> Table:
    """What stands on a line of the screen, and how far off it."""
    rows = tuple(
        (
            thing.ref,
            thing.what,
            thing.to,
            "on it" if abs(thing.gap) < 1 else f"{show_mm(abs(thing.gap))} {_side(thing.gap)}",
        )
        for thing in wall.look.alignments
        if abs(thing.gap) <= BESIDE_LINE
    )
    return Table(
        "alignments",
        "By the screen's lines",
        (Column("Thing"), Column("Its"), Column("Line"), Column("Off it", "mm")),
        rows,
    )


def _side(gap: float) -> str:
    return "right" if gap > 0 else "left"


def feed_table(wall: Wall) -> Table:
    """Where each strip is fed."""
    rows = tuple(
        (
            run.ref,
            ", ".join(f"{show_mm(x)}, {show_mm(z)}" for x, z in run.feed_points),
            run.feed_size,
            run.feed_length / 1000,
        )
        for run in wall.light.runs
    )
    columns = (
        Column("Strip"),
        Column("Fed at x, z", "mm"),
        Column("Lead", "mm²", 2, "right"),
        Column("Length", "m", 1, "right"),
    )
    return Table("feeds", "Feeds of the strips", columns, rows)


def _rows(table: Table) -> tuple[Table, ...]:
    return (table,) if table.rows else ()


def _beside(wall: Wall, made: Drawing) -> list[Block]:
    legend = Legend(
        (
            ("pen:chain", "axis of the screen"),
            ("pen:phantom", "axis of the seats"),
            ("pen:thin", "edge of the screen"),
            ("pen:spaced", "third of the wall"),
            ("pen:long", "usual console ends, 1.2 to 1.6 × the screen"),
            ("pen:dotted", "a tower's twin"),
            ("pen:dashed", "LED strip"),
            ("sign:led_feed", "feed of an LED strip"),
            ("sign:driver", "its driver"),
        )
    )
    return [of_what_is_drawn(legend, made.marks), *_rows(feed_table(wall)), *_rows(guide_table(wall))]
