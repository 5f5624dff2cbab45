"""The working behind every number that the sight stage shows."""

from __future__ import annotations

from collections.abc import Sequence

from wallwright.core.limit import Certainty, Limits
from wallwright.core.shape import Point2
from wallwright.core.why import Given, Why
from wallwright.job.document import Job
from wallwright.sight.angles import turned
from wallwright.sight.eyes import Eye
from wallwright.sight.fit import Route
from wallwright.sight.legible import Legible
from wallwright.sight.mount import Hanging
from wallwright.sight.record import Candidate, Heights, Reflection, Screen, SeatView
from wallwright.sight.swivel import Swivel

_GEOMETRY = "plane geometry"


def all_of(
    job: Job,
    screen: Screen,
    seats: Sequence[SeatView],
    heights: Heights,
    candidates: Sequence[Candidate],
    reflections: Sequence[Reflection],
    eyes: Sequence[Eye],
    main: Eye,
    axis: float,
    centre: Point2,
    moved: bool,
    limits: Limits,
) -> tuple[Why, ...]:
    """All of them, the screen first, then seat by seat."""
    out = [
        _diagonal(screen, candidates, limits),
        _centre_height(job, screen, seats, heights, moved, limits),
        _centre_x(screen, axis, moved, seats),
        _tilt(screen, main, limits),
        *_hanging(screen, job),
        *_pulled_out(screen, limits),
        *_compared(heights, limits),
    ]
    for seat, eye in zip(seats, eyes, strict=True):
        out += _seat(seat, eye, screen)
    out += [_reflection(hit, screen) for hit in reflections]
    if job.survey.room.depth is None and any(window.wall == "opposite" for window in job.survey.windows):
        out.append(
            Why(
                "reflections",
                "not known",
                "",
                "windows opposite need survey.room.depth before their mirror image can be drawn",
                "",
                (),
                "the survey",
                "derived",
            )
        )
    return tuple(out)


def hung(
    hanging: Hanging,
    turning: Swivel | None,
    captions: Sequence[Legible],
    carried: Route,
    limits: Limits,
) -> tuple[Why, ...]:
    """How sure the bracket height is, turning for the seats, captions, and the carton's way in."""
    agree, clear, least = (
        limits["sight.hole_agree"],
        limits["sight.swivel_clear"],
        limits["sight.caption_least"],
    )
    reserve, spare = limits["sight.read_reserve"], limits["sight.route_clear"]
    drop = (
        "from the mount's drawing"
        if hanging.hook_given
        else "not given, taken as 0: look at the mount itself"
    )
    out = [
        Why("screen.bracket", "verified" if hanging.verified else "unverified", "", hanging.drill or hanging.confidence.says,
            "measured, or from the maker's drawing, or two sources that agree", (Given("agree within", agree.value, "mm"),),
            agree.source, agree.certainty),
        Why("screen.hook_drop", hanging.hook_drop, "mm", f"hole group below the middle of the plate: {drop}", "",
            (Given("holes' middle", round(hanging.holes[1]), "mm"), Given("plate's middle", round(hanging.plate_z), "mm")),
            _GEOMETRY, "computed", hanging.hook_given),
    ]  # fmt: skip
    if turning is not None:
        seats = tuple(
            Given(f"to face seat {turn.seat}", f"{turn.swivel:.1f}° at {turn.reach:.0f} mm")
            for turn in turning.turns
        )
        said = (
            f"unturned the worst seat sees it {turning.unturned:.0f}° aside, turned so {turning.worst:.0f}°"
        )
        out += [
            Why("swivel.fair", round(turning.fair, 1), "deg", f"{said}; the panel bears {turning.limit:.0f}°",
                "(φ most + φ least) / 2 over the seats", seats, _GEOMETRY, "computed"),
            Why("swivel.reach", round(turning.reach), "mm", "pull-out that keeps its back corner clear of the wall, turned so",
                "clear + head + W/2 sin ψ − head cos ψ", (Given("clear", clear.value, "mm"),), clear.source, clear.certainty),
        ]  # fmt: skip
    for text in captions:
        says = (
            "captions are read from here"
            if text.reads
            else f"captions need a {text.diagonal:.0f} in picture from here"
        )
        out.append(
            Why(f"seat {text.seat}.captions", round(text.minutes, 1), "arc minutes", f"{says}, up to {text.nearest:.0f} mm away",
                "60 · 2 atan(h / 2d); needed: reserve · 5′ / acuity, at least 15′",
                (Given("needed", round(text.needed, 1), "arc minutes"), Given("acuity", text.acuity),
                 Given("reserve", reserve.value)),
                f"{least.source}; {reserve.source}", "derived")
        )  # fmt: skip
    ways = tuple(Given(step.place, step.how or "does not pass") for step in carried.steps)
    passes = "passes" if carried.passes else "does not pass"
    out.append(Why("screen.route", passes if carried.surveyed else "not surveyed", "", carried.says,
                   "rigid box, one edge along the room's directions; rectangle in rectangle by Carver 1957",
                   (*ways, Given("to spare", spare.value, "mm")), spare.source, spare.certainty))  # fmt: skip
    return tuple(out)


