"""The composition sheet: proportion guides over the wall, what stands by which line, and where the strips are fed."""

from __future__ import annotations

from typing import TYPE_CHECKING

from wallwright.core.drawing import Drawing, Line, Mark, Pen, Symbol, Text, rectangle
from wallwright.core.table import Column, Table
from wallwright.core.units import show_mm
from wallwright.sheets.beside import Block, Legend, column
from wallwright.sheets.ink import extent_of
from wallwright.sheets.paper import Fields, Sheet, centred
from wallwright.sheets.place import settle
from wallwright.sheets.room import about, layout

if TYPE_CHECKING:
    from wallwright.derive import Wall
    from wallwright.look.record import Guide

PENS: dict[str, Pen] = {
    "axis": "chain", "seats": "chain", "edge": "thin", "third": "dashed", "console": "phantom", "mirror": "phantom",
}  # fmt: skip
BESIDE_LINE = 300.0
"""Further than this from a line of the screen a thing does not belong to it [mm]."""


def sheet(wall: Wall) -> Sheet:
    """The guides on their sheet."""
    on = layout(wall.face.width, wall.face.height)
    return Sheet(
        "composition",
        "Composition and feeds",
        "Elevation",
        (centred(drawing(wall, on.scale), on.view),),
        column(_beside(wall), on.beside),
        Fields.of(wall.job),
        (
            "Guides to compose by, not sizes to work to. Feeds: design aid, to be checked by the licensed electrician.",
        ),
        job_title=wall.job.title,
    )


def numbered_guides(wall: Wall) -> tuple[tuple[int, Guide], ...]:
    """The guides in order, upright ones from the left, then level ones from the floor; each with its number."""
    guides = sorted(wall.look.guides, key=lambda guide: (not guide.upright, guide.at))
    return tuple(enumerate(guides, 1))


def drawing(wall: Wall, scale: float) -> Drawing:
    """The wall's outlines with every guide, its number at its end, and the feeds and drivers of the strips."""
    face = wall.face.box
    still: list[Mark] = [rectangle(face, "wide", layer="wall", ref="wall")]
    still += [rectangle(zone.box, "thin", layer="panels", ref=zone.ref) for zone in wall.setout.zones]
    still += [
        rectangle(unit.box, "medium", fill="#fff", layer="units", ref=unit.ref) for unit in wall.setout.units
    ]
    still.append(rectangle(wall.sight.screen.frame, "medium", fill="#fff", layer="screen", ref="screen"))
    labels: list[Mark] = []
    for number, guide in numbered_guides(wall):
        ends = (
            ((guide.at, guide.low), (guide.at, guide.high))
            if guide.upright
            else ((guide.low, guide.at), (guide.high, guide.at))
        )
        still.append(Line(ends, PENS[guide.kind], layer="guides", ref=str(number)))
        beyond = (guide.at, face.top + 4 * scale) if guide.upright else (face.right + 4 * scale, guide.at)
        labels.append(
            Text(
                beyond,
                str(number),
                anchor="middle" if guide.upright else "start",
                layer="text",
                ref=str(number),
            )
        )
    for run in wall.light.runs:
        still.append(Line(run.path, "dashed", layer="lights", ref=run.ref))
        labels += [
            Symbol("led_feed", point, run.ref, layer="lights", ref=run.ref) for point in run.feed_points
        ]
        if run.driver_at is not None:
            labels.append(Symbol("driver", run.driver_at, f"{run.ref} driver", layer="lights", ref=run.ref))
    marks = (*still, *settle(labels, scale, about(face, scale), lines=still))
    return Drawing("composition", "Composition and feeds", scale, marks, extent_of(marks, scale))


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


def _beside(wall: Wall) -> list[Block]:
    legend = Legend(
        (
            ("pen:chain", "axis of the screen, of the seats"),
            ("pen:thin", "edge of the screen"),
            ("pen:dashed", "third of the wall; LED strip"),
            ("pen:phantom", "usual console ends, 1.2 to 1.6 × the screen; a tower's twin"),
            ("sign:led_feed", "feed of an LED strip"),
            ("sign:driver", "its driver"),
        )
    )
    tables = (feed_table(wall), guide_table(wall), aligned_table(wall))
    return [legend, *(table for table in tables if table.rows)]
