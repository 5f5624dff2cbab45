"""Rules of the screen's height: every seat within its angle, the top edge, the best height, the trade's usual band.

Where no height serves all seats, what a seat itself can do is searched: each way is tried on the whole row of seats before it is offered.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator
from dataclasses import replace

from wallwright.core.finding import EditCall, Finding, Severity, edit_call, finding
from wallwright.core.limit import Limit
from wallwright.core.units import Length
from wallwright.derive import Wall
from wallwright.job.document import Job
from wallwright.job.edits_screen import set_screen_height, set_screen_size
from wallwright.job.survey import Seat
from wallwright.rules.registry import rule
from wallwright.sight.eyes import eye_of, recline_of
from wallwright.sight.heights import Watcher, set_out
from wallwright.sight.hung import hanger, spoils
from wallwright.sight.place import keep_clear
from wallwright.sight.plan import axis_of, body_for, eyes_of, hang, shares_of, stands, watchers_of
from wallwright.sight.record import SeatView

Way = tuple[str, tuple[EditCall, ...]]
"""A cure in words and the edits that make it."""

BESIDE = 50.0
"""Nearer than this to the best height nobody sees a difference [mm]."""
NEAR = 5.0
"""An automatic height is set out to this [mm]: nearer than this to the recommended one, it is the recommended one."""
SHOWN = 0.05
"""Angles are told to a tenth of a degree: less beyond a limit is not beyond it."""
LEANS = ("bed", "armchair")
"""Seats whose back one can set: by pillows and headboard, by a lever."""
FURTHEST_BACK = 60.0
"""No back is leaned further than this to watch [deg]: common practice."""
HIGHER = 100.0
"""A cushion, a thicker mattress or other legs change a seat by this much at most [mm]: common practice."""
MOVED = 1000.0
"""A seat moved further than this is another plan of the room [mm]."""
BEHIND = 300.0
"""Room behind a seat's eye to the wall opposite [mm]: common practice."""


def hung_at(wall: Wall) -> float:
    """The recommended height as it is set out: to the millimetre, inside the band that is good for all."""
    heights = wall.sight.heights
    return set_out(heights.recommended, 1.0, heights.band)


def _to_best(wall: Wall) -> tuple[EditCall, ...]:
    return (edit_call("set_screen_height", centre_height=hung_at(wall)),)


@rule("sight.height")
def screen_height(wall: Wall) -> Iterator[Finding]:
    """The middle of the screen stands where each seat's posture wants it, within a few degrees."""
    heights = wall.sight.heights
    for seat in wall.sight.seats:
        found = _beyond(wall, abs(seat.off))
        if found is None:
            continue
        severity, limit = found
        ways = _ways(wall, seat, limit)
        alone = "" if heights.serves_all else "; no height is good for all seats"
        yield finding(
            "sight.height",
            severity,
            seat.ref,
            f"seat {seat.ref} looks {'up' if seat.off > 0 else 'down'} {abs(seat.off):.1f}° more than its posture likes "
            f"(screen centre {heights.used:.0f} mm){alone}",
            measured=round(abs(seat.off), 1),
            limit=limit,
            at=wall.sight.screen.frame,
            cure="; or ".join(says for says, _ in ways) or _no_way(wall, seat),
            edits=ways[0][1] if ways else (),
        )


def _beyond(wall: Wall, off: float) -> tuple[Severity, Limit] | None:
    """How much it matters that a seat is so many degrees off, and the limit that it passes; None where it is good."""
    steps: tuple[tuple[Severity, str], ...] = (
        ("fix", "rule.centre_up_fix"), ("consider", "rule.centre_up_consider"), ("note", "sight.centre_good"),
    )  # fmt: skip
    for severity, name in steps:
        if off > wall.limits.value(name) + SHOWN:
            return severity, wall.limits[name]
    return None


def _good(wall: Wall) -> float:
    return wall.limits.value("sight.centre_good")


def _off_at(wall: Wall, seat: SeatView, height: float) -> float:
    """How far off a seat would be with the middle of the screen at that height [deg]."""
    run = math.hypot(seat.eye[0] - wall.sight.screen.middle[0], seat.distance)
    return Watcher(seat.eye[2], run, seat.wanted, seat.share).off(height)


def _still_off(wall: Wall, ref: str, off: float) -> str:
    """What a way leaves of a seat's angle, where it is not good by it."""
    return "" if abs(off) <= _good(wall) + SHOWN else f"; seat {ref} is then {abs(off):.1f}° off"


