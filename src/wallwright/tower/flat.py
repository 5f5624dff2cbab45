"""The job of one flat: its type's, in its own hand, with what was measured there and what is otherwise in it."""

from __future__ import annotations

import json
from collections.abc import Iterable
from dataclasses import replace
from typing import TYPE_CHECKING, Any

from wallwright.core.units import Length
from wallwright.job.edit import to_plain
from wallwright.job.edits import apply
from wallwright.job.problem import JobError, fail
from wallwright.job.survey import Obstacle
from wallwright.tower.mirror import mirrored

if TYPE_CHECKING:
    from wallwright.job.document import Job
    from wallwright.job.site import FoundThing
    from wallwright.job.survey import Reading, Survey
    from wallwright.tower.record import Exception_, Flat, Kind, Measured, Tower


class Hands:
    """The types' jobs in both hands, each mirrored once."""

    def __init__(self, tower: Tower) -> None:
        self.tower = tower
        self._made: dict[tuple[str, str], Job] = {}

    def of(self, kind: Kind, hand: str) -> Job:
        """The type's job in that hand. ValueError where it cannot be built, so not mirrored."""
        key = (kind.ref, hand)
        if key not in self._made:
            job = bare(self.tower.jobs[kind.ref])
            self._made[key] = job if hand == kind.hand else mirrored(job)
        return self._made[key]


def bare(job: Job) -> Job:
    """A type's job without what belongs to one job alone: its progress, and the workshop's rack, which is there once and not in
    every flat.
    """
    return replace(job, progress=type(job.progress)(), design=replace(job.design, stock=()))


def key_of(flat: Flat, *, measured: bool) -> str:
    """What the flat's wall follows from: two flats of one key have the same wall. measured : with what the tape said"""
    said: dict[str, Any] = {
        "type": flat.type,
        "hand": flat.hand,
        "bearing": flat.bearing,
        "exceptions": [(one.edit, to_plain(one.values)) for one in flat.exceptions],
    }
    if measured:
        said["measured"] = measures_key(flat.measured)
    return json.dumps(said, sort_keys=True, ensure_ascii=False)


def measures_key(measured: Measured) -> Any:
    """The measures without who took them and when."""
    return {**to_plain(measured), "by": "", "date": ""}


def drawn_job(flat: Flat, hands: Hands) -> Job:
    """The flat's job as drawn: type, hand, bearing and exceptions, without what was measured.

    JobError, naming the exception, where an edit cannot be made; ValueError where the type cannot be built.
    """
    return with_exceptions(plain_job(flat, hands), flat.exceptions)


def plain_job(flat: Flat, hands: Hands) -> Job:
    """The flat's job before its exceptions."""
    job = hands.of(hands.tower.kind(flat.type), flat.hand)
    if flat.bearing is not None:
        place = replace(job.survey.place, bearing=flat.bearing)
        job = replace(job, survey=replace(job.survey, place=place))
    return job


def with_exceptions(job: Job, exceptions: Iterable[Exception_]) -> Job:
    """The job with every exception made, in order. JobError names the one that cannot be."""
    for i, one in enumerate(exceptions):
        try:
            job = apply(job, one.edit, one.values)
        except JobError as error:
            raise JobError(error.problems, f"exceptions[{i}] {one.edit}") from None
    return job


def measured_job(flat: Flat, hands: Hands) -> Job:
    """The flat's job as drawn, with its survey as the tape has it. Raises as `drawn_job` does."""
    job = drawn_job(flat, hands)
    return replace(job, survey=surveyed(job.survey, flat.measured))


def surveyed(survey: Survey, measured: Measured) -> Survey:
    """The survey with what was measured in place of what the type has. JobError where a thing is not there and not described."""
    wall = survey.wall
    return replace(
        survey,
        wall=replace(
            wall,
            widths=_readings(measured.widths) or wall.widths,
            heights=_readings(measured.heights) or wall.heights,
            diagonals=tuple(_sure(one) for one in measured.diagonals)
            or (() if measured.widths or measured.heights else wall.diagonals),
            out_of_plumb=wall.out_of_plumb if measured.out_of_plumb is None else _sure(measured.out_of_plumb),
            relief=measured.relief or wall.relief,
        ),
        obstacles=_things(survey.obstacles, measured.things),
    )


def _sure(length: Length) -> Length:
    """What a tape said is measured, whether or not anybody wrote so."""
    return replace(length, state="measured") if length.state == "assumed" else length


def _readings(readings: tuple[Reading, ...]) -> tuple[Reading, ...]:
    return tuple(replace(one, value=_sure(one.value)) for one in readings)


def _things(obstacles: tuple[Obstacle, ...], found: tuple[FoundThing, ...]) -> tuple[Obstacle, ...]:
    out = {one.ref: one for one in obstacles}
    for i, thing in enumerate(found):
        out[thing.ref] = _thing(out.get(thing.ref), thing, f"measured.things[{i}]")
    return tuple(out.values())


def _thing(there: Obstacle | None, found: FoundThing, where: str) -> Obstacle:
    sizes = {name: getattr(found, name) for name in ("x", "z", "width", "height", "projection")}
    given: dict[str, Any] = {name: _sure(value) for name, value in sizes.items() if value is not None}
    if found.stays is not None:
        given["state"] = "keep" if found.stays else "remove"
    if there is not None:
        return replace(there, **given)
    missing = [name for name in ("x", "z", "width", "height") if name not in given]
    if found.kind is None or missing:
        lacks = ", ".join([*(["kind"] if found.kind is None else []), *missing])
        raise fail(where, found.ref, f"the type has no such thing on the wall; a new one needs {lacks} too")
    return Obstacle(found.ref, found.kind, **given)
