"""Rules of sight: size, side view, reflections and what stands in the screen's way."""

from __future__ import annotations

from collections.abc import Iterator

from wallwright.carcass import niche
from wallwright.core.finding import EditCall, Finding, edit_call, finding
from wallwright.core.shape import Box, Point2, around
from wallwright.derive import Wall
from wallwright.job.edits_screen import set_screen_size
from wallwright.job.face import obstacle_box
from wallwright.rules.registry import rule
from wallwright.rules.services import panel_build_up
from wallwright.sight.cure_setting import setting_of
from wallwright.sight.cures import Cure, cures
from wallwright.sight.hung import hanger, spoils
from wallwright.sight.record import Reflection


def _mm(value: float) -> int:
    return round(value)


@rule("sight.size")
def screen_size(wall: Wall) -> Iterator[Finding]:
    """The picture is neither lost nor overwhelming from the seats that count."""
    screen = wall.sight.screen
    most = wall.limits["rule.picture_angle_most"]
    for seat in wall.sight.seats:
        bed = seat.kind == "bed"
        least = wall.limits["rule.picture_angle_least_bed" if bed else "rule.picture_angle_least"]
        angle = seat.picture_angle
        if least.value <= angle <= most.value or seat.share < 0.1:
            continue
        small = angle < least.value
        limit = least if small else most
        pick = _suits(wall, seat.ref, small, (least.value, most.value))
        yield finding(
            "sight.size",
            "consider",
            seat.ref,
            f"the picture fills {angle:.1f}° from seat {seat.ref}: too {'small' if small else 'large'}",
            measured=round(angle, 1),
            limit=limit,
            at=screen.frame,
            cure=f"a {pick:.0f} in screen suits this seat, spoils no other, and fits"
            if pick
            else f"no size that fits the wall, comes in and spoils no other seat suits this one; move it "
            f"{'nearer' if small else 'further away'}",
            edits=[edit_call("set_screen_size", diagonal=pick)] if pick else [],
        )


def _suits(wall: Wall, ref: str, larger: bool, angles: tuple[float, float]) -> float | None:
    """The nearest larger or smaller size that can be had, with which a seat's picture lies between these angles and no other
    seat's is spoilt; each is tried as it would hang. None where there is none.
    """
    now, limits = wall.sight.screen.diagonal, wall.limits
    sizes = [row.diagonal for row in wall.sight.candidates if row.possible and (row.diagonal > now) == larger]
    hung, views = hanger(wall.job, wall.face, now, limits)
    for diagonal in sorted((size for size in sizes if size != now), reverse=not larger):
        seats = views(hung(set_screen_size(wall.job, diagonal)))
        angle = next(seat.picture_angle for seat in seats if seat.ref == ref)
        if angles[0] <= angle <= angles[1] and not spoils(wall.sight.seats, seats, limits, ref):
            return diagonal
    return None


@rule("sight.sideways")
def side_view(wall: Wall) -> Iterator[Finding]:
    """No seat looks at the panel from further aside than its class can bear."""
    screen = wall.sight.screen
    limit = wall.limits[f"rule.sideways_{screen.panel}"]
    for seat in wall.sight.seats:
        aside = abs(seat.sideways)
        if aside <= limit.value:
            continue
        wider = next(
            (
                kind
                for kind in ("ips", "self_emitting")
                if wall.limits.value(f"rule.sideways_{kind}") >= aside
            ),
            None,
        )
        yield finding(
            "sight.sideways",
            "consider",
            seat.ref,
            f"seat {seat.ref} sees the picture {aside:.0f}° from the side; this panel class holds to {limit.value:.0f}°",
            measured=round(aside, 1),
            limit=limit,
            at=screen.frame,
            cure=f"choose a panel of the class {wider.replace('_', ' ')}, or an arm that swivels"
            if wider
            else "use an arm that swivels, or move the seat",
            edits=[edit_call("set_screen_panel", panel=wider)] if wider else [],
        )


