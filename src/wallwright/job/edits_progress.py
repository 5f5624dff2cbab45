"""Edits of the work as it goes on: how far things are, gates signed, variations, snags, tests."""

from __future__ import annotations

from dataclasses import replace
from typing import Annotated, Literal

from pydantic import Field

from wallwright.core.limit import Limits
from wallwright.job.criteria import passes
from wallwright.job.document import Job
from wallwright.job.edit import add, change, change_in, edit, place_of
from wallwright.job.face import wall_face
from wallwright.job.fields import Number, Ref, Words
from wallwright.job.path import put
from wallwright.job.problem import JobError, fail
from wallwright.job.progress import GateRef, Made, Signed, Snag, State, Tested, Variation
from wallwright.job.reconcile import not_closing
from wallwright.library import load

Date = Annotated[str, Field(pattern=r"^\d{4}-\d{2}-\d{2}$")]
VARIATIONS, SNAGS = "progress.variations", "progress.snags"
OPEN = ("draft", "priced")


@edit
def set_progress(
    job: Job,
    joinery: State | None = None,
    points: Literal["drawn", "set", "built"] | None = None,
    screen: Literal["drawn", "ordered", "set"] | None = None,
) -> Job:
    """Say how far the joinery, the boxes in the wall and the screen are."""
    return change(job, "progress", joinery=joinery, points=points, screen=screen)


@edit
def set_made(job: Job, ref: Ref, state: State) -> Job:
    """Say how far one part, unit, panel or point is."""
    kept = tuple(made for made in job.progress.made if made.ref != ref)
    return put(job, ("progress", "made"), (*kept, Made(ref, state)))


@edit
def sign_gate(job: Job, ref: GateRef, by: Words, date: Date) -> Job:
    """Sign a gate; refused while what it rests on is assumed."""
    _may_sign(job, ref)
    kept = tuple(gate for gate in job.progress.gates if gate.ref != ref)
    return put(job, ("progress", "gates"), tuple(sorted((*kept, Signed(ref, by, date)), key=lambda g: g.ref)))


def _may_sign(job: Job, ref: str) -> None:
    """JobError where the gate rests on what nobody measured. Source: common practice."""
    survey = job.survey
    if ref >= "G1" and (assumed := wall_face(survey, job.rules).assumed):
        raise fail(
            assumed[0], None, f"is assumed: {ref} is not signed before it is measured ({len(assumed)} such)"
        )
    if ref >= "G1" and (bad := not_closing(job)):
        raise fail(
            bad[0].measure.path,
            f"{bad[0].measure.value:g}",
            f"does not close with the rest: measure it again before {ref} is signed",
        )
    come = survey.room.floor_to_come
    if ref >= "G2" and not survey.room.floor_finished and not come.taped:
        says = f"is assumed: {ref} freezes heights, and every height counts from the finished floor; lay it, or have its thickness agreed"
        raise fail("survey.room.floor_to_come", f"{come.mm:g} mm", says)
    if ref >= "G3" and not survey.finish_complete:
        raise fail(
            "survey.finish_complete",
            "false",
            f"{ref} releases cutting: measure three key sizes again when the finishes are on",
        )
    if ref >= "G5" and (
        bad := [f"{one.check} on {one.ref}" for one in job.progress.tested if not _passed(job, one)]
    ):
        raise fail("progress.tested", bad[0], f"did not pass: {ref} is not signed before it does")
    if ref >= "G6" and (still := [one.ref for one in job.progress.snags if not one.closed]):
        raise fail("progress.snags", still[0], f"is open: {ref} is not signed before every snag is closed")


def held_up(job: Job, ref: str) -> str:
    """Why a gate may not be signed yet; "" where nothing in survey and progress forbids it."""
    try:
        _may_sign(job, ref)
    except JobError as error:
        first = error.problems[0]
        return f"{first.field} {first.says}"
    return ""


def _passed(job: Job, one: Tested) -> bool:
    """Whether a test passed: what was measured is judged by its limit, not by the tick."""
    judged = passes(one.check, one.measured, _limits(job)) if one.measured is not None else None
    return one.passed and judged is not False


def _limits(job: Job) -> Limits:
    return load.limits_of(job.survey.place.rules).overridden(job.rules)


