"""Boxes that stand close together, drawn large: where signs crowd on the services elevation, a hand reads them here."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from itertools import pairwise
from typing import TYPE_CHECKING

from wallwright.core.drawing import TEXT_LABEL, Drawing, Leader, Line, Mark, Text
from wallwright.core.shape import Box, Point2, around
from wallwright.core.table import Table
from wallwright.sheets.beside import Legend, Notes, column
from wallwright.sheets.grounds import grounded
from wallwright.sheets.ink import extent_of
from wallwright.sheets.long_table import stands
from wallwright.sheets.paper import Fields, Sheet, View
from wallwright.sheets.place import settle
from wallwright.sheets.point_table import point_table
from wallwright.sheets.room import column_right, strip_below
from wallwright.sheets.running import REACH, running
from wallwright.sheets.services_marks import CROWDED, box_marks, run_lines, signs, size_words
from wallwright.sheets.tiles import clipped, cut_to

if TYPE_CHECKING:
    from wallwright.derive import Wall
    from wallwright.services.record import ServicePoint

NEAR = 60.0
"""Boxes with less between them than this crowd [mm]."""
MANY = 3
"""So many boxes that crowd are drawn large."""
AROUND = 14.0
"""What is shown round them [paper mm]."""
_SCALES = (2.0, 5.0, 10.0, 20.0)
_NOTES = (
    "Figures across: from the left corner of the wall to the middle of each box. Up: from FFL to the middle of each box.",
    "Runs end where the drawing is broken off; the services elevation has them whole.",
)


def crowds(points: tuple[ServicePoint, ...]) -> list[list[ServicePoint]]:
    """The points whose boxes stand close together, each crowd of at least three, from left to right."""
    groups: list[list[ServicePoint]] = []
    for point in points:
        near = [group for group in groups if any(one.box.grown(NEAR).meets(point.box) for one in group)]
        joined = [point, *(one for group in near for one in group)]
        groups = [group for group in groups if group not in near] + [joined]
    many = [sorted(group, key=lambda p: p.ref) for group in groups if len(group) >= MANY]
    return sorted(many, key=lambda group: min(p.box.x for p in group))


def sheets(wall: Wall, cautions: tuple[str, ...]) -> tuple[Sheet, ...]:
    """The crowds of a wall on one sheet, as many as go on it, at the largest scale at which they do; none where none crowd."""
    found = crowds(wall.services.points)
    if not found:
        return ()
    blocks = [_LEGEND, Notes("Notes", _NOTES), _table(wall, found)]
    made: tuple[list[View], tuple[Mark, ...]] = [], ()
    for scale in _SCALES:
        drawn = [drawing(wall, group, scale) for group in found]
        for room, beside in (column_right(), strip_below(_STRIP)):
            made = _set_out(drawn, room), column(blocks, beside)
            if len(made[0]) == len(found) and stands(made[1], beside):
                return (_sheet(wall, *made, cautions),)
    return (_sheet(wall, *made, cautions),)


def _sheet(wall: Wall, views: list[View], marks: tuple[Mark, ...], cautions: tuple[str, ...]) -> Sheet:
    return Sheet(
        "services_close", "Boxes close together, drawn large", "Electrical", tuple(views), marks, Fields.of(wall.job), cautions,
        job_title=wall.job.title,
    )  # fmt: skip


_STRIP = 48.0
"""Height of the words below the drawings, where these need the whole width [paper mm]."""
_LEGEND = Legend(
    (("pen:wide", "box"), ("pen:dashed", "conduit or trunking"), ("pen:phantom", "edge of a unit or panel"))
)


def _table(wall: Wall, found: list[list[ServicePoint]]) -> Table:
    """What each of these boxes is and takes, so that who sets them need not turn back."""
    refs = {point.ref for group in found for point in group}
    whole = point_table(wall)
    return replace(whole, title="Boxes", rows=tuple(row for row in whole.rows if row[0] in refs))


def drawing(wall: Wall, group: list[ServicePoint], scale: float) -> Drawing:
    """One crowd: boxes, signs, the runs that come to them and the edges about them, with its measures."""
    refs = {point.ref for point in group}
    boxes = around(tuple(corner for point in group for corner in point.box.corners))
    window = boxes.grown(AROUND * scale)
    lines = [mark for mark in run_lines(wall) if isinstance(mark, Line) and mark.layer == "runs"]
    edges = [
        Line(box.corners, "phantom", closed=True, layer="outlines", ref=ref)
        for ref, box in (
            *((unit.ref, unit.box) for unit in wall.setout.units),
            *((zone.ref, zone.box) for zone in wall.setout.zones),
            ("screen", wall.sight.screen.frame),
            ("plate", wall.sight.screen.plate),
        )
    ]
    still = [*clipped((*edges, *lines), window), *(mark for mark in box_marks(wall) if mark.ref in refs)]
    labels: list[Mark] = [mark for mark in signs(wall) if mark.ref in refs]
    labels += _run_names(wall, window, scale)
    labels += running(((p.x, p.x) for p in group), "x", window.z, -REACH, scale, "across", ringed=False)
    labels += running(((p.z, p.z) for p in group), "z", window.x, -REACH, scale, "up", ringed=False)
    title = f"{', '.join(p.ref for p in group)} 1:{scale:g}"
    labels.append(Text((window.x, window.top + 6 * scale), title, TEXT_LABEL, bold=True, layer="text"))
    within = window.grown(32 * scale)
    settled = settle(labels, scale, within, [point.box for point in group], lines=still, patience=CROWDED)
    marks = grounded(still, settled, scale)
    return Drawing(f"close_{group[0].ref}", title, scale, marks, extent_of(marks, scale))


def _run_names(wall: Wall, window: Box, scale: float) -> list[Mark]:
    """Each run's name and size, led from a piece of it that no box hides."""
    out: list[Mark] = []
    boxes = [point.box for point in wall.services.points]
    for run in wall.services.runs:
        pieces = [piece for a, b in pairwise(run.path) if (piece := cut_to(a, b, window)) is not None]
        at = next(
            (at for at in _along(pieces) if not any(box.grown(8.0).holds(Box(*at, 0, 0)) for box in boxes)),
            None,
        )
        if at is None:
            continue  # it goes from box to box: nothing of it is seen
        out.append(
            Leader(
                (at, (at[0] + 8 * scale, at[1] + 5 * scale)),
                f"{run.ref}: {size_words(run)}",
                layer="runs",
                ref=run.ref,
            )
        )
    return out


def _along(pieces: list[tuple[Point2, Point2]]) -> Iterator[Point2]:
    """Places along the pieces, the longest first, from its middle outwards."""
    for a, b in sorted(pieces, key=lambda ab: -abs(ab[0][0] - ab[1][0]) - abs(ab[0][1] - ab[1][1])):
        for t in (0.5, 0.65, 0.35, 0.8, 0.2, 0.9, 0.1):
            yield a[0] + t * (b[0] - a[0]), a[1] + t * (b[1] - a[1])


def _set_out(drawings: list[Drawing], room: Box) -> list[View]:
    """The drawings in rows from the top left, as many as the room takes."""
    views: list[View] = []
    x, top, low = room.x + 4.0, room.top - 4.0, room.top - 4.0  # clear of the centring mark
    for one in drawings:
        box, s = one.extent, one.scale
        wide, high = box.width / s, box.height / s
        if x + wide > room.right and x > room.x + 4.0:
            x, top = room.x + 4.0, low - 8.0
        if x + wide > room.right or top - high < room.z:
            return views
        views.append(View(one, round(x - box.x / s, 3), round(top - high - box.z / s, 3)))
        x, low = x + wide + 12.0, min(low, top - high)
    return views
