"""Boxes in the wall as found: within their tolerance, elsewhere but as good, or where they cannot stay, with the ways out ranked."""

from __future__ import annotations

from collections.abc import Iterator
from math import hypot
from typing import TYPE_CHECKING, Any

from wallwright.change.verdict import Fix, Number, Verdict
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
    base = pinned(wall)
    before = _wrong(check(derive(base)))
    for i, found in enumerate(site.boxes):
        if found.ref not in points:
            says = f"is no outlet of this wall; {nearest(found.ref, points)}"
            raise fail(f"boxes[{i}].ref", found.ref, says, "site")
        yield _verdict(wall, base, before, points[found.ref], found)


def _verdict(
    wall: Wall, base: Job, before: set[tuple[str, str]], point: ServicePoint, found: FoundBox
) -> Verdict:
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
    numbers = (
        Number("carpenter", found.ref, "cut-out in back or panel, middle from the left corner", x),
        Number("carpenter", found.ref, "cut-out in back or panel, middle above FFL", z),
    )
    moved = f"{found.ref} was meant at {point.x:.0f}, {point.z:.0f} and is at {x:.0f}, {z:.0f}"
    if not wrong:
        says = f"{moved}: nothing speaks against it there{_why_free(wall, new)}; issue the point and its cut-out again, nothing else{face}"
        return Verdict(
            found.ref, "box", "adjust" if face else "accept", says, off, limit.value, limit.source, numbers, edits=edits
        )  # fmt: skip
    fixes = tuple(
        sorted(_fixes(wall, base, before, point, (x, z)), key=lambda fix: (not fix.possible, fix.cost))
    )
    first = fixes[0] if fixes and fixes[0].possible else None
    says = f"{moved}: {wrong[0].says}{'; ' + first.says if first else ''}"
    return Verdict(
        found.ref, "box", "adjust" if first and not first.opens else "stop", says, off,
        limit.value, limit.source, numbers, fixes, first.edits if first else (),
    )  # fmt: skip


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
    place = {
        "x": {"value": found.x.written or found.x.mm, "state": "verified"},
        "z": {"value": found.z.written or found.z.mm, "state": "verified"},
    }
    if any(one.ref == point.ref for one in wall.job.design.points):
        return (edit_call("move_point", ref=point.ref, **place),)
    return (edit_call("add_point", ref=point.ref, kind=point.kind, note="as found", **place),)


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


def _fixes(
    wall: Wall, base: Job, before: set[tuple[str, str]], point: ServicePoint, at: tuple[float, float]
) -> Iterator[Fix]:
    """Re-box sideways, a spacer, shift the screen, or chase back to where it was drawn."""
    screen, limits = wall.sight.screen, wall.limits
    x, z = at
    clear, half = limits.value("services.plate_clear"), point.box.width / 2
    worth = point_worth(wall, point.ref)
    sides = sorted(
        (screen.plate.right + clear + half, screen.plate.x - clear - half), key=lambda to: abs(to - x)
    )
    void, least = _void(wall, x, z), limits.value("change.void_for_box")
    for to in sides:
        bad = [item for item in _must(_moved(base, point, to, z)) if (item.rule, item.where) not in before]
        in_void = void >= least
        how = (
            f"in the void of {void:.0f} mm, no chase"
            if in_void
            else f"with a level chase, for the void is {void:.0f} mm and {least:g} is needed"
        )
        says = f"re-box {abs(to - x):.0f} mm to the {'right' if to > x else 'left'}, {how}"
        edits = (edit_call("move_point", ref=point.ref, x=round(to), z=round(z)),)
        yield Fix(
            says,
            not bad,
            bad[0].says if bad else "clear of the plate there",
            worth // (3 if in_void else 1),
            edits,
            not in_void,
        )
        if not bad:
            break
    yield _spacer(wall)
    needed = abs(sides[0] - x)
    most = limits.value("change.screen_shift")
    yield Fix(
        f"shift the screen {needed:.0f} mm", needed <= most,
        f"at most {most:g} mm before it is seen to be off its axis" if needed > most else "within what nobody sees",
    )  # fmt: skip
    yield Fix(
        "chase back to where it was drawn: make good, dry, paint again",
        True,
        "always possible before the wall is closed",
        2 * worth,
        opens=True,
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
