"""The demo walls and their issue set, made once."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path
from typing import Any

import pytest

from wallwright.core.units import Length
from wallwright.derive import Wall, derive
from wallwright.export.package import Manifest, issue
from wallwright.job.demos import DEMOS, demo_jobs
from wallwright.job.design import Panel, Unit
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


FACED: dict[str, dict[str, Any]] = {
    "tile": {"kind": "tile"},
    "tile under an arch": {"kind": "tile", "head": "round"},
    "slab": {"kind": "slab", "finish": "porcelain_marble_look"},
    "framed": {"kind": "framed"},
    "moulding": {"kind": "moulding"},
    "mirror": {"kind": "mirror"},
    "fluted under an arch": {"kind": "fluted", "head": "round"},
    "flat under a segment": {"kind": "flat", "head": "segment", "head_rise": Length(200.0)},
}


@pytest.fixture(scope="session", params=FACED)
def faced(request: pytest.FixtureRequest) -> Wall:
    """The bedroom wall with its panelled zone in each kind, and an arched niche beside it."""
    job = demo_job("bedroom")
    units = (*job.design.units, Unit("N1", "arched_niche", side="left"))
    zone = Panel("W1", **FACED[request.param])
    return derive(replace(job, design=replace(job.design, panels=(zone,), units=units)))
