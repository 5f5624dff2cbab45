"""The demo walls, derived once for all tests of options."""

from __future__ import annotations

import pytest

from wallwright.derive import Wall, derive
from wallwright.job.demos import demo_jobs
from wallwright.job.read import read_job


@pytest.fixture(scope="session")
def living() -> Wall:
    return derive(read_job(demo_jobs()["living"]))


@pytest.fixture(scope="session")
def bedroom() -> Wall:
    return derive(read_job(demo_jobs()["bedroom"]))
