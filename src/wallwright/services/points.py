"""Which points the wall has and where: behind the screen, in the cabinet where the boxes stand, and for each run of light.

Positions are the middle of the box, from the left corner and from FFL. Everything here is a design aid, to be checked, sized,
installed and tested by the locally licensed electrician.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Mapping, Sequence
from typing import TYPE_CHECKING

from wallwright.core.limit import Limits
from wallwright.core.shape import Box, Outline, cut_out, outline_area
from wallwright.core.why import Given, Why
from wallwright.job.document import Job
from wallwright.job.face import Face
from wallwright.library import load
from wallwright.services import hidden
from wallwright.services.board import MAINS, OUTLETS, Board
from wallwright.services.cabinet import Inside, fill, inside, no_room
from wallwright.services.feeds import for_the_lights
from wallwright.services.record import PlacedDevice, ServicePoint
from wallwright.services.region import Behind, centre_region, least_offset, nearest, openings, whole
from wallwright.services.runs import boxes_on_surface

if TYPE_CHECKING:
    from wallwright.carcass.bays import Cell
    from wallwright.carcass.record import SetOut
    from wallwright.light.record import LightRun
    from wallwright.sight.record import Screen


def plan_points(  # noqa: PLR0913
    job: Job, face: Face, screen: Screen, setout: SetOut, devices: Sequence[PlacedDevice], limits: Limits,
    cells: Mapping[str, Sequence[Cell]], strips: Sequence[LightRun],
) -> tuple[tuple[ServicePoint, ...], Behind, tuple[Outline, ...], tuple[Why, ...]]:  # fmt: skip
    """All points, what is behind the screen, where the middle of a twin socket may lie there, and the working.

    Points that the designer placed are kept as given; each counts for one of its kind in its zone.
    """
    # a recessed box is let into the wall: where nothing is cut there is none
    slim = screen.stand_off < limits.value("services.plug_and_bend") and not boxes_on_surface(job)
    board = Board(limits, screen.frame, setout.units, slim)
    kept = hidden.of_wall(job, face, limits)
    obstacles = hidden.boxes(kept)
    for index, point in enumerate(job.design.points):
        if any(other.ref == point.ref for other in board.points):
            raise ValueError(f"design.points.{index}.ref: {point.ref!r} is there twice")
        zone = board.zone_of(point.x.mm, point.z.mm)
        board.add(
            point.kind,
            (point.x.mm, point.z.mm),
            zone,
            point.note or "placed by the designer",
            pinned=True,
            ref=point.ref,
        )
    within = inside(job, setout, screen, devices, cells, strips, limits)
    behind = behind_of(job, screen, kept, limits)
    region = behind.region(board.size("twin_socket"))
    _behind_the_screen(board, screen, behind, devices, within)
    board.whys.append(_region_why(board, screen, behind, region))
    _at_the_bar(board, screen, devices, obstacles)
    _at_the_openings(board, devices, face, obstacles)
    fill(board, within, obstacles, near=True)
    for_the_lights(board, setout, face, strips, within, obstacles)
    fill(board, within, obstacles, near=False)
    return tuple(board.points), behind, region, tuple(board.whys)


def behind_of(job: Job, screen: Screen, kept: Sequence[hidden.KeepOut], limits: Limits) -> Behind:
    """What is behind the screen: hidden at every tilt and swivel of its mount, less all that keeps boxes out. kept : of the wall."""
    play = hidden.play_of(job, screen, limits)
    return Behind(
        hidden.hidden_outline(screen.frame, screen.depth, play),
        hidden_margin(screen, limits),
        screen.plate,
        limits.value("services.plate_clear"),
        (*hidden.of_screen(job, screen, play, limits), *kept),
    )


def hidden_margin(screen: Screen, limits: Limits) -> float:
    """How far inside the frame a box lies [mm]: further where the screen tilts or pulls out."""
    return limits.value(
        "services.hidden_margin" if screen.mount == "fixed" else "services.hidden_margin_tilt"
    )


def next_plate(screen: Screen, limits: Limits) -> Box:
    """The next larger plate, about the same middle."""
    return screen.plate.grown(limits.value("services.next_plate_growth") / 2)


# --- behind the screen ------------------------------------------------------------------------------------------------


def _behind_the_screen(
    board: Board, screen: Screen, behind: Behind, devices: Sequence[PlacedDevice], within: Inside
) -> None:
    """Sockets to the left of the plate, data, aerial and conduit to its right, at the height of the screen's middle."""
    limits = board.limits
    at_screen = [device for device in devices if device.place == "screen" and device.kind != "soundbar"]
    library = load.devices()
    needs = 1 + sum(library[device.kind].sockets for device in at_screen)
    here = [point for point in board.points if point.zone == "behind_screen"]
    outlets = sum(OUTLETS.get(point.kind, 0) for point in here)
    wanted = max(math.ceil(needs / 2), round(limits.value("services.screen_twins")))
    counts = {"twin_socket": max(0, math.ceil(wanted - outlets / 2))}
    for kind, name in (("data", "screen_data"), ("rf", "screen_rf"), ("conduit", "screen_conduits")):
        there = sum(point.kind == kind for point in here)
        counts[kind] = max(0, round(limits.value(f"services.{name}")) - there)
    frame = behind.inner or Box(*screen.centre, 0.0, 0.0)
    for kind, count in counts.items():
        for _ in range(count):
            serves = (
                ["screen", *(device.ref for device in at_screen)] if kind == "twin_socket" else ["screen"]
            )
            over = within.spaces[within.main].best if within.main in within.spaces else ()
            _hide(board, screen, kind, serves, (behind, frame), over if kind == "conduit" else ())


