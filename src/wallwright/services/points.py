"""Which points the wall has and where: behind the screen, in the cabinet where the boxes stand, and for each run of light.

Positions are the middle of the box, from the left corner and from FFL. Everything here is a design aid, to be checked, sized,
installed and tested by the locally licensed electrician.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Mapping, Sequence
from typing import TYPE_CHECKING

from wallwright.core.limit import Limits
from wallwright.core.shape import Box, cut_out
from wallwright.core.why import Given, Why
from wallwright.job.document import Job
from wallwright.job.face import Face, obstacle_box
from wallwright.library import load
from wallwright.services.board import MAINS, NO_BOX, OUTLETS, Board
from wallwright.services.cabinet import Inside, fill, inside
from wallwright.services.feeds import for_the_lights
from wallwright.services.record import PlacedDevice, ServicePoint
from wallwright.services.region import (
    behind_screen,
    centre_region,
    least_offset,
    nearest,
    smallest_change,
    whole,
)

if TYPE_CHECKING:
    from wallwright.carcass.bays import Cell
    from wallwright.carcass.record import SetOut
    from wallwright.light.record import LightRun
    from wallwright.sight.record import Screen


def plan_points(  # noqa: PLR0913
    job: Job, face: Face, screen: Screen, setout: SetOut, devices: Sequence[PlacedDevice], limits: Limits,
    cells: Mapping[str, Sequence[Cell]], strips: Sequence[LightRun],
) -> tuple[tuple[ServicePoint, ...], tuple[Box, ...], tuple[Why, ...]]:  # fmt: skip
    """All points, the region behind the screen that a twin socket's middle may lie in, and the working.

    Points that the designer placed are kept as given; each counts for one of its kind in its zone.
    """
    slim = screen.stand_off < limits.value("services.plug_and_bend")
    board = Board(limits, screen.frame, setout.units, slim)
    obstacles = [obstacle_box(thing) for thing in face.obstacles if thing.kind in NO_BOX]
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
    region = _behind_the_screen(board, screen, obstacles, devices, within)
    fill(board, within, obstacles, near=True)
    for_the_lights(board, setout, face, strips, within, obstacles)
    fill(board, within, obstacles, near=False)
    return tuple(board.points), region, tuple(board.whys)


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
    board: Board, screen: Screen, obstacles: list[Box], devices: Sequence[PlacedDevice], within: Inside
) -> tuple[Box, ...]:
    """Sockets to the left of the plate, data, aerial and conduit to its right, at the height of the screen's middle."""
    limits = board.limits
    margin, clear = hidden_margin(screen, limits), limits.value("services.plate_clear")
    twin = board.size("twin_socket")
    region = behind_screen(screen.frame, margin, screen.plate, clear, twin, obstacles)
    at_screen = ["screen", *(device.ref for device in devices if device.place == "screen")]
    library = load.devices()
    needs = 1 + sum(library[device.kind].sockets for device in devices if device.place == "screen")
    here = [point for point in board.points if point.zone == "behind_screen"]
    outlets = sum(OUTLETS.get(point.kind, 0) for point in here)
    wanted = max(math.ceil(needs / 2), round(limits.value("services.screen_twins")))
    counts = {"twin_socket": max(0, math.ceil(wanted - outlets / 2))}
    for kind, name in (("data", "screen_data"), ("rf", "screen_rf"), ("conduit", "screen_conduits")):
        there = sum(point.kind == kind for point in here)
        counts[kind] = max(0, round(limits.value(f"services.{name}")) - there)
    for kind, count in counts.items():
        for _ in range(count):
            serves = at_screen if kind == "twin_socket" else ["screen"]
            over = within.spaces[within.main].best if within.main in within.spaces else ()
            _hide(board, screen, kind, serves, (margin, clear), obstacles, over if kind == "conduit" else ())
    board.whys.append(_region_why(board, screen, region, margin, clear, obstacles))
    return region


def _hide(  # noqa: PLR0913
    board: Board,
    screen: Screen,
    kind: str,
    serves: Iterable[str],
    gaps: tuple[float, float],
    obstacles: list[Box],
    over: Sequence[Box] = (),
) -> None:
    """One box behind the screen: beside the next larger plate if it can, else beside this one, else beside it in view.

    over : fields below that the box should stand plumb over, so that its run drops straight
    """
    margin, clear = gaps
    size = board.size(kind)
    cx, cz = screen.plate.centre[0], screen.centre[1] + board.limits.value("services.behind_screen_rise")
    side = -1 if kind in MAINS else 1
    taken = board.taken_from(kind)
    larger = next_plate(screen, board.limits)
    frame = screen.frame.grown(-margin)
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


def _region_why(  # noqa: PLR0913
    board: Board, screen: Screen, region: tuple[Box, ...], margin: float, clear: float, obstacles: list[Box]
) -> Why:
    inputs = (
        Given("frame width", screen.frame.width, "mm"),
        Given("frame height", screen.frame.height, "mm"),
        Given("inside the frame by", margin, "mm"),
        Given("plate width", screen.plate.width, "mm"),
        Given("plate height", screen.plate.height, "mm"),
        Given("clear of the plate by", clear, "mm"),
    )
    area = sum(box.area for box in region) / 100.0
    if region:
        says = f"the middle of a twin socket may lie in {len(region)} fields behind the screen"
    else:
        change = smallest_change(
            screen.frame, margin, screen.plate, clear, board.size("twin_socket"), obstacles
        )
        says = f"no place for a twin socket behind the screen: {change.says}"
    return Why(
        "services.region",
        area,
        "cm²",
        says,
        "frame less margin - plate with clearance - what is there",
        inputs,
        "plane geometry",
        "computed",
    )
