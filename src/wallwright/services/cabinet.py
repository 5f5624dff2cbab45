"""The points inside the units, where the boxes stand, and the feeds of the lights."""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING

from wallwright.core.limit import Limits
from wallwright.core.shape import Box, Point2
from wallwright.core.why import Given, Why
from wallwright.job.document import Job
from wallwright.job.face import Face
from wallwright.library import load
from wallwright.services.board import MAINS, Board
from wallwright.services.record import PlacedDevice
from wallwright.services.region import centre_region, nearest, whole

if TYPE_CHECKING:
    from wallwright.carcass.record import SetOut, UnitBox
    from wallwright.sight.record import Screen

_HUBS = frozenset({"router", "network_switch"})


@dataclass(frozen=True, slots=True)
class _Space:
    """Where boxes may go behind one unit: the bays where devices stand, then the others; first clear of its rails, then not.

    row : height wanted for their middle [mm above FFL] · tries : each a set of fields and what to say of it
    """

    zone: str
    row: float
    best: tuple[Box, ...]
    tries: tuple[tuple[tuple[Box, ...], str], ...]


_BESIDE = "on the wall behind the unit, where the boxes stand"
_ELSEWHERE = (
    "on the wall behind the next bay, by the cable hole in the division: nothing may stand close before it"
)
_RAILS = "on the wall low behind the unit; it may meet the packing rail, which the joiner notches"


def in_the_units(  # noqa: PLR0913
    board: Board,
    job: Job,
    setout: SetOut,
    screen: Screen,
    devices: Sequence[PlacedDevice],
    obstacles: list[Box],
) -> None:
    """Spare points inside each unit where boxes stand; on the wall under the screen where there is no unit."""
    main = _main(setout)
    if main is None:
        spot = Box(screen.frame.x, 0.0, screen.frame.width, screen.frame.z)
        if spot.height > board.size("twin_socket")[1]:
            row = min(board.limits.value("services.wall_point_height"), spot.height / 2)
            space = _Space("wall", row, (spot,), (((spot,), "on the wall under the screen"),))
            _fill(board, space, [d for d in devices if d.place != "screen"], obstacles, True)
        return
    for unit in setout.units:
        inside = [device for device in devices if device.unit == unit.ref]
        if unit is main or inside:
            _fill(board, _space(job, unit, board.limits), inside, obstacles, unit is main)


def _main(setout: SetOut) -> UnitBox | None:
    """The unit that holds the spare points: the first console, else the first tower."""
    for sort in ("console", "tower"):
        for unit in setout.units:
            if unit.kind == sort:
                return unit
    return None


def _space(job: Job, unit: UnitBox, limits: Limits) -> _Space:
    """The fields behind a unit."""
    inset = limits.value("services.cabinet_inset")
    board = load.boards().get(unit.board)
    edge = (board.thickness if board else limits.value("cooling.board_thickness")) + 5.0
    low, high = edge, edge
    if unit.rear is not None:  # the wall that its rail, cleat and packing leave free
        low, high = unit.rear.z - unit.box.z + 1.0, unit.box.top - unit.rear.top + 1.0
    elif unit.hung:  # a packing rail at the foot; the hanging rail and its cleat under the top
        low += limits.value("services.packing_rail")
        high += 2 * limits.value("carcass.cleat_height")
    elif unit.box.z <= 0:
        low += limits.value("carcass.plinth")
    row = unit.box.z + max(0.0, low - edge if not unit.hung else 0.0) + limits.value("services.cabinet_rise")
    row = min(row, unit.box.z + unit.box.height / 2)
    spans = _spans(job, unit, limits)

    def fields(all_bays: bool, foot: float, head: float) -> tuple[Box, ...]:
        return tuple(
            Box(
                x + inset,
                unit.box.z + foot,
                max(0.0, width - 2 * inset),
                max(0.0, unit.box.height - foot - head),
            )
            for x, width, suits in spans
            if suits or all_bays
        )

    # where the unit is too low, a box goes to the foot: the packing rail may be notched, the hanging rail and its cleat never
    lowest = unit.box.height - edge - limits.value("services.box_height") - 1.0
    some, every = any(suits for _, _, suits in spans), True
    best = fields(not some, low, high)
    tries = (
        (best, _BESIDE),
        (fields(every, low, high), _ELSEWHERE),
        (fields(not some, edge, high), _RAILS),
        (fields(every, edge, high), _RAILS),
        (fields(not some, edge, lowest), _RAILS),
        (fields(every, edge, lowest), _RAILS),
        (fields(every, edge, edge), _RAILS),
    )
    return _Space("tower" if unit.kind == "tower" else "cabinet", row, best, tries)


