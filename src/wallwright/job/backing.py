"""What backs fixings that miss the studs of a framed wall: as the designer says, else what is usual there."""

from __future__ import annotations

from wallwright.job.design import Backing
from wallwright.job.document import Job


def backing_of(job: Job) -> Backing:
    """How this wall is backed: as the designer says; else by noggings between timber studs, by boards between metal ones."""
    return job.design.backing or ("noggings" if job.survey.wall.substrate == "timber_stud" else "boards")
