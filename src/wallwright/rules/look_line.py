"""Rules of proportion and upkeep: both sides carry alike, near misses, lines beside the screen, grooves that catch dust."""

from __future__ import annotations

from collections.abc import Iterator

from wallwright.carcass.record import SetOut
from wallwright.core.finding import EditCall, Finding, edit_call, finding
from wallwright.core.limit import Limits
from wallwright.core.shape import Box
from wallwright.derive import Wall
from wallwright.job.face import obstacle_box
from wallwright.look.guides import alignments
from wallwright.look.record import Alignment
from wallwright.rules.places import Cure, boards_of, changed
from wallwright.rules.registry import rule
from wallwright.sight.record import Screen


@rule("look.lopsided")
def lopsided(wall: Wall) -> Iterator[Finding]:
    """Both sides of the wall carry about the same to the eye."""
    limit = wall.limits["rule.balance"]
    if wall.look.balance >= limit.value:
        return
    middle = wall.face.width / 2
    turn = sum(unit.box.area * (unit.box.centre[0] - middle) for unit in wall.setout.units)
    side, other = ("right", "left") if turn > 0 else ("left", "right")
    yield finding(
        "look.lopsided",
        "consider",
        "wall",
        f"the {side} side carries much more than the {other} (balance {wall.look.balance:.2f} of 1)",
        measured=round(wall.look.balance, 2),
        limit=limit,
        at=wall.face.box,
        cure=f"give the {other} side a tower, a shelf or the panel's wide side; or move the heavy unit towards the middle",
    )


@rule("look.near_miss")
def near_miss(wall: Wall) -> Iterator[Finding]:
    """What almost stands on the screen's axis or edge stands on it."""
    limit, least = wall.limits["rule.near_miss"], wall.limits.value("look.axis_near")
    told: set[str] = set()
    for item in wall.look.alignments:
        if (
            item.what in ("joint", "end of the light")
            or not least < abs(item.gap) <= limit.value
            or item.ref in told
        ):
            continue
        told.add(item.ref)  # a thing of the screen's own width misses with both ends at once
        side = "right" if item.gap > 0 else "left"
        cure, edits = _onto(wall, item)
        yield finding(
            "look.near_miss",
            "consider",
            item.ref,
            f"the {item.what} of {item.ref} stands {abs(item.gap):.0f} mm {side} of the screen's {item.to}, like a mistake",
            measured=round(abs(item.gap), 1),
            limit=limit,
            cure=cure,
            edits=edits,
        )


def _misses(screen: Screen, setout: SetOut, ref: str, limits: Limits) -> list[Alignment]:
    """What almost stands on the screen's axis or edge, of one unit or panel."""
    least, most = limits.value("look.axis_near"), limits.value("rule.near_miss")
    found = alignments(screen, setout, ())
    return [one for one in found if one.ref == ref and one.what != "joint" and least < abs(one.gap) <= most]


def _onto(wall: Wall, item: Alignment) -> Cure:
    """The move, of those that its misses ask for, after which it misses nothing; else the screen's own width; else words. Each is
    tried: what is moved may be kept from it by a neighbour, and may miss with its other end then.
    """
    screen, ref = wall.sight.screen, item.ref
    unit = next((unit for unit in wall.setout.units if unit.ref == ref), None)
    box = unit.box if unit else next(zone.box for zone in wall.setout.zones if zone.ref == ref)
    what = "unit" if unit else "panel"
    gaps = dict.fromkeys((item.gap, *(one.gap for one in _misses(screen, wall.setout, ref, wall.limits))))
    ways = [
        Cure(
            f"move {ref} by {abs(gap):.0f} mm onto it, or well away from it"
            if gap == item.gap
            else f"move {ref} {abs(gap):.0f} mm to the {'left' if gap > 0 else 'right'}, or well away from the screen's edges",
            (edit_call(f"move_{what}", ref=ref, x=round(box.x - gap, 1)),),
        )
        for gap in gaps
    ]
    frame = screen.frame
    ways.append(
        Cure(
            f"make {ref} as wide as the screen, {frame.width:.0f} mm, and set it on its edges; or move it well away from them",
            (
                edit_call(f"move_{what}", ref=ref, x=round(frame.x, 1)),
                edit_call(f"resize_{what}", ref=ref, width=round(frame.width, 1)),
            ),
        )
    )
    for way in ways:
        job = changed(wall.job, way.edits)
        after = boards_of(job) if job else None
        if after and not _misses(screen, after.setout, ref, wall.limits):
            return way
    return Cure(
        f"move {ref} well away from the screen's {item.to}, or move what keeps it from standing on that", ()
    )


