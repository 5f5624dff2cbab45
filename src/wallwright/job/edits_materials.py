"""Edits of what decides about materials: the room's air, what lies behind the wall, the class its boards are ordered in."""

from __future__ import annotations

from typing import Literal

from wallwright.job.document import Job
from wallwright.job.edit import change, edit
from wallwright.job.fields import Number, Share


@edit
def set_climate(
    job: Job,
    temperature: Number | None = None,
    humidity_low: Share | None = None,
    humidity_high: Share | None = None,
) -> Job:
    """Set the room's usual temperature, and its relative humidity in the driest and the dampest weeks."""
    return change(
        job, "survey.room", temperature=temperature, humidity_low=humidity_low, humidity_high=humidity_high
    )


@edit
def set_storey(job: Job, storey: Literal["below", "ground", "upper"]) -> Job:
    """Say whether the room lies below, on or above the ground."""
    return change(job, "survey.room", storey=storey)


@edit
def set_wet_room_behind(job: Job, wet: bool) -> Job:
    """Say whether a bathroom or wash place is on the other side of the wall."""
    return change(job, "survey.wall", wet_room_behind=wet)


@edit
def set_emission(job: Job, emission: Literal["e1", "e05", "tsca", "naf"]) -> Job:
    """Choose the formaldehyde class the boards are ordered in."""
    return change(job, "design.finishes", emission=emission)
