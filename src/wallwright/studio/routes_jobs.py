"""The list of jobs, new ones, and what belongs to any one of them: history, readings, studies."""

from __future__ import annotations

from typing import Annotated

from fastapi import APIRouter, Body, Depends, Query, Request
from fastapi import Path as InPath
from fastapi.responses import Response

from wallwright.studio import accounts, compare, history, jobs, readings, studies, view
from wallwright.studio.accounts import Who
from wallwright.studio.answers import State
from wallwright.studio.answers_base import At, Done, Key
from wallwright.studio.answers_jobs import (
    AnswerOut,
    Archive,
    AskStudy,
    Comparison,
    History,
    JobCard,
    JobId,
    Jobs,
    MomentOut,
    NameMoment,
    NewJob,
    ReadingOut,
    Readings,
    ReadingsOut,
    Studies,
    StudyOut,
)
from wallwright.studio.door import address_of, reader, session_of, studio_of
from wallwright.studio.readings import Reading
from wallwright.studio.refusals import STALE, Refusal
from wallwright.studio.routes_job import Scale
from wallwright.studio.session import Session, StaleError

LIST = APIRouter()
ONE = APIRouter()
"""Below /api/jobs/{job}."""
LAST = 2**31 - 1
Moment = Annotated[int, InPath(ge=0, le=LAST)]
People = Annotated[Who, Depends(reader)]
Opened = Annotated[Session, Depends(session_of)]
StudyId = Annotated[str, InPath(min_length=32, max_length=32, pattern=r"^[0-9a-f]+$")]
FileName = Annotated[str, InPath(min_length=1, max_length=80, pattern=r"^[A-Za-z0-9_-][A-Za-z0-9_.-]*$")]
MEDIA = {
    "pdf": "application/pdf", "svg": "image/svg+xml", "png": "image/png", "csv": "text/csv; charset=utf-8", "json": "application/json",
    "ics": "text/calendar; charset=utf-8", "glb": "model/gltf-binary",
}  # fmt: skip
TOML = "application/toml"


@LIST.get("/jobs")
def listing(request: Request, archived: bool = False) -> Jobs:
    """All jobs, the last changed first: title, picture, gate reached, the one next action."""
    studio = studio_of(request)
    cards = [_card(one) for one in jobs.listed(studio, archived=archived)]
    return Jobs(jobs=cards, put_away=bool(cards) if archived else jobs.any_put_away(studio))


@LIST.post("/jobs")
def new(request: Request, who: People, body: NewJob) -> JobId:
    """A new wall: furnished already, and wrong in useful ways."""
    made = jobs.new_wall(studio_of(request), body.room, body.title or "", who.name)
    return _noted(request, who, "made a job", made)


@LIST.post("/jobs/import")
def bring_in(
    request: Request, who: People, file: Annotated[bytes, Body(media_type=TOML, max_length=2_000_000)]
) -> JobId:
    """A job from a job file: the body is the file itself, as application/toml."""
    if request.headers.get("content-type", "").partition(";")[0].strip().lower() != TOML:
        raise Refusal(415, "Content-Type", f"send the job file as {TOML}")
    return _noted(request, who, "brought a job in", jobs.brought_in(studio_of(request), file, who.name))


@ONE.post("/duplicate")
def duplicate(request: Request, who: People, session: Opened) -> JobId:
    """A copy of the job as it stands."""
    made = jobs.duplicate(studio_of(request), session.job, who.name)
    return _noted(request, who, "duplicated a job", made, session.job)


@ONE.post("/archive")
def archive(request: Request, who: People, session: Opened, body: Archive) -> Done:
    """Put the job away, or bring it back."""
    jobs.archive(studio_of(request), session.job, archived=body.archived)
    _noted(request, who, "archived a job" if body.archived else "brought a job back", session.job)
    return Done()


# --- history -----------------------------------------------------------------------------------------------------------


@ONE.get("/history")
def moments(
    session: Opened,
    before: Annotated[int, Query(ge=0, le=LAST)] = LAST,
    most: Annotated[int, Query(ge=1, le=200)] = 50,
) -> History:
    """The moments of the job, newest first; none is ever lost, undone ones among them."""
    session.view()
    with session.store.read() as db:
        found = history.moments(db, session.job, before, most)
    out = [
        MomentOut(number=m.number, back=m.back, says=m.says, name=m.name, who=m.who, at=m.at, here=m.here, sha256=m.sha)
        for m in found
    ]  # fmt: skip
    return History(moments=out, older=out[-1].number if out and out[-1].number > 0 else None)


@ONE.post("/history/{moment}/name")
def name(session: Opened, who: People, moment: Moment, body: NameMoment) -> Done:
    """Name a moment."""
    with session.store.write() as db:
        history.name_moment(db, session.job, moment, body.name.strip())
    return Done()


@ONE.post("/history/{moment}/return", responses=STALE)
def put_back(session: Opened, who: People, moment: Moment, at: At, scale: Scale = 20) -> State:
    """Back to a moment, as a step of its own that undo takes back."""
    return view.state(session.put_back(moment, at.position, who.name), scale)