@rule("look.crooked")
def crooked(wall: Wall) -> Iterator[Finding]:
    """No line runs so close beside the screen that the last trace of tilt shows against it."""
    limit, level = wall.limits["rule.crooked_share"], wall.limits.value("look.level")
    frame = wall.sight.screen.frame
    for line in wall.look.near_lines:
        along = frame.height if line.upright else frame.width
        off = level * along / 1000
        if off / line.gap <= limit.value:
            continue
        yield finding(
            "look.crooked",
            "consider",
            line.ref,
            f"an edge of {line.ref} runs {line.gap:.0f} mm beside the screen: hung level to {level:g} mm/m the screen is still "
            f"{off:.1f} mm out along it, {off / line.gap:.0%} of the gap",
            measured=round(off / line.gap, 3),
            limit=limit,
            cure=f"keep {line.ref} {off / limit.value:.0f} mm or more away, or let the program place it; "
            "choose a mount that levels by 3° both ways",
            edits=_given_back(wall, line.ref),
        )


def _given_back(wall: Wall, ref: str) -> list[EditCall]:
    """Pinned places and sizes of a panel or unit given back to the program; a niche is widened by hand."""
    for zone in wall.setout.zones:
        if zone.ref == ref:
            return [edit_call("release", field=f"design.panels.{ref}.{name}") for name in sorted(zone.pinned)]
    for unit in wall.setout.units:
        if unit.ref == ref:
            return [edit_call("release", field=f"design.units.{ref}.{name}") for name in sorted(unit.pinned)]
    return []


@rule("look.dusty_grooves")
def dusty_grooves(wall: Wall) -> Iterator[Finding]:
    """Grooves keep away from air conditioners, kitchens and small hands: they hold what settles there."""
    near = wall.limits["rule.groove_ac"]
    coolers = [obstacle_box(thing) for thing in wall.face.obstacles if thing.kind == "ac"]
    for zone in wall.setout.zones:
        if not zone.flutes:
            continue
        gap = min((zone.box.gap(cooler) for cooler in coolers), default=float("inf"))
        kitchen = wall.job.survey.room.kind == "studio"
        if gap > near.value and not kitchen:
            continue
        face = next(face for face in wall.look.cleaning if face.ref == zone.ref)
        where = "in one room with the kitchen" if kitchen else f"{gap:.0f} mm from the air conditioner"
        yield finding(
            "look.dusty_grooves",
            "consider",
            zone.ref,
            f"the grooves of {zone.ref} lie {where}: about {face.minutes:.0f} minutes of dusting a month (an estimate: its "
            f"face is {face.factor:.2f} times a flat one)",
            measured="kitchen" if kitchen else round(gap),
            limit=near,
            at=zone.box,
            cure="use a flat panel there, or tell the client what it asks for",
            edits=[edit_call("set_panel_kind", ref=zone.ref, kind="flat")],
        )


@rule("look.low_grooves")
def low_grooves(wall: Wall) -> Iterator[Finding]:
    """Where small children live, no open grooves within their reach."""
    limit, young = wall.limits["rule.groove_child"], wall.limits.value("light.child_age")
    if not any(person.age is not None and person.age < young for person in wall.job.brief.people):
        return
    for zone in wall.setout.zones:
        if not zone.flutes or zone.box.z >= limit.value:
            continue
        low = Box(zone.box.x, zone.box.z, zone.box.width, min(limit.value, zone.box.top) - zone.box.z)
        yield finding(
            "look.low_grooves",
            "note",
            zone.ref,
            f"the grooves of {zone.ref} begin {zone.box.z:.0f} mm above the floor, within a small child's reach",
            measured=round(zone.box.z),
            limit=limit,
            at=low,
            cure=f"use a flat panel, or grooves above {limit.value:.0f} mm only",
            edits=[edit_call("set_panel_kind", ref=zone.ref, kind="flat")],
        )