def _no_way(wall: Wall, seat: SeatView) -> str:
    """What to say where nothing brings this seat within its limit. Another height is spoken of only where this seat gains by it."""
    heights = wall.sight.heights
    postures = "let the seats watch in more like postures, or move this one"
    if abs(heights.used - heights.recommended) <= NEAR:
        return f"the screen hangs at its best height already: {postures}"
    off = _off_at(wall, seat, heights.recommended)
    if abs(off) >= abs(seat.off):
        return f"the best height over all seats, {heights.recommended:.0f} mm, suits this one less still: {postures}"
    to = (
        f"put the middle of the screen at {heights.recommended:.0f} mm"
        if heights.pinned
        else f"clear the place at {heights.recommended:.0f} mm: the screen gave way to what stands there"
    )
    return to + _still_off(wall, seat.ref, off)


def _ways(wall: Wall, seat: SeatView, limit: Limit) -> list[Way]:
    """What really brings this seat within its limit: the recommended height first, then what the seat can do."""
    heights = wall.sight.heights
    good = _good(wall)
    ways: list[Way] = []
    if heights.pinned and abs(heights.used - heights.recommended) >= NEAR:
        height = hung_at(wall)
        off = _off_at(wall, seat, height)
        if abs(off) <= limit.value:
            left = _still_off(wall, seat.ref, off)
            says = f"put the middle of the screen at {height:.0f} mm, the best height over all seats{left}"
            ways.append((says, _to_best(wall)))
    if ways:
        return ways
    for target in dict.fromkeys((good, limit.value)):
        ways += [way for tries in _tries(wall, seat.ref) if (way := _first(wall, seat, tries, target))]
        if ways:
            break
    return ways


def _first(wall: Wall, seat: SeatView, tries: list[Way], target: float) -> Way | None:
    """The smallest of these changes with which this seat is within the target, and no other is put out of its own."""
    good = _good(wall)
    bears = [
        target if other.ref == seat.ref else max(abs(other.off), good) + 1e-9 for other in wall.sight.seats
    ]
    offs = _offs(wall, seat.ref)
    for says, edits in tries:
        change = {name: value for name, value in edits[0].values if name != "ref"}
        now = offs(change)
        if all(abs(off) <= most for off, most in zip(now, bears, strict=True)):
            own = next(off for other, off in zip(wall.sight.seats, now, strict=True) if other.ref == seat.ref)
            return says + _still_off(wall, seat.ref, own), edits
    return None


def _offs(wall: Wall, ref: str) -> Callable[[dict[str, float]], list[float]]:
    """How far each seat would be off, the screen hung anew, with these changes of one seat."""
    job, limits = wall.job, wall.limits
    people = {person.ref: person for person in job.brief.people}
    eyes = eyes_of(job, limits)
    shares, body = shares_of(eyes), body_for(job, wall.sight.screen.diagonal, limits)
    clear_of = keep_clear(job.design, job.brief, wall.face, limits)
    lengths = ("seat_height", "distance")

    def offs(change: dict[str, float]) -> list[float]:
        changed = {name: Length(value) if name in lengths else value for name, value in change.items()}
        now = [
            eye_of(replace(eye.seat, **changed), people.get(eye.seat.person or ""), limits)
            if eye.seat.ref == ref
            else eye
            for eye in eyes
        ]
        axis = axis_of(now, shares)
        centre, _, _ = hang(job, wall.face, now, shares, axis, body, clear_of, limits)
        return [
            each.off(centre[1])
            for each in watchers_of(now, shares, *stands(job, body, centre[0], limits)[1], limits)
        ]

    return offs


def _tries(wall: Wall, ref: str) -> Iterator[list[Way]]:
    """What can be changed of a seat, each from the smallest change to the largest: its back, its height, its place."""
    seat = next(item for item in wall.job.survey.seats if item.ref == ref)
    if "standing" in (seat.kind, seat.posture):
        yield _places(wall, seat)
        return
    if seat.kind in LEANS or seat.posture == "reclined":
        now = recline_of(seat, wall.limits)
        backs = sorted(
            (5.0 * k for k in range(round(FURTHEST_BACK / 5) + 1)), key=lambda back: abs(back - now)
        )
        yield [
            (f"lean the back of seat {ref} {back:.0f}° from upright instead of {now:.0f}°",
             (edit_call("set_seat", ref=ref, recline=back),))
            for back in backs if back != now
        ]  # fmt: skip
    if seat.kind in ("sofa", "armchair", "chair", "bed"):
        high = seat.seat_height.mm
        yield [
            (f"{'raise' if by > 0 else 'lower'} seat {ref} to {high + by:.0f} mm",
             (edit_call("set_seat", ref=ref, seat_height=high + by),))
            for step in range(1, round(HIGHER / 10) + 1) for by in (10.0 * step, -10.0 * step) if high + by > 0
        ]  # fmt: skip
    yield _places(wall, seat)


def _places(wall: Wall, seat: Seat) -> list[Way]:
    """The seat nearer to the wall or further from it, as far as the room goes; nowhere further where its depth is not known."""
    depth, now = wall.job.survey.room.depth, seat.distance.mm
    most = depth.mm - BEHIND if depth is not None else now
    return [
        (f"move seat {seat.ref} to {now + by:.0f} mm from the wall",
         (edit_call("set_seat", ref=seat.ref, distance=round(now + by)),))
        for step in range(1, round(MOVED / 50) + 1) for by in (50.0 * step, -50.0 * step)
        if MOVED <= now + by <= most
    ]  # fmt: skip


