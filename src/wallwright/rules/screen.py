"""Rules of the screen's hanging: bracket height, way in, niche, sight lines, hands and plugs behind it, turning, captions.

What they measure stands in `screen_room`, where the sheets and the page find it too.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence

from wallwright.core.finding import EditCall, Finding, edit_call, finding
from wallwright.derive import Wall
from wallwright.rules import screen_room
from wallwright.rules.registry import rule
from wallwright.rules.services import panel_build_up
from wallwright.sight import mount, sightlines
from wallwright.sight import swivel as swivels
from wallwright.sight.plan import swivel_body

LOOSE = ("the head", "the plant", "the lamp", "the stool", "the table", "the other")
"""What stands before the screen and can be moved: no reason to raise the screen."""


@rule("screen.bracket_unverified")
def bracket_unverified(wall: Wall) -> Iterator[Finding]:
    """No bracket height rests on a single unverified source once the screen is decided: it ends up low, high or crooked."""
    hanging = wall.sight.hanging
    if hanging is None or hanging.verified or wall.job.design.screen.diagonal is None:
        return
    limit = wall.limits["sight.hole_agree"]
    differ = hanging.confidence.differ
    yield finding(
        "screen.bracket_unverified",
        "fix",
        "screen",
        f"the bracket's height is unverified: {hanging.confidence.says}",
        measured=round(differ, 1) if differ is not None else "a single source",
        limit=limit,
        at=wall.sight.screen.plate,
        cure="measure the hole group on the screen itself, take it from the maker's drawing, or enter a second source that "
        f"agrees within {limit.value:g} mm; until then do not drill",
    )


@rule("screen.foot_in_wall")
def foot_in_wall(wall: Wall) -> Iterator[Finding]:
    """A tilted screen's lower back edge stays clear of the wall or the panel behind it."""
    screen, limit = wall.sight.screen, wall.limits["sight.foot_clear"]
    built = panel_build_up(wall)
    back = screen.frame.height / 2 * math.sin(math.radians(abs(screen.tilt)))
    clear = screen.stand_off - built - back
    if screen.tilt == 0 or clear >= limit.value - 0.5:
        return
    needs = math.ceil(built + back + limit.value)
    yield finding(
        "screen.foot_in_wall",
        "fix",
        "screen",
        f"tilted {abs(screen.tilt):.1f}° the screen's edge comes {'to ' if clear >= 0 else ''}{abs(clear):.0f} mm "
        f"{'of' if clear >= 0 else 'into'} what stands behind it",
        measured=round(clear),
        limit=limit,
        at=screen.frame,
        cure=f"use a mount that holds it {needs} mm off the wall's face, or tilt it less",
        edits=[edit_call("set_mount", stand_off=needs)],
    )


@rule("screen.way_in")
def way_in(wall: Wall) -> Iterator[Finding]:
    """The carton passes door, lift or stair, upright as its arrows say."""
    carried = wall.sight.route
    if carried is None or not carried.surveyed or (carried.passes and not carried.on_end):
        return
    chosen = wall.sight.screen.diagonal
    smaller = [row.diagonal for row in wall.sight.candidates if row.possible and row.diagonal < chosen]
    blocked = not carried.passes
    edits: list[EditCall] = []
    cure = "agree with the carrier in writing that it may be tipped, or carry it up by a stair that takes it upright"
    if blocked:
        cure = "survey another way in, ask for a hoist, or unpack it outside with the carrier's word"
    if blocked and smaller:
        cure = f"choose {max(smaller):.0f} in, whose carton passes; or {cure}"
        edits = [edit_call("set_screen_size", diagonal=max(smaller))]
    yield finding(
        "screen.way_in",
        "fix" if blocked else "note",
        "screen",
        carried.says,
        measured=", ".join(f"{step.place}: {step.how or 'does not pass'}" for step in carried.steps),
        limit=wall.limits["sight.route_clear"],
        cure=cure,
        edits=edits,
    )


