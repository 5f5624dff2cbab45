"""The services elevation: the bare wall with boxes, runs and feeds, where outlets may sit and where nobody may drill."""

from __future__ import annotations

from typing import TYPE_CHECKING

from wallwright.core.drawing import Dim, Drawing, Mark, SymbolKind
from wallwright.core.units import show_mm
from wallwright.job.face import obstacle_box
from wallwright.services.existing import ACCESSORIES
from wallwright.services.runs import Reason, reason_for_trunking
from wallwright.sheets import close_up
from wallwright.sheets.beside import Block, Legend, Notes
from wallwright.sheets.chains import chain, chains
from wallwright.sheets.figures import DATUM, ROW, bare_wall
from wallwright.sheets.grounds import grounded
from wallwright.sheets.ink import extent_of
from wallwright.sheets.long_table import beside_and_after
from wallwright.sheets.paper import Fields, Sheet, raised
from wallwright.sheets.place import settle
from wallwright.sheets.point_table import point_table
from wallwright.sheets.room import about, layout
from wallwright.sheets.services_marks import (
    CROWDED,
    SIGN,
    SIGN_WORDS,
    box_marks,
    come_in_marks,
    in_labels,
    incoming,
    obstacle_marks,
    outline_labels,
    outlines,
    region_marks,
    run_labels,
    run_lines,
    signs,
    strip_labels,
    taken_over,
    zone_marks,
)
from wallwright.sheets.words import obstacle_words

if TYPE_CHECKING:
    from wallwright.derive import Wall
    from wallwright.services.record import ServicePoint

__all__ = ["CAUTIONS", "drawing", "incoming", "sheets", "zone_marks"]


def drawing(wall: Wall, scale: float) -> Drawing:
    """The services elevation at 1:`scale`: no furniture shading, outlines of what will stand there in thin dashes."""
    still = (
        *zone_marks(wall),
        *region_marks(wall),
        *bare_wall(wall, scale),
        *outlines(wall),
        *obstacle_marks(wall),
        *run_lines(wall),
        *come_in_marks(wall, scale),
        *box_marks(wall),
    )
    labels = (
        *signs(wall),
        *in_labels(wall, scale),
        *run_labels(wall, scale),
        *strip_labels(wall, scale),
        *outline_labels(wall, scale),
        *_dimensions(wall),
    )
    boxes = [point.box for point in wall.services.points]
    settled = settle(labels, scale, about(wall.face.box, scale), boxes, lines=still, patience=CROWDED)
    marks = grounded(still, settled, scale)
    return Drawing("services", "Services elevation", scale, marks, extent_of(marks, scale))


def sheets(wall: Wall) -> tuple[Sheet, ...]:
    """The services elevation on its sheet, with the point schedule beside it or on the next one."""
    on = layout(wall.face.width, wall.face.height, alone=True)
    view, rooms = raised(drawing(wall, on.scale), on.view, on.beside)
    first = Sheet(
        "services", "Services elevation, bare wall", "Electrical", (view,), (), Fields.of(wall.job), CAUTIONS,
        job_title=wall.job.title,
    )  # fmt: skip
    return *beside_and_after(first, _beside(wall), rooms), *close_up.sheets(wall, CAUTIONS)


CAUTIONS = (
    "Design aid: to be checked, sized, installed and tested by the locally licensed electrician, to the local code.",
    "Isolate, lock off and prove dead. Detect cables and pipes before any hole. Shuttered outlets where children reach.",
    "Chasing: dust extraction and a mask; never chase beams, columns, lintels. Photograph runs with a tape before closing.",
)


def _dimensions(wall: Wall) -> list[Mark]:
    """From the left corner and from FFL to box centres: one chain for the screen's points, one for the cabinet's."""
    face = wall.face.box
    high, low = _split(wall)
    marks: list[Dim] = []
    there = [obstacle_box(thing).centre for thing in wall.face.obstacles if thing.kind in ACCESSORIES]
    come = [at for _, at in incoming(wall)]
    edge = wall.sight.screen.frame.z
    over, under = [x for x, z in (*there, *come) if z >= edge], [x for x, z in (*there, *come) if z < edge]
    inside = [x for x in over if 0 < x < face.width], [x for x in under if 0 < x < face.width]
    marks += chain([0.0, *(p.x for p in high), *inside[0], face.width], "x", face.height, ROW, "points above")
    marks += chains([0.0, *(p.x for p in low), *inside[1], face.width], "x", 0.0, -ROW, ref="points below")
    marks += chains([0.0, *(p.z for p in wall.services.points), face.height], "z", 0.0, -ROW, ref="points up")
    plate = wall.sight.screen.plate
    right = [plate.z, plate.centre[1], plate.top, *(z for _, z in (*there, *come) if 0 < z < face.height)]
    marks += chain([0.0, *right, face.height], "z", face.right, ROW, "plate up")
    return list(marks)