def _spans(job: Job, unit: UnitBox, limits: Limits) -> list[tuple[float, float, bool]]:
    """Left edge, width, and whether devices may stand there, of each bay of a unit; a tower's bays lie one above the other."""
    if unit.kind == "tower":
        return [(unit.box.x, unit.box.width, True)]
    given = next((item.bays for item in job.design.units if item.ref == unit.ref), ())
    if given:
        fixed = sum(bay.width.mm for bay in given if bay.width)
        free = sum(bay.width is None for bay in given)
        rest = max(0.0, unit.box.width - fixed) / free if free else 0.0
        shares = [(bay.width.mm if bay.width else rest, bay.front != "drawers") for bay in given]
    else:  # as the carcass divides a console by itself: equal bays, the middle one for the boxes
        parts = max(1, math.ceil(unit.box.width / (limits.value("carcass.bay_clear") + 18.0)))
        shares = [(unit.box.width / parts, number == parts // 2) for number in range(parts)]
    spans: list[tuple[float, float, bool]] = []
    x = unit.box.x
    for width, suits in shares:
        spans.append((x, width, suits))
        x += width
    return spans


def _fill(
    board: Board, space: _Space, inside: Sequence[PlacedDevice], obstacles: list[Box], main: bool
) -> None:
    """The points of one unit: sockets for its devices and some to spare, data, aerial, and the conduit from the screen."""
    wanted, inputs = _wanted(inside, main, board.limits)
    # a twin in the middle of each bay in turn; signals straight below the screen's own, so that their runs drop plumb
    above = {p.kind: p.x for p in board.points if p.zone == "behind_screen"}
    around = space.tries[-1][0]
    for kind, count, serves in wanted:
        there = sum(
            p.zone == space.zone and p.kind == kind and any(bay.holds(Box(p.x, p.z, 0, 0)) for bay in around)
            for p in board.points
        )
        for number in range(max(0, count - there)):
            bay = space.best[number % len(space.best)]
            want = (bay.centre[0] if kind in MAINS else above.get(kind, bay.centre[0]), space.row)
            first = (((bay,), _BESIDE),) if kind in MAINS and space.zone != "wall" else ()
            found = _spot(board, kind, (*first, *space.tries), want, obstacles)
            if found is None:
                board.whys.append(_no_room(kind, space.zone, number, inputs))
                continue
            spot, where = found
            board.add(
                kind, spot, space.zone, f"{kind.replace('_', ' ')} {where}", serves=serves,
                working=(
                    "outlets = used + spare, two a twin; row = floor of the unit + rise",
                    (*inputs, Given("row wanted", space.row, "mm")),
                ),
            )  # fmt: skip


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


def _spot(
    board: Board, kind: str, tries: Iterable[tuple[tuple[Box, ...], str]], want: Point2, obstacles: list[Box]
) -> tuple[Point2, str] | None:
    """The first of the tries that has a place, and what is said of it."""
    keep_out = (*obstacles, *board.taken_from(kind))
    for fields, says in tries:
        region = centre_region(fields, board.size(kind), keep_out)
        spot = nearest(region, want)
        if spot is not None:
            return whole(region, spot), says
    return None


def _no_room(kind: str, zone: str, number: int, inputs: tuple[Given, ...]) -> Why:
    name = kind.replace("_", " ")
    return Why(
        f"services.no_room.{zone}.{kind}.{number + 1}", 0, "",
        f"no free place for one more {name} in the {zone}: give it a wider unit, or place the point yourself", inputs=inputs,
    )  # fmt: skip


# --- for the lights ---------------------------------------------------------------------------------------------------


def for_the_lights(board: Board, job: Job, setout: SetOut, face: Face, obstacles: list[Box]) -> None:
    """A switched feed for each run of light, where its driver goes: in the cabinet, at the ceiling, behind the panel."""
    limits = board.limits
    for light in job.design.lights:
        owner = _owner(light.of, setout)
        unit = next((u for u in setout.units if u.ref == light.of and u.kind != "shelf"), None) or next(
            (u for u in setout.units if u.kind == "console"), None
        )
        middle = owner.centre[0] if owner else board.frame.centre[0]
        zone, said = "lighting", "at the ceiling"
        tries: tuple[tuple[tuple[Box, ...], str], ...] = (((face.box,), ""),)
        want, there = (middle, face.height - limits.value("services.ceiling_feed_drop")), obstacles
        if light.driver_place == "cabinet" and unit is not None:
            space = _space(job, unit, limits)
            zone, said, tries, want = (
                space.zone,
                "in the unit",
                space.tries,
                (space.best[-1].right, space.row),
            )
        elif light.driver_place == "behind_panel" and owner is not None:
            said, tries, want, there = (
                "behind the panel",
                (((owner,), ""),),
                (owner.x, owner.z),
                [board.frame, *obstacles],
            )
        found = _spot(board, "led_feed", tries, want, there)
        if found is None:
            board.whys.append(_no_room("led_feed", light.ref, 0, ()))
            continue
        board.add(
            "led_feed", found[0], zone,
            f"switched feed of light {light.ref}, its driver {said}, where it can be reached and changed", serves=(light.ref,),
            working=("beside its driver", (Given("driver", light.driver_place),)),
        )  # fmt: skip


def _owner(ref: str | None, setout: SetOut) -> Box | None:
    for thing in (*setout.units, *setout.zones):
        if thing.ref == ref:
            return thing.box
    return setout.zones[0].box if setout.zones and ref is None else None
