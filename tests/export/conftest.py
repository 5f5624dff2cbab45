"""The demo walls and their issue set, made once."""

from __future__ import annotations

from pathlib import Path

import pytest

from wallwright.derive import Wall, derive
from wallwright.export.package import Manifest, issue
from wallwright.job.demos import DEMOS, demo_jobs
from wallwright.job.document import Job
from wallwright.job.read import read_job


def demo_job(name: str) -> Job:
    return read_job(demo_jobs()[name].encode(), name)


@pytest.fixture(scope="session")
def living() -> Wall:
    return derive(demo_job("living"))


@pytest.fixture(scope="session", params=DEMOS)
def any_wall(request: pytest.FixtureRequest) -> Wall:
    return derive(demo_job(request.param))


@pytest.fixture(scope="session")
def issued(living: Wall, tmp_path_factory: pytest.TempPathFactory) -> tuple[Path, Manifest]:
    """The living room's issue set on disk, and its manifest."""
    folder = tmp_path_factory.mktemp("issue") / "set"
    return folder, issue(living, folder)