def windows_that_trouble(wall: Wall) -> list[Reflection]:
    """The mirrored windows that matter: large enough in the picture, and bright enough beside it."""
    consider, good = wall.limits.value("rule.reflection_consider"), wall.limits.value("rule.veil_good")
    return [
        hit
        for hit in wall.sight.reflections
        if hit.kind == "window" and hit.share > consider and hit.ratio > good
    ]


@rule("sight.reflection")
def reflection(wall: Wall) -> Iterator[Finding]:
    """No window is mirrored in the picture from a seat, unless its blind takes the light away."""
    consider, fix = wall.limits["rule.reflection_consider"], wall.limits["rule.reflection_fix"]
    bad = wall.limits.value("rule.veil_bad")
    ways: dict[str, tuple[Cure, ...]] = {}
    for hit in windows_that_trouble(wall):
        if hit.window not in ways:
            ways[hit.window] = window_ways(wall, hit.window)
        heavy = hit.share > fix.value and hit.ratio > bad
        solving: dict[str, Cure] = {}
        for cure in ways[hit.window]:
            if cure.solves:
                solving.setdefault(cure.kind, cure)  # the best of each kind
        best = list(solving.values())
        made = next((cure for cure in best if cure.edits), None)
        yield finding(
            "sight.reflection",
            "fix" if heavy else "consider",
            hit.seat,
            f"window {hit.window} is mirrored in {hit.share:.0%} of the picture seen from seat {hit.seat}, at {hit.ratio:.2f} of "
            f"the picture's luminance: it {hit.verdict}",
            measured=round(hit.share, 3),
            limit=fix if heavy else consider,
            at=around(hit.polygon),
            cure="; or ".join(_said(cure) for cure in best[:3]) or "move the screen or the seats",
            edits=made.edits if made else (),
        )


def _said(cure: Cure) -> str:
    return f"{cure.says} ({'; '.join(cure.effects)})" if cure.effects else cure.says


def window_ways(wall: Wall, ref: str) -> tuple[Cure, ...]:
    """The cures of a mirrored window, found and ranked."""
    setting = setting_of(
        wall.job, wall.face, wall.sight.screen, wall.sight.seats, wall.limits, panel_build_up(wall)
    )
    window = next(other for other in setting.others if other.ref == ref)
    through = next(item.blind for item in wall.job.survey.windows if item.ref == ref)
    return cures(window, through, setting, wall.limits)


@rule("sight.unverified_frame")
def unverified_frame(wall: Wall) -> Iterator[Finding]:
    """No tight gap rests on a frame size from a shop page or a typical value."""
    screen = wall.sight.screen
    if screen.source in ("maker_drawing", "measured"):
        return
    limit = wall.limits["rule.unverified_gap"]
    below = [
        unit
        for unit in wall.setout.units
        if unit.box.top <= screen.frame.z and unit.box.shared_span(screen.frame)
    ]
    gap = min((screen.frame.z - unit.box.top for unit in below), default=float("inf"))
    tight = gap < limit.value
    yield finding(
        "sight.unverified_frame",
        "fix" if tight else "note",
        "screen",
        f"the frame size is {screen.source.replace('_', ' ')}, not from the maker's drawing"
        + (f", and the gap below the screen is only {gap:.0f} mm" if tight else "; freeze no height on it"),
        measured=round(gap) if below else screen.source,
        limit=limit,
        at=screen.frame,
        cure="enter the frame and hole group from the maker's drawing, or measure the screen",
    )


