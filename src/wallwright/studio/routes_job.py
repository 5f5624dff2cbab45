"""What may be asked of one job and what may be done to it. Twice in the address book: for the job that is open by itself
(/api/…), and for any job (/api/jobs/{job}/…).
"""

from __future__ import annotations

from collections.abc import Callable
from typing import Annotated, Any

from fastapi import APIRouter, Depends, Query, Request
from fastapi import Path as InPath
from fastapi.responses import Response
from pydantic import BaseModel

from wallwright.derive import Wall
from wallwright.job.problem import JobError, Problem
from wallwright.studio import answers, answers_wall, jobs, sheets, view
from wallwright.studio.accounts import Who
from wallwright.studio.answers_base import At
from wallwright.studio.door import reader, studio_of
from wallwright.studio.issue import issue_now, start_issue
from wallwright.studio.marks import edits_for
from wallwright.studio.questions import AskError, plain_length
from wallwright.studio.readings import at_the_desk
from wallwright.studio.refusals import STALE
from wallwright.studio.session import Session, StaleError

Scale = Annotated[
    float, Query(ge=5, le=200, allow_inf_nan=False, description="1:scale, for line widths and signs")
]
SheetName = Annotated[str, InPath(min_length=1, max_length=40, pattern=r"^[A-Za-z0-9_-]+$")]
People = Annotated[Who, Depends(reader)]
SVG: dict[int | str, dict[str, Any]] = {200: {"content": {"image/svg+xml": {}}}}


def of_job(opened: Callable[..., Session]) -> APIRouter:
    """All of one job. opened : gives its session."""
    router = APIRouter()
    of = Depends(opened)
    _asked(router, of)
    _done(router, of)
    _drawn(router, of)
    return router


def _asked(router: APIRouter, of: Any) -> None:
    """What changes nothing."""

    @router.get("/state")
    def state(session: Session = of, scale: Scale = 20) -> answers.State:
        """The whole page as the job stands."""
        return view.state(session.view(), scale)

    @router.get("/watch")
    def watch(session: Session = of) -> answers.Watch:
        """Whether anything changed, the file on the disk among it: small, to be asked every few seconds."""
        now = session.view()
        return answers.Watch(position=now.position, from_file=now.from_file, trouble=now.trouble)

    @router.get("/why")
    def why(name: Annotated[str, Query(min_length=1, max_length=120)], session: Session = of) -> answers.Whys:
        """The working of a shown value, a rule or a limit."""
        return view.whys(session.view().wall, name)

    @router.get("/job.toml", response_class=Response, responses={200: {"content": {"application/toml": {}}}})
    def job_toml(session: Session = of) -> Response:
        """The job file as it stands."""
        headers = {"content-disposition": "attachment"}  # the page names it after the wall
        return Response(
            session.text().encode("utf-8"), media_type="application/toml; charset=utf-8", headers=headers
        )


