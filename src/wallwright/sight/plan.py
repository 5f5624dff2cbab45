"""The sight stage: from the seats to the screen, its size, its height and tilt, and what each seat sees and sees mirrored."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import NamedTuple

from wallwright.core.limit import Limits
from wallwright.core.shape import Box, Point2, box_around
from wallwright.core.units import Length
from wallwright.core.why import Later, Why
from wallwright.job.design import Screen as DesignScreen
from wallwright.job.document import Job
from wallwright.job.face import Face
from wallwright.job.survey import Access, Seat, Survey
from wallwright.library import load
from wallwright.library.load import ScreenSize
from wallwright.sight import why
from wallwright.sight.angles import (
    acuity_distance,
    edge_of_tilted,
    picture_angle,
    picture_size,
    pixels_per_degree,
    sideways,
    sideways_far,
    tilt_to_face,
    turned,
    up,
)
from wallwright.sight.candidates import Arm, compare, pick
from wallwright.sight.eyes import Eye, eye_of
from wallwright.sight.fit import Carton, Way, route
from wallwright.sight.heights import (
    Watcher,
    good_for_all,
    least_squares,
    recommended,
    set_out,
    smallest_worst,
    wanted_up,
)
from wallwright.sight.legible import Legible, caption
from wallwright.sight.mirrored import glass_of, of_room
from wallwright.sight.mount import Hanging, hanging
from wallwright.sight.place import can_hang, keep_clear, nearest_free, room_for_centre
from wallwright.sight.record import Candidate, Heights, Screen, SeatView, Sight
from wallwright.sight.season import ask
from wallwright.sight.swivel import Body as Turning
from wallwright.sight.swivel import Swivel, pulled_out, solve

HEIGHT_STEP = 5.0
"""An automatic height is set out to this [mm]."""
TILT_STEP = 0.5
"""An automatic tilt is set to this [deg]."""


@dataclass(frozen=True, slots=True)
class Body:
    """The screen's own sizes before it has a place."""

    size: ScreenSize
    stand_off: float
    hole_offset: float


class _Placed(NamedTuple):
    """The screen in its place, and what it was placed by: the eyes, their weights, those that count where nobody sits yet, the place of the
    main one among these, and the axis. candidates : the sizes compared, written out when somebody asks · moved : as `hang` tells
    """

    eyes: tuple[Eye, ...]
    shares: tuple[float, ...]
    watching: tuple[Eye, ...]
    main: int
    axis: float
    candidates: Sequence[Candidate]
    centre: Point2
    heights: Heights
    moved: bool
    screen: Screen


def _placed(job: Job, face: Face, limits: Limits) -> _Placed:
    eyes = eyes_of(job, limits)
    shares = shares_of(eyes)
    watching = eyes or (_assumed_eye(job.survey, face, limits),)
    weights = shares or (1.0,)
    axis = axis_of(watching, weights)

    clear_of = keep_clear(job.design, job.brief, face, limits)
    candidates = Later(lambda: _candidates(job, face, watching, weights, axis, clear_of, limits))
    body = body_of(job, face, candidates, limits)
    centre, heights, moved = hang(job, face, watching, weights, axis, body, clear_of, limits)
    main = max(range(len(watching)), key=lambda i: weights[i])
    tilt = tilt_of(job, watching[main], centre, body, limits)
    return _Placed(
        eyes, shares, watching, main, axis, candidates, centre, heights, moved, screen_of(job, body, centre, tilt, limits)
    )  # fmt: skip


def screen_alone(job: Job, face: Face, limits: Limits) -> Screen:
    """The screen as `plan` hangs it, without what is seen of it: for a cure that is tried on the boards."""
    return _placed(job, face, limits).screen


