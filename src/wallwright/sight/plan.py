"""The sight stage: from the seats to the screen, its size, its height and tilt, and what each seat sees and sees mirrored."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

from wallwright.core.limit import Limits
from wallwright.core.shape import Box, Point2, box_around
from wallwright.core.units import Length
from wallwright.job.document import Job
from wallwright.job.face import Face
from wallwright.job.survey import Seat, Survey, Window
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
    up,
)
from wallwright.sight.candidates import compare, pick
from wallwright.sight.eyes import Eye, eye_of
from wallwright.sight.heights import Watcher, good_for_all, least_squares, smallest_worst, wanted_up
from wallwright.sight.place import can_hang, keep_clear, nearest_free, room_for_centre
from wallwright.sight.record import Candidate, Heights, Reflection, Screen, SeatView, Sight
from wallwright.sight.reflect import Glass, Point3, area, image

HEIGHT_STEP = 5.0
"""An automatic height is set out to this [mm]."""
TILT_STEP = 0.5
"""An automatic tilt is set to this [deg]."""


@dataclass(frozen=True, slots=True)
class _Body:
    """The screen's own sizes before it has a place."""

    size: ScreenSize
    stand_off: float
    hole_offset: float

    @property
    def out(self) -> float:
        """From the wall's face to the picture."""
        return self.stand_off + self.size.frame_depth


def plan(job: Job, face: Face, limits: Limits) -> Sight:
    """The screen and what is seen of it. Automatic: size by angle, x on the seats' axis, height by posture, tilt
    to the main eye.
    """
    eyes = _eyes(job, limits)
    shares = _shares(eyes)
    watching = eyes or (_assumed_eye(job.survey, face, limits),)
    weights = shares or (1.0,)
    axis = _axis(watching, weights)

    clear_of = keep_clear(job.design, job.brief, face, limits)
    candidates = _candidates(job, face, watching, weights, axis, clear_of, limits)
    body = _body(job, candidates, limits)
    centre, heights, moved = _hang(job, face, watching, weights, axis, body, clear_of, limits)
    main = max(range(len(watching)), key=lambda i: weights[i])
    tilt = _tilt(job, watching[main], centre, body, limits)

    screen = _screen(job, body, centre, tilt, limits)
    seats = tuple(
        _view(eye, share, screen, body.out, limits) for eye, share in zip(eyes, shares, strict=True)
    )
    mirrored = _reflections(job.survey, face, seats, screen, body.out)
    whys = why.all_of(
        job, screen, seats, heights, candidates, mirrored, eyes, watching[main], axis, centre, moved, limits
    )
    return Sight(screen, seats, heights, candidates, mirrored, whys)


def _eyes(job: Job, limits: Limits) -> tuple[Eye, ...]:
    people = {person.ref: person for person in job.brief.people}
    return tuple(eye_of(seat, people.get(seat.person or ""), limits) for seat in job.survey.seats)


def _assumed_eye(survey: Survey, face: Face, limits: Limits) -> Eye:
    """A mean adult on a sofa before the wall's middle: only to place the screen while no seat is surveyed."""
    distance = limits.value("sight.assumed_distance")
    if survey.room.depth is not None:
        distance = min(distance, 0.8 * survey.room.depth.mm)
    return eye_of(Seat("assumed", "sofa", Length(face.width / 2), Length(distance)), None, limits)


def _shares(eyes: Sequence[Eye]) -> tuple[float, ...]:
    """Each seat's share of the hours; equal where nobody said any."""
    total = sum(eye.seat.hours for eye in eyes)
    return tuple(eye.seat.hours / total if total else 1 / len(eyes) for eye in eyes)


def _axis(eyes: Sequence[Eye], weights: Sequence[float]) -> float:
    """The main seats' axis: the hours-weighted x of the seats with at least half the hours of the most used one."""
    most = max(weights)
    main = [(eye.x, w) for eye, w in zip(eyes, weights, strict=True) if w >= most / 2]
    total = sum(w for _, w in main)
    return sum(x * w for x, w in main) / total if total else sum(x for x, _ in main) / len(main)


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

    stand_off = _stand_off(job, limits)
    return compare(
        load.screens().values(), eyes, weights, axis, stand_off, job.design.screen.lines, fits, limits
    )


