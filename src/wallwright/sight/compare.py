"""Every size seen from every seat: what each sees, what is wrong for it, and the sizes ranked with the reasons in words.

More than every change of the drawing needs: `plan` compares sizes by angle and fit alone; this hangs each size in its own best
place first, with its own tilt, and looks from every seat.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from dataclasses import replace

from wallwright.core.limit import Limits
from wallwright.job.document import Job
from wallwright.job.face import Face, wall_face
from wallwright.library import load
from wallwright.library.load import ScreenSize
from wallwright.sight.candidates import Taste, taste
from wallwright.sight.candidates import compare as quick
from wallwright.sight.eyes import Eye
from wallwright.sight.mirrored import of_room
from wallwright.sight.place import can_hang, keep_clear
from wallwright.sight.plan import (
    arm_of,
    axis_of,
    body_for,
    eyes_of,
    hang,
    screen_of,
    shares_of,
    tilt_of,
    view_of,
    way_in,
)
from wallwright.sight.record import Candidate, CandidateSeat, Screen, SeatView


def compare(
    job: Job,
    face: Face | None = None,
    limits: Limits | None = None,
    sizes: Iterable[ScreenSize] | None = None,
) -> tuple[Candidate, ...]:
    """All sizes with what each seat sees, best first. face, limits : the job's own where not given · sizes : the library's.

    The job's own size keeps the frame that the design gives it. Empty where no seat is surveyed.
    """
    face = face or wall_face(job.survey, job.rules)
    limits = limits or load.limits_of(job.survey.place.rules).overridden(job.rules)
    eyes = eyes_of(job, limits)
    if not eyes:
        return ()
    shares = shares_of(eyes)
    axis = axis_of(eyes, shares)
    clear_of = keep_clear(job.design, job.brief, face, limits)
    want = job.design.screen
    rows: list[Candidate] = []
    for size in sizes or load.screens().values():
        body = body_for(job, size.diagonal, limits)
        (row,) = quick(
            (body.size,), eyes, shares, axis, body.stand_off, want.lines,
            lambda width, height: can_hang(width, height, face, clear_of, limits), limits,
            (want.niche_width.mm if want.niche_width else None, want.niche_height.mm if want.niche_height else None),
            way_in(job.survey.access), arm_of(job, axis, limits),
        )  # fmt: skip
        centre, _, _ = hang(job, face, eyes, shares, axis, body, clear_of, limits)
        main = max(range(len(eyes)), key=lambda i: shares[i])
        screen = screen_of(job, body, centre, tilt_of(job, eyes[main], centre, body, limits), limits)
        views = [view_of(eye, share, screen, limits) for eye, share in zip(eyes, shares, strict=True)]
        rows.append(replace(row, seats=_seats(job, face, screen, eyes, views, limits)))
    return _ranked(rows, job.design.mount.carries)


def _seats(
    job: Job, face: Face, screen: Screen, eyes: Sequence[Eye], views: Sequence[SeatView], limits: Limits
) -> tuple[CandidateSeat, ...]:
    good = limits.value("rule.blind_good")
    dark = {window.ref for window in job.survey.windows if window.blind <= good}
    hits = of_room(job.survey, job.design.screen.surface, face, views, screen, limits)
    out: list[CandidateSeat] = []
    for eye, view in zip(eyes, views, strict=True):
        seen = sum(hit.share for hit in hits if hit.seat == view.ref and hit.window not in dark)
        faults, worries = _said(view, taste(eye, limits), min(1.0, seen), screen, limits)
        out.append(
            CandidateSeat(
                view.ref, view.share, screen.centre[1], view.distance, view.picture_angle, view.pixels, view.acuity_distance,
                view.distance < view.acuity_distance, view.centre_up, view.top_up, view.off, view.sideways,
                limits.value(f"rule.sideways_{screen.panel}"), min(1.0, seen), faults, worries,
            )
        )  # fmt: skip
    return tuple(out)


def _said(
    view: SeatView, wish: Taste, seen: float, screen: Screen, limits: Limits
) -> tuple[tuple[str, ...], tuple[str, ...]]:
    """What is wrong with a size for a seat, and what is to be weighed."""
    faults: list[str] = []
    worries: list[str] = []

    def weigh(value: float, worry: float, fault: float, says: str) -> None:
        if value > worry:
            (faults if value > fault else worries).append(says)

    if view.picture_angle < wish.least:
        faults.append(f"too small, {view.picture_angle:.1f}° of at least {wish.least:.0f}°")
    if view.picture_angle > wish.most:
        faults.append(f"too wide, {view.picture_angle:.1f}° of at most {wish.most:.0f}°")
    bears = limits.value(f"rule.sideways_{screen.panel}")
    if view.sideways > bears:
        worries.append(
            f"{view.sideways:.0f}° from the side, its panel bears {bears:.0f}°: swivel or another class"
        )
    above = view.top_up - max(0.0, view.wanted)
    if view.posture != "standing":
        weigh(
            above,
            limits.value("rule.top_up_consider"),
            limits.value("rule.top_up_fix"),
            f"top edge {above:.1f}° up",
        )
    weigh(abs(view.off), limits.value("rule.centre_up_consider"), limits.value("rule.centre_up_fix"),
          f"middle {view.off:+.1f}° off what the posture wants")  # fmt: skip
    weigh(seen, limits.value("rule.reflection_consider"), limits.value("rule.reflection_fix"),
          f"light mirrored in {seen:.0%} of it")  # fmt: skip
    if view.distance < view.acuity_distance:
        worries.append("its dots show")
    return tuple(faults), tuple(worries)


def standing(rows: Sequence[Candidate], chosen: float) -> str:
    """Where the designed size stands among the ranked ones, and in words why it is not the first; "" where it is not compared."""
    own = next((row for row in rows if row.diagonal == chosen), None)
    if own is None:
        return ""
    best = rows[0]
    if own.rank == best.rank:
        return f"The designed {chosen:g} in comes first."
    says = f"The designed {chosen:g} in comes number {own.rank} of {len(rows)}, {best.diagonal:g} in first: "
    if own.possible != best.possible:
        return says + f"{chosen:g} in cannot hang there ({own.reasons[0]})."
    for of, what in (("faults", "put right"), ("worries", "weighed")):
        mine, theirs = _hours(own, of), _hours(best, of)
        if mine > theirs and (
            of == "faults" or math.floor(10 * mine + 1e-9) != math.floor(10 * theirs + 1e-9)
        ):
            return says + (
                f"from {chosen:g} in, seats with {mine:.0%} of the hours see something to be {what}, "
                f"from {best.diagonal:g} in {theirs:.0%}."
            )
    says += (
        f"its picture fills {own.angle_far:.1f}° where {best.diagonal:g} in fills {best.angle_far:.1f}°, nearer to what the seats "
        "would like; nothing else sets them apart for the seats"
    )
    if best.mass > own.mass:
        says += (
            f". For {chosen:g} in speak {best.mass - own.mass:.0f} kg less on the wall, {best.watts - own.watts:.0f} W less and "
            f"{best.frame_width - own.frame_width:.0f} mm more wall beside it: the designer's choice"
        )
    return says + "."


def _hours(row: Candidate, of: str) -> float:
    """The share of the hours watched from seats with a fault, or with a worry."""
    return round(sum(seat.share for seat in row.seats if getattr(seat, of)), 6)


def _ranked(rows: Sequence[Candidate], carries: float | None) -> tuple[Candidate, ...]:
    """Those that can hang; then by the hours' share with a fault; then, in tenths, with a worry; then by picture angle."""

    def key(row: Candidate) -> tuple[bool, float, float, float]:
        faulty, worried = _hours(row, "faults"), _hours(row, "worries")
        return not row.possible, faulty, math.floor(10 * worried + 1e-9), -row.score

    order = sorted(rows, key=key)
    return tuple(replace(row, rank=i + 1, reasons=_reasons(row, carries)) for i, row in enumerate(order))


def _reasons(row: Candidate, carries: float | None) -> tuple[str, ...]:
    """Why it stands where it stands: what stops it, what each seat would say, and what it asks of its carriers."""
    out: list[str] = []
    if not row.fits:
        out.append("does not fit the wall")
    if row.niche_short > 0:
        out.append(f"the niche is {row.niche_short:.0f} mm too small")
    if row.route is not None and (not row.route.passes or row.route.on_end):
        out.append(row.route.says)
    if carries is not None and row.mass > carries:
        out.append(f"weighs {row.mass:.0f} kg: needs another mount, this one carries {carries:.0f} kg")
    low, high = min(seat.picture_angle for seat in row.seats), max(seat.picture_angle for seat in row.seats)
    out.append(f"fills {low:.1f}°" + (f" to {high:.1f}°" if high - low > 0.1 else ""))
    said: dict[str, list[str]] = {}
    for seat in row.seats:
        for text in (*seat.faults, *seat.worries):
            said.setdefault(text, []).append(seat.seat)
    out += [f"seat{'s' if len(refs) > 1 else ''} {', '.join(refs)}: {text}" for text, refs in said.items()]
    if not said and row.possible:
        out.append("good from every seat")
    return tuple(out)