def plan(job: Job, face: Face, limits: Limits) -> Sight:
    """The screen and what is seen of it. Automatic: size by angle, x on the seats' axis, height by posture, tilt
    to the main eye.
    """
    placed = _placed(job, face, limits)
    eyes, shares, watching, main, axis, candidates, centre, heights, moved, screen = placed
    seats = tuple(view_of(eye, share, screen, limits) for eye, share in zip(eyes, shares, strict=True))
    mirrored = of_room(job.survey, job.design.screen.surface, face, seats, screen, limits)
    hung = _hanging(job, centre, limits)
    turning = _turning(eyes, job, screen, limits)
    captions = _captions(job, seats, screen, limits)
    carried = route(screen.carton, way_in(job.survey.access), limits.value("sight.route_clear"))

    def told() -> Iterator[Why]:
        yield from why.all_of(
            job,
            screen,
            seats,
            heights,
            candidates,
            mirrored,
            eyes,
            watching[main],
            axis,
            centre,
            moved,
            limits,
        )
        yield from why.hung(hung, turning, captions, carried, limits)
        sun = ask(job.survey, face, glass_of(screen), seats)
        if isinstance(sun, Why):
            yield sun

    away = _of_main([seat.distance for seat in seats], shares) if seats else 0.0
    return Sight(
        screen,
        seats,
        heights,
        candidates,
        mirrored,
        Later(told),
        hung,
        turning,
        captions,
        carried,
        axis,
        away,
    )


def _hanging(job: Job, centre: Point2, limits: Limits) -> Hanging:
    drop = job.design.mount.hook_drop
    return hanging(
        job.design.screen, centre, _hole_offset(job.design.screen), drop.mm if drop else None, limits.value("sight.hole_agree")
    )  # fmt: skip


def _hole_offset(want: DesignScreen) -> float:
    """As entered; unknown ones are drawn at the screen's middle, and nobody may drill by them."""
    return want.hole_offset.mm if want.hole_offset is not None else 0.0


def swivel_body(job: Job, screen: Screen, limits: Limits) -> Turning:
    """The screen on its arm, in plan."""
    return _turning_body(job, screen.frame.width, screen.depth, limits)


def swivel_of(job: Job) -> float:
    """How far the screen is turned on its arm [deg]; other mounts do not turn."""
    mount = job.design.mount
    return (mount.swivel or 0.0) if mount.kind == "arm" else 0.0


def stands(job: Job, body: Body, x: float, limits: Limits) -> tuple[float, Point2]:
    """A screen of these sizes hung at `x` as it is watched: its pull-out, and its picture's middle on plan (x, out)."""
    turning = _turning_body(job, body.size.frame_width, body.size.frame_depth, limits)
    return pulled_out(turning, x, swivel_of(job), limits.value("sight.swivel_clear"), body.stand_off)


def _turning_body(job: Job, width: float, depth: float, limits: Limits) -> Turning:
    head, axis = job.design.mount.head, job.design.mount.pivot_x
    return Turning(
        width,
        depth,
        head.mm if head is not None else limits.value("sight.head_pivot"),
        axis.mm if axis is not None else 0.0,
    )


def _turning(eyes: Sequence[Eye], job: Job, screen: Screen, limits: Limits) -> Swivel | None:
    """How far the screen would turn for its seats; solved for every mount, so that an arm can be weighed."""
    if not eyes:
        return None
    return solve(
        [(eye.seat.ref, eye.x, eye.distance) for eye in eyes],
        screen.centre[0],
        swivel_body(job, screen, limits),
        limits.value(f"rule.sideways_{screen.panel}"),
        limits.value("sight.swivel_clear"),
        screen.stand_off,
    )


def _captions(job: Job, seats: Sequence[SeatView], screen: Screen, limits: Limits) -> tuple[Legible, ...]:
    sight = {person.ref: person.acuity for person in job.brief.people if person.acuity}
    names = ("caption_share", "letter_threshold", "read_reserve", "caption_least")
    share, threshold, reserve, least = (limits.value(f"sight.{name}") for name in names)
    out: list[Legible] = []
    for seat, surveyed in zip(seats, job.survey.seats, strict=True):
        away = math.hypot(seat.distance, seat.eye[0] - screen.middle[0])
        acuity = sight.get(surveyed.person or "", 1.0)
        out.append(caption(seat.ref, screen.picture.height, away, acuity, share, threshold, reserve, least))
    return tuple(out)


