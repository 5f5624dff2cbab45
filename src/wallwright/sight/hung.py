"""The screen hung in a changed design of the same room, and what its seats then see: what a cure is judged by."""

from __future__ import annotations

from collections.abc import Callable, Sequence

from wallwright.core.limit import Limits
from wallwright.core.shape import Point2
from wallwright.job.document import Job
from wallwright.job.face import Face
from wallwright.sight.place import keep_clear
from wallwright.sight.plan import (
    axis_of,
    body_for,
    eyes_of,
    placed,
    screen_of,
    shares_of,
    tilt_of,
    view_of,
    wished_centre,
)
from wallwright.sight.record import Screen, SeatView

Hang = Callable[[Job], Screen]
Views = Callable[[Screen], tuple[SeatView, ...]]


def hanger(job: Job, face: Face, diagonal: float, limits: Limits) -> tuple[Hang, Views]:
    """How the screen hangs in a job that differs from `job` in its screen and mount alone, and what the seats see of it there.

    All that is automatic is placed anew, but the size: it stays at `diagonal` unless the changed job names one. ValueError
    for a room without seats.
    """
    eyes = eyes_of(job, limits)
    if not eyes:
        raise ValueError("no seat is surveyed: nothing says how the screen should hang")
    shares = shares_of(eyes)
    axis, clear_of = axis_of(eyes, shares), keep_clear(job.design, job.brief, face, limits)
    main = eyes[max(range(len(eyes)), key=lambda i: shares[i])]

    # most changes leave the wished place as it is: it is looked for once
    places: dict[tuple[Point2, float, float, bool, bool], Point2] = {}

    def hung(changed: Job) -> Screen:
        body = body_for(changed, changed.design.screen.diagonal or diagonal, limits)
        want, wished = changed.design.screen, wished_centre(changed, eyes, shares, axis, body, limits)
        pins = want.centre_x is not None, want.centre_height is not None
        key = wished, body.size.frame_width, body.size.frame_height, *pins
        if key not in places:
            places[key] = placed(changed, face, body, wished, clear_of, limits)
        centre = places[key]
        return screen_of(changed, body, centre, tilt_of(changed, main, centre, body, limits), limits)

    def views(screen: Screen) -> tuple[SeatView, ...]:
        return tuple(view_of(eye, share, screen, limits) for eye, share in zip(eyes, shares, strict=True))

    return hung, views


def spoils(
    before: Sequence[SeatView], after: Sequence[SeatView], limits: Limits, ref: str | None = None
) -> bool:
    """Whether another seat than `ref` that counts loses its picture, or is overwhelmed by it, more than it is now."""
    most = limits.value("rule.picture_angle_most")
    for now, then in zip(before, after, strict=True):
        if now.ref == ref or then.share < LEAST_SHARE:
            continue
        least = limits.value(
            "rule.picture_angle_least_bed" if now.kind == "bed" else "rule.picture_angle_least"
        )
        low, high = min(least, now.picture_angle), max(most, now.picture_angle)
        if not low - 1e-9 <= then.picture_angle <= high + 1e-9:
            return True
    return False


LEAST_SHARE = 0.1
"""A seat with less of the hours does not decide the size."""