@rule("screen.niche")
def niche(wall: Wall) -> Iterator[Finding]:
    """The niche round the screen leaves room for hands and air on every side."""
    want, frame = wall.job.design.screen, wall.sight.screen.frame
    gap = wall.limits["sight.niche_gap"]
    for name, size, clear in (
        ("width", frame.width, want.niche_width), ("height", frame.height, want.niche_height),
    ):  # fmt: skip
        if clear is None or size + 2 * gap.value <= clear.mm:
            continue
        needs = math.ceil(size + 2 * gap.value)
        yield finding(
            "screen.niche",
            "fix",
            f"niche {name}",
            f"the niche's {name} is {clear.mm:.0f} mm; a frame of {size:.0f} mm needs {needs} mm",
            measured=round((clear.mm - size) / 2, 1),
            limit=gap,
            at=frame,
            cure=f"make the niche {needs} mm in {name}, or leave it out",
            edits=[edit_call("set_screen_niche", **{name: needs})],
        )


@rule("screen.niche_later")
def niche_later(wall: Wall) -> Iterator[Finding]:
    """A niche takes the next larger screen too, or it is said that it does not."""
    want = wall.job.design.screen
    if want.niche_width is None and want.niche_height is None:
        return
    ahead = screen_room.later(wall)
    stops = [text for text in ahead.stops if text.startswith("the niche")]
    if ahead.next is None or not stops or ahead.next <= wall.sight.screen.diagonal:
        return
    yield finding(
        "screen.niche_later",
        "note",
        "niche",
        f"the next larger screen, {ahead.next:.0f} in, will never go into this niche: {' and '.join(stops)}",
        measured=ahead.largest or "none",
        limit=wall.limits["sight.niche_gap"],
        at=wall.sight.screen.frame,
        cure="tell the client now, make the niche larger, or leave it out",
    )


@rule("screen.sight_line")
def sight_line(wall: Wall) -> Iterator[Finding]:
    """Nothing between a seat and the screen hides the picture's foot, or comes near to it."""
    for seen in screen_room.sight_lines(wall):
        if seen.good or seen.what != sightlines.PICTURE:
            continue
        rise = screen_room.rise_needed(wall, seen)
        to = math.ceil(wall.sight.screen.centre[1] + rise)
        fixed = not seen.over.startswith(LOOSE)
        raised = fixed and rise <= wall.limits.value("sight.raise_most")
        hides = (
            f"hides {seen.hidden:.0f} mm of the picture's foot"
            if seen.hidden > 0
            else "nearly hides the picture's foot"
        )
        yield finding(
            "screen.sight_line",
            "fix" if fixed and seen.hidden > 0 else "consider",
            seen.seat,
            f"{seen.over} {hides} from seat {seen.seat}: the sight line passes {abs(seen.clear):.0f} mm "
            f"{'above' if seen.clear >= 0 else 'below'} its top",
            measured=round(seen.clear),
            limit=wall.limits["sight.bar_clear" if seen.wants <= 20 else "sight.sight_line_clear"],
            at=wall.sight.screen.picture,
            cure=f"raise the middle of the screen to {to} mm, or lower what stands there"
            if raised
            else "move or lower what stands there",
            edits=[edit_call("set_screen_height", centre_height=to)] if raised else [],
        )


@rule("screen.ir_hidden")
def ir_hidden(wall: Wall) -> Iterator[Finding]:
    """The screen's infrared eye is seen from every seat: nothing stands before it."""
    for seen in screen_room.sight_lines(wall):
        if seen.what == sightlines.PICTURE or seen.clear >= 0:
            continue
        yield finding(
            "screen.ir_hidden",
            "fix",
            seen.seat,
            f"{seen.over} stands before the screen's infrared eye for seat {seen.seat}: {-seen.clear:.0f} mm too high",
            measured=round(seen.clear),
            limit=wall.limits["sight.bar_clear"],
            at=wall.sight.screen.frame,
            cure=f"lower {seen.over}, raise the screen, or put a repeater",
        )