@ONE.get("/compare")
def compared(
    session: Opened,
    first: Annotated[int, Query(ge=0, le=LAST)],
    second: Annotated[int, Query(ge=0, le=LAST)],
) -> Comparison:
    """Two moments side by side."""
    with session.store.read() as db:
        texts = [history.text_of(db, session.job, number) for number in (first, second)]
    return compare.compared(*texts)


# --- from site ---------------------------------------------------------------------------------------------------------


@ONE.post("/readings", responses=STALE)
def take_in(session: Opened, who: People, body: Readings, scale: Scale = 20) -> ReadingsOut:
    """Readings taken without signal: each counts once by its id; of two of one thing the later stands."""
    taken = [Reading(one.id, one.taken, one.call.edit, one.call.values) for one in body.readings]
    fates, seen = readings.take_in(session, taken, who.name)
    out = [
        ReadingOut.model_validate({"id": one.id, "state": fates[one.id].state, "says": fates[one.id].says})
        for one in body.readings
    ]
    return ReadingsOut(readings=out, state=view.state(seen, scale))


# --- studies -----------------------------------------------------------------------------------------------------------


@ONE.get("/studies")
def of_job(session: Opened) -> Studies:
    """The studies of the job, newest first."""
    with session.store.read() as db:
        found = studies.of_job(db, session.job)
    return Studies(studies=[_study(session, one) for one in found])


@ONE.post("/studies", responses=STALE)
def ask(request: Request, session: Opened, who: People, body: AskStudy) -> StudyOut:
    """Ask a slow question of the job as it stands; the answer is kept by the value of job and question."""
    now = session.view()
    if body.position != now.position:
        raise StaleError
    if body.kind == "impact":
        _of_this_job(session, str(body.question.get("since", "")))
    study = studies.ask(session.store, session.job, now.text, body.kind, body.question, who.name)
    worker = studio_of(request).worker
    if worker and study.state == "queued":
        worker.wake()
    return _study(session, study)


@ONE.get("/studies/{study}")
def how_far(session: Opened, study: StudyId) -> StudyOut:
    """How far a study is."""
    return _study(session, _found(session, study))


@ONE.post("/studies/{study}/cancel")
def cancel(request: Request, session: Opened, who: People, study: StudyId) -> StudyOut:
    """Ask no further; what was found by then is lost."""
    _found(session, study)
    return _study(session, studies.cancel(session.store, session.job, study))


@ONE.get("/studies/{study}/answer")
def answer(session: Opened, study: StudyId) -> AnswerOut:
    """What a study found."""
    asked = _found(session, study)
    found = studies.kept(session.store, asked.key) if asked.state == "done" else None
    if found is None:
        raise Refusal(404, "study", f"has no answer: it is {asked.state}")
    return AnswerOut(answer=found)


@ONE.get(
    "/studies/{study}/file/{name}",
    response_class=Response,
    responses={200: {"content": {"application/octet-stream": {}}}},
)
def file(session: Opened, study: StudyId, name: FileName) -> Response:
    """A file of a study's answer."""
    asked = _found(session, study)
    with session.store.read() as db:
        data = studies.file_of(db, asked.key, name) if asked.state == "done" else None
    if data is None:
        raise Refusal(404, "file", "there is no such file in the answer")
    media = MEDIA.get(name.rpartition(".")[2], "application/octet-stream")
    headers = {"content-disposition": f'attachment; filename="{name}"'}
    return Response(data, media_type=media, headers=headers)


def _of_this_job(session: Session, sha: str) -> None:
    """A change is told of this job's own moments alone, whatever else the database holds."""
    try:
        with session.store.read() as db:
            history.text_of_sha(db, session.job, sha)
    except LookupError:
        raise Refusal(404, "since", "is no moment of this job; the history lists them") from None


def _found(session: Session, study: str) -> studies.Study:
    try:
        with session.store.read() as db:
            return studies.one(db, session.job, study)
    except LookupError:
        raise Refusal(404, "study", "the job has no such study") from None


def _study(session: Session, study: studies.Study) -> StudyOut:
    with session.store.read() as db:
        names = studies.files_of(db, study.key) if study.state == "done" else []
    return StudyOut.model_validate(
        {"id": study.id, "kind": study.kind, "question": study.question, "state": study.state, "share": study.share,
         "what": study.what, "error": study.error, "made": study.made, "who": study.who,
         "holds": study.sha == session.view().sha, "files": names}
    )  # fmt: skip


def _card(one: jobs.Listed) -> JobCard:
    card = one.card
    return JobCard(
        id=one.id, title=card.title, number=card.number, client=card.client, room=card.room, revision=card.revision,
        status=card.status, gate=card.gate, next=card.next, must=card.must, consider=card.consider, position=one.position,
        changed=one.changed, archived=one.archived, file=one.file, trouble=card.trouble,
        thumbnail=f"/api/jobs/{one.id}/thumbnail.svg?of={one.sha[:16]}",
    )  # fmt: skip


def _noted(request: Request, who: Who, what: str, job: str, detail: Key = "") -> JobId:
    with studio_of(request).store.write() as db:
        accounts.note(db, who.name, what, job=job, detail=detail, address=address_of(request))
    return JobId(id=job)
