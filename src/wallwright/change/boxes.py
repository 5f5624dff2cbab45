"""Boxes in the wall as found: within their tolerance, elsewhere but as good, or where they cannot stay, with the ways out ranked."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import replace
from math import hypot
from typing import TYPE_CHECKING, Any

from wallwright.change.state import point_state
from wallwright.change.verdict import ANSWERS, Fix, Number, Verdict
from wallwright.change.worth import point_worth
from wallwright.core.finding import EditCall, Finding, edit_call
from wallwright.core.shape import Box
from wallwright.derive import Wall, derive
from wallwright.job.document import Job
from wallwright.job.edits import apply
from wallwright.job.problem import fail, nearest
from wallwright.rules.check import check

if TYPE_CHECKING:
    from wallwright.job.site import FoundBox, Site
    from wallwright.services.record import ServicePoint


def pinned(wall: Wall) -> Job:
    """The job with every outlet pinned where it was drawn: what is found elsewhere then moves no other."""
    job = wall.job
    given = {point.ref for point in job.design.points}
    for point in wall.services.points:
        if point.ref not in given and point.kind != "led_feed":
            job = apply(job, "add_point", {"ref": point.ref, "kind": point.kind, "x": point.x, "z": point.z})
    return job


def box_verdicts(wall: Wall, site: Site) -> Iterator[Verdict]:
    """An answer for each box that was found. JobError where a ref is no outlet of this wall."""
    if not site.boxes:
        return
    points = {point.ref: point for point in wall.services.points}
    _known(wall, site, points)
    base = pinned(wall)
    before = _wrong(check(derive(base)))
    for found in site.boxes:
        others = _all_found(base, (one for one in site.boxes if one is not found), points)
        wrong = before if others is base else before | _wrong(check(derive(others)))
        if found.from_photo:
            yield _from_photo(wall, others, wrong, points[found.ref], found)
        else:
            yield _verdict(wall, others, wrong, points[found.ref], found, _only_drawn(wall, site))


def _only_drawn(wall: Wall, site: Site) -> frozenset[str]:
    """Outlets that the program placed and nobody has set yet: they may still move aside for one that is in the wall."""
    fixed = {point.ref for point in wall.job.design.points} | {found.ref for found in site.boxes}
    return frozenset(
        point.ref
        for point in wall.services.points
        if point.ref not in fixed and point_state(wall.job.progress, point.ref) == "drawn"
    )


def _known(wall: Wall, site: Site, points: Mapping[str, ServicePoint]) -> None:
    """Raises JobError where a box is no outlet of this wall, is told twice, or is told beyond the wall's ends."""
    seen: set[str] = set()
    for i, found in enumerate(site.boxes):
        if found.ref not in points:
            says = f"is no outlet of this wall; {nearest(found.ref, points)}"
            raise fail(f"boxes[{i}].ref", found.ref, says, "site")
        if found.ref in seen:
            raise fail(f"boxes[{i}].ref", found.ref, "is told twice; keep the reading that holds", "site")
        seen.add(found.ref)
        for name, value, end in (("x", found.x.mm, wall.face.width), ("z", found.z.mm, wall.face.height)):
            if not 0 <= value <= end:
                along = "wide" if name == "x" else "high"
                says = f"lies beyond the wall, {end:.0f} {along}; measure {found.ref} again"
                raise fail(f"boxes[{i}].{name}", f"{value:g}", says, "site")


def _all_found(base: Job, boxes: Iterable[FoundBox], points: Mapping[str, ServicePoint]) -> Job:
    """The job with these boxes where they were found: one is judged beside the others as they are, not as they were drawn."""
    for one in boxes:
        if points[one.ref].kind != "led_feed":
            base = apply(base, "move_point", {"ref": one.ref, "x": one.x.mm, "z": one.z.mm})
    return base