@rule("screen.hand_access")
def hands(wall: Wall) -> Iterator[Finding]:
    """A hand reaches behind the screen at one side, or the mount pulls out."""
    side, out = wall.limits["sight.hand_side"], wall.limits["sight.hand_pull"]
    left, right, pull = screen_room.hand_access(wall)
    room = max(left[1], right[1])
    if room >= side.value or pull >= out.value:
        return
    pinned = wall.job.design.mount.stand_off
    screen = wall.sight.screen
    before_panel = screen.stand_off - wall.limits.value(f"sight.stand_off_{screen.mount}")
    folded = pinned.mm if pinned is not None else wall.limits.value("sight.stand_off_arm") + before_panel
    sides = " and ".join(
        f"{gap:.0f} mm to {name} at the {hand}" for hand, (name, gap) in (("left", left), ("right", right))
    )
    yield finding(
        "screen.hand_access",
        "consider",
        "screen",
        f"no hand reaches behind the screen: {sides}",
        measured=round(room),
        limit=side,
        at=wall.sight.screen.frame,
        cure=f"hang it on an arm that pulls out by {out.value:.0f} mm, or leave {side.value:.0f} mm at one side",
        edits=[edit_call("set_mount", kind="arm", reach=math.ceil(folded + out.value))],
    )


@rule("screen.port_depth")
def port_depth(wall: Wall) -> Iterator[Finding]:
    """Behind every port there is room for its plug, also when the screen tilts."""
    screen = wall.sight.screen
    wall_plug, side_plug = wall.limits["sight.plug_wall"], wall.limits["sight.plug_side"]
    axis = screen.holes.centre[1] - screen.centre[1]
    ports = wall.job.design.screen.ports
    rooms = mount.behind(ports, screen.stand_off, screen.tilt, axis, wall_plug.value, side_plug.value)
    needed = math.ceil(mount.stand_off_needed(rooms, screen.stand_off) - 1e-9)
    for port, room in zip(ports, rooms, strict=True):
        if room.out >= room.needs - 1e-9:
            continue
        yield finding(
            "screen.port_depth",
            "fix",
            room.ref,
            f"behind port {room.ref} are {room.out:.0f} mm at {screen.tilt:g}° tilt; its plug needs {room.needs:.0f}",
            measured=round(room.out, 1),
            limit=wall_plug if port.faces == "wall" else side_plug,
            at=mount.on_wall(port, screen.centre),
            cure=f"use a mount that stands {needed} mm off, or angled plugs",
            edits=[edit_call("set_mount", stand_off=needed)],
        )


@rule("screen.port_covered")
def port_covered(wall: Wall) -> Iterator[Finding]:
    """No port or vent of the screen's back lies under the mount's arms or plate."""
    screen, value, want = wall.sight.screen, wall.limits.value, wall.job.design.screen
    bars = mount.arms(screen.holes, value("sight.arm_width"), value("sight.arm_over"))
    for hit in mount.covered(want.ports, want.vents, screen.centre, screen.plate, bars):
        yield Finding(
            "screen.port_covered",
            "fix" if hit.kind == "port" else "consider",
            hit.ref,
            f"the mount's {hit.by} covers {hit.share:.0%} of {hit.kind} {hit.ref} ({hit.area:.0f} mm²)",
            round(hit.area),
            0.0,
            "mm²",
            "geometry",
            "computed",
            "choose a mount with other arms, or spacers between arm and screen; never cut a mount down",
            at=hit.at,
        )


