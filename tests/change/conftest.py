"""The living-room demo as it is issued, with its first fix done and its parts cut."""

from __future__ import annotations

import pytest

from wallwright.derive import Wall, derive
from wallwright.job.demos import demo_jobs
from wallwright.job.document import Job
from wallwright.job.edits import apply
from wallwright.job.read import read_job


@pytest.fixture(scope="session")
def job() -> Job:
    return read_job(demo_jobs()["living"])


@pytest.fixture(scope="session")
def wall(job: Job) -> Wall:
    return derive(job)


@pytest.fixture(scope="session")
def cut(job: Job) -> Job:
    """As far as most late changes find it: boxes in the wall, boards cut."""
    return apply(job, "set_progress", {"joinery": "cut", "points": "set"})
