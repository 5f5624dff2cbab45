"""The storage of the wall: the demand, the room there is, what goes where, and what does not fit, said plainly."""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING

from wallwright.core.limit import Limits
from wallwright.core.why import Given, Why
from wallwright.job.document import Job
from wallwright.library import load
from wallwright.storage.allot import Level, allot, levels, reserve
from wallwright.storage.demand import demands, storage_class
from wallwright.storage.record import Demand, Storage

if TYPE_CHECKING:
    from wallwright.carcass.record import BayBox


def plan(job: Job, bays: Sequence[BayBox], limits: Limits) -> Storage:
    """The whole storage stage. ValueError, naming the field, where a kind of thing is unknown."""
    wanted = demands(job.brief.things, limits)
    free = levels(bays, limits)
    reserve(free, _devices(job, limits))
    capacity = sum(level.run for level in free)
    needed = sum(demand.run for demand in wanted)
    allotted, leftovers = allot(wanted, free, limits.value("storage.low_reach"))
    kind = job.brief.storage or storage_class(
        needed, limits.value("storage.class_moderate"), limits.value("storage.class_much")
    )
    whys = _whys(job, wanted, levels(bays, limits), capacity, needed, leftovers, kind, limits)
    return Storage(wanted, allotted, leftovers, capacity, needed, kind, whys)


def _devices(job: Job, limits: Limits) -> list[tuple[float, float, float]]:
    """Width, depth and height that each device inside a unit takes. An unknown kind is the services' to say."""
    side = limits.value("storage.device_side_clear")
    top, back = limits.value("services.device_top_clear"), limits.value("services.device_back_clear")
    known = load.devices()
    out: list[tuple[float, float, float]] = []
    for device in job.brief.devices:
        kind = known.get(device.kind)
        if kind is None or (kind.place if device.place == "auto" else device.place) not in (
            "cabinet",
            "tower",
        ):
            continue
        width = device.width.mm if device.width else kind.width
        depth = device.depth.mm if device.depth else kind.depth
        height = device.height.mm if device.height else kind.height
        out.append((width + side, depth + back, height + top))
    return out


def _whys(  # noqa: PLR0913
    job: Job, wanted: tuple[Demand, ...], whole: list[Level], capacity: float, needed: float,
    leftovers: tuple[tuple[str, int], ...], kind: str, limits: Limits,
) -> tuple[Why, ...]:  # fmt: skip
    slack = limits.value("storage.slack")
    gross = sum(level.run for level in whole)
    much = limits["storage.class_much"]
    out = [
        Why(
            "storage.capacity", capacity, "mm", "shelf and drawer run of all bays, less what the devices take",
            "sum over levels of clear width - devices",
            (Given("levels", len(whole)), Given("run of all levels", gross, "mm"), Given("devices", gross - capacity, "mm")),
            "plane geometry of the bays", "computed",
        ),
        Why(
            "storage.needed", needed, "mm", "shelf run of all that is to be kept, one row deep, with room to take things out",
            "sum of count × thickness × slack", (Given("slack", slack), *(Given(d.name, d.run, "mm") for d in wanted)),
            "sizes of the library's things", "computed",
        ),
        Why(
            "storage.class", kind, "", "as the brief says" if job.brief.storage else "by the shelf run needed", "",
            (
                Given("needed", needed, "mm"), Given("moderate from", limits.value("storage.class_moderate"), "mm"),
                Given("much from", much.value, "mm"),
            ),
            "the brief" if job.brief.storage else much.source,
            "derived" if job.brief.storage else much.certainty,
            job.brief.storage is not None,
        ),
    ]  # fmt: skip
    library = load.things()
    for demand in wanted:
        row = library[demand.kind]
        out.append(
            Why(
                f"thing {demand.kind}.run", demand.run, "mm", f"{demand.count} × {demand.name.lower()}",
                "count × thickness × slack",
                (Given("count", demand.count), Given("thickness", row.run, "mm"), Given("slack", slack),
                 Given("mass", demand.mass, "kg"), Given("clear height", demand.height, "mm"),
                 Given("depth", demand.depth, "mm")),
                row.source, row.certainty,
            )
        )  # fmt: skip
    for name, count in leftovers:
        out.append(
            Why(
                f"thing {name}.left_over", count, "",
                "no free level is high, deep and low enough for these: give them a bay, or another cupboard",
                "", (), "plane geometry of the bays", "computed",
            )
        )  # fmt: skip
    return tuple(out)
