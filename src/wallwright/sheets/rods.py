"""The setting-out rods: every height from FFL and every place from the left corner, as tables to strike a lath by."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

from wallwright.core.shape import Box
from wallwright.core.table import Column, Table
from wallwright.sheets.beside import Notes, column
from wallwright.sheets.figures import DATUM
from wallwright.sheets.ink import rounded
from wallwright.sheets.mount_holes import holes, hook_words, not_to_drill
from wallwright.sheets.paper import A4, Fields, Sheet
from wallwright.sheets.words import point_words, unit_words

if TYPE_CHECKING:
    from wallwright.derive import Wall

CAUTIONS = ("Print at 100 %. Detect cables and pipes, isolate and prove dead before drilling.",)
ROWS = 38  # rows of a rod's table on one page


def sheets(wall: Wall) -> tuple[Sheet, ...]:
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
                    CAUTIONS,
                    size=A4,
                    job_title=wall.job.title,
                )
            )
    return tuple(out)


def full(wall: Wall) -> tuple[tuple[str, Table, float], ...]:
    """Both rods with their lengths, to be drawn at full size."""
    made = (
        ("Height rod", height_rod(wall), wall.face.height),
        ("Width rod", width_rod(wall), wall.face.width),
    )
    return tuple(  # a thing too tall for the room is struck too
        (title, table, max(long, *(float(str(row[0])) for row in table.rows))) for title, table, long in made
    )


def height_rod(wall: Wall) -> Table:
    """Every height to strike, from the top down."""
    screen = wall.sight.screen
    marks = [(0.0, "FFL: end of the rod"), (DATUM, "datum line"), (wall.face.height, "ceiling")]
    marks += [
        (screen.frame.z, "screen, lower edge"),
        (screen.centre[1], "screen, centre"),
        (screen.frame.top, "screen, upper edge"),
    ]
    marks += [(z, "mount hole") for (_, z), _, _ in holes(wall)]
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
