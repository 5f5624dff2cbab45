"""Widths, heights, ceilings, things on the wall and seats as found: the wall derived anew with them, and what that changes."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import replace
from math import hypot
from typing import TYPE_CHECKING, Any

from wallwright.change.columns import layout_fixes
from wallwright.change.difference import Difference, Size, difference
from wallwright.change.state import at_least, part_state
from wallwright.change.verdict import Answer, Fix, Number, Verdict
from wallwright.core.finding import EditCall, edit_call
from wallwright.core.units import Length
from wallwright.derive import Wall, derive
from wallwright.job.document import Job
from wallwright.job.edits import apply
from wallwright.job.problem import fail
from wallwright.rules.check import check

if TYPE_CHECKING:
    from wallwright.job.site import FoundSeat, FoundThing, Site

_DEEPEST = 100.0
"""A thing that stands out further than this takes the place of a unit: layouts are proposed [mm]."""


def verified(length: Length) -> dict[str, Any]:
    """A length as it goes into an edit, taken on site."""
    given: dict[str, Any] = {"value": length.written or length.mm, "state": "verified"}
    return {**given, "tolerance": length.tolerance} if length.tolerance else given


def edited(job: Job, edits: Iterable[EditCall]) -> Job:
    """The job after the edits."""
    for one in edits:
        job = apply(job, one.edit, dict(one.values))
    return job


def size_verdicts(wall: Wall, site: Site) -> Iterator[Verdict]:
    """One answer for the widths, one for the heights or the ceiling, and one for each thing and seat."""
    if site.widths:
        yield _readings(wall, "width", tuple((one.at, one.value) for one in site.widths), wall.face.width)
    if site.heights:
        yield _readings(wall, "height", tuple((one.at, one.value) for one in site.heights), wall.face.height)
    if site.ceiling is not None:
        yield ceiling(wall, site.ceiling)
    if len(site.diagonals) == 2:
        rising, falling = (verified(one) for one in site.diagonals)
        edits = (edit_call("set_diagonals", rising=rising, falling=falling),)
        yield Verdict(
            "wall",
            "diagonals",
            "accept",
            "entered: they check the widths and heights",
            0.0,
            0.0,
            "common practice",
            edits=edits,
        )
    for thing in site.things:
        yield _thing(wall, thing)
    for seat in site.seats:
        yield _seat(wall, seat)


def _readings(wall: Wall, which: str, found: tuple[tuple[Length, Length], ...], was: float) -> Verdict:
    """Widths, or heights: the least of them against the least that the wall was designed to."""
    edits = tuple(
        edit_call("set_wall_reading", which=which, at=at.mm, value=verified(value)) for at, value in found
    )
    come = wall.job.survey.room.floor_to_come.mm if which == "height" else 0.0
    now = min(value.mm for _, value in found) - come
    off, limit = now - was, wall.limits["change.size_still"]
    if abs(off) <= limit.value:
        says = f"the least {which} is {now:.0f}, {was:.0f} was drawn: within {limit.value:g} mm, the fillers take it"
        return Verdict("wall", which, "accept", says, abs(off), limit.value, limit.source, edits=edits)
    says = (
        f"the least {which} is {now:.0f}, {was:.0f} was drawn: {abs(off):.0f} {'less' if off < 0 else 'more'}"
    )
    return _refitted(wall, "wall", which, says, edits, off)


def _refitted(  # noqa: PLR0913
    wall: Wall, ref: str, what: str, says: str, edits: tuple[EditCall, ...], off: float, ask: str = "",
    fixes: tuple[Fix, ...] = (), more: tuple[Number, ...] = (),
) -> Verdict:  # fmt: skip
    """The wall with what was found: what must be put right stops, what is cut and does not fit stops, the rest is adjusted."""
    limit = wall.limits["change.size_still"]
    try:
        new = derive(edited(wall.job, edits))
    except ValueError as problem:
        return Verdict(ref, what, "stop", f"{says}; it cannot be built so: {problem}", abs(off), limit.value, limit.source,
                       more, fixes, edits, ask)  # fmt: skip
    change = difference(wall, new, check(wall), check(new))
    must = [item for item in change.gained if item.severity in ("danger", "fix")]
    lost = _already_cut(wall, change)
    numbers = (*more, *_new_numbers(change))
    answer: Answer = "stop" if must or lost else "adjust" if numbers or change.parts else "accept"
    told = [says]
    if must:
        told.append(f"{must[0].where}: {must[0].says}")
        fixes = fixes or tuple(
            Fix(item.cure, bool(item.edits), item.says, 0, item.edits) for item in must[:4]
        )
    if lost:
        told.append(f"{len(lost)} part(s) are cut and no longer right: {', '.join(lost[:6])}")
    if answer == "adjust":
        told.append(
            f"{len(change.parts)} part(s) get new sizes before they are cut"
            if change.parts
            else "new numbers below"
        )
    if answer == "accept":
        told.append("no change needed")
    return Verdict(
        ref, what, answer, "; ".join(told), abs(off), limit.value, limit.source, numbers, fixes, edits, ask
    )


def _already_cut(wall: Wall, change: Difference) -> list[str]:
    """Parts that are cut and do not fit any more."""
    return [
        one.was.id
        for one in change.parts
        if one.was and one.lost and at_least(part_state(wall.job.progress, one.was), "cut")
    ]


def _new_numbers(change: Difference) -> Iterator[Number]:
    """The sizes that are other than drawn, each for the trade that works to it."""
    for one in change.heights:
        if one.now is not None and one.unit == "mm" and not one.says.endswith(" eye"):
            yield Number(_trade(one), one.ref, f"{one.says}, {_was(one)} drawn", one.now)
    for point in change.points:
        if point.now is not None:
            yield Number("electrician", point.ref, f"{point.ref} middle from the left", point.now[0])
            yield Number("electrician", point.ref, f"{point.ref} middle above FFL", point.now[1])
    for one in change.lights:
        if one.now is not None and one.unit == "mm":
            yield Number("electrician", one.ref, f"{one.says}, {_was(one)} drawn", one.now)


def _was(one: Size) -> str:
    return "not" if one.was is None else f"{one.was:.0f}"


def _trade(one: Size) -> str:
    return "screen fitter" if one.ref == "screen" else "carpenter"


# --- ceilings ----------------------------------------------------------------------------------------------------------


def ceiling(wall: Wall, found: Length) -> Verdict:
    """A ceiling that came lower all along: every height reading becomes it; towers, lofts, standing up and air are looked at."""
    readings = wall.job.survey.wall.heights
    edits = tuple(
        edit_call("set_wall_reading", which="height", at=one.at.mm, value=verified(found)) for one in readings
    )
    if wall.job.survey.wall.diagonals:  # they went to the old ceiling
        edits = (*edits, edit_call("release", field="survey.wall.diagonals"))
    off = found.mm - wall.job.survey.room.floor_to_come.mm - wall.face.height
    says = f"the ceiling is {found.mm:.0f} above the floor, {abs(off):.0f} {'lower' if off < 0 else 'higher'} than drawn"
    limit = wall.limits["change.size_still"]
    if abs(off) <= limit.value:
        return Verdict(
            "ceiling",
            "ceiling",
            "accept",
            f"{says}: within {limit.value:g} mm",
            abs(off),
            limit.value,
            limit.source,
            edits=edits,
        )
    tops = _low_lofts(wall, edits)
    edits = (*edits, *(edit_call("remove_unit", ref=ref) for ref, _ in tops))
    more = (
        *_beneath(wall, edits),
        *(Number("carpenter", ref, "loft left out: its doors would be", high) for ref, high in tops),
    )
    if tops:
        says += f"; {', '.join(ref for ref, _ in tops)} left out, its doors would be too low to use"
    return _refitted(wall, "ceiling", "ceiling", says, edits, off, more=more)


def _low_lofts(wall: Wall, edits: tuple[EditCall, ...]) -> list[tuple[str, float]]:
    """Lofts whose height would be of no use, with that height."""
    least = wall.limits.value("change.loft_least")
    height = _derived_height(wall, edits)
    out: list[tuple[str, float]] = []
    for unit in wall.setout.units:
        if unit.kind == "loft":
            left = unit.box.height - max(0.0, unit.box.top - height + (wall.face.height - unit.box.top))
            if left < least:
                out.append((unit.ref, left))
    return out


def _derived_height(wall: Wall, edits: tuple[EditCall, ...]) -> float:
    job = edited(wall.job, edits)
    return min(one.value.mm for one in job.survey.wall.heights) - job.survey.room.floor_to_come.mm


def _beneath(wall: Wall, edits: tuple[EditCall, ...]) -> Iterator[Number]:
    """Standing towers up under it, and what is left between the air conditioner and the ceiling."""
    try:
        new = derive(edited(wall.job, edits))
    except ValueError:
        return
    for unit in new.setout.units:
        if unit.tall:
            diagonal = hypot(unit.box.height, unit.depth)
            yield Number(
                "carpenter", unit.ref, f"diagonal on standing it up, under {new.face.height:.0f}", diagonal
            )
    for thing in new.face.obstacles:
        if thing.kind == "ac":
            left = new.face.height - thing.z.mm - thing.height.mm
            yield Number("site engineer", thing.ref, "left above the air conditioner", left)


# --- things on the wall, seats ------------------------------------------------------------------------------------------


def _thing(wall: Wall, found: FoundThing) -> Verdict:
    """A beam, column, skirting or other thing: known and otherwise than surveyed, or new."""
    known = {thing.ref: thing for thing in wall.job.survey.obstacles}
    if found.ref not in known:
        return _new_thing(wall, found)
    was = known[found.ref]
    edits: list[EditCall] = []
    place = {name: verified(value) for name in ("x", "z") if (value := getattr(found, name)) is not None}
    sizes = {
        name: verified(value)
        for name in ("width", "height", "projection")
        if (value := getattr(found, name)) is not None
    }
    if place:
        edits.append(edit_call("move_obstacle", ref=found.ref, **place))
    if sizes:
        edits.append(edit_call("resize_obstacle", ref=found.ref, **sizes))
    if found.stays is not None:
        edits.append(
            edit_call("set_obstacle_state", ref=found.ref, state="keep" if found.stays else "remove")
        )
    off = max((abs(getattr(found, n).mm - getattr(was, n).mm) for n in (*place, *sizes)), default=0.0)
    words = was.kind.replace("_", " ")
    told = [f"{n} {getattr(was, n).mm:.0f} → {getattr(found, n).mm:.0f}" for n in (*place, *sizes)]
    told += ["it stays"] if found.stays and was.state == "remove" else []
    says = f"the {words} {found.ref}: {', '.join(told) or 'as surveyed'}"
    stays = found.stays is not False and (found.stays or was.state != "remove")
    skirting = was.kind == "skirting" and stays
    depth = (found.projection or was.projection).mm
    more = tuple(_past_skirting(wall, depth)) if skirting else ()
    ask = (
        "Notch the backs of what stands on the floor over the skirting, or cut the skirting out behind it? Asked once, done everywhere."
        if skirting and any(not unit.hung and unit.cabinet for unit in wall.setout.units)
        else ""
    )
    return _refitted(wall, found.ref, words, says, tuple(edits), off, ask, more=more)


def _past_skirting(wall: Wall, depth: float) -> Iterator[Number]:
    """The filler that a front beside a return wall needs, to open past that wall's skirting: the skirting, the clearance, and what
    its handle stands out.
    """
    clear = wall.limits.value("change.drawer_clear")
    for unit in wall.setout.units:
        movers = [mover for mover in wall.carcass.movers if mover.unit == unit.ref]
        near = min(unit.box.x, wall.face.width - unit.box.right)
        if movers and near < depth + clear + max(mover.proud for mover in movers) + 30.0:
            needs = depth + clear + max(mover.proud for mover in movers)
            yield Number("carpenter", unit.ref, f"filler beside the wall at least ({near:.0f} drawn)", needs)


def _new_thing(wall: Wall, found: FoundThing) -> Verdict:
    needed = ("kind", "x", "z", "width", "height")
    missing = [name for name in needed if getattr(found, name) is None]
    if missing:
        says = f"is not in the survey: give its {', '.join(missing)} too"
        raise fail(f"things.{found.ref}", found.ref, says, "site")
    values: dict[str, Any] = {"ref": found.ref, "kind": found.kind}
    for name in ("x", "z", "width", "height", "projection"):
        value = getattr(found, name)
        if value is not None:
            values[name] = verified(value)
    edits = (edit_call("add_obstacle", **values),)
    depth = found.projection.mm if found.projection else 0.0
    words = str(found.kind).replace("_", " ")
    says = f"a {words} that nobody surveyed: {found.ref}, {found.width.mm if found.width else 0:.0f} wide, {depth:.0f} proud"
    fixes: tuple[Fix, ...] = ()
    if found.kind == "column" and depth > _DEEPEST:
        fixes = layout_fixes(
            edited(wall.job, edits), found.ref, frozenset((f.rule, f.where) for f in check(wall))
        )
    verdict = _refitted(wall, found.ref, words, says, edits, depth, fixes=fixes)
    if fixes and verdict.answer != "accept":
        return replace(
            verdict, ask="Which of the layouts? Each is priced; nothing is cut before one is chosen."
        )
    return verdict


def _seat(wall: Wall, found: FoundSeat) -> Verdict:
    """A seat that came otherwise: the screen stays where it is, and the eye is asked whether that is still well."""
    seats = {seat.ref: seat for seat in wall.sight.seats}
    if found.ref not in seats:
        raise fail("seats.ref", found.ref, f"is no seat of this wall; there are {', '.join(seats)}", "site")
    was = seats[found.ref]
    given = {
        name: verified(value)
        for name in ("eye_height", "distance")
        if (value := getattr(found, name)) is not None
    }
    edits: tuple[EditCall, ...] = (edit_call("set_seat", ref=found.ref, **given),)
    if wall.job.design.screen.centre_height is None:
        edits = (*edits, edit_call("set_screen_height", centre_height=round(wall.sight.screen.centre[1], 1)))
    new = derive(edited(wall.job, edits))
    now = next(seat for seat in new.sight.seats if seat.ref == found.ref)
    change = difference(wall, new, check(wall), check(new))
    must = [
        item for item in change.gained if item.severity in ("danger", "fix") or item.rule == "sight.height"
    ]
    off = now.eye[2] - was.eye[2]
    limit = wall.limits["rule.centre_up_consider"]
    told = f"seat {found.ref}: eye {was.eye[2]:.0f} → {now.eye[2]:.0f}, the screen's middle {was.centre_up:+.1f}° → {now.centre_up:+.1f}°"
    if not must:
        return Verdict(
            found.ref, "seat", "accept", f"{told}: no change needed, the screen stays at {new.sight.screen.centre[1]:.0f}",
            abs(off), limit.value, limit.source, edits=edits,
        )  # fmt: skip
    fixes = tuple(Fix(item.cure, bool(item.edits), item.says, 0, item.edits) for item in must)
    return Verdict(
        found.ref,
        "seat",
        "adjust",
        f"{told}: {must[0].says}",
        abs(off),
        limit.value,
        limit.source,
        (),
        fixes,
        edits,
    )