def _diagonal(screen: Screen, candidates: Sequence[Candidate], limits: Limits) -> Why:
    own = next((row for row in candidates if row.diagonal == screen.diagonal), None)
    aim = limits["sight.angle_aim"]
    says = (
        "decided in the design"
        if "diagonal" in screen.pinned
        else "the first of the sizes that can hang: fewest hours from seats with a fault, then with a worry, then nearest to the "
        f"angle that the seats would like{f': {own.verdict}' if own else ''}"
    )
    return Why(
        "screen.diagonal", screen.diagonal, "in", says,
        "smallest Σ share · ln²(tan(θ/2) / tan(aim/2)) over the seats, heavier outside the comfortable band",
        tuple(Given(f"{row.diagonal:g} in, {row.verdict}", round(row.score, 1), "of 100") for row in candidates),
        aim.source, aim.certainty, "diagonal" in screen.pinned,
    )  # fmt: skip


def _centre_height(
    job: Job, screen: Screen, seats: Sequence[SeatView], heights: Heights, moved: bool, limits: Limits
) -> Why:
    band = f"the trade's usual band for a {job.survey.room.kind} room is {heights.rule_low:.0f} to {heights.rule_high:.0f} mm"
    if heights.pinned:
        says = f"decided in the design; the seats' best is {heights.recommended:.0f} mm; {band}"
    elif moved:
        says = f"the nearest place clear of what stands there; the seats' best is {heights.recommended:.0f} mm; {band}"
    elif seats:
        says = f"{_held(heights)}, to 5 mm; {band}"
    else:
        says = f"no seat is surveyed: taken for a mean adult on a sofa; {band}"
    if seats and not heights.rule_low <= heights.used <= heights.rule_high:
        side = "above" if heights.used > heights.rule_high else "below"
        says += f"; this is {side} it because of " + ", ".join(
            f"seat {seat.ref} (eye {seat.eye[2]:.0f} mm, wants {seat.wanted:+.0f}°)" for seat in seats
        )
    gaze = limits["sight.gaze"]
    return Why(
        "screen.centre_height", heights.used, "mm", says,
        "smallest Σ share · (atan((z − eye)/d) − wanted)², held inside the band that is good for all seats",
        tuple(Given(f"seat {seat.ref} alone, {seat.share:.0%} of the hours", round(seat.best_height), "mm") for seat in seats),
        f"computed from the seats; wanted elevation: recline less pillow less gaze, {gaze.source}", "derived", heights.pinned,
    )  # fmt: skip


