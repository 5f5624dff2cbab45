"""The demo walls, derived once for all tests of options, and what may be swapped on them."""

from __future__ import annotations

import pytest

from wallwright.derive import Wall, derive
from wallwright.job.demos import demo_jobs
from wallwright.job.read import read_job
from wallwright.options.swaps import Swap, swaps


@pytest.fixture(scope="session")
def living() -> Wall:
    return derive(read_job(demo_jobs()["living"]))


@pytest.fixture(scope="session")
def bedroom() -> Wall:
    return derive(read_job(demo_jobs()["bedroom"]))


@pytest.fixture(scope="session")
def living_swaps(living: Wall) -> tuple[Swap, ...]:
    return swaps(living)


@pytest.fixture(scope="session")
def bedroom_swaps(bedroom: Wall) -> tuple[Swap, ...]:
    return swaps(bedroom)
