"""The storage of the wall: the demand, the room there is, what goes where, and what does not fit, said plainly."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from typing import TYPE_CHECKING

from wallwright.core.limit import Limits
from wallwright.core.shape import Box
from wallwright.core.why import Later
from wallwright.job.document import Job
from wallwright.job.face import obstacle_box
from wallwright.storage.allot import allot, counts_of, fits_of, run_used
from wallwright.storage.demand import demands, storage_class
from wallwright.storage.fit import score, terms_of
from wallwright.storage.levels import levels
from wallwright.storage.missing import missing
from wallwright.storage.reach import reach_of
from wallwright.storage.record import Allotted, Bay, Behind, Placed, Room, Storage
from wallwright.storage.why import whys_of

if TYPE_CHECKING:
    from wallwright.carcass.record import Carcass, UnitBox
    from wallwright.cooling.record import BayHeat
    from wallwright.services.record import PlacedDevice

STANDS_OUT = frozenset({"column", "pipe", "beam"})
"""What stands out of the wall behind a unit and takes its depth."""


def plan(job: Job, room: Room, limits: Limits, allotment: Sequence[Placed] | None = None) -> Storage:
    """The whole storage stage. allotment : what goes where, searched further than the quick one, to be used in its place.

    ValueError, naming the field, where a kind of thing is unknown.
    """
    reach = reach_of(job.brief.people, limits)
    terms = terms_of(reach, limits)
    wanted = demands(job.brief.things, limits, children=reach.out > 0)
    there = levels(room, limits)
    fits = fits_of(wanted, there, terms)
    found = tuple(allotment) if allotment is not None else allot(wanted, there, terms, fits)
    capacity = sum(level.run for level in there)
    needed = sum(demand.run for demand in wanted)
    kind = job.brief.storage or storage_class(
        needed, limits.value("storage.class_moderate"), limits.value("storage.class_much")
    )
    lacking = missing(wanted, there, found, terms)
    counts = counts_of(wanted, there, found)
    taken = [0.0] * len(there)
    for k, demand in enumerate(wanted):
        for i, count in counts[k].items():
            taken[i] += run_used(demand, fits[k][i], count)
    points = score(wanted, there, counts, terms)
    made = Storage(
        wanted, _by_bay(found, {level.ref: level.bay for level in there}), tuple((one.kind, one.count) for one in lacking),
        capacity, needed, kind, (), there, found, lacking, reach, room, tuple(taken), points,
    )  # fmt: skip
    return replace(made, whys=Later(lambda: whys_of(job, made, limits)))


def room_of(  # noqa: PLR0913
    job: Job, units: Sequence[UnitBox], carcass: Carcass, heat: Sequence[BayHeat], devices: Sequence[PlacedDevice],
    ceiling: float, limits: Limits,
) -> Room:  # fmt: skip
    """What there is to keep things in. heat : bays with devices · ceiling : height of the wall [mm]."""
    v = limits.value
    sizes = {
        device.ref: (
            device.name,
            device.width + v("storage.device_side_clear"),
            device.depth + v("services.device_back_clear"),
            device.height + v("services.device_top_clear"),
        )
        for device in devices
    }
    return Room(
        bays=(
            *(Bay(b.ref, b.unit, b.box, b.depth, b.front, b.drawers, b.shelves) for b in carcass.bays),
            *_wall_shelves(units, carcass, ceiling, limits),
        ),
        edges={part.unit: -part.block.y for part in carcass.parts if part.role == "side"},
        depths={unit.ref: unit.depth for unit in units},
        loads={
            shelf.unit: shelf.load_kg_per_m for shelf in carcass.shelves if not shelf.ref.endswith("-top")
        },
        behind=tuple(
            Behind(obstacle_box(thing), thing.projection.mm)
            for thing in job.survey.obstacles
            if thing.kind in STANDS_OUT and thing.state != "remove" and thing.projection
        ),
        devices={bay.bay: tuple(sizes[ref] for ref in bay.devices if ref in sizes) for bay in heat},
        warm=frozenset(bay.bay for bay in heat if bay.watts >= v("storage.hot_watts")),
        pinned=frozenset(unit.ref for unit in job.design.units if unit.load is not None),
    )


def _wall_shelves(
    units: Sequence[UnitBox], carcass: Carcass, ceiling: float, limits: Limits
) -> tuple[Bay, ...]:
    """The space over each wall shelf, as an open bay named like the shelf."""
    over = limits.value("storage.over_shelf")
    out: list[Bay] = []
    for unit in units:
        if unit.kind in ("shelf", "ledge"):
            box = Box(unit.box.x, unit.box.top, unit.box.width, max(0.0, min(over, ceiling - unit.box.top)))
            deep = next((shelf.depth for shelf in carcass.shelves if shelf.unit == unit.ref), unit.depth)
            out.append(Bay(unit.ref, unit.ref, box, deep, "open", 0, 0))
    return tuple(out)


def _by_bay(found: Sequence[Placed], bay: dict[str, str]) -> tuple[Allotted, ...]:
    """What each bay holds: its levels together."""
    count: dict[tuple[str, str], int] = {}
    for item in found:
        key = item.kind, bay[item.level]
        count[key] = count.get(key, 0) + item.count
    return tuple(Allotted(kind, ref, number) for (kind, ref), number in count.items())
