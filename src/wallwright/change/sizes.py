"""Widths, heights, ceilings, things on the wall and seats as found: the wall derived anew with them, and what that changes."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import replace
from math import hypot, radians, tan
from typing import TYPE_CHECKING, Any

from wallwright.change.columns import layout_fixes
from wallwright.change.difference import Difference, Size, difference
from wallwright.change.state import at_least, part_state
from wallwright.change.verdict import Answer, Fix, Number, Verdict
from wallwright.core.counted import counted
from wallwright.core.finding import EditCall, edit_call
from wallwright.core.units import Length
from wallwright.derive import Wall, derive
from wallwright.job.document import Job
from wallwright.job.edits import apply
from wallwright.job.face import wall_face
from wallwright.job.problem import fail
from wallwright.job.reconcile import measures, outline
from wallwright.rules.check import check

if TYPE_CHECKING:
    from wallwright.job.site import FoundSeat, FoundThing, Site
    from wallwright.job.survey import Reading
    from wallwright.sight.record import SeatView

_DEEPEST = 100.0
"""A thing that stands out further than this takes the place of a unit: layouts are proposed [mm]."""


def verified(length: Length) -> dict[str, Any]:
    """A length as it goes into an edit, taken on site; one from a photo stays one."""
    state = "photo" if length.state == "photo" else "verified"
    given: dict[str, Any] = {"value": length.written or length.mm, "state": state}
    return {**given, "tolerance": length.tolerance} if length.tolerance else given


def edited(job: Job, edits: Iterable[EditCall]) -> Job:
    """The job after the edits."""
    for one in edits:
        job = apply(job, one.edit, dict(one.values))
    return job


def size_verdicts(wall: Wall, site: Site) -> Iterator[Verdict]:
    """One answer for the widths, one for the heights or the ceiling, and one for each thing and seat."""
    if site.widths:
        yield _readings(wall, "width", site.widths, wall.face.width)
    if site.heights:
        yield _readings(wall, "height", site.heights, wall.face.height)
    if site.ceiling is not None:
        yield ceiling(wall, site.ceiling)
    if site.diagonals:
        yield _diagonals(wall, site)
    for thing in site.things:
        yield _thing(wall, thing)
    for seat in site.seats:
        yield _seat(wall, seat)


def _diagonals(wall: Wall, site: Site) -> Verdict:
    """The two diagonals: they check the widths and heights, those found on the same visit with them."""
    if len(site.diagonals) != 2:
        says = "one diagonal checks nothing: give both, bottom left to top right first"
        raise fail("diagonals", len(site.diagonals), says, "site")
    if any(one.state == "photo" for one in site.diagonals):
        return _by_tape(wall, "diagonals", "a diagonal of the wall", 0.0)
    rising, falling = (verified(one) for one in site.diagonals)
    edits = (edit_call("set_diagonals", rising=rising, falling=falling),)
    beside = (*_taped(site.widths, "width"), *_taped(site.heights, "height"))
    limits = wall.limits
    found = outline(measures(edited(wall.job, (*beside, *edits)).survey.wall, limits), limits)
    limit = limits["survey.suspect"]
    if found is None or not found.suspects:
        says = "entered: they check the widths and heights" + (", and all of them close" if found else "")
        return Verdict("wall", "diagonals", "accept", says, 0.0, 0.0, "common practice", edits=edits)
    named = " or ".join(one.measure.says for one in found.suspects)
    off = max(abs(one.off) for one in found.suspects)
    says = f"the measures do not close with them: {named} is about {off:.0f} mm wrong; nothing is taken before it is measured again"
    return Verdict(
        "wall", "diagonals", "stop", says, off, 0.0, limit.source, edits=edits, ask=f"{named}, by tape again"
    )


def _by_tape(wall: Wall, what: str, thing: str, off: float) -> Verdict:
    """A size of the wall that was read from a photo takes no tape's place."""
    limit = wall.limits["change.size_still"]
    says = f"{thing} was read from a photo: a photo shows, a tape measures; nothing of it is taken"
    return Verdict("wall", what, "tape", says, abs(off), limit.value, limit.source, ask=f"{thing}, by tape")


def _taped(readings: Iterable[Reading], which: str) -> tuple[EditCall, ...]:
    return tuple(
        edit_call("set_wall_reading", which=which, at=one.at.mm, value=verified(one.value))
        for one in readings
    )