@rule("sight.axis")
def off_axis(wall: Wall) -> Iterator[Finding]:
    """The screen stands on the axis of the seats that count."""
    limit = wall.limits["rule.axis_angle"]
    angle = abs(wall.look.axis_angle)
    if angle <= limit.value:
        return
    to = wall.sight.screen.centre[0] - wall.look.axis_offset
    yield finding(
        "sight.axis",
        "consider",
        "screen",
        f"the screen stands {abs(wall.look.axis_offset):.0f} mm off the axis of the seats ({angle:.1f}°)",
        measured=round(angle, 1),
        limit=limit,
        at=wall.sight.screen.frame,
        cure=f"put the middle of the screen at {to:.0f} mm from the left corner",
        edits=[edit_call("set_screen_x", centre_x=_mm(to))],
    )


@rule("sight.fits_wall")
def fits_wall(wall: Wall) -> Iterator[Finding]:
    """The screen's frame lies within the wall, with room for a hand at its sides."""
    frame, limit = wall.sight.screen.frame, wall.limits["rule.side_gap"]
    room = min(frame.x, wall.face.width - frame.right, wall.face.height - frame.top, frame.z)
    side = min(frame.x, wall.face.width - frame.right)
    if room >= 0 and side >= limit.value:
        return
    smaller = [
        item.diagonal
        for item in wall.sight.candidates
        if item.possible and item.diagonal < wall.sight.screen.diagonal
    ]
    edits = _screen_released(wall)
    if smaller:
        edits.insert(0, edit_call("set_screen_size", diagonal=max(smaller)))
    yield finding(
        "sight.fits_wall",
        "fix",
        "screen",
        f"the screen's frame is {frame.width:.0f} × {frame.height:.0f} mm and leaves {min(side, room):.0f} mm to the wall's edge",
        measured=round(min(side, room)),
        limit=limit,
        at=frame,
        cure=f"choose {max(smaller):.0f} in, or let the program place the screen"
        if smaller
        else "let the program place the screen",
        edits=edits,
    )


@rule("sight.in_the_way")
def in_the_way(wall: Wall) -> Iterator[Finding]:
    """Nothing that stays on the wall, and no unit, stands where the screen hangs."""
    frame = wall.sight.screen.frame
    gap = wall.limits["rule.side_gap"]
    for thing in wall.face.obstacles:
        if thing.kind in ("socket", "switch", "data_point", "cable", "skirting"):
            continue  # these lie flat in the wall; services rules speak of them
        shared = obstacle_box(thing).shared(frame)
        if shared:
            yield finding(
                "sight.in_the_way",
                "fix",
                thing.ref,
                f"the {thing.kind} {thing.ref} stands where the screen hangs ({shared.width:.0f} × {shared.height:.0f} mm)",
                measured=round(shared.width),
                limit=gap,
                at=shared,
                cure="let the program place the screen clear of it",
                edits=_screen_released(wall),
            )
    for unit in wall.setout.units:
        shared = unit.box.shared(frame)
        if shared and not (unit.round_screen and niche.clear_of(unit).holds(frame)):
            yield finding(
                "sight.in_the_way",
                "fix",
                unit.ref,
                f"{unit.ref} stands where the screen hangs ({shared.width:.0f} × {shared.height:.0f} mm)",
                measured=round(min(shared.width, shared.height)),
                limit=gap,
                at=shared,
                cure="let the program place what was pinned clear of the other",
                edits=_screen_released(wall) + _released(unit.ref, unit.pinned),
            )


def _screen_released(wall: Wall) -> list[EditCall]:
    """Give the screen's pinned place back to the program."""
    places = ("centre_x", "centre_height")
    return [
        edit_call("release", field=f"design.screen.{name}")
        for name in places
        if name in wall.sight.screen.pinned
    ]


def _released(ref: str, pinned: frozenset[str]) -> list[EditCall]:
    """Give a unit's pinned places and sizes back to the program."""
    return [edit_call("release", field=f"design.units.{ref}.{name}") for name in sorted(pinned)]


