"""For whoever hangs the screen: where plate and boxes are, how far it tilts and turns, what it weighs, and which cables it takes."""

from __future__ import annotations

from collections.abc import Callable
from math import ceil
from typing import TYPE_CHECKING

from wallwright.core.drawing import (
    TEXT_LABEL,
    Drawing,
    Hatch,
    Leader,
    Line,
    Mark,
    Symbol,
    SymbolKind,
    Text,
    rectangle,
)
from wallwright.core.shape import Box
from wallwright.core.table import Cell, Column, Table
from wallwright.core.units import show_mm
from wallwright.rules.screen_room import reach as arm_reach
from wallwright.rules.screen_room import turning
from wallwright.sheets import detail
from wallwright.sheets.beside import Block, Legend, Notes, column
from wallwright.sheets.chains import chain, chains
from wallwright.sheets.figures import DATUM, ROW
from wallwright.sheets.fixings import hole_words
from wallwright.sheets.grounds import grounded
from wallwright.sheets.ink import extent, extent_of
from wallwright.sheets.paper import SCALES, Fields, Sheet, View, centred
from wallwright.sheets.place import settle
from wallwright.sheets.room import FULL
from wallwright.sheets.room_plan import screen_outline
from wallwright.sheets.services_marks import SIGN, SIGN_WORDS
from wallwright.tables.screen_room import carton_route

if TYPE_CHECKING:
    from wallwright.derive import Wall
    from wallwright.services.plugs import Plug
    from wallwright.services.record import ServicePoint

SIDE = 150.0  # paper mm for the words
PLAN = 66.0  # paper mm for plan and build-up below the elevation
CAUTIONS = (
    "Two people lift the screen, or a lift does; never by its glass. Prove the fixings by a pull test before it is hung.",
    "Isolate and prove dead before reaching behind it; detect cables before any hole. No load on the cables, no cord in the wall.",
)
BEHIND = "behind_screen"


def sheets(wall: Wall) -> tuple[Sheet, ...]:
    """The page; every wall has a screen."""
    return (sheet(wall),)


def sheet(wall: Wall) -> Sheet:
    """Elevation, plan and build-up at the left; figures, cables and the way in at the right."""
    left = Box(FULL.x, FULL.z + PLAN, FULL.width - SIDE, FULL.height - PLAN)
    views = [
        _largest(lambda s: drawing(wall, s), left),
        _largest(lambda s: plan(wall, s), Box(left.x, FULL.z, left.width * 0.56, PLAN)),
    ]
    corner = Box(left.x + left.width * 0.56, FULL.z, left.width * 0.44, PLAN)
    build_up = detail.drawing(wall)
    size = extent(build_up)
    if size.width / detail.SCALE <= corner.width and size.height / detail.SCALE <= corner.height:
        views.append(centred(build_up, corner))
    side = Box(left.right + 2, FULL.z, SIDE - 6, FULL.height)
    route = carton_route(wall)
    blocks: list[Block] = [
        _facts(wall),
        _cables(wall),
        *([route] if route.rows else []),
        _legend(wall),
        _notes(wall),
    ]
    return Sheet(
        "screen_fitter", "Screen fitter's page", "Setting-out", tuple(views), column(blocks, (side,)), Fields.of(wall.job),
        CAUTIONS, job_title=wall.job.title,
    )  # fmt: skip


def _largest(made: Callable[[float], Drawing], room: Box) -> View:
    """The drawing at the largest scale of ISO 5455 at which it goes in with all that is written on it."""
    drawing = made(float(SCALES[-1]))
    for scale in SCALES[2:]:
        drawing = made(float(scale))
        size = extent(drawing)
        if size.width / scale <= room.width - 2 and size.height / scale <= room.height - 2:
            break
    return centred(drawing, room)


def points(wall: Wall) -> tuple[ServicePoint, ...]:
    """The boxes behind the screen."""
    return tuple(point for point in wall.services.points if point.zone == BEHIND)