def _from_photo(
    wall: Wall, base: Job, before: set[tuple[str, str]], point: ServicePoint, found: FoundBox
) -> Verdict:
    """What a photo can answer: only what holds all over its ±. Nothing of it is written into the job, no cut-out is made by it."""
    limit = wall.limits["change.box_place"]
    x, z, sure = found.x.mm, found.z.mm, max(found.x.tolerance, found.z.tolerance)
    off = hypot(x - point.x, z - point.z)
    told = f"{found.ref} is {off:.0f} mm off by the photo, ± {sure:.0f}"
    if off + sure <= limit.value:
        says = f"{told}: within {limit.value:g} mm even so"
        return Verdict(found.ref, "box", "accept", says, off, limit.value, limit.source)
    ask = f"{found.ref}: its middle from the left corner and above FFL, by tape"
    if off - sure <= limit.value:
        says = f"{told}: {limit.value:g} mm may be, and the photo cannot tell; measure by tape"
        return Verdict(found.ref, "box", "tape", says, off, limit.value, limit.source, ask=ask)
    around = [(x, z), *((x + sure * a, z + sure * b) for a, b in ((-1, 0), (1, 0), (0, -1), (0, 1)))]
    wrong = [
        next(
            (item for item in _must(_moved(base, point, *at)) if (item.rule, item.where) not in before), None
        )
        for at in around
    ]
    if not all(wrong):
        why = (
            "whether it may stay there hangs on a few millimetres"
            if any(wrong)
            else "nothing speaks against it there, but its cut-out is made by the tape"
        )
        says = f"{told}: certainly more than {limit.value:g} mm; {why}; measure by tape"
        return Verdict(found.ref, "box", "tape", says, off, limit.value, limit.source, ask=ask)
    there = _verdict(wall, base, before, point, found)
    answer = max(there.answer, "adjust", key=ANSWERS.index)
    says = f"{there.says} (by the photo, ± {sure:.0f})"
    fixes = tuple(replace(fix, edits=()) for fix in there.fixes)
    return replace(there, answer=answer, says=says, numbers=(), edits=(), fixes=fixes, ask=ask)


def _verdict(  # noqa: PLR0913
    wall: Wall, base: Job, before: set[tuple[str, str]], point: ServicePoint, found: FoundBox, free: frozenset[str] = frozenset()
) -> Verdict:  # fmt: skip
    limit = wall.limits["change.box_place"]
    x, z = found.x.mm, found.z.mm
    off = hypot(x - point.x, z - point.z)
    face = _face(wall, found)
    if off <= limit.value:
        return Verdict(
            found.ref, "box", "adjust" if face else "accept",
            f"{found.ref} is {off:.0f} mm off: within {limit.value:g} mm{face}", off, limit.value, limit.source,
        )  # fmt: skip
    new = Box(x - point.box.width / 2, z - point.box.height / 2, point.box.width, point.box.height)
    edits = _placed(wall, point, found)
    wrong = [item for item in _must(_moved(base, point, x, z)) if (item.rule, item.where) not in before]
    numbers = _cut_out(found.ref, x, z)
    moved = f"{found.ref} was meant at {point.x:.0f}, {point.z:.0f} and is at {x:.0f}, {z:.0f}"
    if not wrong:
        says = f"{moved}: nothing speaks against it there{_why_free(wall, new)}; issue the point and its cut-out again, nothing else{face}"
        return Verdict(
            found.ref, "box", "adjust" if face else "accept", says, off, limit.value, limit.source, numbers, edits=edits
        )  # fmt: skip
    near = frozenset(
        ref for ref in free if any(re.search(rf"\b{ref}\b", f"{item.where} {item.says}") for item in wrong)
    )
    aside = _aside(wall, base, before, point, found, near)
    if aside is not None:
        moves, more = aside
        says = f"{moved}: {wrong[0].says}; {moves}{face}"
        way = Fix(moves, True, "nobody has set it yet", 0, edits)
        return Verdict(
            found.ref, "box", "adjust", says, off, limit.value, limit.source, (*numbers, *more), (way,), edits
        )  # fmt: skip
    fixes = tuple(
        sorted(_fixes(wall, base, before, point, (x, z), wrong), key=lambda fix: (not fix.possible, fix.cost))
    )
    first = fixes[0] if fixes and fixes[0].possible else None
    says = f"{moved}: {wrong[0].says}{'; ' + first.says if first else ''}{face}"
    if first is None or first.opens:  # nothing is cut for a box before it is settled where it goes
        return Verdict(
            found.ref, "box", "stop", says, off, limit.value, limit.source, (), fixes, first.edits if first else ()
        )  # fmt: skip
    to = _cured_by(first.edits, found.ref)
    return Verdict(
        found.ref, "box", "adjust", says, off, limit.value, limit.source, _cut_out(found.ref, *to) if to else (), fixes, first.edits
    )  # fmt: skip