def eyes_of(job: Job, limits: Limits) -> tuple[Eye, ...]:
    """The eyes in every surveyed seat."""
    people = {person.ref: person for person in job.brief.people}
    return tuple(eye_of(seat, people.get(seat.person or ""), limits) for seat in job.survey.seats)


def _assumed_eye(survey: Survey, face: Face, limits: Limits) -> Eye:
    """A mean adult on a sofa before the wall's middle: only to place the screen while no seat is surveyed."""
    distance = limits.value("sight.assumed_distance")
    if survey.room.depth is not None:
        distance = min(distance, 0.8 * survey.room.depth.mm)
    return eye_of(Seat("assumed", "sofa", Length(face.width / 2), Length(distance)), None, limits)


def shares_of(eyes: Sequence[Eye]) -> tuple[float, ...]:
    """Each seat's share of the hours; equal where nobody said any."""
    total = sum(eye.seat.hours for eye in eyes)
    return tuple(eye.seat.hours / total if total else 1 / len(eyes) for eye in eyes)


def axis_of(eyes: Sequence[Eye], weights: Sequence[float]) -> float:
    """The main seats' axis: their hours-weighted x."""
    return _of_main([eye.x for eye in eyes], weights)


def _of_main(values: Sequence[float], weights: Sequence[float]) -> float:
    """The hours-weighted mean over the main seats: those with at least half the hours of the most used one."""
    most = max(weights)
    main = [(value, w) for value, w in zip(values, weights, strict=True) if w >= most / 2]
    total = sum(w for _, w in main)
    return sum(value * w for value, w in main) / total if total else sum(v for v, _ in main) / len(main)


def _candidates(
    job: Job,
    face: Face,
    eyes: Sequence[Eye],
    weights: Sequence[float],
    axis: float,
    clear_of: Sequence[Box],
    limits: Limits,
) -> tuple[Candidate, ...]:
    def fits(width: float, height: float) -> bool:
        return can_hang(width, height, face, clear_of, limits)

    want = job.design.screen
    niche = (
        want.niche_width.mm if want.niche_width else None,
        want.niche_height.mm if want.niche_height else None,
    )
    return compare(
        load.screens().values(), eyes, weights, axis, _stand_off(job, limits), want.lines, fits, limits, niche,
        way_in(job.survey.access), arm_of(job, axis, limits),
    )  # fmt: skip


def arm_of(job: Job, x: float, limits: Limits) -> Arm | None:
    """How a size is turned and where its picture then stands, hung at `x`; None where it is not turned."""
    swivel = swivel_of(job)
    if not swivel:
        return None
    return Arm(swivel, lambda size: stands(job, Body(size, _stand_off(job, limits), 0.0), x, limits)[1])


def way_in(access: Access) -> Way:
    """The surveyed way in for the carton: each narrow place of which all sizes are known."""
    lift, door = (
        (access.lift_width, access.lift_depth, access.lift_height),
        (access.door_width, access.door_height),
    )
    before = access.stair_width
    return Way(
        door=(door[0].mm, door[1].mm) if door[0] and door[1] else None,
        lift=(lift[0].mm, lift[1].mm, lift[2].mm) if lift[0] and lift[1] and lift[2] else None,
        lift_door=(access.lift_door_width.mm, access.lift_door_height.mm)
        if access.lift_door_width and access.lift_door_height
        else None,
        stair=(before.mm, (access.landing_width or before).mm, access.stair_headroom.mm)
        if before and access.stair_headroom
        else None,
    )


def _stand_off(job: Job, limits: Limits) -> float:
    """From the wall's face to the screen's back: pinned, or the mount's own before the deepest panel that may stand behind."""
    mount = job.design.mount
    if mount.stand_off is not None:
        return mount.stand_off.mm
    return limits.value(f"sight.stand_off_{mount.kind}") + _built_behind(job, limits)


