"""How far each thing is: the job's record of progress, looked up by part, unit or point."""

from __future__ import annotations

from collections.abc import Callable, Hashable, Iterable
from dataclasses import replace
from typing import TYPE_CHECKING, TypeVar

from wallwright.core.finding import Finding
from wallwright.derive import Wall, derive
from wallwright.job.document import Job
from wallwright.job.edits import apply
from wallwright.job.progress import STATES, Made, Progress, State
from wallwright.rules.check import check

if TYPE_CHECKING:
    from wallwright.carcass.record import Part
    from wallwright.services.record import ServicePoint

T = TypeVar("T")
SET = "set on site"
"""The note of an outlet that stays where it is."""
_ROUNDS = 4
"""Keeping some where they are may put others wrong: so often it is tried with what is left."""


def part_state(progress: Progress, part: Part) -> State:
    """How far a part is: what is said of it, of its unit, or of all joinery."""
    said: dict[str, State] = {made.ref: made.state for made in progress.made}
    return said.get(part.id) or said.get(part.unit) or progress.joinery


def point_state(progress: Progress, ref: str) -> State:
    """How far a box in the wall is: drawn, set, or built (closed over)."""
    said: dict[str, State] = {made.ref: made.state for made in progress.made}
    return said.get(ref) or progress.points


def at_least(state: State, least: State) -> bool:
    """Whether a state is that one or further on."""
    return STATES.index(state) >= STATES.index(least)


def going_on(old: Job, new: Job) -> Job:
    """The new job with what the old one records: how far the work is, gates, variations, snags, tests. The old one is the wall as it
    stands; the new one may have been begun before. What both tell of one thing, the new one tells, and nothing is less far with it.
    """
    was, now = old.progress, new.progress
    said = {one.ref: one for one in now.made}
    made = [_further(one, said.pop(one.ref, one)) for one in was.made]
    progress = Progress(
        was.joinery if at_least(was.joinery, now.joinery) else now.joinery,
        was.points if at_least(was.points, now.points) else now.points,
        was.screen if at_least(was.screen, now.screen) else now.screen,
        (*made, *said.values()),
        _joined(was.gates, now.gates, lambda one: one.ref),
        _joined(was.variations, now.variations, lambda one: one.ref),
        _joined(was.snags, now.snags, lambda one: one.ref),
        _joined(was.tested, now.tested, lambda one: (one.check, one.ref)),
    )
    return new if progress == now else replace(new, progress=progress)


def _further(one: Made, other: Made) -> Made:
    return max(one, other, key=lambda made: STATES.index(made.state))


def _joined(were: tuple[T, ...], are: tuple[T, ...], key: Callable[[T], Hashable]) -> tuple[T, ...]:
    """Those of the old record that the new one has not, then its own, in the order in which they came."""
    own = {key(one): one for one in are}
    return (*(own.pop(key(one), one) for one in were), *own.values())


def held(old: Wall, job: Job) -> Job:
    """The job with every outlet that is set on site kept where it is, not where the program would draw it now.

    One that cannot stay, because something must be put right about it there or because another has no room beside it, is left to the
    program; so are feeds of light, which follow their strips.
    """
    given = {point.ref for point in job.design.points}
    keep = [
        point
        for point in old.services.points
        if any(at_least(point_state(one, point.ref), "set") for one in (old.job.progress, job.progress))
        and point.ref not in given
        and point.kind != "led_feed"
    ]
    if not keep:
        return job
    before = _wrong(check(old)) | _wrong(
        check(derive(job))
    )  # what is wrong without holding anything is not the holding's fault
    for _ in range(_ROUNDS):
        wrong = _brings(job, keep, before)
        cannot = {point.ref for point in keep} & {where for _, where in wrong}
        if not cannot:
            break
        keep = [point for point in keep if point.ref not in cannot]
    while keep and _brings(job, keep, before):
        tries = [[other for other in keep if other is not point] for point in keep]
        keep = min(tries, key=lambda left: len(_brings(job, left, before)))
    return _kept(job, keep)


def _kept(job: Job, keep: Iterable[ServicePoint]) -> Job:
    for point in keep:
        values = {"ref": point.ref, "kind": point.kind, "x": point.x, "z": point.z}
        job = apply(job, "add_point", {**values, "note": SET})
    return job


def _brings(job: Job, keep: Iterable[ServicePoint], before: set[tuple[str, str]]) -> set[tuple[str, str]]:
    return _wrong(check(derive(_kept(job, keep)))) - before


def _wrong(findings: tuple[Finding, ...]) -> set[tuple[str, str]]:
    return {(item.rule, item.where) for item in findings if item.severity in ("danger", "fix")}