def _stand_off(job: Job, limits: Limits) -> float:
    mount = job.design.mount
    return (
        mount.stand_off.mm if mount.stand_off is not None else limits.value(f"sight.stand_off_{mount.kind}")
    )


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
        between(low.frame_depth, high.frame_depth), between(low.mass, high.mass), between(low.watts, high.watts),
        near.standby_watts, near.hole_width, near.hole_height, "typical value, between two sizes of the library", near.certainty,
    )  # fmt: skip


def _body(job: Job, candidates: Sequence[Candidate], limits: Limits) -> _Body:
    """The screen's sizes: pinned where the design says so, else typical for its diagonal."""
    want = job.design.screen
    size = typical(want.diagonal if want.diagonal is not None else pick(candidates).diagonal)
    given = {
        "frame_width": want.frame_width, "frame_height": want.frame_height, "frame_depth": want.frame_depth,
        "hole_width": want.hole_width, "hole_height": want.hole_height,
    }  # fmt: skip
    sizes = {name: length.mm if length is not None else getattr(size, name) for name, length in given.items()}
    full = ScreenSize(
        size.key, size.diagonal, sizes["frame_width"], sizes["frame_height"], sizes["frame_depth"],
        want.mass if want.mass is not None else size.mass, want.watts if want.watts is not None else size.watts,
        size.standby_watts, sizes["hole_width"], sizes["hole_height"], size.source, size.certainty,
    )  # fmt: skip
    return _Body(full, _stand_off(job, limits), want.hole_offset.mm)


def _watchers(
    eyes: Sequence[Eye], weights: Sequence[float], x: float, out: float, limits: Limits
) -> list[Watcher]:
    gaze = limits.value("sight.gaze")
    return [
        Watcher(
            eye.z, math.hypot(eye.x - x, eye.distance - out), wanted_up(eye.recline, eye.flexion, gaze), w
        )
        for eye, w in zip(eyes, weights, strict=True)
    ]


def _hang(
    job: Job,
    face: Face,
    eyes: Sequence[Eye],
    weights: Sequence[float],
    axis: float,
    body: _Body,
    clear_of: Sequence[Box],
    limits: Limits,
) -> tuple[Point2, Heights, bool]:
    """Where the middle of the frame hangs, the heights compared, and whether it had to give way."""
    want = job.design.screen
    x = want.centre_x.mm if want.centre_x is not None else float(round(axis))
    best = least_squares(_watchers(eyes, weights, x, body.out, limits))
    z = want.centre_height.mm if want.centre_height is not None else HEIGHT_STEP * round(best / HEIGHT_STEP)
    centre: Point2 = x, z
    room = room_for_centre(face, body.size.frame_width, body.size.frame_height, limits)
    pins = want.centre_x is not None, want.centre_height is not None
    if room is not None and not all(pins):
        free = nearest_free(centre, body.size.frame_width, body.size.frame_height, room, clear_of, *pins)
        if (
            free is None
        ):  # no place is clear: keep it at least on the wall, and let the rules say what it meets
            free = nearest_free(centre, body.size.frame_width, body.size.frame_height, room, (), *pins)
        centre = free or centre
    moved = math.dist(centre, (x, z)) > 0.5
    return (
        centre,
        _heights(job, _watchers(eyes, weights, centre[0], body.out, limits), centre[1], limits),
        moved,
    )


def _heights(job: Job, watchers: Sequence[Watcher], used: float, limits: Limits) -> Heights:
    worst = smallest_worst(watchers)
    low, high = good_for_all(watchers, limits.value("sight.centre_good")) or (worst, worst)
    band = "bedroom" if job.survey.room.kind == "bedroom" else "living"
    return Heights(
        least_squares(watchers), worst, low, high, limits.value(f"sight.{band}_low"), limits.value(f"sight.{band}_high"),
        used, job.design.screen.centre_height is not None,
    )  # fmt: skip


def _tilt(job: Job, main: Eye, centre: Point2, body: _Body, limits: Limits) -> float:
    """Pinned, or so that the picture faces the main eye as far as the mount goes."""
    mount = job.design.mount
    if mount.tilt is not None:
        return mount.tilt
    if mount.kind == "fixed":
        return 0.0
    facing = tilt_to_face(centre[1] - main.z, main.distance - body.out)
    return TILT_STEP * round(min(max(facing, 0.0), limits.value("sight.tilt_most")) / TILT_STEP)


