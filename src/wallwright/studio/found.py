"""What the site found, answered thing by thing, and the edits that write it into the job."""

from __future__ import annotations

import json
from typing import Any

from wallwright.change.asfound import AsFound, as_found
from wallwright.core.finding import EditCall
from wallwright.derive import Wall
from wallwright.job.edit import to_plain
from wallwright.job.problem import JobError, fail
from wallwright.job.read import adapter, bounded, problems_of
from wallwright.job.site import Site
from wallwright.studio.answers import Call
from wallwright.studio.answers_change import FixOut, FoundIn, FoundOut, NumberOut, VerdictOut

WRITTEN = ("accept", "adjust")
"""Answers of which something is written into the job; the rest waits for somebody to decide, or for a tape."""


def site_of(found: FoundIn) -> Site:
    """What was found, read as a site file is. JobError with every problem."""
    from pydantic import ValidationError

    try:
        plain = bounded(found.model_dump(exclude_none=True))
        return adapter(Site).validate_json(json.dumps(plain), strict=True)
    except ValidationError as error:
        raise JobError(problems_of(error, of=Site), "found") from None


def answered(wall: Wall, found: FoundIn) -> FoundOut:
    """An answer for everything that was found. JobError where it names what this wall has not."""
    return said(_answered(wall, found))


def said(told: AsFound) -> FoundOut:
    """Answers as the page hears them."""
    return FoundOut(
        answer=told.answer,
        takes=any(verdict.edits and verdict.answer in WRITTEN for verdict in told.verdicts),
        verdicts=[
            VerdictOut(
                ref=v.ref, what=v.what, answer=v.answer, says=v.says, off=round(v.off, 1), tolerance=v.tolerance, source=v.source,
                ask=v.ask,
                numbers=[
                    NumberOut(trade=n.trade, ref=n.ref, says=n.says, value=round(n.value, 1), unit=n.unit) for n in v.numbers
                ],
                fixes=[FixOut(says=f.says, holds=f.possible, why=f.why, edits=_calls(f.edits)) for f in v.fixes],
            )
            for v in told.verdicts
        ],
    )  # fmt: skip


def _answered(wall: Wall, found: FoundIn) -> AsFound:
    try:
        return as_found(wall, site_of(found))
    except JobError:
        raise
    except (ValueError, ArithmeticError, LookupError) as problem:
        raise fail("found", None, f"no wall can be made of it: {problem}", "found") from None


def edits_of(wall: Wall, found: FoundIn) -> list[tuple[str, dict[str, Any]]]:
    """The edits that write what was found into the job as verified. JobError where there is nothing to write."""
    told = _answered(wall, found)
    edits = [edit for verdict in told.verdicts if verdict.answer in WRITTEN for edit in verdict.edits]
    if not edits:
        raise fail("found", None, "nothing of it can be written into the job as it is answered", "found")
    dated = [("set_survey_date", {"date": found.date})] if found.date else []
    return [*((edit.edit, dict(edit.values)) for edit in edits), *dated]


def _calls(edits: tuple[EditCall, ...]) -> list[Call]:
    return [Call.model_validate({"edit": one.edit, "with": to_plain(dict(one.values))}) for one in edits]
