"""The pack-out map: how the wall's face leaves the plumb plane, and what is packed at each crossing so that all faces lie in one."""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING, Literal

from wallwright.carcass import relief
from wallwright.core.drawing import TEXT_LABEL, TEXT_SMALL, Circle, Drawing, Mark, Text, rectangle
from wallwright.core.table import Column, Table
from wallwright.core.units import show_mm
from wallwright.sheets.beside import Block, Legend, Notes, column
from wallwright.sheets.chains import chains
from wallwright.sheets.figures import ROW, bare_wall
from wallwright.sheets.grounds import grounded
from wallwright.sheets.ink import extent_of, text_box
from wallwright.sheets.paper import Fields, Sheet, centred
from wallwright.sheets.place import settle
from wallwright.sheets.room import about, layout
from wallwright.sheets.running import REACH, running
from wallwright.sheets.taken import Taken, strokes

if TYPE_CHECKING:
    from wallwright.carcass.record import Part
    from wallwright.derive import Wall

BETWEEN = 600.0
"""Crossings along a batten or a cleat are no further apart than this [mm]; common practice."""
IN = 50.0
"""The first crossing from the end of a batten [mm]."""
_CAUTIONS = (
    "Pack with plastic or ply, in pairs, full width of the batten; never with card or foam. Check with a 2 m straight edge and plumb.",
    "Screws must reach their depth in the wall past the packing: longer ones where it is thick. Detect cables before drilling.",
)


def sheets(wall: Wall) -> tuple[Sheet, ...]:
    """The map, where anything is packed: panels on battens, or what hangs on a cleat."""
    return (sheet(wall),) if crossings(wall) else ()


def readings(wall: Wall) -> tuple[relief.Reading, ...]:
    """The surveyed grid; without one, the lean alone."""
    surveyed = wall.job.survey.wall
    if surveyed.relief:
        return tuple((one.x.mm, one.z.mm, one.out.mm) for one in surveyed.relief)
    return relief.of_plumb(surveyed.out_of_plumb.mm, wall.face.width, wall.face.height)


def crossings(wall: Wall) -> tuple[tuple[float, float], ...]:
    """Where battens and cleats are screwed through packing: evenly along each, near both its ends."""
    out: list[tuple[float, float]] = []
    for part in wall.carcass.parts:
        if part.role in ("batten", "cleat"):
            out += along(part)
    return tuple(dict.fromkeys(out))


