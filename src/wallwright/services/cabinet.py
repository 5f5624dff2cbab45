"""The points inside the units, where the boxes stand: signals and drivers where they can be reached, sockets after them.

Nothing that is plugged by hand goes behind a drawer while there is room behind another bay; a socket may, where room is left
for its plug. Where one row does not hold them all they stand in columns.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING

from wallwright.core.limit import Limits
from wallwright.core.shape import Box, Point2
from wallwright.core.why import Given, Why
from wallwright.job.document import Job
from wallwright.library import load
from wallwright.services.board import MAINS, Board
from wallwright.services.record import PlacedDevice
from wallwright.services.region import centre_region, nearest, whole

if TYPE_CHECKING:
    from wallwright.carcass.bays import Cell
    from wallwright.carcass.record import SetOut, UnitBox
    from wallwright.light.record import LightRun
    from wallwright.sight.record import Screen

_HUBS = frozenset({"router", "network_switch"})
NEAR = frozenset({"conduit", "data", "rf", "led_feed", "switched_spur"})
"""What is plugged, changed or switched by hand: placed before the sockets."""
Tries = tuple[tuple[tuple[Box, ...], str], ...]


@dataclass(frozen=True, slots=True)
class Space:
    """Where boxes may go behind one unit.

    row : height wanted for their middle [mm above FFL] · best : behind the bays where devices stand, clear of rails ·
    near, far : tries for what is plugged by hand, and for sockets: each a set of fields and what to say of it ·
    columns : they do not all fit into one row, so they stand one above another
    """

    zone: str
    row: float
    best: tuple[Box, ...]
    near: Tries
    far: Tries
    columns: bool = False


_BESIDE = "on the wall behind the unit, where the boxes stand"
_ELSEWHERE = (
    "on the wall behind the next bay, by the cable hole in the division: nothing may stand close before it"
)
_RAILS = "on the wall low behind the unit; it may meet the packing rail, which the joiner notches"


def main_unit(setout: SetOut) -> UnitBox | None:
    """The unit that holds the spare points: the first console, else the first tower."""
    for sort in ("console", "tower", "open_shelves", "desk"):
        for unit in setout.units:
            if unit.kind == sort:
                return unit
    return None


@dataclass(frozen=True, slots=True)
class Inside:
    """What the points in the units are set out from: where boxes may go, by unit; "" stands for the wall under the screen."""

    spaces: Mapping[str, Space]
    devices: Mapping[str, tuple[PlacedDevice, ...]]
    main: str
    feeds: Mapping[str, int]


def inside(  # noqa: PLR0913
    job: Job, setout: SetOut, screen: Screen, devices: Sequence[PlacedDevice], cells: Mapping[str, Sequence[Cell]],
    strips: Sequence[LightRun], limits: Limits,
) -> Inside:  # fmt: skip
    """Where boxes may stand in or behind each unit that wants some, the wall under the screen where there is no unit."""
    main = main_unit(setout)
    if main is None:
        free = tuple(d for d in devices if d.place not in ("screen", "wall"))
        space = _under_the_screen(screen, job, limits)
        return Inside({"": space} if space else {}, {"": free}, "", {})
    feeds: dict[str, int] = {}
    for strip in strips:
        unit = feed_unit(strip, setout) if strip.driver_place == "cabinet" else None
        if unit is not None:
            feeds[unit.ref] = feeds.get(unit.ref, 0) + 1
    theirs = {
        unit.ref: tuple(device for device in devices if device.unit == unit.ref) for unit in setout.units
    }
    spaces: dict[str, Space] = {}
    for unit in setout.units:
        if unit is main or theirs[unit.ref] or feeds.get(unit.ref):
            wanted, _ = _wanted(theirs[unit.ref], unit is main, limits)
            counts = [(kind, count) for kind, count, _ in wanted] if unit is main or theirs[unit.ref] else []
            counts.append(("led_feed", feeds.get(unit.ref, 0)))
            spaces[unit.ref] = _space(unit, cells.get(unit.ref, ()), counts, limits)
    return Inside(spaces, theirs, main.ref, feeds)


def feed_unit(strip: LightRun, setout: SetOut) -> UnitBox | None:
    """The unit that holds a strip's driver: the one it lies along, else the first console."""
    own = (unit for unit in setout.units if unit.ref == strip.of and unit.cabinet)
    return next(own, None) or next((unit for unit in setout.units if unit.kind == "console"), None)


