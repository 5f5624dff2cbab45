"""The setting-out rods at full size: strips of paper that join on their register crosses into one rod, side by side on a page."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from math import ceil
from typing import TYPE_CHECKING

from wallwright.core.drawing import TEXT_SMALL, Drawing, Line, Mark, Text
from wallwright.core.table import Table
from wallwright.sheets.label_row import spread
from wallwright.sheets.lettering import wrap
from wallwright.sheets.paper import Fields, Sheet, View
from wallwright.sheets.tiles import ARM, ON_A4, Leaf, cross

if TYPE_CHECKING:
    from wallwright.derive import Wall

WIDE = 60.0
"""A strip of paper: three go on an A4 page, four on A3 [mm]."""
ROD = 6.0
"""From a strip's left edge to the rod's own edge, on which the marks stand [mm]."""
TICK, WORDS = 8.0, 13.0
"""From the rod's edge to the end of a mark, and to its words [mm]."""
LINE = 3.6
"""From one line of words to the next [mm]."""
_CAUTIONS = (
    "Print at 100 %. Lay strips cross on cross along a straight edge; check the whole rod with a tape.",
)


def sheets(
    wall: Wall, rods: Sequence[tuple[str, Table, float]], leaf: Leaf = ON_A4
) -> Iterator[Sheet]:  # fmt: skip
    """Each rod in strips. rods : title, its table of marks (mm, words), and how long it is [mm]"""
    tile, a_page = leaf.tile, int(leaf.tile.width // WIDE)
    for title, table, long in rods:
        marks = sorted((float(str(row[0])), str(row[1])) for row in table.rows)
        count = max(1, ceil(long / tile.height - 1e-9))
        pages = ceil(count / a_page)
        for page in range(pages):
            first, last = page * a_page, min((page + 1) * a_page, count)
            drawn = [
                mark
                for k in range(first, last)
                for mark in strip(marks, k, long, tile.x + (k - first) * WIDE, leaf)
            ]
            name = f"{table.name}_full_{page + 1}"
            words = f"{title} 1:1, strips {first + 1} to {last} of {count}; each begins where the one before ends."
            yield Sheet(
                name, f"{title} 1:1, page {page + 1} of {pages}", "Template 1:1",
                (View(Drawing(name, name, 1.0, tuple(drawn)), 0.0, 0.0),),
                (Text((tile.x, tile.top + 8.0), words, TEXT_SMALL, layer="frame"),),
                Fields.of(wall.job), _CAUTIONS, size=leaf.size, job_title=wall.job.title,
            )  # fmt: skip


def strip(
    marks: Sequence[tuple[float, str]], k: int, long: float, left: float, leaf: Leaf = ON_A4
) -> list[Mark]:  # fmt: skip
    """The k-th strip on the paper: its edge, a tick every 100 mm, each mark with its figure and words, crosses at both ends."""
    tile = leaf.tile
    low, high = k * tile.height, min((k + 1) * tile.height, long)
    x = left + ROD

    def at(mm: float) -> float:
        return tile.z + mm - low

    out: list[Mark] = [Line(((x, at(low)), (x, at(high))), "wide", layer="levels", ref="rod")]
    out += [line for end in (low, high) for line in cross((x, at(end)), ARM, "frame")]
    out += [
        Line(((x - 3.0, at(100.0 * i)), (x, at(100.0 * i))), "thin", layer="dims", ref="100")
        for i in range(ceil(low / 100.0), int(high / 100.0) + 1)
    ]
    last = high >= long - 1e-6  # a mark on a seam stands on the strip above it, but for the rod's very end
    own = [(mm, words) for mm, words in marks if low <= mm < high or (last and abs(mm - high) < 0.51)]
    room = WIDE - ROD - WORDS - 2.0
    said = [wrap(f"{mm:g}  {words}", room, TEXT_SMALL) for mm, words in own]
    low_z, high_z = tile.z + 0.5, max(at(high), tile.z + 10.0) - 0.5
    middles = spread([at(mm) for mm, _ in own], [LINE * len(lines) for lines in said], 0.4, low_z, high_z)
    for (mm, _), lines, z in zip(own, said, middles, strict=True):
        tick = ((x, at(mm)), (x + TICK, at(mm)), (x + WORDS - 1.0, z))
        out.append(Line(tick, "medium", layer="levels", ref=f"{mm:g}"))
        top = z + LINE * len(lines) / 2 - LINE + 0.75
        out += [
            Text((x + WORDS, top - LINE * i), line, TEXT_SMALL, layer="text", ref=f"{mm:g}")
            for i, line in enumerate(lines)
        ]
    return out