def _split(wall: Wall) -> tuple[list[ServicePoint], list[ServicePoint]]:
    """Points from the screen's lower edge up, and those below it: their chains stand above and below the wall."""
    edge = wall.sight.screen.frame.z
    points = wall.services.points
    return [p for p in points if p.z >= edge], [p for p in points if p.z < edge]


def _beside(wall: Wall) -> list[Block]:
    kinds: list[SymbolKind] = list(
        dict.fromkeys(SIGN.get(point.kind, "socket") for point in wall.services.points)
    )
    rows = [(f"sign:{kind}", SIGN_WORDS[kind]) for kind in kinds]
    rows += [
        ("hatch:allowed", "an outlet's box centre may sit here"),
        *_later_row(wall),
        ("hatch:no_drill", "a cable may lie here: do not drill"),
        ("hatch:hidden", "the same, and only a hidden box tells of it"),
        ("pen:dashed", "conduit or trunking, by its name size [mm]"),
        ("pen:chain", f"{'LED strip; ' if wall.light.runs else ''}datum FFL {DATUM:+.0f}"),
        ("pen:phantom", "screen and units to come"),
    ]
    return [Legend(tuple(rows)), Notes("Notes", _notes(wall)), point_table(wall)]


def _later_row(wall: Wall) -> list[tuple[str, str]]:
    """What the crossed part of the outlets' region means, where there is one."""
    growth = wall.limits.value("services.next_plate_growth")
    words = f"crossed so: also behind a plate {growth:.0f} mm wider and higher"
    return [("hatch:later", words)] if wall.services.region_later else []


_NOTES = (
    "Heights are from FFL to the CENTRE of the box, x from the left corner to the centre of the box.",
    "Keep the draw wire in every conduit; no elbows, swept bends only.",
)
_FATES = {
    "keep": "stays where it is and feeds nothing of this wall",
    "move": "is moved: agree its new place before first fix",
    "remove": "comes out: blank it off or make good",
    "new": "comes new, by others",
}
_HIDDEN = "Only hidden boxes tell of {refs}: lay {them} {depth:.0f} mm deep or under earthed steel{trip}."
_SURFACE: dict[Reason, str] = {
    "concrete": "Structural concrete is not chased",
    "rented": "Nothing is cut into a rented wall",
    "leaf": "The leaf bears no such chase",
    "chosen": "As chosen, nothing is cut into the wall",
}
_BEHIND = (
    "Only hidden boxes tell of {refs}, behind a panel: under earthed steel, or in earthed metal conduit."
)


def _notes(wall: Wall) -> tuple[str, ...]:
    """The notes of the sheet, with the runs that need cover, and those on the surface."""
    out: list[str] = [*_NOTES]
    depth = wall.limits.value("services.zone_depth")
    amps = wall.limits.value(f"circuits.{wall.job.survey.place.rules.lower()}_trip")
    trip = f", with {amps:g} mA protection" if amps else ""
    runs = wall.services.runs
    shown = [run.ref for run in runs if run.on_surface > 0]
    for said, refs in (
        (_HIDDEN, [run.ref for run in runs if run.protect and run.in_wall > 0]),
        (_BEHIND, [run.ref for run in runs if run.protect and not run.in_wall > 0]),
    ):
        if refs:
            them = "them" if len(refs) > 1 else "it"
            out.append(said.format(refs=", ".join(refs), them=them, depth=depth, trip=trip))
    if shown:
        them, lie = ("them", "lie") if len(shown) > 1 else ("it", "lies")
        part = (
            "where the chase would be too deep"
            if wall.services.lay == "mixed"
            else f"where no panel covers {them}"
        )
        out.append(
            f"{_SURFACE[reason_for_trunking(wall.job)]}: {', '.join(shown)} {lie} on the surface in trunking {part}; "
            "boxes there are surface boxes."
        )
    out += _existing_notes(wall)
    if wall.structure.fixings:
        out.append(
            "Dots and dashes: do not drill. Fixings that stand in them are on the sheet Wall fixings, with what must be proved first."
        )
    return tuple(out)


def _existing_notes(wall: Wall) -> list[str]:
    """What becomes of each outlet that is there already, and what that means for whoever drills."""
    out: list[str] = []
    for thing in wall.job.survey.obstacles:
        if thing.kind in ACCESSORIES:
            x, z = obstacle_box(thing).centre
            fate = _FATES[thing.state]
            used = taken_over(thing, wall)
            if used and thing.state == "keep":
                fate = f"is taken over by {', '.join(used)}"
            cable = (
                "its cable is traced and dead"
                if thing.dead
                else "its cable is live and taken to run straight up and down until it is traced"
            )
            out.append(
                f"{thing.ref} {obstacle_words(thing.kind)} at x {show_mm(x)}, z {show_mm(z)}: {fate}; {cable}."
            )
    return out