def along(part: Part) -> list[tuple[float, float]]:
    """The crossings of one batten or cleat."""
    face = part.block.face
    level = face.width >= face.height
    long = face.width if level else face.height
    first = min(IN, long / 2)
    spaces = max(1, -int(-(long - 2 * first) // BETWEEN))
    stops = (
        [first + k * (long - 2 * first) / spaces for k in range(spaces + 1)] if long > 2 * IN else [long / 2]
    )
    x, z = face.centre
    return [(face.x + at, z) if level else (x, face.z + at) for at in stops]


def sheet(wall: Wall) -> Sheet:
    """The map on its sheet."""
    on = layout(wall.face.width, wall.face.height, (40.0, 36.0))
    return Sheet(
        "pack_out",
        "Pack-out map",
        "Setting-out",
        (centred(drawing(wall, on.scale), on.view),),
        column(_beside(wall), on.beside),
        Fields.of(wall.job),
        _CAUTIONS,
        job_title=wall.job.title,
    )


def drawing(wall: Wall, scale: float) -> Drawing:
    """The bare wall with battens and cleats, and at each crossing the packing in whole mm; the high spot ringed."""
    still: list[Mark] = [*bare_wall(wall, scale)]
    still += [
        rectangle(part.block.face, "thin" if part.role == "batten" else "wide", layer="panels", ref=part.id)
        for part in wall.carcass.parts if part.role in ("batten", "cleat")
    ]  # fmt: skip
    still += [rectangle(zone.box, "dashed", layer="panels", ref=zone.ref) for zone in wall.setout.zones]
    found = relief.packing(readings(wall), crossings(wall))
    labels: list[Mark] = []
    for one in found:
        labels.append(
            Text(
                (one.x, one.z - 0.5 * TEXT_LABEL * scale),
                str(round(one.pack)),
                TEXT_LABEL,
                "middle",
                bold=True,
                layer="text",
                ref="pack",
            )
        )
    high = min(found, key=lambda one: one.pack)
    ring = Circle((high.x, high.z), 4.2 * scale, "wide", layer="text", ref="high spot")
    dots = [Circle((x, z), 0.7 * scale, "medium", layer="survey", ref="reading") for x, z, _ in _read(wall)]
    still = [*still, *dots, ring]
    labels += [
        *_given(wall, labels, still, scale),
        *_figures(wall, [(one.x, one.z) for one in found], scale),
    ]
    marks = grounded(still, settle(labels, scale, about(wall.face.box, scale), lines=dots), scale)
    return Drawing("pack_out", "Pack-out map", scale, marks, extent_of(marks, scale))


ALONE = 1.2
"""Paper mm between a reading and any packing: the two must not be read as one figure."""


def _read(wall: Wall) -> tuple[relief.Reading, ...]:
    """The readings that were taken: none where only the lean is known."""
    return readings(wall) if wall.job.survey.wall.relief else ()


def _given(wall: Wall, packs: Sequence[Mark], still: Sequence[Mark], scale: float) -> list[Mark]:
    """Each reading beside its circle: where no packing is near and no line runs, or at least where no packing is near."""
    near = Taken(scale, (text_box(one, scale).grown(ALONE * scale) for one in packs if isinstance(one, Text)))
    drawn = Taken(scale, strokes(still, scale))
    out: list[Mark] = []
    for x, z, value in _read(wall):
        ways = [
            Text((x + dx * scale, z + dz * scale), f"{value:+g}", TEXT_SMALL, anchor, layer="text", ref="reading")
            for dx, dz, anchor in _ROUND
        ]  # fmt: skip
        boxes = [text_box(one, scale).grown(0.2 * scale) for one in ways]
        apart = [i for i, box in enumerate(boxes) if near.free(box)] or [0]
        best = next((i for i in apart if drawn.free(boxes[i])), apart[0])
        near.add(boxes[best])
        out.append(ways[best])
    return out


_ROUND: tuple[tuple[float, float, Literal["start", "middle", "end"]], ...] = (
    (0.0, 2.4, "middle"),
    (0.0, -2.4 - TEXT_SMALL, "middle"),
    (1.6, -TEXT_SMALL / 2, "start"),
    (-1.6, -TEXT_SMALL / 2, "end"),
    (1.6, 1.0, "start"),
    (1.6, -1.0 - TEXT_SMALL, "start"),
    (-1.6, 1.0, "end"),
    (-1.6, -1.0 - TEXT_SMALL, "end"),
)
"""Where a reading may stand, from its circle's middle [paper mm]."""


def _figures(wall: Wall, places: Sequence[tuple[float, float]], scale: float) -> list[Mark]:
    """A chain from the left corner to the zones' edges; running heights from FFL to the battens' middles: rows of zones crowd."""
    rows = sorted({round(z, 1) for _, z in places})
    edges = [e for zone in wall.setout.zones for e in (zone.box.x, zone.box.right)]
    return [
        *chains([0.0, *edges, wall.face.width], "x", 0.0, -ROW),
        *running(
            ((z, z) for z in (0.0, *rows, wall.face.height)), "z", 0.0, -REACH, scale, "rows", ringed=False
        ),
    ]


def _beside(wall: Wall) -> list[Block]:
    found = relief.packing(readings(wall), crossings(wall))
    high = min(found, key=lambda one: one.pack)
    most = max(found, key=lambda one: one.pack)
    surveyed = wall.job.survey.wall
    notes = [
        f"High spot (ring): x {show_mm(high.x)}, z {show_mm(high.z)}: the battens touch the wall here, packing 0.",
        f"Most packing: {show_mm(most.pack)} at x {show_mm(most.x)}, z {show_mm(most.z)}.",
        "Heights at the left: above FFL, of the battens' middles.",
        "Plane of the battens' faces: plumb. Begin at the high spot, set the ends by it, then the rest with a straight edge.",
    ]
    if most.pack > wall.limits.value("carcass.packing_most"):
        notes.append(
            f"MORE THAN {wall.limits.value('carcass.packing_most'):g} mm OF PACKING: ask the designer; float the wall or use brackets there."
        )
    if surveyed.relief:
        notes.append("Small circles with a sign: the readings, towards the room positive.")
    else:
        notes.append(
            f"The wall's relief was not read: figures are of its lean alone ({surveyed.out_of_plumb.mm:g} over its height). Read it at the "
            "crossings with a plumb line or laser before packing, and write what you find beside the figures."
        )
    legend = Legend(
        (
            ("pen:thin", "batten"), ("pen:wide", "cleat or fixing strip"), ("pen:dashed", "panel to come"),
        )
    )  # fmt: skip
    blocks: list[Block] = [Notes("Packing, mm", tuple(notes)), legend]
    if surveyed.relief:
        blocks.append(flatness_table(wall))
    return blocks


def flatness_table(wall: Wall) -> Table:
    """How flat the wall is, the worst places first, against DIN 18202."""
    found = relief.flatness(readings(wall), wall.limits)[:5]
    rows = tuple(
        (
            f"x {show_mm(one.at[0])}, z {show_mm(one.at[1])}", show_mm(one.base), show_mm(one.gap, 1),
            show_mm(one.usual, 1), show_mm(one.strict, 1),
            "stricter" if one.gap <= one.strict else "usual" if one.gap <= one.usual else "NOT FLAT",
        )
        for one in found
    )  # fmt: skip
    cols = (
        Column("Middle"), Column("Edge"), Column("Gap", "", 0, "right"), Column("Line 6", "", 0, "right"),
        Column("Line 7", "", 0, "right"), Column("Keeps"),
    )  # fmt: skip
    return Table(
        "flatness",
        "Flatness, DIN 18202 table 3",
        cols,
        rows,
        ("Gap under a straight edge between three readings; worst first.",),
    )
