"""The job: the one document that everything else is derived from."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Annotated, Literal

from pydantic import Field

from wallwright.job.brief import Brief
from wallwright.job.design import Design
from wallwright.job.fields import STRICT, Number, Ref, Words
from wallwright.job.progress import Progress
from wallwright.job.survey import Survey
from wallwright.job.terms import OwnRateField, RateKey, Terms
from wallwright.library.rates import OwnRate

VERSION = 1


@dataclass(frozen=True, slots=True)
class Job:
    """One television wall: what was surveyed, what is wanted, what was decided."""

    __pydantic_config__ = STRICT
    title: Annotated[str, Field(min_length=1, max_length=80)]
    """Name of the wall, as it stands on the sheets."""
    survey: Survey
    brief: Brief = Brief()
    design: Design = Design()
    number: Annotated[str, Field(max_length=16)] = "TVW-001"
    """Identification number on the sheets."""
    client: Words = ""
    designer: Words = ""
    approver: Words = ""
    date: Annotated[str, Field(pattern=r"^\d{4}-\d{2}-\d{2}$")] = "2026-01-01"
    """Date of issue: sheets and files carry this one, never the clock's."""
    revision: Annotated[str, Field(pattern=r"^[A-Z0-9]{1,2}$")] = "A"
    status: Literal["preliminary", "approval", "construction", "as_built"] = "preliminary"
    currency: Annotated[str, Field(min_length=1, max_length=4)] = "¤"
    units: Literal["mm", "ft-in"] = "mm"
    """How lengths are shown on the page; sheets are always mm."""
    rules: Mapping[Ref, Number] = field(default_factory=dict[str, float])
    """Your own rule set: limits by name with your values."""
    rates: Mapping[RateKey, OwnRateField] = field(default_factory=dict[str, OwnRate])
    """Your own rates by key, laid over the rates book: an amount, or amount, unit and hours."""
    terms: Terms = field(default_factory=Terms)
    """The terms of the quote."""
    progress: Progress = Progress()
    """How far the work is, and what was agreed, found and tested on the way."""