def _under_the_screen(screen: Screen, job: Job, limits: Limits) -> Space | None:
    """The wall under the screen; sockets there as high as the rules of the place ask."""
    spot = Box(screen.frame.x, 0.0, screen.frame.width, screen.frame.z)
    high = limits.value("services.box_height")
    if spot.height <= high:
        return None
    low = f"services.{job.survey.place.rules.lower()}_socket_low"
    row = max(limits.value("services.wall_point_height"), limits.value(low) if low in limits else 0.0)
    tries = (((spot,), "on the wall under the screen"),)
    return Space("wall", min(row, max(spot.height / 2, spot.height - high)), (spot,), tries, tries)


def _space(unit: UnitBox, cells: Sequence[Cell], wanted: Sequence[tuple[str, int]], limits: Limits) -> Space:
    """The fields behind a unit, by its bays."""
    inset = limits.value("services.cabinet_inset")
    board = load.boards().get(unit.board)
    edge = (board.thickness if board else limits.value("cooling.board_thickness")) + limits.value(
        "services.board_play"
    )
    low, high = edge, edge
    if unit.rear is not None:  # the wall that its rail, cleat and packing leave free
        low, high = unit.rear.z - unit.box.z + 1.0, unit.box.top - unit.rear.top + 1.0
    elif unit.hung:  # a packing rail at the foot; the hanging rail and its cleat under the top
        low += limits.value("services.packing_rail")
        high += 2 * limits.value("carcass.cleat_height")
    elif unit.box.z <= 0:
        low += limits.value("carcass.plinth")
    tall = limits.value("services.box_height")
    row = unit.box.z + max(0.0, low - edge if not unit.hung else 0.0) + limits.value("services.cabinet_rise")
    row = min(row, unit.box.z + unit.box.height / 2)
    spans = _spans(unit, cells)

    def fields(all_bays: bool, foot: float, head: float) -> tuple[Box, ...]:
        rear = Box(
            unit.box.x + inset, unit.box.z + foot, max(0.0, unit.box.width - 2 * inset),
            max(0.0, unit.box.height - foot - head),
        )  # fmt: skip
        across = 0.0 if unit.kind == "tower" else inset
        shared = [
            Box(span.x + across, span.z, max(0.0, span.width - 2 * across), span.height).shared(rear)
            for span, suits in spans
            if suits or all_bays
        ]
        return tuple(box for box in shared if box is not None)

    # where the unit is too low, a box goes to the foot: the packing rail may be notched, the hanging rail and its cleat never
    lowest = unit.box.height - edge - tall - 1.0
    some, every = any(suits for _, suits in spans), True
    best = fields(not some, low, high)
    beside, rails, foot = (
        (best, _BESIDE),
        (fields(not some, edge, high), _RAILS),
        (fields(not some, edge, lowest), _RAILS),
    )
    elsewhere = (fields(every, low, high), _ELSEWHERE)
    others = (
        (fields(every, edge, high), _RAILS),
        (fields(every, edge, lowest), _RAILS),
        (fields(every, edge, edge), _RAILS),
    )
    two_rows = 2 * tall + limits.value("services.box_gap")
    columns = (
        unit.kind == "console"
        and bool(best)
        and best[0].height >= two_rows
        and _run(wanted, limits) > max(box.width for box in best)
    )
    if columns:
        row = best[0].z + tall / 2
    return Space(
        "tower" if unit.tall else "cabinet", row, best,
        (beside, rails, foot, elsewhere, *others), (beside, elsewhere, rails, others[0], foot, *others[1:]), columns,
    )  # fmt: skip


def _run(wanted: Sequence[tuple[str, int]], limits: Limits) -> float:
    """The width that so many boxes take in one row, mains apart from signals [mm]."""
    v = limits.value
    twin, single, gap = v("services.box_twin_width"), v("services.box_single_width"), v("services.box_gap")
    widths = sum(count * ((twin if kind == "twin_socket" else single) + gap) for kind, count in wanted)
    return widths - 2 * gap + v("services.power_data_apart")


def _spans(unit: UnitBox, cells: Sequence[Cell]) -> list[tuple[Box, bool]]:
    """The clear inside of each bay, and whether devices may stand there; the whole unit where its bays are not known."""
    return [(cell.clear, cell.front != "drawers") for cell in cells] or [(unit.box, True)]


def fill(board: Board, within: Inside, obstacles: list[Box], near: bool) -> None:
    """The points of all units: what is plugged by hand, or the sockets for the devices and some to spare."""
    for ref, space in within.spaces.items():
        theirs = within.devices.get(ref, ())
        if ref == within.main or theirs:
            wanted, inputs = _wanted(theirs, ref == within.main, board.limits)
            _fill(board, space, [row for row in wanted if (row[0] in NEAR) == near], inputs, obstacles)


