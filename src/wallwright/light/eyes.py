"""Every eye that may meet a strip: those in the seats, whoever stands up there, and a child on the floor."""

from __future__ import annotations

from typing import TYPE_CHECKING

from wallwright.core.limit import Limits
from wallwright.job.document import Job
from wallwright.library import load

if TYPE_CHECKING:
    from wallwright.sight.record import Screen, SeatView

Eye = tuple[str, tuple[float, float, float]]
"""Whose, in words, and where: x, y (room: negative), z [mm]."""


def every_eye(job: Job, screen: Screen, seats: tuple[SeatView, ...], limits: Limits) -> tuple[Eye, ...]:
    """The eyes in the seats as they sit or lie, of the tallest who stands there, and of a small child that plays on the floor."""
    eyes: list[Eye] = [(seat.ref, seat.eye) for seat in seats]
    crown = limits.value("light.crown")
    grown = [p.stature.mm for p in job.brief.people if p.stature is not None and not _small(p.age, limits)]
    tall = max(grown, default=limits.value("light.standing")) - crown
    eyes += [(f"standing at {seat.ref}", (seat.eye[0], seat.eye[1], tall)) for seat in seats]
    if child := _child(job, limits):
        away = -limits.value("light.child_before")
        eyes.append(("a child on the floor", (screen.centre[0], away, child - crown)))
    return tuple(eyes)


def _small(age: float | None, limits: Limits) -> bool:
    return age is not None and age < limits.value("light.child_age")


def _child(job: Job, limits: Limits) -> float | None:
    """Sitting height of the smallest child of the household [mm]; None where there is none."""
    heights: list[float] = []
    sizes = sorted(load.children().values(), key=lambda row: row.years)
    for person in job.brief.people:
        if not _small(person.age, limits) or person.age is None:
            continue
        row = min(sizes, key=lambda size: abs(size.years - (person.age or 0)))
        stature = person.stature.mm if person.stature is not None else row.stature
        heights.append(row.sitting * stature)
    return min(heights, default=None)