def _readings(wall: Wall, which: str, found: tuple[Reading, ...], was: float) -> Verdict:
    """Widths, or heights: the wall that they make with those that were not taken again, against the one that was drawn."""
    edits = _taped(found, which)
    now = _face(wall, edits, which)
    off, limit = now - was, wall.limits["change.size_still"]
    if any(one.value.state == "photo" for one in found):
        return _by_tape(wall, which, f"a {which} of the wall", off)
    drawn = f"by these and the other {which}s the wall is drawn {now:.0f} {_ALONG[which]}"
    if abs(off) <= limit.value:
        says = f"{drawn}, as before" if abs(off) < 0.5 else f"{drawn}, {was:.0f} before"
        return _refitted(wall, "wall", which, says, edits, off, still=True)
    says = f"{drawn}, {was:.0f} before: {abs(off):.0f} {'less' if off < 0 else 'more'}"
    return _refitted(wall, "wall", which, says, edits, off)


_ALONG = {"width": "wide", "height": "high"}


def _face(wall: Wall, edits: Iterable[EditCall], which: str) -> float:
    """How wide or high the wall is drawn with the edits [mm]; as it was where it cannot be drawn so."""
    try:
        job = edited(wall.job, edits)
        face = wall_face(job.survey, job.rules)
    except ValueError:
        return wall.face.width if which == "width" else wall.face.height
    return face.width if which == "width" else face.height


def _refitted(  # noqa: PLR0913
    wall: Wall, ref: str, what: str, says: str, edits: tuple[EditCall, ...], off: float, ask: str = "",
    fixes: tuple[Fix, ...] = (), more: tuple[Number, ...] = (), still: bool = False,
) -> Verdict:  # fmt: skip
    """The wall with what was found: what must be put right stops, what is cut and does not fit stops, the rest is adjusted.

    still : what is found is within what fillers take: only what must be put right speaks against it
    """
    limit = wall.limits["change.size_still"]
    try:
        new = derive(edited(wall.job, edits))
    except ValueError as problem:
        return Verdict(ref, what, "stop", f"{says}; it cannot be built so: {problem}", abs(off), limit.value, limit.source,
                       more, fixes, edits, ask)  # fmt: skip
    change = difference(wall, new, check(wall), check(new))
    must = [item for item in change.gained if item.severity in ("danger", "fix")]
    if still and not must:
        says += f": within {limit.value:g} mm, the fillers take it"
        return Verdict(ref, what, "accept", says, abs(off), limit.value, limit.source, edits=edits)
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
        told.append(
            f"{counted(len(lost), 'part is', 'parts are')} cut and no longer right: {', '.join(lost[:6])}"
        )
    if answer == "adjust":
        told.append(
            f"{counted(len(change.parts), 'part gets a new size before it is', 'parts get new sizes before they are')} cut"
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
    return wall_face(job.survey, job.rules).height


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
    ask = ""
    if skirting:
        edits += _past(wall, found)
        told_by = {unit.ref: unit.skirting for unit in wall.job.design.units}
        open_ones = [ref for ref in _standing(wall) if told_by.get(ref) is None and found.past is None]
        ask = _ASK_PAST if open_ones else ""
    return _refitted(wall, found.ref, words, says, tuple(edits), off, ask, more=more)


_ASK_PAST = (
    "Notch the backs of what stands on the floor over the skirting, or cut the skirting out behind it? "
    'Asked once, done everywhere: past = "notch" or "cut" in the site file.'
)


def _standing(wall: Wall) -> list[str]:
    """Cabinets that stand on the floor."""
    return [unit.ref for unit in wall.setout.units if not unit.hung and unit.cabinet]


def _past(wall: Wall, found: FoundThing) -> list[EditCall]:
    """The answer, written into every cabinet that stands on the floor."""
    if found.past is None:
        return []
    return [edit_call("set_unit_skirting", ref=ref, skirting=found.past) for ref in _standing(wall)]


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
    may = _eye_may(wall, was, off, limit.value)
    told = f"seat {found.ref}: eye {was.eye[2]:.0f} → {now.eye[2]:.0f}, the screen's middle {was.centre_up:+.1f}° → {now.centre_up:+.1f}°"
    if not must:
        return Verdict(
            found.ref, "seat", "accept", f"{told}: no change needed, the screen stays at {new.sight.screen.centre[1]:.0f}",
            abs(off), may, limit.source, edits=edits,
        )  # fmt: skip
    fixes = tuple(Fix(item.cure, bool(item.edits), item.says, 0, item.edits) for item in must)
    return Verdict(
        found.ref,
        "seat",
        "adjust",
        f"{told}: {must[0].says}",
        abs(off),
        may,
        limit.source,
        (),
        fixes,
        edits,
    )


def _eye_may(wall: Wall, seat: SeatView, by: float, limit: float) -> float:
    """How far the eye of a seat may go the way it went before the screen's middle is `limit` [deg] off what its posture wants [mm]."""
    x, middle = wall.sight.screen.middle[0], wall.sight.screen.centre[1]
    run = hypot(seat.eye[0] - x, seat.distance)
    edge = seat.wanted + (limit if by < 0 else -limit)
    far = middle - run * tan(radians(edge))
    return max(0.0, seat.eye[2] - far if by < 0 else far - seat.eye[2])