def _at_the_bar(board: Board, screen: Screen, devices: Sequence[PlacedDevice], obstacles: list[Box]) -> None:
    """A socket of its own behind a sound bar that is fixed under the screen, at the bar's height: a short cord stays hidden."""
    for bar in devices:
        if bar.kind != "soundbar" or bar.place != "screen":
            continue
        drop = board.limits.value("services.soundbar_drop")
        size, frame = board.size("socket"), screen.frame
        z = frame.z - drop - bar.height / 2
        field = Box(frame.centre[0] - bar.width / 2, z - size[1] / 2, bar.width, size[1])
        keep_out = (*obstacles, *board.taken_from("socket"))
        near = nearest(centre_region((field.grown(0.01),), size, keep_out), (frame.centre[0], z), -1)
        if near is None:
            board.whys.append(no_room("socket", "wall", 0, (Given("height of the bar", z, "mm"),)))
            continue
        board.add(
            "socket", whole((Box(near[0], near[1], 0, 0),), near), board.zone_of(*near),
            "socket behind the sound bar, at its height", serves=[bar.ref],
            working=("screen's lower edge - gap - half the bar", (Given("gap", drop, "mm"), Given("bar", bar.height, "mm"))),
        )  # fmt: skip


def _at_the_openings(board: Board, devices: Sequence[PlacedDevice], face: Face, obstacles: list[Box]) -> None:
    """A switched spur beside what is let into the wall, off what its maker keeps clear: it is isolated without reaching past heat."""
    size = board.size("switched_spur")
    for device in devices:
        if device.opening is None or device.clear is None:
            continue
        clear, opening = device.clear, device.opening
        wide = 4 * size[0]
        sides = [
            Box(x, opening.z, wide, opening.height).shared(face.box) for x in (clear.right, clear.x - wide)
        ]
        taken = (*obstacles, *board.taken_from("switched_spur"), *(unit.box for unit in board.units))
        spots = [
            nearest(centre_region((field,), size, taken), (clear.right, opening.centre[1]), 1)
            for field in sides
            if field is not None
        ]
        spot = next((at for at in spots if at is not None), None)
        if spot is None:
            board.whys.append(no_room("switched_spur", "wall", 0, (Given("opening", opening.width, "mm"),)))
            continue
        board.add(
            "switched_spur", spot, board.zone_of(*spot), f"switched spur beside {device.ref}, off what is kept clear of it",
            serves=[device.ref], working=("beside the opening, past its clearance", (Given("clear", clear.right - opening.right, "mm"),)),
        )  # fmt: skip