@edit
def unsign_gate(job: Job, ref: GateRef) -> Job:
    """Take a gate's signature back, and those of the gates after it."""
    kept = tuple(gate for gate in job.progress.gates if gate.ref < ref)
    if len(kept) == len(job.progress.gates):
        raise fail("ref", ref, "is not signed")
    return put(job, ("progress", "gates"), kept)


@edit
def add_variation(  # noqa: PLR0913
    job: Job,
    ref: Ref,
    says: Words,
    reason: Words = "",
    origin: Literal["client", "site", "design"] = "client",
    price: Number | None = None,
    days: int | None = None,
    documents: tuple[Words, ...] = (),
    from_revision: Annotated[str, Field(pattern=r"^[A-Z0-9]{0,2}$")] = "",
) -> Job:
    """Enter a variation; with price and days it is ready to be signed, before any work on it."""
    if any(one.ref == ref for one in job.progress.variations):
        raise fail("ref", ref, "is a variation already; give this one the next number")
    priced = price is not None and days is not None
    made = Variation(
        ref, says, reason, origin, price or 0.0, days or 0, "priced" if priced else "draft", documents=documents,
        from_revision=from_revision,
    )  # fmt: skip
    return add(job, VARIATIONS, made)


@edit
def price_variation(job: Job, ref: Ref, price: Number, days: int) -> Job:
    """Set what a variation adds in money and in working days."""
    _is(job, ref, OPEN, "priced")
    return change_in(job, VARIATIONS, ref, price=price, days=days, state="priced")


@edit
def accept_variation(job: Job, ref: Ref, by: Words, date: Date) -> Job:
    """Accept a priced variation: who signed it, and when."""
    _is(job, ref, ("priced",), "accepted")
    return change_in(job, VARIATIONS, ref, state="approved", by=by, date=date)


@edit
def refuse_variation(job: Job, ref: Ref, by: Words, date: Date, reason: Words | None = None) -> Job:
    """Refuse a variation: it stays on the list."""
    _is(job, ref, OPEN, "refused")
    return change_in(job, VARIATIONS, ref, state="refused", by=by, date=date, reason=reason)


@edit
def finish_variation(job: Job, ref: Ref, state: Literal["done", "invoiced"] = "done") -> Job:
    """Say that a variation is done, or invoiced."""
    _is(job, ref, ("approved",) if state == "done" else ("done",), state)
    return change_in(job, VARIATIONS, ref, state=state)


def _is(job: Job, ref: str, states: tuple[str, ...], wanted: str) -> None:
    now = job.progress.variations[place_of(job, VARIATIONS, ref)].state
    if now not in states:
        raise fail("ref", ref, f"is {now}; only one that is {' or '.join(states)} can be {wanted}")


@edit
def add_snag(  # noqa: PLR0913
    job: Job,
    ref: Ref,
    where: Words,
    says: Words,
    check: Words = "",
    measured: Number | None = None,
    trade: Words = "",
    date: Annotated[str, Field(pattern=r"^(\d{4}-\d{2}-\d{2})?$")] = "",
) -> Job:
    """Enter a snag: where, what, and what was measured."""
    if any(one.ref == ref for one in job.progress.snags):
        raise fail("ref", ref, "is a snag already; give this one the next number")
    return add(job, SNAGS, Snag(ref, where, says, check, measured, trade, date))


@edit
def close_snag(job: Job, ref: Ref, date: Date, measured: Number | None = None) -> Job:
    """Close a snag that was seen to be right; where it was measured, by what is measured now."""
    snag = job.progress.snags[place_of(job, SNAGS, ref)]
    now = snag.measured if measured is None else measured
    if now is not None and passes(snag.check, now, _limits(job)) is False:
        says = f"does not pass {snag.check}: put it right, measure again, and close it by what that says"
        raise fail("measured", f"{now:g}", says)
    return change_in(job, SNAGS, ref, closed=date, measured=now)


@edit
def record_test(  # noqa: PLR0913
    job: Job,
    check: Words,
    ref: Ref,
    measured: Number | None = None,
    passed: bool = True,
    by: Words = "",
    date: Annotated[str, Field(pattern=r"^(\d{4}-\d{2}-\d{2})?$")] = "",
) -> Job:
    """Enter what a line of the commissioning list gave; an older entry of it is replaced."""
    kept = tuple(one for one in job.progress.tested if (one.check, one.ref) != (check, ref))
    return replace(
        job,
        progress=replace(job.progress, tested=(*kept, Tested(check, ref, measured, passed, by, date))),
    )