def _built_behind(job: Job, limits: Limits) -> float:
    """The deepest panel that may stand behind the screen, in whole steps: finish and tolerance included."""
    boards, void = load.boards(), limits.value("carcass.panel_void")
    behind = (
        (panel.void.mm if panel.void is not None else void)
        + (
            boards[panel.board].thickness
            if panel.board is not None and panel.board in boards
            else limits.value("sight.panel_board")
        )
        for panel in job.design.panels
    )
    return BUILD_STEP * math.ceil(max(behind, default=0.0) / BUILD_STEP)


def typical(diagonal: float) -> ScreenSize:
    """A typical screen of any named diagonal: the library's row, or straight between its neighbours; the frame
    keeps its margin.
    """
    rows = sorted(load.screens().values(), key=lambda row: row.diagonal)
    for row in rows:
        if row.diagonal == diagonal:
            return row
    i = min(max(sum(row.diagonal < diagonal for row in rows), 1), len(rows) - 1)
    low, high = rows[i - 1], rows[i]
    t = (diagonal - low.diagonal) / (high.diagonal - low.diagonal)
    near = low if diagonal - low.diagonal < high.diagonal - diagonal else high

    def between(a: float, b: float) -> float:
        return max(a + t * (b - a), min(a, b) * diagonal / high.diagonal)

    return ScreenSize(
        f"in{diagonal:g}", diagonal, between(low.frame_width, high.frame_width), between(low.frame_height, high.frame_height),
        between(low.frame_depth, high.frame_depth), round(between(low.mass, high.mass), 1), between(low.watts, high.watts),
        near.standby_watts, near.hole_width, near.hole_height,
        between(low.box_width, high.box_width), between(low.box_height, high.box_height), between(low.box_depth, high.box_depth),
        "typical value, between two sizes of the library", near.certainty,
    )  # fmt: skip


def body_of(job: Job, face: Face, candidates: Sequence[Candidate], limits: Limits) -> Body:
    """The screen's sizes: pinned where the design says so, else typical for the size that the ranked table puts first."""
    wanted = job.design.screen.diagonal
    return body_for(job, _first_of(job, face, candidates, limits) if wanted is None else wanted, limits)


def _first_of(job: Job, face: Face, candidates: Sequence[Candidate], limits: Limits) -> float:
    """The diagonal that comes first among the ranked sizes, as the table shows them; by angle alone where no seat is surveyed."""
    from wallwright.sight import compare as table  # it hangs each size by this file's own working

    ranked = table.compare(job, face, limits)
    return ranked[0].diagonal if ranked and ranked[0].possible else pick(candidates).diagonal


def body_for(job: Job, diagonal: float, limits: Limits) -> Body:
    """The sizes of a screen of any diagonal: the design's own for the one it names, typical ones for the others."""
    want = job.design.screen if job.design.screen.diagonal in (None, diagonal) else DesignScreen()
    size = typical(diagonal)
    given = {
        "frame_width": want.frame_width, "frame_height": want.frame_height, "frame_depth": want.frame_depth,
        "hole_width": want.hole_width, "hole_height": want.hole_height,
        "box_width": want.box_width, "box_height": want.box_height, "box_depth": want.box_depth,
    }  # fmt: skip
    sizes = {name: length.mm if length is not None else getattr(size, name) for name, length in given.items()}
    full = ScreenSize(
        size.key, size.diagonal, sizes["frame_width"], sizes["frame_height"], sizes["frame_depth"],
        want.mass if want.mass is not None else size.mass, want.watts if want.watts is not None else size.watts,
        size.standby_watts, sizes["hole_width"], sizes["hole_height"],
        sizes["box_width"], sizes["box_height"], sizes["box_depth"], size.source, size.certainty,
    )  # fmt: skip
    return Body(full, _stand_off(job, limits), _hole_offset(want))