def _hide(  # noqa: PLR0913
    board: Board,
    screen: Screen,
    kind: str,
    serves: Iterable[str],
    hidden_in: tuple[Behind, Box],
    over: Sequence[Box] = (),
) -> None:
    """One box behind the screen: beside the next larger plate if it can, else beside this one, else beside it in view.

    over : fields below that the box should stand plumb over, so that its run drops straight
    """
    behind, frame = hidden_in
    margin, clear = behind.margin, behind.clear
    size, obstacles = board.size(kind), hidden.boxes(behind.kept)
    cx, cz = screen.plate.centre[0], screen.centre[1] + board.limits.value("services.behind_screen_rise")
    side = -1 if kind in MAINS else 1
    taken = board.taken_from(kind)
    larger = next_plate(screen, board.limits)
    wall = screen.frame.grown(2 * screen.frame.width)
    row = "at the height of the screen's middle, moved sideways"
    tries = (
        *_plumb(frame, larger, clear, over, "clear of this plate and of the next larger one"),
        *_plumb(frame, screen.plate, clear, over, "clear of this plate, but not of the next larger one"),
        (larger, frame, f"{row} clear of this plate and of the next larger one", cx),
        (screen.plate, frame, f"{row} clear of this plate, but not of the next larger one", cx),
        (screen.plate, wall, f"{row} in view: no place behind the screen is free for it", cx),
    )
    spot, plate, says = (cx, cz), screen.plate, f"{row} but nothing near the screen is free for it"
    for around, field, words, x in tries:
        region = centre_region((field,), size, (around.grown(clear), *obstacles, *taken))
        near = nearest(region, (x, cz), side)
        if near is not None:
            spot, plate, says = whole(region, near), around, words
            break
    inputs = (
        Given("middle of the screen", screen.centre[1], "mm"),
        Given("middle of the plate", cx, "mm"),
        Given("plate kept clear of", plate.width, "mm"),
        Given("clearance", clear, "mm"),
        Given("box", size[0], "mm"),
        Given("least offset from the plate's middle", least_offset(plate.width, clear, size[0]), "mm"),
        Given("inside the frame by", margin, "mm"),
    )
    name = kind.replace("_", " ")
    board.add(
        kind,
        spot,
        "behind_screen",
        f"{name} {says}",
        serves=serves,
        working=(
            "plate / 2 + clearance + box / 2 from the plate's middle, or further past the boxes set before",
            inputs,
        ),
    )


def _plumb(
    frame: Box, plate: Box, clear: float, over: Sequence[Box], words: str
) -> list[tuple[Box, Box, str, float]]:
    """Tries straight above the fields below: beside the plate first, on the right, then under it; never above it.

    Each is the plate, the field, what is said of it, and the x wanted.
    """
    shut = plate.grown(clear)
    tall = Box(shut.x, shut.z, shut.width, max(frame.top - shut.z, 0.0) + 1.0)
    tries: list[tuple[Box, Box, str, float]] = []
    for field in over:
        column = Box(field.x, frame.z, field.width, frame.height).shared(frame)
        for part in cut_out((column,), tall) if column else ():
            under = part.top <= shut.z
            where = f"straight over its end below, {'under' if under else 'beside'} the plate, {words}"
            tries.append((plate, part, where, part.right if under else plate.centre[0]))
    return sorted(tries, key=lambda item: -item[1].x)


def _region_why(board: Board, screen: Screen, behind: Behind, region: tuple[Outline, ...]) -> Why:
    twin, single = board.size("twin_socket"), board.size("socket")[0]
    inputs = (
        Given("hidden at every tilt and swivel", outline_area(behind.hidden) / 100.0, "cm²"),
        Given("inside that by", behind.margin, "mm"),
        Given("plate width", screen.plate.width, "mm"),
        Given("plate height", screen.plate.height, "mm"),
        Given("clear of the plate by", behind.clear, "mm"),
        *(Given("clear of", one.what) for one in behind.kept if one.box.meets(screen.frame)),
    )
    if region:
        says = f"the middle of a twin socket may lie in {len(region)} fields behind the screen"
    else:
        drop = screen.holes.centre[1] - screen.plate.centre[1]
        found = openings(behind, twin, single, screen.centre, -drop, board.limits)
        says = "no place for a twin socket behind the screen: " + (
            " or ".join(item.says for item in found[:2]) if found else "the screen is too small for one"
        )
    return Why(
        "services.region", sum(outline_area(piece) for piece in region) / 100.0, "cm²", says,
        "what the screen hides at every tilt and swivel, less margin, plate with clearance, arms, ports, studs and what is there",
        inputs, "plane geometry", "computed",
    )  # fmt: skip