def _held(heights: Heights) -> str:
    """How the recommended height comes about."""
    best = "the best over all seats by their hours and posture"
    if not heights.serves_all:
        return f"{best}; no height is good for all of them"
    if heights.recommended == heights.best:
        return best
    edge = "highest" if heights.recommended < heights.best else "lowest"
    return f"the {edge} that is good for all seats; by their hours alone it would be {heights.best:.0f} mm"


def _centre_x(screen: Screen, axis: float, moved: bool, seats: Sequence[SeatView]) -> Why:
    x = screen.centre[0]
    pinned = "centre_x" in screen.pinned
    if pinned:
        says = "decided in the design"
    elif moved and abs(x - axis) > 1:
        says = "as near to the main seats' axis as the wall's ends, the towers and the obstacles allow"
    else:
        says = (
            "on the axis of the main seats, by their hours"
            if seats
            else "no seat is surveyed: the wall's middle"
        )
    return Why(
        "screen.centre_x", x, "mm", says, "Σ hours · x / Σ hours over the seats with at least half the hours of the most used",
        (Given("main seats' axis", round(axis), "mm"),), "common practice", "common practice", pinned,
    )  # fmt: skip


def _tilt(screen: Screen, main: Eye, limits: Limits) -> Why:
    pinned = "tilt" in screen.pinned
    says = "the picture faces the main eye, to half a degree"
    if pinned:
        says = "decided in the design"
    elif screen.mount == "fixed":
        says = "a fixed mount does not tilt"
    most = limits["sight.tilt_most"]
    return Why(
        "screen.tilt", screen.tilt, "deg", says, "atan((z − eye)/d), from 0 to what the mount allows",
        (Given("centre", screen.centre[1], "mm"), Given(f"eye of seat {main.seat.ref}", round(main.z), "mm"),
         Given("distance", round(_before(main.x, main.distance, screen)[1]), "mm"), Given("mount allows",
         most.value, "deg")),
        most.source, most.certainty, pinned,
    )  # fmt: skip


_SOURCES: dict[str, tuple[str, Certainty]] = {
    "pinned": ("the design", "derived"),
    "mount": ("typical mount of its kind", "common practice"),
    "typical": ("library of typical screens", "from memory"),
}
"""Where a measure of the screen and its mount comes from."""


def _hanging(screen: Screen, job: Job) -> list[Why]:
    """Frame, mass, plate, hole group and stand-off: typical until the maker's drawing is there."""
    given = job.design.screen.source != "typical"
    typical = "typical of the size; replace by the maker's drawing"
    mount = f"typical of a {screen.mount} mount"
    rows = (
        ("frame", f"{screen.frame.width:.0f} × {screen.frame.height:.0f}", "mm", typical, "frame_width"),
        ("mass", screen.mass, "kg", typical, "mass"),
        ("watts", screen.watts, "W", typical, "watts"),
        ("holes", f"{screen.holes.width:.0f} × {screen.holes.height:.0f}", "mm", typical, "hole_width"),
        ("plate", f"{screen.plate.width:.0f} × {screen.plate.height:.0f}", "mm", mount, "plate_width"),
        ("stand_off", screen.stand_off, "mm", mount, "stand_off"),
    )
    out: list[Why] = []
    for name, value, unit, says, pin in rows:
        pinned = pin in screen.pinned
        said = (
            f"given in the design ({job.design.screen.source.replace('_', ' ')})"
            if pinned and given
            else "decided in the design"
        )
        source, sure = _SOURCES["pinned" if pinned else "mount" if says == mount else "typical"]
        out.append(Why(f"screen.{name}", value, unit, said if pinned else says, "", (Given("diagonal", screen.diagonal, "in"),),
                       source, sure, pinned))  # fmt: skip
    low, high = screen.plate.z, screen.plate.top
    out.append(
        Why("screen.plate_height", screen.plate.centre[1], "mm", "the plate stands on the hole group's middle, not the screen's",
            "centre height + offset of the hole group",
            (Given("centre height", screen.centre[1], "mm"), Given("offset", screen.holes.centre[1] - screen.centre[1], "mm"),
             Given("plate from", low, "mm"), Given("plate to", high, "mm")), _GEOMETRY, "computed")
    )  # fmt: skip
    return out