def _aside(  # noqa: PLR0913
    wall: Wall, base: Job, before: set[tuple[str, str]], point: ServicePoint, found: FoundBox, free: frozenset[str]
) -> tuple[str, tuple[Number, ...]] | None:  # fmt: skip
    """How outlets that are only drawn make room for a box where it was found, and their new places; None where that does not help."""
    if not free:
        return None
    kept = tuple(one for one in base.design.points if one.ref not in free)
    new = _moved(replace(base, design=replace(base.design, points=kept)), point, found.x.mm, found.z.mm)
    if any((item.rule, item.where) not in before for item in _must(new)):
        return None
    were = {one.ref: one for one in wall.services.points}
    shifted = [
        one
        for one in new.services.points
        if one.ref in free
        and one.ref in were
        and hypot(one.x - were[one.ref].x, one.z - were[one.ref].z) >= 1
    ]
    if not shifted:
        return None
    numbers = tuple(
        Number("electrician", one.ref, f"{one.ref} middle {way}", value)
        for one in shifted
        for way, value in (("from the left", one.x), ("above FFL", one.z))
    )
    names = ", ".join(one.ref for one in shifted)
    return f"{names}, only drawn, {'moves' if len(shifted) == 1 else 'move'} aside and the box stays", numbers


def _cut_out(ref: str, x: float, z: float) -> tuple[Number, ...]:
    return (
        Number("carpenter", ref, "cut-out in back or panel, middle from the left corner", x),
        Number("carpenter", ref, "cut-out in back or panel, middle above FFL", z),
    )


def _face(wall: Wall, found: FoundBox) -> str:
    """What is wrong with how deep the box lies; "" where nothing is."""
    if found.sunk is None:
        return ""
    proud, deep = wall.limits.value("change.box_proud"), wall.limits.value("change.box_sunk")
    sunk = found.sunk.mm
    if sunk < -proud:
        return f"; it stands {-sunk:.0f} mm proud of the face: its plate will not lie on, set it back"
    if sunk > deep:
        return f"; it lies {sunk:.0f} mm below the face: a spacer ring and longer screws"
    return ""


def _placed(wall: Wall, point: ServicePoint, found: FoundBox) -> tuple[EditCall, ...]:
    """The place as found, written into the job as verified; an outlet that the program placed is pinned by it."""
    x = {"value": found.x.written or found.x.mm, "state": "verified"}
    z = {"value": found.z.written or found.z.mm, "state": "verified"}
    return _put(wall, point, x, z, "as found")


def _put(wall: Wall, point: ServicePoint, x: Any, z: Any, note: str = "set anew") -> tuple[EditCall, ...]:
    """An outlet of the job moved, or one that the program placed entered at its place."""
    if any(one.ref == point.ref for one in wall.job.design.points):
        return (edit_call("move_point", ref=point.ref, x=x, z=z),)
    return (edit_call("add_point", ref=point.ref, kind=point.kind, note=note, x=x, z=z),)


def _moved(base: Job, point: ServicePoint, x: float, z: float) -> Wall:
    return derive(apply(base, "move_point", {"ref": point.ref, "x": x, "z": z}))


def _must(wall: Wall) -> tuple[Finding, ...]:
    return tuple(item for item in check(wall) if item.severity in ("danger", "fix"))


def _wrong(findings: tuple[Finding, ...]) -> set[tuple[str, str]]:
    return {(item.rule, item.where) for item in findings if item.severity in ("danger", "fix")}


def _why_free(wall: Wall, box: Box) -> str:
    plate, clear = wall.sight.screen.plate, wall.limits.value("services.plate_clear")
    if not box.meets(wall.sight.screen.frame):
        return ""
    aside = max(box.x - plate.right, plate.x - box.right)
    above = max(box.z - plate.top, plate.z - box.top)
    return (
        f", hidden by the screen and {max(aside, above):.0f} mm clear of the mount's plate ({clear:g} asked)"
    )