def _fill(
    board: Board,
    space: Space,
    wanted: Iterable[tuple[str, int, tuple[str, ...]]],
    inputs: tuple[Given, ...],
    obstacles: list[Box],
) -> None:
    """The points of one unit, less those that the designer placed there."""
    around = space.far[-1][0]
    for kind, count, serves in wanted:
        there = sum(
            p.zone == space.zone and p.kind == kind and any(bay.holds(Box(p.x, p.z, 0, 0)) for bay in around)
            for p in board.points
        )
        for number in range(max(0, count - there)):
            found = spot(board, kind, space, number, obstacles)
            if found is None:
                board.whys.append(no_room(kind, space.zone, number, inputs))
                continue
            at, where = found
            board.add(
                kind, at, space.zone, f"{kind.replace('_', ' ')} {where}", serves=serves,
                working=(
                    "outlets = used + spare, two a twin; row = floor of the unit + rise",
                    (*inputs, Given("row wanted", space.row, "mm")),
                ),
            )  # fmt: skip


def spot(
    board: Board, kind: str, space: Space, number: int, obstacles: list[Box]
) -> tuple[Point2, str] | None:
    """The first of the tries that has a place for the next box, and what is said of it.

    A twin goes to the middle of each bay in turn; signals straight below the screen's own, so that their runs drop plumb.
    In columns mains begin at the left of the bay, signals at its right.
    """
    if not space.best and not any(fields for fields, _ in space.far):
        return None  # the unit is narrower than the edges a box keeps clear of
    bay = space.best[number % len(space.best)] if space.best else space.far[-1][0][0]
    above = {p.kind: p.x for p in board.points if p.zone == "behind_screen"}
    mains = kind in MAINS
    if space.columns:
        want = (
            above["conduit"] if kind == "conduit" and "conduit" in above else bay.x if mains else bay.right,
            space.row,
        )
    else:
        want = (
            bay.x if kind == "led_feed" else bay.centre[0] if mains else above.get(kind, bay.centre[0]),
            space.row,
        )
    first = (((bay,), _BESIDE),) if mains and space.zone != "wall" else ()
    tries = space.near if kind in NEAR else space.far
    return place(board, kind, (*first, *tries), want, obstacles, columns=space.columns)


def _wanted(
    inside: Sequence[PlacedDevice], main: bool, limits: Limits
) -> tuple[list[tuple[str, int, tuple[str, ...]]], tuple[Given, ...]]:
    """How many points of each kind a unit needs, which devices they serve, and the numbers they come from."""
    library = load.devices()
    kinds = [library[device.kind] for device in inside]
    large = [d for d in inside if d.watts >= limits.value("services.own_circuit_watts")]
    used = sum(kind.sockets for kind in kinds) - len(large)
    share = math.ceil(used * limits.value("services.spare_share"))
    spare = max(limits.value("services.spare_outlets_min"), share)
    # beside a router or switch the boxes plug into it: the wall needs the line in and the line to the screen
    data = 2 if any(device.kind in _HUBS for device in inside) else sum(kind.data for kind in kinds)
    plates = math.ceil(
        (data + limits.value("services.spare_data")) / limits.value("services.outlets_per_data_box")
    )
    rf = max(sum(kind.rf for kind in kinds), round(limits.value("services.cabinet_rf_min")) if main else 0)
    wanted = [
        ("switched_spur", len(large), tuple(d.ref for d in large)),
        ("twin_socket", math.ceil((used + spare) / 2), tuple(d.ref for d in inside if d not in large)),
        ("conduit", 1 if main else 0, ("screen",)),
        (
            "data",
            plates if data or main else 0,
            tuple(d.ref for d, k in zip(inside, kinds, strict=True) if k.data),
        ),
        ("rf", rf, tuple(d.ref for d, k in zip(inside, kinds, strict=True) if k.rf)),
    ]
    return wanted, (
        Given("outlets used", used),
        Given("outlets to spare", spare),
        Given("data outlets used", data),
    )


def place(  # noqa: PLR0913
    board: Board, kind: str, tries: Iterable[tuple[tuple[Box, ...], str]], want: Point2, obstacles: list[Box], *,
    columns: bool = False,
) -> tuple[Point2, str] | None:  # fmt: skip
    """The first of the tries that has a place for a box of that kind, nearest to where it is wanted."""
    keep_out = (*obstacles, *board.taken_from(kind))
    for fields, says in tries:
        region = centre_region(fields, board.size(kind), keep_out)
        found = nearest(region, want, columns=columns)
        if found is not None:
            return whole(region, found), says
    return None


def no_room(kind: str, zone: str, number: int, inputs: tuple[Given, ...]) -> Why:
    """What is said of a point that found no place."""
    name = kind.replace("_", " ")
    return Why(
        f"services.no_room.{zone}.{kind}.{number + 1}", 0, "",
        f"no free place for one more {name} in the {zone}: give it a wider unit, or place the point yourself", "", inputs,
        "clearances of the rule set", "computed",
    )  # fmt: skip
