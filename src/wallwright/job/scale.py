"""Lengths that no room has: the commonest slip of a tape is a lost unit, and it must be named where it was typed."""

from __future__ import annotations

from collections.abc import Iterator

from wallwright.core.units import Length
from wallwright.job.document import Job
from wallwright.job.problem import Problem

# field, least and most [mm]: wide enough for any room people live in, narrow enough to catch a lost m, cm or ft
WALL_WIDTH = (500.0, 20_000.0)
WALL_HEIGHT = (1_500.0, 8_000.0)
ROOM_DEPTH = (1_000.0, 20_000.0)
SEAT_DISTANCE = (50.0, 15_000.0)
SEAT_HEIGHT = (0.0, 1_200.0)
STATURE = (500.0, 2_500.0)
SCREEN_CENTRE = (200.0, 4_000.0)
SCREEN_SIZE = (20.0, 130.0)
"""Diagonals of screens that hang on a wall [in]: common practice."""
UNIT_SIZE = (60.0, 10_000.0)
UNIT_DEPTH = (40.0, 3_000.0)
PANEL_SIZE = (40.0, 15_000.0)
PANEL_VOID = (0.0, 400.0)
FLUTE_PITCH = (8.0, 200.0)
STRIP = (5.0, 300.0)
PIECE = (20.0, 3_700.0)
JOINT = (0.0, 20.0)
SHEET = (50.0, 6_000.0)
LIP = (0.0, 250.0)
_MORE = ((1000.0, "m"), (10.0, "cm"), (304.8, "ft"), (25.4, "in"))


def out_of_scale(job: Job) -> Iterator[Problem]:
    """Each length that is of no room's scale, with the unit that was probably meant."""
    for field, length, (least, most) in _lengths(job):
        if length is None or least <= length.mm <= most:
            continue
        fits = [f"{length.mm:g} {unit}" for mm, unit in _MORE if least <= length.mm * mm <= most]
        meant = f"; did you mean {' or '.join(fits)}?" if fits else ""
        written = repr(length.written) if length.written else f"{length.mm:g}"
        yield Problem(
            field,
            written,
            f"is {length.mm:g} mm, which is out of scale here: {least:g} to {most:g} mm{meant}",
        )


def screen_size(job: Job) -> Iterator[Problem]:
    """The screen's named size is one that screens are made in; 65 in written as mm or cm is the commonest slip."""
    size = job.design.screen.diagonal
    least, most = SCREEN_SIZE
    if size is None or least <= size <= most:
        return
    fits = [
        f"{size / per:.0f} for {size:g} {unit}"
        for per, unit in ((25.4, "mm"), (2.54, "cm"))
        if least <= size / per <= most
    ]
    meant = f"; did you mean {' or '.join(fits)}?" if fits else ""
    yield Problem(
        "design.screen.diagonal",
        f"{size:g}",
        f"is no screen's size in inches: {least:g} to {most:g} in{meant}",
    )


def _lengths(job: Job) -> Iterator[tuple[str, Length | None, tuple[float, float]]]:
    survey, design = job.survey, job.design
    for i, reading in enumerate(survey.wall.widths):
        yield f"survey.wall.widths[{i}].value", reading.value, WALL_WIDTH
    for i, reading in enumerate(survey.wall.heights):
        yield f"survey.wall.heights[{i}].value", reading.value, WALL_HEIGHT
    yield "survey.room.depth", survey.room.depth, ROOM_DEPTH
    for i, seat in enumerate(survey.seats):
        yield f"survey.seats[{i}].distance", seat.distance, SEAT_DISTANCE
        yield f"survey.seats[{i}].seat_height", seat.seat_height, SEAT_HEIGHT
    for i, person in enumerate(job.brief.people):
        yield f"brief.people[{i}].stature", person.stature, STATURE
    yield "design.screen.centre_height", design.screen.centre_height, SCREEN_CENTRE
    for i, unit in enumerate(design.units):
        yield f"design.units[{i}].width", unit.width, UNIT_SIZE
        yield f"design.units[{i}].depth", unit.depth, UNIT_DEPTH
        if unit.kind not in ("shelf", "ledge"):  # a shelf is as high as its board
            yield f"design.units[{i}].height", unit.height, UNIT_SIZE
        yield f"design.units[{i}].lip", unit.lip, LIP
    for i, panel in enumerate(design.panels):
        yield f"design.panels[{i}].width", panel.width, PANEL_SIZE
        yield f"design.panels[{i}].height", panel.height, PANEL_SIZE
        yield f"design.panels[{i}].void", panel.void, PANEL_VOID
        yield f"design.panels[{i}].flute_pitch", panel.flute_pitch, FLUTE_PITCH
        yield f"design.panels[{i}].strip", panel.strip, STRIP
        yield f"design.panels[{i}].tile_width", panel.tile_width, PIECE
        yield f"design.panels[{i}].tile_height", panel.tile_height, PIECE
        yield f"design.panels[{i}].joint", panel.joint, JOINT
    for i, sheet in enumerate(design.stock):
        yield f"design.stock[{i}].length", sheet.length, SHEET
        yield f"design.stock[{i}].width", sheet.width, SHEET