def _fixes(  # noqa: PLR0913
    wall: Wall, base: Job, before: set[tuple[str, str]], point: ServicePoint, at: tuple[float, float], wrong: Sequence[Finding]
) -> Iterator[Fix]:  # fmt: skip
    """Re-box to the nearest place that is free; out from behind the plate: sideways, a spacer, the screen shifted; or chase back."""
    worth = point_worth(wall, point.ref)
    by_plate = any(item.rule == "services.behind_plate" and item.where == point.ref for item in wrong)
    if by_plate:
        yield from _past_plate(wall, base, before, point, at)
    to = next((place for item in wrong if (place := _cured_by(item.edits, point.ref))), None)
    if to is not None and not by_plate:
        yield _re_boxed(wall, base, before, point, at, to)
    yield Fix(
        "chase back to where it was drawn: make good, dry, paint again",
        True,
        "always possible before the wall is closed",
        2 * worth,
        opens=True,
    )


def _cured_by(edits: Iterable[EditCall], ref: str) -> tuple[float, float] | None:
    """Where the edits would put a box; None where they do not."""
    for call in edits:
        values = dict(call.values)
        if (
            call.edit in ("move_point", "add_point")
            and values.get("ref") == ref
            and {"x", "z"} <= set(values)
        ):
            return float(values["x"]), float(values["z"])
    return None


def _past_plate(
    wall: Wall, base: Job, before: set[tuple[str, str]], point: ServicePoint, at: tuple[float, float]
) -> Iterator[Fix]:
    """Out from behind the mount's plate: the box to either side, a spacer under the plate, or the screen shifted."""
    plate, (x, z) = wall.sight.screen.plate, at
    off = wall.limits.value("services.plate_clear") + point.box.width / 2
    sides = sorted((plate.right + off, plate.x - off), key=lambda to: abs(to - x))
    for to in sides:
        fix = _re_boxed(wall, base, before, point, at, (to, z))
        yield fix
        if fix.possible:
            break
    yield _spacer(wall)
    needed = abs(sides[0] - x)
    most = wall.limits.value("change.screen_shift")
    yield Fix(
        f"shift the screen {needed:.0f} mm", needed <= most,
        f"at most {most:g} mm before it is seen to be off its axis" if needed > most else "within what nobody sees",
    )  # fmt: skip


def _re_boxed(  # noqa: PLR0913
    wall: Wall, base: Job, before: set[tuple[str, str]], point: ServicePoint, at: tuple[float, float], to: tuple[float, float]
) -> Fix:  # fmt: skip
    """The box set anew at `to`: in the void behind a panel it needs no chase."""
    (x, z), limits = at, wall.limits
    bad = [item for item in _must(_moved(base, point, *to)) if (item.rule, item.where) not in before]
    void, least = min(_void(wall, *at), _void(wall, *to)), limits.value("change.void_for_box")
    in_void = void >= least
    how = (
        f"in the void of {void:.0f} mm, no chase"
        if in_void
        else f"with a chase, for the void is {void:.0f} mm and {least:g} is needed"
    )
    dx, dz = to[0] - x, to[1] - z
    ways = [f"{abs(dx):.0f} mm to the {'right' if dx > 0 else 'left'}"] if abs(dx) >= 1 else []
    ways += [f"{abs(dz):.0f} mm {'up' if dz > 0 else 'down'}"] if abs(dz) >= 1 else []
    return Fix(
        f"re-box {' and '.join(ways)}, {how}",
        not bad,
        bad[0].says if bad else "nothing speaks against it there",
        point_worth(wall, point.ref) // (3 if in_void else 1),
        _put(wall, point, round(to[0]), round(to[1])),
        not in_void,
    )


def _void(wall: Wall, x: float, z: float) -> float:
    """Room behind the panel at a place [mm]."""
    there = Box(x, z, 0.0, 0.0)
    return max((zone.void for zone in wall.setout.zones if zone.box.holds(there)), default=0.0)


def _spacer(wall: Wall) -> Fix:
    """A spacer under the plate, where it leaves room for the plug behind it."""
    spacer = wall.limits.value("change.spacer")
    flat: Any = wall.limits["rule.plug_flat"]
    possible = spacer >= flat.value
    why = (
        f"behind the plate there would be {spacer:g} mm, a flat plug needs {flat.value:g}"
        if not possible
        else "a flat plug has room"
    )
    return Fix(
        f"spacer of {spacer:g} mm under the plate; the screen stands {spacer:g} mm further out", possible, why
    )