def drawing(wall: Wall, scale: float) -> Drawing:
    """Frame, plate, its holes and the boxes from the room, measured from the screen's middle, and that from corner and floor."""
    screen = wall.sight.screen
    frame, plate, (x, z) = screen.frame, screen.plate, screen.centre
    arm = 4.0 * scale
    still: list[Mark] = [
        Line(frame.corners, "phantom", closed=True, layer="screen", ref="screen"),
        rectangle(plate, "medium", fill="#fff", layer="screen", ref="plate"),
        Line(((x - arm, z), (x + arm, z)), "chain", layer="screen"),
        Line(((x, z - arm), (x, z + arm)), "chain", layer="screen"),
    ]
    labels: list[Mark] = []
    for check in wall.structure.fixings:
        if check.ref == "screen":
            labels += [Symbol("anchor", hole, layer="fixings", ref="screen") for hole in check.holes]
    for point in points(wall):
        still.append(rectangle(point.box, "medium", fill="#fff", layer="points", ref=point.ref))
        labels.append(
            Symbol(
                SIGN.get(point.kind, "socket"), (point.x, point.z), point.ref, layer="points", ref=point.ref
            )
        )
    across = [frame.x, plate.x, x, plate.right, frame.right]
    up = [frame.z, plate.z, z, plate.top, frame.top]
    labels += chains(across, "x", frame.z, -ROW, ref="frame and plate")
    labels += chains(up, "z", frame.x, -ROW, ref="frame and plate up")
    boxes = points(wall)
    labels += (
        chain([frame.x, *(point.x for point in boxes), x, frame.right], "x", frame.top, ROW, "boxes")
        if boxes
        else []
    )
    labels += (
        chain([frame.z, *(point.z for point in boxes), frame.top], "z", frame.right, ROW, "boxes up")
        if boxes
        else []
    )
    labels.append(
        Leader(((x, z), (x + 14 * scale, z - 11 * scale)), f"screen mid x {show_mm(x)}, {show_mm(z)} above FFL", layer="text", ref="screen")
    )  # fmt: skip
    marks = grounded(still, settle(labels, scale, lines=still), scale)
    return Drawing("screen", "Screen, plate and boxes", scale, marks, extent_of(marks, scale))


def plan(wall: Wall, scale: float) -> Drawing:
    """From above at the screen's height: the wall, what lies on it, the screen as it hangs, and turned as far as it goes."""
    screen = wall.sight.screen
    x = screen.centre[0]
    turned = [angle for angle, _ in turning(wall)]
    cut = (
        not turned and not screen.swivel
    )  # what hangs straight is shown about its plate, cut off at both sides
    half = screen.plate.width / 2 + 130.0 if cut else screen.frame.width / 2 + 120.0
    zone = next((one for one in wall.setout.zones if one.box.x <= x < one.box.right), None)
    face = zone.build_up if zone else 0.0
    band = Box(x - half, 0.0, 2 * half, 8.0 * scale)
    still: list[Mark] = [
        Hatch(band.corners, "masonry", layer="hatch", ref="wall"),
        Line(((band.x, 0.0), (band.right, 0.0)), "extra", layer="wall", ref="wall"),
    ]
    if zone is not None:
        on = Box(max(zone.box.x, band.x), -face, 0.0, face)
        on = Box(on.x, on.z, min(zone.box.right, band.right) - on.x, face)
        still.append(rectangle(on, "thin", layer="panels", ref=zone.ref))
    still.append(
        rectangle(Box(x - screen.plate.width / 2, -face - 6.0, screen.plate.width, 6.0), "thin", fill="#444", layer="screen", ref="plate")
    )  # fmt: skip
    for angle in turned:
        still.append(
            Line(
                screen_outline(wall, angle, arm_reach(wall)),
                "dotted",
                closed=True,
                layer="screen",
                ref=f"swivel {angle:g}",
            )
        )
    back = screen.stand_off + screen.pulled
    if cut:
        left, right = max(band.x + 20.0, screen.frame.x), min(band.right - 20.0, screen.frame.right)
        still += [
            Line(((left, y), (right, y)), "wide", layer="screen", ref="screen")
            for y in (-back, -back - screen.depth)
        ]
    else:
        hung = screen_outline(wall, screen.swivel, back)
        still.append(Line(hung, "wide", closed=True, fill="#fff", layer="screen", ref="screen"))
    labels: list[Mark] = [
        Text((band.x, band.top + 4.0 * scale), f"From above 1:{scale:g}", TEXT_LABEL, bold=True, layer="text")
    ]
    if not screen.swivel:
        labels += chains([0.0, -face, -back, -back - screen.depth], "z", band.x, -ROW, ref="depths")
    marks = grounded(still, settle(labels, scale, lines=still), scale)
    return Drawing("screen plan", "Screen from above", scale, marks, extent_of(marks, scale))


