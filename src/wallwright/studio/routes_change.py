"""A change accepted or refused, and what the site found: of any one job, below /api/jobs/{job}."""

from __future__ import annotations

from collections.abc import Callable
from typing import Annotated, Any

from fastapi import APIRouter, Depends, Request

from wallwright.job.document import Job
from wallwright.job.problem import JobError, Problem
from wallwright.studio import accounts, changing, found, history, studies, view
from wallwright.studio.accounts import Who
from wallwright.studio.answers import State
from wallwright.studio.answers_change import Decide, FoundIn, FoundOut, TakeFound
from wallwright.studio.door import address_of, reader, session_of, studio_of
from wallwright.studio.refusals import STALE, Refusal
from wallwright.studio.routes_job import Scale
from wallwright.studio.seen import View
from wallwright.studio.session import Session, StaleError

CHANGES = APIRouter()
People = Annotated[Who, Depends(reader)]
Opened = Annotated[Session, Depends(session_of)]
Decided = Callable[[str, Job, dict[str, Any], str, str, str], tuple[Job, str]]


@CHANGES.post("/change/accept", responses=STALE)
def accept(request: Request, who: People, session: Opened, body: Decide, scale: Scale = 20) -> State:
    """Accept a change as its study showed it: a signed variation, and the next revision, as one step."""
    return _decide(request, who, session, body, scale, changing.accept, "accepted")


@CHANGES.post("/change/refuse", responses=STALE)
def refuse(request: Request, who: People, session: Opened, body: Decide, scale: Scale = 20) -> State:
    """Refuse a change: brief and design as they were, what was measured and built stays, the refused variation on the list."""
    return _decide(request, who, session, body, scale, changing.refuse, "refused")


def _decide(  # noqa: PLR0913
    request: Request, who: Who, session: Session, body: Decide, scale: float, decide: Decided, word: str
) -> State:
    text, told = _shown(session, body.study)
    number = ""

    def make(now: View) -> tuple[Job, str]:
        nonlocal number
        try:
            job, number = decide(text, now.wall.job, told, body.by, body.on, body.reason)
        except JobError as error:  # told in the words of the command line
            raise JobError(Problem("change", "", one.says) for one in error.problems) from None
        because = f": {body.reason}" if body.reason else ""
        return job, f"Variation {number} {word} by {body.by}{because}"

    made = session.become(make, body.position, who.name)
    with session.store.write() as db:
        accounts.note(
            db, who.name, f"{word} a change", job=session.job, detail=f"{number}, by {body.by}: {body.reason}",
            address=address_of(request),
        )  # fmt: skip
    return view.state(made, scale)


def _shown(session: Session, study: str) -> tuple[str, dict[str, Any]]:
    """The text of the moment before the change, and what was shown of it. StaleError where the wall is another by now."""
    try:
        with session.store.read() as db:
            asked = studies.one(db, session.job, study)
            before = history.text_of_sha(db, session.job, str(asked.question.get("since", "")))
    except LookupError:
        raise Refusal(404, "study", "the job has no such study") from None
    told = (
        studies.kept(session.store, asked.key) if asked.kind == "impact" and asked.state == "done" else None
    )
    if told is None:
        raise Refusal(404, "study", "what the change touches was not worked out yet")
    if asked.sha != session.view().sha:
        raise StaleError
    return before, told


@CHANGES.post("/asfound")
def as_found(session: Opened, who: People, body: FoundIn) -> FoundOut:
    """Answer what the site found: accept, adjust with new numbers for the next trade, or stop. Nothing is written."""
    return found.answered(session.view().wall, body)


@CHANGES.post("/asfound/take", responses=STALE)
def take(request: Request, session: Opened, who: People, body: TakeFound, scale: Scale = 20) -> State:
    """Write what is accepted or adjusted into the job, as verified, in one step; what stops is left until somebody has decided."""
    made = session.edit(lambda wall: found.edits_of(wall, body.found), body.position, who=who.name)
    with studio_of(request).store.write() as db:
        accounts.note(
            db, who.name, "took in what the site found", job=session.job, detail=body.found.by or "", address=address_of(request)
        )  # fmt: skip
    return view.state(made, scale)
