"""The working behind every shown value of the storage stage."""

from __future__ import annotations

from collections.abc import Iterator

from wallwright.core.limit import Limits
from wallwright.core.why import Given, Why
from wallwright.job.document import Job
from wallwright.storage.demand import CLASS_ASKS, kind_of
from wallwright.storage.record import Storage


def whys_of(job: Job, storage: Storage, limits: Limits) -> tuple[Why, ...]:
    """All of them: run, class and reach; each kind's need; each level that holds something; what is left over."""
    return (*_whole(job, storage, limits), *_reach(job, storage, limits), *_kinds(job, storage, limits),
            *_levels(storage), *_left(storage))  # fmt: skip


def _whole(job: Job, storage: Storage, limits: Limits) -> Iterator[Why]:
    slack, much, grow = limits.value("storage.slack"), limits["storage.class_much"], limits["storage.growth"]
    said = job.brief.storage is not None
    yield Why(
        "storage.capacity", storage.capacity, "mm", "shelf and drawer run of all levels, beside the devices",
        "sum over levels of clear width - devices", (Given("levels", len(storage.levels)),),
        "plane geometry of the bays", "computed",
    )  # fmt: skip
    yield Why(
        "storage.needed", storage.needed, "mm", "shelf run of all that is to be kept, one row deep, with room to take things out",
        "sum of count × thickness × slack",
        (Given("slack", slack), *(Given(d.name, d.run, "mm") for d in storage.demands)),
        "sizes of the library's things", "computed",
    )  # fmt: skip
    yield Why(
        "storage.free", storage.free, "share", f"room for what is still to come: at least {grow.value:.0%} is wanted",
        "1 - run taken / run of all levels",
        (Given("run taken", storage.used, "mm"), Given("capacity", storage.capacity, "mm")), grow.source, grow.certainty,
    )  # fmt: skip
    yield Why(
        "storage.class", storage.storage_class, "",
        ("as the brief says" if said else "by the shelf run needed") + f"; it asks for {CLASS_ASKS[storage.storage_class]}", "",
        (
            Given("needed", storage.needed, "mm"), Given("moderate from", limits.value("storage.class_moderate"), "mm"),
            Given("much from", much.value, "mm"),
        ),
        "the brief" if said else much.source, "derived" if said else much.certainty, said,
    )  # fmt: skip
    yield Why(
        "storage.score", storage.score, "points", "what the allotment makes as small as it can",
        "Σ mass × height + effort × use × run + levels used + what has no place",
        tuple(
            Given(name, limits.value(f"storage.weight_{name}"), "points") for name in ("heavy", "effort", "split", "left")
        ),
        "our own weighing", "common practice",
    )  # fmt: skip


def _reach(job: Job, storage: Storage, limits: Limits) -> Iterator[Why]:
    reach, ratio = storage.reach, limits["storage.reach_ratio"]
    yield Why(
        "storage.reach", reach.standing, "mm", "the highest shelf reached without a step by the shortest adult",
        "stature × ratio", (Given("ratio", ratio.value), Given("stature", reach.standing / ratio.value, "mm")),
        ratio.source, ratio.certainty,
    )  # fmt: skip
    low = limits["storage.low_reach"]
    yield Why(
        "storage.child_reach",
        reach.child,
        "mm",
        "the highest shelf a child reaches",
        "",
        (),
        low.source,
        low.certainty,
    )
    if reach.out:
        out = limits["storage.child_out"]
        yield Why(
            "storage.child_out", reach.out, "mm", "from here up nothing is in small hands", "max(least height, stature × ratio)",
            (Given("least height", out.value, "mm"), Given("ratio", ratio.value)), out.source, out.certainty,
        )  # fmt: skip


def _kinds(job: Job, storage: Storage, limits: Limits) -> Iterator[Why]:
    slack, most = limits.value("storage.slack"), limits.value("storage.gap_most")
    for i, demand in enumerate(storage.demands):
        row = kind_of(job.brief.things[i], i)
        yield Why(
            f"thing {demand.kind}.run", demand.run, "mm", f"{demand.count} × {demand.name.lower()}",
            "count × least(thickness × slack, thickness + most gap)",
            (Given("count", demand.count), Given("thickness", row.run, "mm"), Given("slack", slack), Given("most gap", most, "mm"),
             Given("mass", demand.mass, "kg"), Given("clear height", demand.height, "mm"), Given("depth", demand.depth, "mm")),
            row.source, row.certainty,
        )  # fmt: skip


def _levels(storage: Storage) -> Iterator[Why]:
    demands = {demand.kind: demand for demand in storage.demands}
    mass: dict[str, float] = {}
    for item in storage.placed:
        mass[item.level] = mass.get(item.level, 0.0) + item.count * demands[item.kind].one
    for level in storage.levels:
        if level.ref in mass:
            yield Why(
                f"level {level.ref}.mass", round(mass[level.ref], 2), "kg", "what stands on it", "Σ count × mass",
                (Given("may stand there", round(level.load, 1), "kg"),), "masses of the things", "computed",
            )  # fmt: skip


def _left(storage: Storage) -> Iterator[Why]:
    for one in storage.missing:
        yield Why(
            f"thing {one.kind}.left_over", one.count, "", one.says, "", (Given("nearest level", one.spot or "none"),),
            "geometry of the bays, reach and loads", "computed",
        )  # fmt: skip