def _screen(job: Job, body: _Body, centre: Point2, tilt: float, limits: Limits) -> Screen:
    want, mount, size = job.design.screen, job.design.mount, body.size
    holes = box_around((centre[0], centre[1] + body.hole_offset), size.hole_width, size.hole_height)
    plate_width = max(
        limits.value(f"sight.plate_width_{mount.kind}"),
        size.hole_width + limits.value("sight.plate_over_holes"),
    )
    plate = box_around(
        holes.centre,
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
        for name in ("tilt", "stand_off", "plate_width", "plate_height")
        if getattr(mount, name) is not None
    }
    return Screen(
        size.diagonal, want.panel, want.lines, box_around(centre, size.frame_width, size.frame_height),
        box_around(centre, *picture_size(size.diagonal)), plate, holes, size.frame_depth, body.stand_off, tilt, mount.kind,
        size.mass, size.watts, size.standby_watts, want.source, frozenset(pinned),
    )  # fmt: skip


def _view(eye: Eye, share: float, screen: Screen, out: float, limits: Limits) -> SeatView:
    """What one seat sees. Elevations are taken along the seat's own sight line on plan, to the tilted edges."""
    x, z = screen.centre
    distance = eye.distance - out
    across = eye.x - x
    run = math.hypot(across, distance)
    rise, forward = edge_of_tilted(screen.picture.height / 2, screen.tilt)
    wanted = wanted_up(eye.recline, eye.flexion, limits.value("sight.gaze"))
    centre_up = up(z - eye.z, run)
    return SeatView(
        ref=eye.seat.ref, kind=eye.seat.kind, posture=eye.seat.posture, eye=(eye.x, -eye.distance, eye.z),
        eye_measured=eye.measured, recline=eye.recline, hours=eye.seat.hours, share=share, distance=distance,
        picture_angle=picture_angle(screen.picture.width, across, distance), centre_up=centre_up,
        top_up=up(z + rise - eye.z, math.hypot(across, distance - forward)),
        bottom_up=up(z - rise - eye.z, math.hypot(across, distance + forward)),
        wanted=wanted, off=centre_up - wanted, sideways=sideways(across, distance),
        sideways_far=sideways_far(across, distance, screen.picture.width),
        pixels=pixels_per_degree(screen.picture.width, screen.lines, math.hypot(run, z - eye.z)),
        acuity_distance=acuity_distance(screen.picture.height, screen.lines),
        best_height=Watcher(eye.z, run, wanted, share).best,
    )  # fmt: skip


def window_corners(window: Window, survey: Survey, face: Face) -> tuple[Point3, ...] | None:
    """The four corners of a window of another wall; None where the room's depth is needed and unknown."""
    low, high = window.sill.mm, window.sill.mm + window.height.mm
    near, far = window.along.mm, window.along.mm + window.width.mm
    if window.wall == "opposite":
        if survey.room.depth is None:
            return None
        y = -survey.room.depth.mm
        return (near, y, low), (far, y, low), (far, y, high), (near, y, high)
    x = 0.0 if window.wall == "left" else face.width
    return (x, -near, low), (x, -far, low), (x, -far, high), (x, -near, high)


def glass_of(screen: Screen) -> Glass:
    """The picture as a mirror."""
    x, z = screen.picture.centre
    return Glass(
        (x, -(screen.stand_off + screen.depth), z), screen.picture.width, screen.picture.height, screen.tilt
    )


def _reflections(
    survey: Survey, face: Face, seats: Sequence[SeatView], screen: Screen, out: float
) -> tuple[Reflection, ...]:
    glass = glass_of(screen)
    found: list[Reflection] = []
    for window in survey.windows:
        corners = window_corners(window, survey, face)
        if corners is None:
            continue
        for seat in seats:
            seen = image(glass, seat.eye, corners)
            part = area(seen) / screen.picture.area
            if part > 0:
                found.append(
                    Reflection(seat.ref, window.ref, tuple(glass.on_wall(point) for point in seen), part)
                )
    return tuple(found)
