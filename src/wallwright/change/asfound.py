"""What the site found, answered thing by thing, and written back into the job as verified when it is taken."""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

from wallwright.change.boxes import box_verdicts
from wallwright.change.plumb import plumb_verdicts
from wallwright.change.sizes import edited, size_verdicts
from wallwright.change.verdict import ANSWERS, Answer, Verdict, worst

if TYPE_CHECKING:
    from wallwright.derive import Wall
    from wallwright.job.document import Job
    from wallwright.job.site import Site


@dataclass(frozen=True, slots=True)
class AsFound:
    """All answers, the gravest first. by, date : who found it, and when"""

    by: str
    date: str
    verdicts: tuple[Verdict, ...]

    @property
    def answer(self) -> Answer:
        """The gravest of all."""
        return worst(self.verdicts)


def as_found(wall: Wall, site: Site) -> AsFound:
    """An answer for everything that was found. JobError where it names what this wall has not."""
    verdicts = (*box_verdicts(wall, site), *plumb_verdicts(wall, site), *size_verdicts(wall, site))
    return AsFound(site.by, site.date, tuple(sorted(verdicts, key=lambda one: -ANSWERS.index(one.answer))))


def taken(job: Job, found: AsFound) -> Job:
    """The job with all that was accepted or adjusted written in as verified; what stops is left until somebody has decided, and what
    a photo showed until somebody has held a tape to it.

    Raises JobError where an edit cannot be made.
    """
    before = job
    for verdict in found.verdicts:
        if verdict.answer in ("accept", "adjust"):
            job = edited(job, verdict.edits)
    if found.date and job != before:
        job = replace(job, survey=replace(job.survey, date=found.date))
    return job