def _facts(wall: Wall) -> Table:
    """The figures that the fitter works to."""
    s, mount = wall.sight.screen, wall.job.design.mount
    fixing = next((one for one in wall.structure.fixings if one.ref == "screen"), None)
    rows: list[tuple[Cell, ...]] = [
        ("Screen", f"{s.diagonal:g} in, {show_mm(s.frame.width)} × {show_mm(s.frame.height)} × {show_mm(s.depth)}, {_SOURCE[s.source]}"),
        ("Mass", f"{s.mass:g} kg" + (f"; mount rated {mount.carries:g} kg" if mount.carries else "; check the mount's rating")),
        ("Lift", f"{people(s.mass)} people" if people(s.mass) > 1 else "two people for its size"),
        ("Middle", f"x {show_mm(s.centre[0])}; {show_mm(s.centre[1])} above FFL, {show_mm(s.centre[1] - DATUM)} from the datum line"),
        ("Holes on the screen", f"{show_mm(s.holes.width)} × {show_mm(s.holes.height)}; their middle "
                                f"{_off(s.holes.centre[0] - s.centre[0], s.holes.centre[1] - s.centre[1])}"),
        ("Plate", f"{show_mm(s.plate.width)} × {show_mm(s.plate.height)}, {s.mount} mount"),
        ("Hook drop", f"{show_mm(mount.hook_drop.mm)} below the plate's middle" if mount.hook_drop else "not entered: measure it on the mount"),
        ("Behind it", f"{show_mm(s.stand_off)} from the wall to its back"),
        ("Tilt", f"{s.tilt:g}° forward" if s.tilt else "none"),
    ]  # fmt: skip
    if s.mount == "arm":
        most = f"{mount.swivel_most:g}° either way" if mount.swivel_most else "as the maker says"
        rows.append(("Swivel", f"{s.swivel:g}°, to {most}; pulls out to {show_mm(arm_reach(wall))}"))
    if fixing:
        rows.append(("Fixings", f"{fixing.count} × {fixing.anchor}, {hole_words(fixing)}"))
    return Table("screen_facts", "Screen and mount", (Column("What"), Column("Figure")), tuple(rows))


_SOURCE = {
    "typical": "a usual size: measure yours", "maker_drawing": "by the maker's drawing", "shop_page": "by a shop's page: measure it",
    "measured": "as measured",
}  # fmt: skip


def _off(dx: float, dz: float) -> str:
    """How far the hole group's middle lies from the screen's, in words."""
    parts = [
        f"{show_mm(abs(d))} {more if d > 0 else less}"
        for d, more, less in ((dx, "right", "left"), (dz, "above", "below"))
        if abs(d) >= 0.5
    ]
    return f"{', '.join(parts)} of the screen's" if parts else "on the screen's"


_ONE, _TWO, _THREE = 25.0, 2 / 3, 1 / 2
"""kg one man lifts close to him at knuckle height, and the share of the sum that two and three keep (guidance on team lifting)."""


def people(mass: float) -> int:
    """How many lift that mass [kg]: one to 25 kg, two to 33, three to 37.5, then a lift and never fewer than four."""
    if mass <= _ONE:
        return 1
    if mass <= 2 * _ONE * _TWO:
        return 2
    return 3 if mass <= 3 * _ONE * _THREE else max(4, ceil(mass / (_ONE * _THREE)))


def cables(wall: Wall) -> tuple[Plug, ...]:
    """Every cable with an end at the screen, by number."""
    return tuple(plug for plug in wall.services.plugs if "screen" in (plug.start.lower(), plug.end.lower()))


def _cables(wall: Wall) -> Block:
    found = cables(wall)
    if not found:
        return Notes("Cables", ("No cable of the job ends at the screen.",))
    rows = tuple((p.ref, p.words, p.end if p.start.lower() == "screen" else p.start,
                  p.start_port if p.start.lower() == "screen" else p.end_port, f"{p.bought / 1000:.1f}") for p in found)  # fmt: skip
    cols = (
        Column("No"),
        Column("Cable"),
        Column("Other end"),
        Column("At the screen"),
        Column("Buy m", "", 0, "right"),
    )
    return Table("screen_cables", "Cables at the screen", cols, rows)


def _legend(wall: Wall) -> Legend:
    kinds: list[SymbolKind] = list(dict.fromkeys(SIGN.get(point.kind, "socket") for point in points(wall)))
    rows = [(f"sign:{kind}", SIGN_WORDS[kind]) for kind in kinds]
    rows += [
        ("sign:anchor", "fixing of the plate"),
        ("pen:phantom", "frame of the screen"),
        ("pen:medium", "plate; box in the wall"),
    ]
    if turning(wall):
        rows.append(("pen:dotted", "turned as far as the arm goes"))
    return Legend(tuple(rows))


def _notes(wall: Wall) -> Notes:
    share = wall.sight.screen
    return Notes(
        "Hanging",
        (
            "Check before the plate is drilled: the middle on the wall against this sheet, twice, from FFL and from the corner.",
            "Level within 1 mm a metre, height within 5 mm. Label both ends of every cable with its number.",
            "Cables: slack for the furthest pull-out and tilt, no sharp bend, power apart from signals.",
            *(["Without a screen drawing from the maker the frame is a typical one: measure the screen first."] if share.source == "typical" else []),
            "Screen stays covered until the room is clean; then test picture, sound, network and remote from each seat.",
        ),
    )  # fmt: skip
