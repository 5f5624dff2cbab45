"""Edits of the wiring: where cables come to the wall, and how they are laid in it."""

from __future__ import annotations

from dataclasses import replace
from typing import Literal

from wallwright.job.document import Job
from wallwright.job.edit import change, edit
from wallwright.job.fields import Clear, Offset, Size
from wallwright.job.survey import Entry

Comes = Literal["left", "right", "ceiling", "floor", "wall"]


@edit
def set_supply(job: Job, comes: Comes, x: Offset | None = None, z: Clear | None = None) -> Job:
    """Enter where the mains supply comes to the wall."""
    return replace(job, survey=replace(job.survey, supply=Entry(comes, x, z)))


@edit
def set_lines_in(job: Job, comes: Comes, x: Offset | None = None, z: Clear | None = None) -> Job:
    """Enter where network, fibre and aerial come to the wall."""
    return replace(job, survey=replace(job.survey, lines_in=Entry(comes, x, z)))


@edit
def set_board_distance(job: Job, distance: Size) -> Job:
    """Enter how much cable lies between the distribution board and this wall."""
    return change(job, "survey", board_distance=distance)


@edit
def set_ceiling(job: Job, ceiling: Literal["solid", "void", "unknown"]) -> Job:
    """Say whether there is a false ceiling with room for conduits over it."""
    return change(job, "survey", ceiling=ceiling)


@edit
def set_wiring(
    job: Job,
    lay: Literal["chased", "mixed", "surface"] | None = None,
    picture_cable: Literal["passive", "optical"] | None = None,
) -> Job:
    """Choose how runs are laid, and the picture cable."""
    return change(job, "design.wiring", lay=lay, picture_cable=picture_cable)
