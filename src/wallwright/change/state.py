"""How far each thing is: the job's record of progress, looked up by part, unit or point."""

from __future__ import annotations

from typing import TYPE_CHECKING

from wallwright.core.finding import Finding
from wallwright.derive import Wall, derive
from wallwright.job.document import Job
from wallwright.job.edits import apply
from wallwright.job.progress import STATES, Progress, State
from wallwright.rules.check import check

if TYPE_CHECKING:
    from wallwright.carcass.record import Part
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


def held(old: Wall, job: Job) -> Job:
    """The job with every outlet that is set on site kept where it is, not where the program would draw it now.

    One that cannot stay, because something must be put right about it there, is left to the program; so are feeds of light, which
    follow their strips.
    """
    given = {point.ref for point in job.design.points}
    keep = [
        point
        for point in old.services.points
        if at_least(point_state(job.progress, point.ref), "set")
        and point.ref not in given
        and point.kind != "led_feed"
    ]
    wrong_before = _wrong(check(old))
    for _ in range(_ROUNDS):
        now = job
        for point in keep:
            values = {"ref": point.ref, "kind": point.kind, "x": point.x, "z": point.z}
            now = apply(now, "add_point", {**values, "note": SET})
        wrong = _wrong(check(derive(now))) - wrong_before
        cannot = {point.ref for point in keep} & {where for _, where in wrong}
        if not cannot:
            return now
        keep = [point for point in keep if point.ref not in cannot]
    return job


def _wrong(findings: tuple[Finding, ...]) -> set[tuple[str, str]]:
    return {(item.rule, item.where) for item in findings if item.severity in ("danger", "fix")}