def _compared(heights: Heights, limits: Limits) -> list[Why]:
    good, low = limits["sight.centre_good"], limits["sight.living_low"]
    band = f"{heights.low:.0f} to {heights.high:.0f}" if heights.serves_all else "none"
    return [
        Why("heights.recommended", round(heights.recommended, 1), "mm", _held(heights),
            "least squares, held inside the band good for all seats",
            (Given("least squares", round(heights.best, 1), "mm"), Given("good for all seats", band, "mm")),
            good.source, "computed"),
        Why("heights.best", round(heights.best, 1), "mm", "smallest weighted sum of squared angles off over all seats",
            "min Σ share · off²", (), "least squares", "computed"),
        Why("heights.minimax", round(heights.minimax, 1), "mm", "the worst-placed seat is least off here, whatever its hours",
            "min max |off|", (), "least maximum", "computed"),
        Why("heights.band", band, "mm",
            "good for all seats" if heights.serves_all
            else f"no height is good for all seats; {heights.minimax:.0f} mm is the nearest to it",
            f"|off| ≤ {good.value:g}° for every seat", (), good.source, good.certainty),
        Why("heights.trade_band", f"{heights.rule_low:.0f} to {heights.rule_high:.0f}", "mm",
            "what the trade usually does in such a room",
            "", (), low.source if heights.rule_low == low.value else limits["sight.bedroom_low"].source, "common practice"),
    ]  # fmt: skip


def _pulled_out(screen: Screen, limits: Limits) -> list[Why]:
    """Where a turned screen stands: nothing of one that is not turned."""
    if screen.turned_to is None:
        return []
    clear, (x, out) = limits["sight.swivel_clear"], screen.middle
    return [
        Why("screen.pulled_out", round(screen.stand_off + screen.pulled), "mm",
            "the least pull-out, wall face to its back before it turns, at which its back corner stays clear of the wall: all angles, "
            "mirror images and the sun are taken with the screen there",
            "clear + head + W/2 sin ψ − head cos ψ, not less than folded",
            (Given("swivel", screen.swivel, "deg"), Given("clear", clear.value, "mm"), Given("frame", screen.frame.width, "mm"),
             Given("folded", screen.stand_off, "mm"), Given("picture's middle, x", round(x), "mm"),
             Given("picture's middle from the wall", round(out), "mm")), clear.source, clear.certainty)
    ]  # fmt: skip


def _before(x: float, distance: float, screen: Screen) -> tuple[float, float]:
    """An eye beside and before the picture's middle, in the picture's own axes on plan."""
    return turned(x - screen.middle[0], distance - screen.middle[1], screen.swivel)


