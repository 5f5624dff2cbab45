"""Where a unit or panel that stands where it cannot would stand instead: every way is tried on the wall before it is offered."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import replace
from typing import NamedTuple

from wallwright.carcass import room
from wallwright.carcass import setout as carcass_setout
from wallwright.carcass.record import PanelZone, SetOut, UnitBox
from wallwright.carcass.setout_apart import overlap, wider
from wallwright.core.along import meeting
from wallwright.core.finding import EditCall, edit_call
from wallwright.core.shape import Box
from wallwright.derive import Built, Wall, built, derive, tried
from wallwright.job.document import Job
from wallwright.job.edits import apply
from wallwright.job.face import Face, obstacle_box, wall_face
from wallwright.job.problem import JobError
from wallwright.job.survey import Obstacle

FLAT = frozenset({"socket", "switch", "data_point", "cable", "skirting"})
"""What is not proud enough to be stood on: accessories and the skirting have rules of their own."""
TAKEN_AWAY = frozenset({"skirting", "cornice", "curtain", "other"})
"""What a joiner may take away without another trade: never a load-bearing part, an opening, a pipe, a cable or an appliance."""
PLACE = ("x", "z", "width", "height")
"""What may be given back to let two things part: where they stand and how large they are."""
FREE_LEVEL = frozenset({"shelf", "ledge", "loft", "niche", "arched_niche"})
"""Units that serve at another level too: a desk is written on, a console stands under the screen, a tower on the floor."""
NARROWEST = 0.5
"""No unit or panel is offered narrower or lower than this share of what it is: then another place serves better."""


class Fault(NamedTuple):
    """Two units or panels in one place, one beyond the wall, or one on what stays on the wall.

    where : which of them is told · other : what it meets, "" beyond the wall · at : the shared place, or what stands outside
    """

    kind: str
    where: str
    other: str
    at: Box

    @property
    def key(self) -> tuple[str, str, str]:
        """What it is, wherever it has moved to."""
        return self.kind, *sorted((self.where, self.other))  # type: ignore[return-value]


class Cure(NamedTuple):
    """A way out: what it says and the edits that make it."""

    says: str
    edits: tuple[EditCall, ...]


def given_back(unit: UnitBox, *names: str) -> list[EditCall]:
    """The named pinned values of a unit given back to the program (all pinned ones where none are named)."""
    return _released("units", unit, names)


def zone_given_back(zone: PanelZone, *names: str) -> list[EditCall]:
    """The named pinned measures of a panel given back to the program (all pinned ones where none are named)."""
    return _released("panels", zone, names)


def _released(kind: str, thing: UnitBox | PanelZone, names: tuple[str, ...]) -> list[EditCall]:
    chosen = [name for name in sorted(thing.pinned) if not names or name in names]
    return [edit_call("release", field=f"design.{kind}.{thing.ref}.{name}") for name in chosen]


def taken_away(thing: Obstacle) -> list[EditCall]:
    """The edit that takes an obstacle away, where a joiner may; nothing for what another trade must see first."""
    return (
        [edit_call("set_obstacle_state", ref=thing.ref, state="remove")] if thing.kind in TAKEN_AWAY else []
    )


def faults(wall: Wall | Built) -> list[Fault]:
    """All that stands in one place, beyond the wall, or on what stays there."""
    return list(_faults(wall.setout, wall.face, {(item.unit, item.thing) for item in wall.carcass.behind}))


def _faults(setout: SetOut, face: Face, round_it: set[tuple[str, str]] | None) -> Iterator[Fault]:
    """round_it : which unit is built round what; None while that is not known yet: such things are passed over."""
    for kind, things in (("units", setout.units), ("panels", setout.zones)):
        for a, b in meeting((thing.box.x, thing.box.right) for thing in things):
            one, other = things[a], things[b]
            if overlap(one.box, other.box):
                mover, still = (one, other) if _placed(one) and not _placed(other) else (other, one)
                shared = one.box.shared(other.box)
                yield Fault(kind, mover.ref, still.ref, shared or mover.box)
    inside = face.box.grown(0.5)
    for thing in (*setout.units, *setout.zones):
        if not inside.holds(thing.box):
            yield Fault("beyond", thing.ref, "", thing.box)
        for item in face.obstacles:
            box = obstacle_box(item)
            if item.kind in FLAT or not overlap(thing.box, box):
                continue
            free = item.kind in room.BUILT_ROUND if round_it is None else (thing.ref, item.ref) in round_it
            if not free:
                yield Fault("on", thing.ref, item.ref, thing.box.shared(box) or box)


def _placed(thing: UnitBox | PanelZone) -> bool:
    """Whether somebody said where it stands or how large it is."""
    return any(name in thing.pinned for name in PLACE)


def cure(wall: Wall, fault: Fault) -> Cure:
    """The first way that, tried on the wall, leaves what stood wrong free of every such fault and makes no new one."""
    before = {item.key for item in faults(wall)}
    for way in _ways(wall, fault):
        job = changed(wall.job, way.edits)
        if job is None or not _clear(_rough(job, wall), fault, before):
            continue
        after = boards_of(job)
        if after and _clear(faults(after), fault, before):
            return way
    return Cure(
        f"every other place and size of {fault.where} that was tried stands in something too, and where it is taken out another "
        "thing moves there: make room on the wall first",
        (),
    )


def changed(job: Job, edits: Iterable[EditCall]) -> Job | None:
    """The job after these edits; None where one of them cannot be made."""
    try:
        for call in edits:
            job = apply(job, call.edit, dict(call.values))
    except (JobError, ValueError):
        return None
    return job


def made(job: Job) -> Wall | None:
    """The wall of a job; None where it cannot be built."""
    try:
        return derive(job)
    except ValueError:
        return None


def stands(job: Job, kept: Wall) -> Wall | None:
    """The wall of a job as it stands, with the looks, cuts, money and times of `kept`; None where it cannot be built."""
    try:
        return tried(job, kept)
    except ValueError:
        return None


def boards_of(job: Job) -> Built | None:
    """The boards of a job and where they stand; None where they cannot be built."""
    try:
        return built(job)
    except ValueError:
        return None


def set_out(job: Job, wall: Wall) -> SetOut | None:
    """A job set out about the screen as it hangs, without its joinery; None where it cannot be."""
    try:
        return carcass_setout.plan(
            job, wall_face(job.survey, job.rules), wall.sight.screen.frame, wall.limits
        )
    except ValueError:
        return None


def _rough(job: Job, wall: Wall) -> list[Fault] | None:
    """The faults of a job as it would be set out; what may be built round is passed over."""
    setout = set_out(job, wall)
    return None if setout is None else list(_faults(setout, wall_face(job.survey, job.rules), None))


def _clear(found: list[Fault] | None, fault: Fault, before: set[tuple[str, str, str]]) -> bool:
    """Whether the fault is gone, what had it is told of no other, and none is new."""
    if found is None:
        return False
    keys = {item.key for item in found}
    return fault.key not in keys and keys <= before and all(item.where != fault.where for item in found)


def _ways(wall: Wall, fault: Fault) -> Iterator[Cure]:
    """Given back to the program first, then another place, then a smaller size, last taken out."""
    units = {unit.ref: unit for unit in wall.setout.units}
    zones = {zone.ref: zone for zone in wall.setout.zones}
    ref = fault.where
    thing = units.get(ref) or zones[ref]
    back = _released("units" if ref in units else "panels", thing, PLACE)
    if back:
        yield Cure(f"let the program place {ref} again", tuple(back))
    other = units.get(fault.other) or zones.get(fault.other)
    if other and (also := _released("units" if ref in units else "panels", other, PLACE)):
        yield Cure(f"let the program place {ref} and {other.ref} again", (*back, *also))
    stays = next((item for item in wall.face.obstacles if item.ref == fault.other), None)
    left = f"; {stays.ref} stays where it is" if stays else ""
    for place in _places(wall, thing):
        says = _said(thing, place)
        for edits in _moved(thing, place):
            yield Cure(says + left, edits)
    if stays and (away := taken_away(stays)):
        yield Cure(f"have {stays.ref} taken away", tuple(away))
    remove = "remove_unit" if ref in units else "remove_panel"
    yield Cure(f"no place is free for {ref} on this wall: take it out", (edit_call(remove, ref=ref),))


def _places(wall: Wall, thing: UnitBox | PanelZone) -> Iterator[Box]:
    """Outlines that the thing could take, nearest to its own first: aside, at another level, lower, narrower."""
    face, box = wall.face, thing.box
    things = list(_in_the_way(wall, thing))
    end = (
        carcass_setout.scribe_width(face.spread_x, wall.limits)
        if isinstance(thing, UnitBox) and thing.cabinet
        else 0.0
    )
    low, high = (end, face.width - end) if box.width <= face.width - 2 * end else (0.0, face.width)
    width, height = min(box.width, float(int(high - low))), min(box.height, float(int(face.height)))
    level = min(max(box.z, 0.0), face.height - height)
    rows = [Box(box.x, level, width, height)]
    short = (
        min([face.height, *(item.z for item in things if item.shared_span(box) and item.z > box.z)]) - box.z
    )
    if NARROWEST * box.height <= short < height and box.z >= 0:
        rows.insert(0, Box(box.x, box.z, width, float(int(short))))
    if isinstance(thing, PanelZone) or thing.kind in FREE_LEVEL:
        gap = wall.limits.value("carcass.unit_gap")
        levels = {item.top + gap for item in things} | {item.z - gap - height for item in things}
        fit = [z for z in levels if 0 <= z <= face.height - height]
        rows += [replace(rows[-1], z=z) for z in sorted(fit, key=lambda z: abs(z - box.z))[:6]]
    free = [room.stretches(low, high, row.z, row.top, things) for row in rows]
    for row, there in zip(rows, free, strict=True):
        x = room.nearest(row.x, row.width, there)
        if x is not None:
            yield replace(row, x=x)
    for row, there in zip(rows, free, strict=True):
        left, right = max(there, key=lambda stretch: stretch[1] - stretch[0], default=(0.0, 0.0))
        if int(right - left) >= max(NARROWEST * box.width, 100.0):
            yield replace(row, x=left, width=float(int(right - left)))


def _in_the_way(wall: Wall, thing: UnitBox | PanelZone) -> Iterator[Box]:
    """What the thing has to keep clear of: its like, what is on the wall, and the screen where it is a unit before the wall."""
    unit = isinstance(thing, UnitBox)
    gap = wall.limits.value("carcass.unit_gap")
    for other in wall.setout.units if unit else wall.setout.zones:
        if other.ref != thing.ref:
            yield wider(other.box, gap) if unit else other.box
    yield from (obstacle_box(item) for item in wall.face.obstacles if item.kind not in FLAT)
    if unit and not thing.round_screen:
        yield wider(wall.sight.screen.frame, gap)


def _moved(thing: UnitBox | PanelZone, place: Box) -> Iterator[tuple[EditCall, ...]]:
    """The edits that bring a thing to a place: only what changes, else with every measure of it pinned."""
    what = "unit" if isinstance(thing, UnitBox) else "panel"
    wanted = {name: round(getattr(place, name), 1) for name in PLACE}
    differs = {name: mm for name, mm in wanted.items() if abs(mm - getattr(thing.box, name)) > 0.06}
    for values in (differs, wanted):
        at = {name: mm for name, mm in values.items() if name in ("x", "z")}
        size = {name: mm for name, mm in values.items() if name in ("width", "height")}
        calls = [edit_call(f"resize_{what}", ref=thing.ref, **size)] if size else []
        calls += [edit_call(f"move_{what}", ref=thing.ref, **at)] if at else []
        if calls:
            yield tuple(calls)


def _said(thing: UnitBox | PanelZone, place: Box) -> str:
    """The move in words: `stand T1 at x 1200 and make it 400 mm wide`."""
    box, said = thing.box, list[str]()
    if abs(place.x - box.x) > 0.06:
        said.append(f"at x {place.x:.0f}")
    if abs(place.z - box.z) > 0.06:
        said.append(f"{place.z:.0f} mm above the floor")
    out = [f"set {thing.ref} " + ", ".join(said)] if said else []
    if abs(place.width - box.width) > 0.06:
        out.append(f"make {thing.ref} {place.width:.0f} mm wide")
    if abs(place.height - box.height) > 0.06:
        out.append(f"make {thing.ref} {place.height:.0f} mm high")
    return " and ".join(out) or f"keep {thing.ref} where it is, pinned there"