@rule("screen.turning")
def turning_clear(wall: Wall) -> Iterator[Finding]:
    """A screen that turns on its arm stays clear of the wall, the panels and the units all the way."""
    limit, far = wall.limits["sight.swivel_clear"], wall.limits["sight.swivel_furthest"]
    met = [pair for pair in screen_room.turning(wall) if pair[1].clear < limit.value - 1e-6]
    if not met:
        return
    assumed = screen_room.furthest(wall)[1] and not wall.job.design.mount.swivel
    cure, edits = _turns_clear(wall, [angle for angle, _ in met], limit.value)
    if assumed:
        cure += "; or enter how far it turns"
    for angle, swept in met:
        yield finding(
            "screen.turning",
            "consider" if assumed else "fix",
            "mount",
            f"turned to {angle:.0f}° on a reach of {screen_room.reach(wall):.0f} mm the screen comes to {swept.clear:.0f} mm "
            f"from {swept.near}"
            + (
                f"; {far.value:.0f}° is assumed ({far.certainty}), no furthest swivel is entered"
                if assumed
                else ""
            ),
            measured=round(swept.clear, 1),
            limit=limit,
            at=wall.sight.screen.frame,
            cure=cure,
            edits=edits,
        )


def _turns_clear(wall: Wall, angles: Sequence[float], clear: float) -> tuple[str, list[EditCall]]:
    """The longer arm that turns clear of all to all these angles, or how far this one may turn."""
    body, things = swivel_body(wall.job, wall.sight.screen, wall.limits), screen_room.plan_things(wall)
    x, reach = wall.sight.screen.centre[0] + body.axis, screen_room.reach(wall)
    most = wall.limits.value("sight.arm_furthest")
    pulls = [swivels.pull_needed(body, x, angle, things, clear, most) for angle in angles]
    needed = max((pull for pull in pulls if pull is not None), default=0.0)
    if None not in pulls and needed > reach:
        return f"use an arm that reaches {math.ceil(needed)} mm", [
            edit_call("set_arm", reach=math.ceil(needed))
        ]
    within = min(
        (swivels.swivel_within(body, (x, reach - body.head), angle, things, clear) for angle in angles),
        key=abs,
    )
    values = {"swivel": within} if wall.job.design.mount.swivel else {"swivel_most": abs(within)}
    return f"turn it no further than {abs(within):.0f}°", [edit_call("set_arm", **values)]


@rule("screen.mount_carries")
def mount_carries(wall: Wall) -> Iterator[Finding]:
    """The mount is rated for the screen's mass."""
    carries, mass = wall.job.design.mount.carries, wall.sight.screen.mass
    if carries is None or mass <= carries:
        return
    yield Finding(
        "screen.mount_carries",
        "danger",
        "mount",
        f"the screen weighs {mass:.0f} kg and its mount carries {carries:.0f} kg",
        round(mass, 1),
        carries,
        "kg",
        "the mount's own rating, as entered",
        "your rule set",
        f"choose a mount rated for at least {mass:.0f} kg",
        at=wall.sight.screen.plate,
    )


@rule("screen.captions")
def captions(wall: Wall) -> Iterator[Finding]:
    """The smallest captions can be read from each seat by who sits there."""
    limit = wall.limits["sight.caption_least"]
    for text in wall.sight.legible:
        if text.reads:
            continue
        larger = [
            row.diagonal for row in wall.sight.candidates if row.possible and row.diagonal >= text.diagonal
        ]
        yield finding(
            "screen.captions",
            "consider",
            text.seat,
            f"captions are {text.minutes:.0f} arc minutes high from seat {text.seat}; this reader needs {text.needed:.0f}",
            measured=round(text.minutes, 1),
            limit=limit,
            at=wall.sight.screen.picture,
            cure=f"a {min(larger):.0f} in picture, or move the seat to within {text.nearest:.0f} mm"
            if larger
            else f"move the seat to within {text.nearest:.0f} mm, or set the captions larger in the player",
            edits=[edit_call("set_screen_size", diagonal=min(larger))] if larger else [],
        )
