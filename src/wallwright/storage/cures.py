"""The smallest change of the joinery that gives a thing its place: each tried on the bays themselves, the smallest first."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, replace
from functools import partial
from itertools import islice
from typing import Any

from wallwright.core.finding import EditCall, edit_call
from wallwright.core.limit import Limits
from wallwright.job.document import Job
from wallwright.storage.allot import fits_of, held, run_used
from wallwright.storage.fit import Terms, failing, fit, terms_of
from wallwright.storage.levels import levels
from wallwright.storage.record import Bay, Demand, Level, Missing, Room, Storage

BOARDS = ("shelf", "ledge")
"""Units that are a board on the wall: there is nothing to divide."""
STEP = 5.0
"""Sizes are raised to whole steps of so many mm."""
DEEPEST = 600.0
"""Deeper than this a unit is no longer one for a screen wall [mm]: the back of it is out of reach."""
MOST_TRIED, LEAST_TRIED = 16, 3
"""So many changes are tried, the smallest first: fewer where the wall is large and each costs long to try."""
TRIAL_WORK = 2400
"""Levels times kinds of things tried in all, about, before the largest walls are answered with fewer trials."""
LEAST_BAY = 150.0
"""No bay is made smaller than this [mm]."""
LEAST_LEVEL = 120.0
"""No level is made lower than this [mm]."""


@dataclass(frozen=True, slots=True)
class Change:
    """One change of the joinery: how large it is [points: one shelf is 1]; when asked, what it is in words, its edit, what it makes anew.

    unit : whose bays change · bays : gives those that do · load, edge : of the unit's boards after it, where they change [kg/m, mm] ·
    sure : nothing but a size was lacking, so a thing may stand there after it
    """

    size: float
    says: Callable[[], str]
    edit: Callable[[], EditCall]
    unit: str
    bays: Callable[[], tuple[Bay, ...]] = tuple
    load: float | None = None
    edge: float | None = None
    sure: bool = False

    def unit_after(self, room: Room, now: Sequence[Bay]) -> Room:
        """The room that the unit alone has after the change. now : its bays as they are"""
        new = {bay.ref: bay for bay in self.bays()}
        return replace(
            room,
            bays=tuple(new.get(bay.ref, bay) for bay in now),
            loads=room.loads if self.load is None else {**room.loads, self.unit: self.load},
            edges=room.edges if self.edge is None else {**room.edges, self.unit: self.edge},
        )


@dataclass(frozen=True, slots=True)
class Cure:
    """What gives a kind its place: words, edits, and how many are still left over after the change itself."""

    says: str
    edits: tuple[EditCall, ...]
    left: int


def cure(job: Job, storage: Storage, missing: Missing, limits: Limits) -> Cure:
    """The smallest change that gives all of them a place, else the one that places most; what is left goes off the list.

    No change counts that takes the place of other things.
    """
    terms = terms_of(storage.reach, limits)
    demand = next(item for item in storage.demands if item.kind == missing.kind)
    now = _by_bay(storage.levels)
    before = dict(storage.leftovers)
    best: tuple[int, Change] | None = None
    work = len(storage.levels) * len(storage.demands)
    most = max(LEAST_TRIED, min(MOST_TRIED, TRIAL_WORK // max(work, 1)))
    for change, own in islice(_changes(job, storage, demand, terms, limits), most):
        after = _left(storage.demands, _levels_after(change, own, now, storage), terms)
        if any(count > before.get(kind, 0) for kind, count in after.items()):
            continue
        left = after.get(demand.kind, 0)
        if left < min(missing.count, best[0] if best else missing.count):
            best = left, change
        if best and best[0] == 0:
            break
    if best is None:
        return Cure(
            f"keep {missing.count} of them elsewhere and take them off the list",
            (_off(demand, missing.count),),
            missing.count,
        )
    left, change = best
    if not left:
        return Cure(change.says(), (change.edit(),), 0)
    return Cure(
        f"{change.says()}: that gives a place to {missing.count - left}; keep {left} elsewhere",
        (change.edit(), _off(demand, left)),
        left,
    )


def _off(demand: Demand, left: int) -> EditCall:
    """Take so many of a kind off the list."""
    return edit_call("set_thing", kind=demand.kind, count=demand.count - left)


def _left(wanted: tuple[Demand, ...], room: tuple[Level, ...], terms: Terms) -> dict[str, int]:
    counts = zip(wanted, held(wanted, room, terms), strict=True)
    return {demand.kind: left for demand, there in counts if (left := demand.count - sum(there.values()))}


def _changes(
    job: Job, storage: Storage, demand: Demand, terms: Terms, limits: Limits
) -> Iterator[tuple[Change, tuple[Level, ...]]]:
    """Every change after which at least one such thing may stand where the change is made, the smallest first; with the levels that
    its unit then has.
    """
    mates = _by_unit(storage.room)
    thought_of = _thought_of(job, storage, mates, demand, terms, limits)
    for change in sorted(thought_of, key=lambda one: one.size):
        own = levels(change.unit_after(storage.room, mates[change.unit]), limits)
        if change.sure or any(fit(demand, level, terms) for level in own):
            yield change, own


def _by_unit(room: Room) -> dict[str, list[Bay]]:
    mates: dict[str, list[Bay]] = {}
    for bay in room.bays:
        mates.setdefault(bay.unit, []).append(bay)
    return mates


def _thought_of(  # noqa: PLR0913
    job: Job, storage: Storage, mates: dict[str, list[Bay]], demand: Demand, terms: Terms, limits: Limits
) -> Iterator[Change]:  # fmt: skip
    """Every change that might give such a thing a place."""
    room = storage.room
    cabinets = {unit.ref for unit in job.design.units if unit.kind not in BOARDS}
    there = _by_bay(storage.levels)
    towers = {unit: _one_above_another(own) for unit, own in mates.items()}
    for bay in room.bays:
        if bay.unit not in cabinets:
            continue
        deeper = _deeper(room, bay, there.get(bay.ref, ()), demand, terms, limits)
        if room.devices.get(bay.ref):  # the devices need their bay as it is: air, plugs and remotes
            yield from (replace(change, sure=True) for change in deeper)
            continue
        yield from _shelves(job, room, bay, demand)
        yield from _fronts(job, room, bay, demand)
        yield from deeper
        yield from _stretched(mates[bay.unit], towers[bay.unit], bay, demand)
        yield from _stronger(room, bay, demand)


def _by_bay(made: tuple[Level, ...]) -> dict[str, list[Level]]:
    out: dict[str, list[Level]] = {}
    for level in made:
        out.setdefault(level.bay, []).append(level)
    return out


def _levels_after(
    change: Change, own: tuple[Level, ...], now: dict[str, list[Level]], storage: Storage
) -> tuple[Level, ...]:
    """All levels after the change, in the bays' order: anew in its unit, elsewhere as they are now. own : its unit's after it"""
    anew = _by_bay(own)
    return tuple(
        level
        for bay in storage.room.bays
        for level in (anew if bay.unit == change.unit else now).get(bay.ref, ())
    )


def _shelves(job: Job, room: Room, bay: Bay, demand: Demand) -> Iterator[Change]:
    """Fewer shelves make higher levels, one more shelf makes one more level; drawers likewise."""
    drawers = bay.front == "drawers"
    now = bay.drawers if drawers else bay.shelves
    for count in (*range(now - 1, -1, -1), now + 1):
        levels_of = max(1, count) if drawers else count + 1
        if (drawers and count < 1) or (
            count > now and bay.box.height / levels_of < LEAST_LEVEL + demand.height / 2
        ):
            continue
        after = partial(_one, bay, **{"drawers" if drawers else "shelves": count})
        what = "drawer" if drawers else "shelf"
        edit = partial(_bay_edit, job, room, bay, **{"drawers" if drawers else "shelves": count})
        says = partial(_more_or_less, bay, what, count - now)
        yield Change(abs(count - now) + (0.5 if drawers else 0.0), says, edit, bay.unit, after)


def _one(bay: Bay, **values: Any) -> tuple[Bay]:
    """The bay with that changed."""
    return (replace(bay, **values),)


def _more_or_less(bay: Bay, what: str, more: int) -> str:
    return (
        f"put one more {what} into {bay.ref}" if more > 0 else f"take {_count(-more, what)} out of {bay.ref}"
    )


def _count(number: int, what: str) -> str:
    return f"{number} {what}" if number == 1 else f"{number} {'shelves' if what == 'shelf' else what + 's'}"


def _fronts(job: Job, room: Room, bay: Bay, demand: Demand) -> Iterator[Change]:
    """A door where drawers are too low or too shallow; glass where a thing is to be seen."""
    if demand.shown and bay.front not in ("open", "glass"):
        edit = partial(_bay_edit, job, room, bay, front="glass")
        yield Change(
            2.0,
            lambda: f"give {bay.ref} a glass door",
            edit,
            bay.unit,
            partial(_one, bay, front="glass", drawers=0),
        )
    elif bay.front == "drawers":
        after = partial(_one, bay, front="shutter", drawers=0, shelves=0)
        edit = partial(_bay_edit, job, room, bay, front="shutter", shelves=0)
        yield Change(2.0, lambda: f"give {bay.ref} a door in place of its drawers", edit, bay.unit, after)


def _deeper(  # noqa: PLR0913
    room: Room, bay: Bay, there: Sequence[Level], demand: Demand, terms: Terms, limits: Limits
) -> Iterator[Change]:  # fmt: skip
    """A deeper unit, by what the thing lacks there: where nothing but its depth fails."""
    short = [
        fails[0][1]
        for level in there
        if demand.depth > level.depth
        and (fails := failing(demand, level, terms))
        and [name for name, _ in fails] == ["depth"]
    ]
    if not short:
        return
    step = limits.value("carcass.runner_step") if bay.front == "drawers" else STEP
    by = math.ceil(min(short) / step - 1e-9) * step
    deep = room.depths.get(bay.unit, 0.0)
    if not deep or deep + by > DEEPEST:
        return
    edge = room.edges[bay.unit] + by if bay.unit in room.edges else None
    edit = partial(edit_call, "resize_unit", ref=bay.unit, depth=round(deep + by, 1))

    def changed() -> tuple[Bay, ...]:
        return tuple(replace(other, depth=other.depth + by) for other in room.bays if other.unit == bay.unit)

    yield Change(
        1.0 + by / 20, lambda: f"make {bay.unit} {by:.0f} mm deeper ({deep + by:.0f})", edit, bay.unit, changed, edge=edge
    )  # fmt: skip


def _stretched(mates: list[Bay], tower: bool, bay: Bay, demand: Demand) -> Iterator[Change]:
    """A larger bay at the cost of its neighbours in the unit: wider in a console, higher in a tower (then without shelves)."""
    now = bay.box.height if tower else bay.box.width
    wants = demand.height if tower else demand.each + (0.0 if bay.front != "drawers" else 60.0)
    need = math.ceil(wants / STEP) * STEP
    others = [other for other in mates if other.ref != bay.ref]
    if need <= now or not others:
        return
    givers = [
        other
        for other in others
        if (other.box.height if tower else other.box.width) - (need - now) >= LEAST_BAY
    ]
    if not givers:
        return
    giver = max(givers, key=lambda other: other.box.height if tower else other.box.width)
    sizes = {other.ref: other.box.height if tower else other.box.width for other in mates}
    sizes[bay.ref] = need
    sizes[giver.ref] -= need - now
    shelves = 0 if tower else bay.shelves

    def after() -> tuple[Bay, ...]:
        made = _laid(mates, sizes, tower)
        return tuple(replace(other, shelves=shelves) if other.ref == bay.ref else other for other in made)

    def says() -> str:
        out = ", and take its shelves out" if tower and bay.shelves else ""
        return f"make {bay.ref} {need:.0f} mm {'high' if tower else 'wide'} inside, {giver.ref} gives the room{out}"

    def edit() -> EditCall:
        bays = [_plain(other, sizes[other.ref] if other.ref != giver.ref else None) for other in after()]
        return edit_call("set_unit_bays", ref=bay.unit, bays=bays)

    yield Change(3.0 + (need - now) / 50, says, edit, bay.unit, after)


def _laid(mates: list[Bay], sizes: dict[str, float], tower: bool) -> Iterator[Bay]:
    """The bays of a unit one after the other with new sizes and the same boards between."""
    shift = 0.0
    for bay in mates:
        box = bay.box
        if tower:
            yield replace(bay, box=replace(box, z=box.z + shift, height=sizes[bay.ref]))
            shift += sizes[bay.ref] - box.height
        else:
            yield replace(bay, box=replace(box, x=box.x + shift, width=sizes[bay.ref]))
            shift += sizes[bay.ref] - box.width


def _stronger(room: Room, bay: Bay, demand: Demand) -> Iterator[Change]:
    """Boards reckoned for more: the structure then says whether they stay straight."""
    now = room.loads.get(bay.unit, 0.0)
    need = math.ceil(demand.one / demand.each * 1000) if demand.each else 0
    if bay.front != "drawers" and now and need > now:
        edit = partial(edit_call, "set_unit_load", ref=bay.unit, load=float(need))
        says = partial("reckon the boards of {} for {} kg a metre".format, bay.unit, need)
        yield Change(2.5, says, edit, bay.unit, load=float(need))


def _one_above_another(mates: list[Bay]) -> bool:
    """Whether the bays of a unit are stacked, as in a tower."""
    return len({round(bay.box.x) for bay in mates}) == 1


def _plain(bay: Bay, size: float | None) -> dict[str, Any]:
    """A bay as the document writes it."""
    out: dict[str, Any] = {"front": bay.front, "drawers": max(1, bay.drawers), "shelves": bay.shelves}
    return out if size is None else {**out, "width": round(size, 1)}


def _bay_edit(job: Job, room: Room, bay: Bay, **values: Any) -> EditCall:
    """Change one bay; where the unit's bays are automatic, all are decided as derived, with this one changed."""
    unit = next(unit for unit in job.design.units if unit.ref == bay.unit)
    if unit.bays:
        return edit_call("set_bay", ref=bay.unit, bay=int(bay.ref.rpartition(".")[2]), **values)
    mates = [other for other in room.bays if other.unit == bay.unit]
    tower = _one_above_another(mates)
    rows = [
        {
            **_plain(other, None if other is mates[-1] else other.box.height if tower else other.box.width),
            **(values if other.ref == bay.ref else {}),
        }
        for other in mates
    ]
    return edit_call("set_unit_bays", ref=bay.unit, bays=rows)


