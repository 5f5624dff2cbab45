"""Small towers of the demo walls."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import replace
from typing import Any

import pytest

from wallwright.core.units import Length
from wallwright.job.demos import demo_jobs
from wallwright.job.document import Job
from wallwright.job.read import read_job
from wallwright.job.survey import Reading
from wallwright.tower import made as making
from wallwright.tower.record import Flat, Kind, Measured, Tower, TowerFile

MakeTower = Callable[..., Tower]


@pytest.fixture(scope="session")
def jobs() -> dict[str, Job]:
    demos = demo_jobs()
    return {"L": read_job(demos["living"]), "B": read_job(demos["bedroom"])}


@pytest.fixture(scope="module")
def strips_alone() -> Iterator[None]:
    """No search for the fillers that a series bears, where a test is of something else: a strip's own limits stand for it."""
    with pytest.MonkeyPatch.context() as patch:
        making._ranges.clear()
        patch.setattr(making, "filler_range", lambda key, job: making.Range(key, 5.0, 60.0))
        yield
    making._ranges.clear()


@pytest.fixture(scope="session")
def make(jobs: dict[str, Job]) -> MakeTower:
    """A tower of these flats; more : other fields of its file"""

    def made(*flats: Flat, kinds: dict[str, Job] | None = None, **more: Any) -> Tower:
        of = kinds or jobs
        file = TowerFile("Invented tower", tuple(Kind(ref, f"{ref}.toml") for ref in of), flats, **more)
        return Tower(file, of)

    return made


def _tape(*widths: float, height: float | None = None) -> Measured:
    read = tuple(Reading(Length(100.0 + 900 * i), Length(width)) for i, width in enumerate(widths))
    high = () if height is None else (Reading(Length(300.0), Length(height)),)
    return Measured(widths=read, heights=high)


@pytest.fixture(scope="session")
def tape() -> Callable[..., Measured]:
    """What the tape said: widths from the foot up, one height."""
    return _tape


@pytest.fixture(scope="session")
def flat() -> Callable[..., Flat]:
    """A flat on the floor of its first two figures."""

    def made(ident: str, kind: str = "L", hand: Any = "left", **more: Any) -> Flat:
        return replace(Flat(ident, ident[:2], kind, hand), **more)

    return made