@rule("sight.below_ac")
def below_ac(wall: Wall) -> Iterator[Finding]:
    """Neither the screen nor an outlet nor a strip hangs straight below an air conditioner: it drips."""
    limit = wall.limits["rule.ac_clear"]
    frame = wall.sight.screen.frame
    for thing in wall.face.obstacles:
        if thing.kind != "ac":
            continue
        unit = obstacle_box(thing)
        shadow = Box(unit.x - limit.value, 0.0, unit.width + 2 * limit.value, unit.z)
        wet = [
            point.ref for point in wall.services.points if point.kind != "conduit" and shadow.meets(point.box)
        ]
        wet += [run.ref for run in wall.light.runs if any(_inside(shadow, place) for place in run.path)]
        if not shadow.meets(frame) and not wet:
            continue
        to = _dry_place(wall, unit, limit.value)
        what = "the screen" if shadow.meets(frame) else ", ".join(wet)
        yield finding(
            "sight.below_ac",
            "consider",
            thing.ref,
            f"{what}: below the air conditioner {thing.ref}",
            measured=round(unit.z - frame.top),
            limit=limit,
            at=shadow.shared(frame) or shadow,
            cure=f"move the air conditioner to x {to:.0f} mm"
            if to is not None
            else "fit a drip tray with a checked drain, or put the air conditioner on another wall",
            edits=[edit_call("move_obstacle", ref=thing.ref, x=to)] if to is not None else [],
        )


def _inside(box: Box, place: Point2) -> bool:
    return box.x < place[0] < box.right and box.z <= place[1] < box.top


def _dry_place(wall: Wall, unit: Box, clear: float) -> int | None:
    """The place nearest to where an air conditioner hangs with neither screen nor outlet below it; None where there is none."""
    below = [wall.sight.screen.frame] + [
        point.box for point in wall.services.points if point.kind != "conduit"
    ]
    others = [obstacle_box(thing) for thing in wall.face.obstacles if thing.kind != "ac"]
    best: int | None = None
    for x in range(0, int(wall.face.width - unit.width) + 1, 10):
        shadow = Box(x - clear, 0.0, unit.width + 2 * clear, unit.z)
        here = Box(x, unit.z, unit.width, unit.height)
        lit = any(_inside(shadow, place) for run in wall.light.runs for place in run.path)
        if lit or any(shadow.meets(box) for box in below) or any(here.meets(box) for box in others):
            continue
        if best is None or abs(x - unit.x) < abs(best - unit.x):
            best = x
    return best


@rule("sight.console_gap")
def console_gap(wall: Wall) -> Iterator[Finding]:
    """The screen's lower edge is clear of what stands below it, and of the soundbar on it."""
    frame, limit = wall.sight.screen.frame, wall.limits["rule.console_gap"]
    bars = [item for item in wall.services.devices if item.kind == "soundbar" and item.place == "on_console"]
    bar = max((item.height for item in bars), default=0.0)
    needed = bar + wall.limits.value("rule.soundbar_gap") if bars else limit.value
    for unit in wall.setout.units:
        if unit.tall or unit.round_screen or not unit.box.shared_span(frame) or unit.box.z > frame.z:
            continue
        gap = frame.z - unit.box.top
        if gap >= needed:
            continue
        to = frame.z + frame.height / 2 + needed - gap
        said = f"the soundbar on {unit.ref} ({bar:.0f} mm high)" if bars else f"{unit.ref}"
        yield finding(
            "sight.console_gap",
            "fix" if bars and gap < bar else "consider",
            unit.ref,
            f"only {gap:.0f} mm between {unit.ref} and the screen; {said} needs {needed:.0f} mm",
            measured=round(gap),
            limit=wall.limits["rule.soundbar_gap"] if bars else limit,
            cure=f"raise the middle of the screen to {to:.0f} mm, or lower {unit.ref} by {needed - gap:.0f} mm",
            edits=[edit_call("set_screen_height", centre_height=_mm(to + 1))],
            at=Box(unit.box.x, unit.box.top, unit.box.width, max(gap, 1.0)),
        )