def watchers_of(
    eyes: Sequence[Eye], weights: Sequence[float], x: float, out: float, limits: Limits
) -> list[Watcher]:
    """Seats as the height sees them, for a picture at x and `out` from the wall."""
    gaze = limits.value("sight.gaze")
    return [
        Watcher(
            eye.z, math.hypot(eye.x - x, eye.distance - out), wanted_up(eye.recline, eye.flexion, gaze), w
        )
        for eye, w in zip(eyes, weights, strict=True)
    ]


def hang(
    job: Job,
    face: Face,
    eyes: Sequence[Eye],
    weights: Sequence[float],
    axis: float,
    body: Body,
    clear_of: Sequence[Box],
    limits: Limits,
) -> tuple[Point2, Heights, bool]:
    """Where the middle of the frame hangs, the heights compared, and whether it had to give way."""
    wished = wished_centre(job, eyes, weights, axis, body, limits)
    centre = placed(job, face, body, wished, clear_of, limits)
    moved = math.dist(centre, wished) > 0.5
    return (
        centre,
        _heights(
            job,
            watchers_of(eyes, weights, *stands(job, body, centre[0], limits)[1], limits),
            centre[1],
            limits,
        ),
        moved,
    )


def wished_centre(
    job: Job, eyes: Sequence[Eye], weights: Sequence[float], axis: float, body: Body, limits: Limits
) -> Point2:
    """Where the middle of the frame should hang were the wall bare: as pinned, else the seats' axis and their best height."""
    want = job.design.screen
    x = want.centre_x.mm if want.centre_x is not None else float(round(axis))
    if want.centre_height is not None:
        return x, want.centre_height.mm
    watchers = watchers_of(eyes, weights, *stands(job, body, x, limits)[1], limits)
    band = good_for_all(watchers, limits.value("sight.centre_good"))
    return x, set_out(recommended(least_squares(watchers), band), HEIGHT_STEP, band)


def placed(
    job: Job, face: Face, body: Body, wished: Point2, clear_of: Sequence[Box], limits: Limits
) -> Point2:
    """The nearest free place to the one that is wished; what is pinned stays."""
    want, size = job.design.screen, (body.size.frame_width, body.size.frame_height)
    room = room_for_centre(face, *size, limits)
    pins = want.centre_x is not None, want.centre_height is not None
    if room is None or all(pins):
        return wished
    free = nearest_free(wished, *size, room, clear_of, *pins)
    if free is None:  # no place is clear: keep it at least on the wall, and let the rules say what it meets
        free = nearest_free(wished, *size, room, (), *pins)
    return free or wished


def _heights(job: Job, watchers: Sequence[Watcher], used: float, limits: Limits) -> Heights:
    worst = smallest_worst(watchers)
    good = good_for_all(watchers, limits.value("sight.centre_good"))
    low, high = good or (worst, worst)
    band = "bedroom" if job.survey.room.kind == "bedroom" else "living"
    return Heights(
        least_squares(watchers), worst, low, high, limits.value(f"sight.{band}_low"), limits.value(f"sight.{band}_high"),
        used, job.design.screen.centre_height is not None, good is not None,
    )  # fmt: skip


BUILD_STEP = 10.0
"""Build-ups are reckoned in steps of this [mm]: finish and tolerance included."""


def tilt_of(job: Job, main: Eye, centre: Point2, body: Body, limits: Limits) -> float:
    """Pinned, or so that the picture faces the main eye as far as the mount goes."""
    mount = job.design.mount
    if mount.tilt is not None:
        return mount.tilt
    if mount.kind == "fixed":
        return 0.0
    x, out = stands(job, body, centre[0], limits)[1]
    _, before = turned(main.x - x, main.distance - out, swivel_of(job))
    facing = tilt_to_face(centre[1] - main.z, before)
    most = min(
        limits.value("sight.tilt_most"),
        foot_tilt(body.stand_off - _built_behind(job, limits), body, limits),
    )
    nearest = math.floor(max(facing, 0.0) / TILT_STEP + 0.5)
    return TILT_STEP * min(
        nearest, math.floor(most / TILT_STEP)
    )  # never rounded up beyond what the foot has room for