def roomier(job: Job, storage: Storage, limits: Limits, share: float) -> Cure:
    """The smallest change after which so much of the run is free and everything still has its place; else what helps most."""
    terms = terms_of(storage.reach, limits)
    best: tuple[float, Change] | None = None
    changes = [change for bay in storage.room.bays for change in _more_levels(job, storage.room, bay)]
    now, mates = _by_bay(storage.levels), _by_unit(storage.room)
    for change in sorted(changes, key=lambda one: one.size):
        own = levels(change.unit_after(storage.room, mates[change.unit]), limits)
        there = _levels_after(change, own, now, storage)
        free = 1.0 - _taken(storage.demands, there, terms) / max(sum(level.run for level in there), 1.0)
        if free > (best[0] if best else storage.free) + 1e-6 and not _left(storage.demands, there, terms):
            best = free, change
        if best and best[0] >= share:
            return Cure(best[1].says(), (best[1].edit(),), 0)
    most = max(storage.demands, key=lambda demand: (demand.use == "seldom", demand.run))
    over = storage.used - (1.0 - share) * storage.capacity
    fewer = min(most.count, math.ceil(over / most.each)) if most.each else most.count
    off = edit_call("set_thing", kind=most.kind, count=most.count - fewer)
    return Cure(f"keep {fewer} × {most.name.lower()} elsewhere, or add a tower", (off,), 0)


def _taken(wanted: tuple[Demand, ...], there: tuple[Level, ...], terms: Terms) -> float:
    """The run that the things take [mm]."""
    fits = fits_of(wanted, there, terms)
    counts = held(wanted, there, terms, fits)
    return sum(run_used(d, fits[k][i], n) for k, d in enumerate(wanted) for i, n in sorted(counts[k].items()))


def _more_levels(job: Job, room: Room, bay: Bay) -> Iterator[Change]:
    """One or two shelves more, where the levels stay high enough to use."""
    if (
        bay.front == "drawers"
        or room.devices.get(bay.ref)
        or not any(unit.ref == bay.unit and unit.kind not in BOARDS for unit in job.design.units)
    ):
        return
    for more in (1, 2):
        count = bay.shelves + more
        if bay.box.height / (count + 1) >= LEAST_LEVEL:
            says = partial("put {} more into {}".format, _count(more, "shelf"), bay.ref)
            edit = partial(_bay_edit, job, room, bay, shelves=count)
            yield Change(more, says, edit, bay.unit, partial(_one, bay, shelves=count))