def _seat(seat: SeatView, eye: Eye, screen: Screen) -> list[Why]:
    name = f"seat {seat.ref}"
    rise = Given("centre above the eye", round(screen.centre[1] - seat.eye[2]), "mm")
    beside, before = _before(seat.eye[0], -seat.eye[1], screen)
    away = Given("distance to the picture", round(before), "mm")
    aside = Given("beside the axis", round(abs(beside)), "mm")
    width = Given("picture width", round(screen.picture.width, 1), "mm")
    height = Given("picture height", round(screen.picture.height, 1), "mm")
    tilt = Given("tilt", screen.tilt, "deg")

    def geometry(what: str, value: float, unit: str, says: str, formula: str, *inputs: Given) -> Why:
        return Why(f"{name}.{what}", value, unit, says, formula, inputs, _GEOMETRY, "computed")

    return [
        Why(f"{name}.eye_height", round(seat.eye[2]), "mm", eye.says, eye.formula, eye.inputs,
            eye.source if eye.measured else "sitting eye height: ANSUR II (2012); slump, hip joint and pillow: limits of sight",
            eye.certainty, eye.measured),
        Why(f"{name}.wanted", seat.wanted, "deg",
            "the elevation of the picture's middle that the posture asks for, never below eye level",
            "recline − head brought forward − gaze",
            (Given("recline", eye.recline, "deg"), Given("head brought forward", eye.flexion, "deg")),
            "common practice; gaze: Burgess-Limerick and others 2000", "derived"),
        geometry("distance", seat.distance, "mm", "from the eye to the picture, along the wall's normal",
                 "eye's distance − how far the picture's middle stands out", Given("eye from the wall", round(-seat.eye[1]), "mm"),
                 Given("stand-off", screen.stand_off, "mm"), Given("depth", screen.depth, "mm"),
                 Given("picture's middle from the wall", round(screen.middle[1]), "mm")),
        geometry("picture_angle", seat.picture_angle, "deg", "how wide the picture is from this seat",
                 "atan((x + W/2)/d) − atan((x − W/2)/d)", width, aside, away),
        geometry("centre_up", seat.centre_up, "deg", "the picture's middle above the eye's horizontal",
                 "atan((z − eye)/√(x² + d²))", rise, aside, away),
        geometry("top_up", seat.top_up, "deg", "the picture's top edge above the eye's horizontal",
                 "atan of the tilted top edge's rise over its run", rise, height, tilt, away),
        geometry("bottom_up", seat.bottom_up, "deg", "the picture's lower edge above (below: negative) the eye's horizontal",
                 "atan of the tilted lower edge's rise over its run", rise, height, tilt, away),
        geometry("off", seat.off, "deg", "how far the middle is from what the posture wants", "centre_up − wanted",
                 Given("centre_up", round(seat.centre_up, 2), "deg"), Given("wanted", seat.wanted, "deg")),
        geometry("sideways", seat.sideways, "deg", "how obliquely the picture's middle is seen", "atan(|x|/d)", aside, away),
        geometry("sideways_far", seat.sideways_far, "deg", "how obliquely the far edge is seen",
        "atan((|x| + W/2)/d)", aside, width, away),
        geometry("pixels", seat.pixels, "a degree", "picture points in one degree; 60 is one an arc minute",
                 "2 d tan 0.5° · points across / W", width, away, Given("points across", screen.lines * 16 / 9)),
        Why(f"{name}.acuity_distance", seat.acuity_distance, "mm", "nearer than this dots begin to show; not a comfort distance",
            "H / (lines · tan 1′)", (height, Given("lines", screen.lines)),
            "one arc minute a line, the design viewing distance of ITU-R BT.500", "derived"),
        geometry("best_height", seat.best_height, "mm", "the centre height that suits this seat alone", "eye + d tan(wanted)",
                 Given("eye", round(seat.eye[2]), "mm"), Given("wanted", seat.wanted, "deg"), away),
    ]  # fmt: skip


def _reflection(hit: Reflection, screen: Screen) -> Why:
    what = f"window {hit.window}" if hit.kind == "window" else f"{hit.kind.replace('_', ' ')} {hit.window}"
    return Why(
        f"reflection {hit.window} from {hit.seat}", hit.share, "of the picture",
        f"seat {hit.seat} sees {what} mirrored in {hit.share:.1%} of the picture, at {hit.ratio:.2f} of its luminance: "
        f"{hit.verdict}; people and furniture ignored",
        "mirror image in the picture's plane, clipped to the picture; ratio = luminance · share mirrored / picture's mean",
        (Given("tilt", screen.tilt, "deg"), Given("swivel", screen.swivel, "deg"),
         Given("corners of the image", len(hit.polygon)),
         Given("luminance", round(hit.luminance, 1), "cd/m²"), Given("angle of incidence", round(hit.angle, 1), "deg"),
         Given("white to black left there", round(hit.contrast, 1))),
        "mirror geometry; Fresnel's equations; luminances: common practice", "derived",
    )  # fmt: skip