def foot_tilt(room: float, body: Body, limits: Limits) -> float:
    """The furthest tilt [deg] at which the screen's lower back edge keeps clear of what is `room` mm behind the screen."""
    share = (room - limits.value("sight.foot_clear")) / (body.size.frame_height / 2)
    return math.degrees(math.asin(min(1.0, max(0.0, share))))


def screen_of(job: Job, body: Body, centre: Point2, tilt: float, limits: Limits) -> Screen:
    """The screen of these sizes as it hangs there, with its hole group and plate."""
    want, size = job.design.screen, body.size
    mount = job.design.mount
    holes = box_around((centre[0], centre[1] + body.hole_offset), size.hole_width, size.hole_height)
    plate_width = max(
        limits.value(f"sight.plate_width_{mount.kind}"),
        size.hole_width + limits.value("sight.plate_over_holes"),
    )
    drop = mount.hook_drop.mm if mount.hook_drop is not None else 0.0
    plate = box_around(
        (holes.centre[0], holes.centre[1] + drop),
        mount.plate_width.mm if mount.plate_width is not None else plate_width,
        mount.plate_height.mm
        if mount.plate_height is not None
        else limits.value(f"sight.plate_height_{mount.kind}"),
    )
    decided = (
        "diagonal", "centre_height", "centre_x", "frame_width", "frame_height", "frame_depth", "mass", "watts", "hole_width",
        "hole_height",
    )  # fmt: skip
    pinned = {name for name in decided if getattr(want, name) is not None}
    pinned |= {
        name
        for name in ("tilt", "stand_off", "plate_width", "plate_height", "swivel")
        if getattr(mount, name) is not None
    }
    swivel, (pull, middle) = swivel_of(job), stands(job, body, centre[0], limits)
    return Screen(
        size.diagonal, want.panel, want.lines, box_around(centre, size.frame_width, size.frame_height),
        box_around(centre, *picture_size(size.diagonal)), plate, holes, size.frame_depth, body.stand_off, tilt, mount.kind,
        size.mass, size.watts, size.standby_watts, want.source, frozenset(pinned),
        swivel, Carton(size.box_width, size.box_height, size.box_depth), pull - body.stand_off, middle if swivel else None,
    )  # fmt: skip


def view_of(eye: Eye, share: float, screen: Screen, limits: Limits) -> SeatView:
    """What one seat sees of the screen as it is watched, pulled out where it is turned. Elevations are taken along the seat's
    own sight line on plan, to the tilted edges.
    """
    (x, out), z = screen.middle, screen.centre[1]
    distance = eye.distance - out
    across = eye.x - x
    run = math.hypot(across, distance)
    rise, forward = edge_of_tilted(screen.picture.height / 2, screen.tilt)
    wanted = wanted_up(eye.recline, eye.flexion, limits.value("sight.gaze"))
    centre_up = up(z - eye.z, run)
    beside, before = turned(across, distance, screen.swivel)
    return SeatView(
        ref=eye.seat.ref, kind=eye.seat.kind, posture=eye.seat.posture, eye=(eye.x, -eye.distance, eye.z),
        eye_measured=eye.measured, recline=eye.recline, hours=eye.seat.hours, share=share, distance=distance,
        picture_angle=picture_angle(screen.picture.width, beside, before), centre_up=centre_up,
        top_up=up(z + rise - eye.z, math.hypot(beside, before - forward)),
        bottom_up=up(z - rise - eye.z, math.hypot(beside, before + forward)),
        wanted=wanted, off=centre_up - wanted, sideways=sideways(beside, before),
        sideways_far=sideways_far(beside, before, screen.picture.width),
        pixels=pixels_per_degree(screen.picture.width, screen.lines, math.hypot(run, z - eye.z)),
        acuity_distance=acuity_distance(screen.picture.height, screen.lines),
        best_height=Watcher(eye.z, run, wanted, share).best,
    )  # fmt: skip