@rule("sight.top_edge")
def top_edge(wall: Wall) -> Iterator[Finding]:
    """The screen's top edge is not far above the eye of anyone sitting upright."""
    consider, fix = wall.limits["rule.top_up_consider"], wall.limits["rule.top_up_fix"]
    for seat in wall.sight.seats:
        up = _top(seat)
        if seat.posture == "standing" or up <= consider.value:
            continue
        way = _top_way(wall, seat.ref, consider.value)
        yield finding(
            "sight.top_edge",
            "fix" if up > fix.value else "consider",
            seat.ref,
            f"the top edge stands {up:.1f}° above the line that suits seat {seat.ref}",
            measured=round(up, 1),
            limit=fix if up > fix.value else consider,
            cure=way[0] if way else "sit further back, or ask whether this seat watches at all",
            edits=way[1] if way else (),
            at=wall.sight.screen.frame,
        )


def _top(seat: SeatView) -> float:
    return seat.top_up - max(0.0, seat.wanted)


def _top_way(wall: Wall, ref: str, most: float) -> Way | None:
    """The recommended height, or the largest smaller screen, or both, with which the top edge comes down far enough."""
    heights, screen = wall.sight.heights, wall.sight.screen
    hung, views = hanger(wall.job, wall.face, screen.diagonal, wall.limits)

    def top(job: Job) -> float:
        """Where the top edge would stand for the seat; without end where a seat would lose the picture that it has now."""
        seats = views(hung(job))
        if spoils(wall.sight.seats, seats, wall.limits):
            return math.inf
        return next(_top(seat) for seat in seats if seat.ref == ref)

    best = Length(hung_at(wall))
    says, lower = f"lower the middle of the screen to {best.mm:.0f} mm", _to_best(wall)
    lowers = heights.used > heights.recommended + NEAR
    if lowers and top(set_screen_height(wall.job, best)) <= most:
        return says, lower
    smaller = sorted(
        (row.diagonal for row in wall.sight.candidates if row.possible and row.diagonal < screen.diagonal),
        reverse=True,
    )
    for diagonal in smaller:
        size, job = edit_call("set_screen_size", diagonal=diagonal), set_screen_size(wall.job, diagonal)
        if top(job) <= most:
            return f"choose {diagonal:.0f} in", (size,)
        if lowers and top(set_screen_height(job, best)) <= most:
            return f"choose {diagonal:.0f} in and {says}", (size, *lower)
    return None


@rule("sight.off_best")
def off_best(wall: Wall) -> Iterator[Finding]:
    """A pinned screen height is near the best one over all seats."""
    limit = wall.limits["rule.off_best"]
    heights = wall.sight.heights
    off = heights.used - heights.recommended
    if not heights.pinned or not wall.sight.seats or abs(off) <= limit.value:
        return
    yield finding(
        "sight.off_best",
        "consider",
        "screen",
        f"the middle of the screen is pinned {abs(off):.0f} mm {'above' if off > 0 else 'below'} the best height over all seats",
        measured=round(abs(off)),
        limit=limit,
        at=wall.sight.screen.frame,
        cure=f"put the middle of the screen at {hung_at(wall):.0f} mm",
        edits=_to_best(wall),
    )


@rule("sight.trade_band")
def trade_band(wall: Wall) -> Iterator[Finding]:
    """Where the computed height leaves the trade's usual band, both are said, and why."""
    heights = wall.sight.heights
    if heights.rule_low <= heights.used <= heights.rule_high or not wall.sight.seats:
        return
    kind = wall.job.survey.room.kind
    postures = ", ".join(
        f"{seat.ref} {seat.posture} {seat.recline:.0f}°, eye {seat.eye[2]:.0f} mm"
        for seat in wall.sight.seats
    )
    near = abs(heights.used - heights.recommended) <= BESIDE
    yield Finding(
        "sight.trade_band",
        "note",
        "screen",
        f"the trade usually hangs a {kind} screen at {heights.rule_low:.0f} to {heights.rule_high:.0f} mm; these seats give "
        f"{heights.recommended:.0f} mm ({postures}); the design has {heights.used:.0f} mm",
        round(heights.used),
        f"{heights.rule_low:.0f} to {heights.rule_high:.0f}",
        "mm",
        "common practice: 42 to 48 in for people upright on a sofa, 36 to 40 in for people reclining in a bedroom",
        "common practice",
        "nothing to do if the postures are right; ask how they watch"
        if near
        else f"put the middle of the screen at {hung_at(wall):.0f} mm",
        () if near else _to_best(wall),
        at=wall.sight.screen.frame,
    )
