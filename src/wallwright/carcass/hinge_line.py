"""Hinges: the cups along a door or flap, and the plates that meet them on the board it hangs on.

The cup's middle stands a rim and half its width from the door's edge; its two screws lie behind it. The plate's two holes are on the
front row of the 32 mm system, so that each hinge sits half a step off a line of the grid. Common practice.
"""

from __future__ import annotations

from collections.abc import Iterator

from wallwright.carcass import system_32
from wallwright.carcass.bored import Bench, clear_heights, front_depth
from wallwright.carcass.hardware import hinge_count
from wallwright.carcass.record import BayBox, Drawn, Part

CLEAR = 56.0
"""A flap's hinge from the ends of the board it hangs on, clear of the screws in them [mm]."""
TRIES = (0, 1, -1, 2, -2, 3, -3)
"""Steps by which a hinge gives way to a shelf, the nearest first."""


def along(length: float, count: int, end: float) -> list[float]:
    """Where hinges stand along a door's height [mm]: `end` from each end, or a quarter of a low door, and evenly between."""
    first = min(end, length / 4)
    return [first + k * (length - 2 * first) / (count - 1) for k in range(count)]


def doors(bench: Bench, bay: BayBox) -> Iterator[tuple[Drawn, Part]]:
    """The leaves of a bay that turn and can be bored: glass goes by the maker of its hinges, a writing flap by its own."""
    thick = bench.value("cup_deep") + bench.value("skin")
    for mover in bench.movers:
        part = next((part for part in bench.of_role("front") if part.id == mover.ref), None)
        if (
            part is None
            or not mover.ref.startswith(f"{bay.ref}-F")
            or part.board == "glass"
            or part.thickness < thick
        ):
            continue
        if mover.kind == "door" or (mover.kind == "flap" and bench.unit.kind != "desk"):
            yield mover, part


def hinges(bench: Bench, bay: BayBox) -> list[float]:
    """Bores a bay's doors and flaps and the boards they hang on; gives back the heights of the plates on upright boards."""
    heights: list[float] = []
    for mover, part in doors(bench, bay):
        if mover.kind == "flap":
            _flap(bench, bay, mover, part)
        else:
            heights += _door(bench, bay, mover, part)
    return heights


def _door(bench: Bench, bay: BayBox, mover: Drawn, part: Part) -> list[float]:
    side = bench.board(bay, "left" if mover.hand == "left" else "right")
    if side is None:
        return []
    box, left = mover.box, mover.hand == "left"
    count = hinge_count(part.mass, box.height, box.width, bench.limits)
    levels = _on_grid(
        bench, bay, mover, [box.z + at for at in along(box.height, count, bench.value("hinge_end"))]
    )
    edge, behind = bench.value("cup_edge"), bench.value("cup_behind")
    rear = part.block.y + part.block.dy
    inward = 1 if left else -1
    x = (box.x if left else box.right) + inward * edge
    row = side.block.y + front_depth(bench, bay) + bench.value("row_setback")
    skin = bay.box.x if left else bay.box.right
    half, screws = bench.value("plate_holes") / 2, bench.value("cup_screws") / 2
    for z in levels:
        bench.bore(part, (x, rear, z), "-y", bench.value("cup"), bench.value("cup_deep"), "hinge cup")
        for up in (-1, 1):
            at = (x + inward * behind, rear, z + up * screws)
            bench.bore(part, at, "-y", bench.value("pilot"), bench.value("pilot_deep"), "cup screw")
            bench.bore(
                side, (skin, row, z + up * half), "-x" if left else "+x", bench.value("pin_hole"), bench.value("pin_deep"), "hinge plate"
            )  # fmt: skip
    return levels


def _on_grid(bench: Bench, bay: BayBox, mover: Drawn, wanted: list[float]) -> list[float]:
    """The heights moved to the middle between two lines of the grid, clear of the bay's ends and of its loose shelves."""
    pitch = bench.value("row_pitch")
    origin = system_32.base(bench, bay) + pitch / 2
    half = bench.value("plate_holes") / 2 + 6.0
    foot, head = clear_heights(bench, bay)
    room = bench.value("cup_screws") / 2 + bench.value("pilot") / 2 + bench.value("hole_edge")
    low, high = max(foot + half, mover.box.z + room), min(head - half, mover.box.top - room)
    taken = [
        (under, top, system_32.pin_level(bench, bay, under))
        for _, under, top in system_32.shelves(bench, bay)
    ]
    out: list[float] = []
    for value in wanted:
        start = system_32.nearest(min(max(value, low), high), origin, pitch)
        places = [start + step * pitch for step in TRIES]
        inside = [z for z in places if low <= z <= high and all(abs(z - other) > 2 * half for other in out)]
        free = [
            z
            for z in inside
            if all(abs(z - pin) > pitch and not under - half < z < top + half for under, top, pin in taken)
        ]
        out += (free or inside)[:1]
    return out


def _flap(bench: Bench, bay: BayBox, mover: Drawn, part: Part) -> None:
    """A flap hangs at its foot on the board below, its cups along its lower edge and the plates on that board's upper face; one that
    lifts hangs at its head under the board above.
    """
    board = bench.board(bay, "above" if mover.lifts else "below")
    if board is None:
        return
    box, rear = mover.box, part.block.y + part.block.dy
    up = -1 if mover.lifts else 1
    hinged, face = (box.top, bay.box.top) if mover.lifts else (box.z, bay.box.z)
    edge, behind = bench.value("cup_edge"), bench.value("cup_behind")
    half, screws = bench.value("plate_holes") / 2, bench.value("cup_screws") / 2
    row = board.block.y + front_depth(bench, bay) + bench.value("row_setback")
    cup, pilot = (
        (bench.value("cup"), bench.value("cup_deep")),
        (bench.value("pilot"), bench.value("pilot_deep")),
    )
    pin = bench.value("pin_hole"), bench.value("pin_deep")
    for at in along(
        box.width, hinge_count(part.mass, box.width, 0.0, bench.limits), bench.value("hinge_end")
    ):
        x, z = min(max(box.x + at, bay.box.x + CLEAR), bay.box.right - CLEAR), hinged + up * edge
        bench.bore(part, (x, rear, z), "-y", *cup, "hinge cup")
        for way in (-1, 1):
            bench.bore(part, (x + way * screws, rear, z + up * behind), "-y", *pilot, "cup screw")
            bench.bore(board, (x + way * half, row, face), "+z" if mover.lifts else "-z", *pin, "hinge plate")