def _done(router: APIRouter, of: Any) -> None:
    """What changes the job; and the trying of a change."""

    @router.post("/edit", responses=STALE)
    def edit(
        who: People, change: answers.Change, session: Session = of, scale: Scale = 20
    ) -> answers.State | answers.Asked:
        """Make a change as one step, kept before the answer. What looks like a slip is asked about first.

        Made on an older position, it is laid over the job as it stands where both touch different fields; else 409.
        """
        try:
            written = [
                (change.edit or "", change.values),
                *((call.edit, call.values) for call in change.also),
            ]
            noted = at_the_desk(session.job, written, who.name)
            made = session.edit(_calls(change), change.position, sure=change.sure, who=who.name, also=noted)
        except AskError as question:
            return answers.Asked(ask=question.ask)
        return view.state(made, scale)

    @router.post("/try", responses=STALE, response_model=answers.State)
    def try_(change: answers.Change, session: Session = of, scale: Scale = 20) -> Response:
        """What a change would come to, derived and not kept: a few times a second while one drags."""
        known = [one.name for one in session.view().wall.whys]
        return _sent(view.state(session.tried(_calls(change), change.position), scale, known))

    @router.post("/look", responses=STALE, response_model=answers.Look)
    def look(change: answers.Change, session: Session = of, scale: Scale = 20) -> Response:
        """How the wall would look with a change, as far as it is drawn: for every step of a drag."""
        kept, changed = session.looked(_calls(change), change.position)
        return _sent(view.look(changed, kept, scale))

    @router.get("/cures")
    def cures(session: Session = of) -> answers_wall.Cures:
        """The cures that take a trial of the wall to find: asked for once the findings are shown, so that no edit waits for them."""
        return view.cures(session.view())

    @router.post("/price", responses=STALE)
    def price(change: answers.Change, session: Session = of) -> answers.Priced:
        """What a change would add to the price: asked for one cure after the other, while nothing else is done."""
        return view.priced(*session.priced(_calls(change), change.position))

    @router.post("/undo", responses=STALE)
    def undo(who: People, at: At, session: Session = of, scale: Scale = 20) -> answers.State:
        """Take the last step back."""
        return view.state(session.undo(at.position, who.name), scale)

    @router.post("/redo", responses=STALE)
    def redo(who: People, at: At, session: Session = of, scale: Scale = 20) -> answers.State:
        """Make the step again that was taken back."""
        return view.state(session.redo(at.position, who.name), scale)


def _drawn(router: APIRouter, of: Any) -> None:
    """The drawings, the model, and the issue set."""

    @router.get("/wall.glb", response_class=Response, responses={200: {"content": {"model/gltf-binary": {}}}})
    def wall_glb(session: Session = of) -> Response:
        """The wall as a solid model (glTF binary, metres)."""
        from wallwright.export.gltf import wall_glb as model

        return Response(model(session.view().wall), media_type="model/gltf-binary")

    @router.get("/thumbnail.svg", response_class=Response, responses=SVG)
    def thumbnail(session: Session = of) -> Response:
        """The elevation, small."""
        card = jobs.card_of(session.store, session.text())
        return Response(card.svg.encode("utf-8"), media_type="image/svg+xml")

    @router.get("/sheets")
    def names(session: Session = of) -> answers.Sheets:
        """The sheets of the set."""
        return sheets.names(session.view())

    @router.get("/sheet/{name}.svg", response_class=Response, responses=SVG)
    def sheet(name: SheetName, session: Session = of) -> Response:
        """One sheet, to scale on its paper."""
        svg = sheets.svg(session.view(), name)
        return Response(svg.encode("utf-8"), media_type="image/svg+xml")

    @router.get("/issue")
    def issue(session: Session = of) -> answers.Issue:
        """How far the issue set is."""
        return issue_now(session)

    @router.post("/issue", responses=STALE)
    def begin_issue(request: Request, who: People, at: At, session: Session = of) -> answers.Issue:
        """Write the whole issue set, in the background; in local mode it also goes beside the job file."""
        now = session.view()
        if at.position != now.position:
            raise StaleError
        return start_issue(studio_of(request), session, now.text, who.name)


def _sent(answer: BaseModel) -> Response:
    """An answer that is of its shape by being made, written out at once: to check it again takes as long as to draw it."""
    return Response(answer.model_dump_json(by_alias=True), media_type="application/json")


def _calls(change: answers.Change) -> Callable[[Wall], list[tuple[str, dict[str, Any]]]]:
    """A change as edits of the wall it is made on, in the order given; marks of the rods turned into the edits that put them there."""
    for name, value in (*change.values.items(), *change.marks.items()):
        plain_length(name, value)
    if change.edit is None and not change.also and not change.marks:
        says = "nothing to change: name an edit, or marks and where to put them"
        raise JobError((Problem("edit", "", says),))

    def calls(wall: Wall) -> list[tuple[str, dict[str, Any]]]:
        out: list[tuple[str, dict[str, Any]]] = []
        if change.edit is not None:
            out.append((change.edit, change.values))
        out.extend((call.edit, call.values) for call in change.also)
        for name, at in change.marks.items():
            out.extend((call.edit, dict(call.values)) for call in edits_for(wall, name, at))
        return out

    return calls
