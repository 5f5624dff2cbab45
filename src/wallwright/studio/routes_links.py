"""Links: given out and looked after by designers (below /api/jobs/{job}); opened by those they were sent to (/api/link)."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Annotated, Any

from fastapi import APIRouter, Depends, Request
from fastapi import Path as InPath
from fastapi.responses import Response

from wallwright.core.units import read_length
from wallwright.job.problem import fail
from wallwright.sheets.roles import ROLES, Role
from wallwright.studio import accounts, links
from wallwright.studio.accounts import Who
from wallwright.studio.answers_base import Done
from wallwright.studio.answers_links import (
    ApprovalOut,
    Approve,
    CheckOut,
    CommentOut,
    GivenLink,
    LinkOut,
    Links,
    LinkSheet,
    LinkView,
    NewLink,
    ReplyIn,
    Say,
    TickIn,
)
from wallwright.studio.checks import Check, checks_for, picture, seen, sheets_for
from wallwright.studio.door import address_of, by_link, reader, session_of, studio_of
from wallwright.studio.links import Link
from wallwright.studio.refusals import CHANGED, STALE, Refusal
from wallwright.studio.routes_job import SVG, SheetName
from wallwright.studio.seen import View
from wallwright.studio.session import Session, StaleError

GIVEN = APIRouter()
OPENED = APIRouter()
People = Annotated[Who, Depends(reader)]
Opened = Annotated[Session, Depends(session_of)]
ByLink = Annotated[Link, Depends(by_link)]
LinkId = Annotated[str, InPath(min_length=32, max_length=32, pattern=r"^[0-9a-f]+$")]
WITHIN = 2.0
"""As-found within this of the drawing is as drawn: the pencil's own width and the tape's reading [mm]. Source: our own choice."""


# --- looked after --------------------------------------------------------------------------------------------------------


@GIVEN.get("/links")
def given(session: Opened) -> Links:
    """The links of the job, and what came in by them."""
    view = session.view()
    with session.store.read() as db:
        found = links.of_job(db, session.job)
        said, agreed, ticks = (
            links.comments(db, session.job),
            links.approvals(db, session.job),
            links.ticks(db, session.job),
        )
    roles = {link.role for link in found}
    checks = [
        _check(role, one, ticks) for role in ROLES if role in roles for one in checks_for(view.wall, role)
    ]
    return Links(
        links=[_link(one) for one in found], comments=[_comment(one) for one in said],
        approvals=_approvals(view, agreed), checks=checks,
    )  # fmt: skip


@GIVEN.post("/links")
def give(request: Request, session: Opened, who: People, body: NewLink) -> GivenLink:
    """Give out a link. Its token is told this once, and opens this job alone, for its role, until it ends or is revoked."""
    with session.store.write() as db:
        link, token = links.give(db, session.job, body.role, body.label, body.days, body.price, who.name)
        _note(
            db,
            request,
            who.name,
            "gave out a link",
            session.job,
            f"{body.role.replace('_', ' ')}: {body.label}",
        )
    base = studio_of(request).address or str(request.base_url).rstrip("/")
    return GivenLink(link=_link(link), token=token, address=f"{base}/link#{token}")


@GIVEN.post("/links/{link}/revoke")
def revoke(request: Request, session: Opened, who: People, link: LinkId) -> Done:
    """Take a link back: from now on it opens nothing."""
    try:
        with session.store.write() as db:
            links.revoke(db, session.job, link)
            _note(db, request, who.name, "revoked a link", session.job, link)
    except LookupError:
        raise Refusal(404, "link", "the job has no such link") from None
    return Done()


@GIVEN.post("/comments", responses=STALE)
def reply(session: Opened, who: People, body: ReplyIn) -> Done:
    """A comment that those with a link read."""
    view = session.view()
    if body.position != view.position:
        raise StaleError
    with session.store.write() as db:
        links.comment(db, session.job, None, who.name, body.text, view.wall.job.revision, view.position)
    return Done()


# --- opened --------------------------------------------------------------------------------------------------------------


@OPENED.get("")
def look(request: Request, link: ByLink) -> LinkView:
    """What the link shows."""
    view = _view(request, link)
    client = link.kind == "client"
    sha, shown = seen(view, price=link.price) if client else ("", sheets_for(view, link.role))
    with studio_of(request).store.read() as db:
        said, ticks = links.comments(db, link.job), links.ticks(db, link.job, link.role)
        agreed = links.approvals(db, link.job) if client else []
    job, money = view.wall.job, view.wall.money
    return LinkView(
        role=link.role, label=link.label, title=job.title, room=job.survey.room.name, revision=job.revision,
        status=job.status, position=view.position, ends=link.ends, svg=picture(view.wall),
        price=money.shown(money.total) if client and link.price else "", sha256=sha,
        sheets=[LinkSheet(name=sheet.name, title=sheet.title) for sheet in shown],
        comments=[_comment(one) for one in said] if client else [_comment(one) for one in said if one.link == link.id],
        approvals=_approvals(view, agreed),
        checks=[_check(link.role, one, ticks) for one in checks_for(view.wall, link.role)],
    )  # fmt: skip


@OPENED.get("/sheet/{name}.svg", response_class=Response, responses=SVG)
def sheet(request: Request, link: ByLink, name: SheetName) -> Response:
    """A sheet of those that the link shows."""
    from wallwright.export.svg import sheet_svg

    found = {sheet.name: sheet for sheet in sheets_for(_view(request, link), link.role)}
    if name not in found:
        raise Refusal(404, "name", "this link shows no such sheet")
    return Response(sheet_svg(found[name]).encode("utf-8"), media_type="image/svg+xml")


@OPENED.post("/comment")
def say(request: Request, link: ByLink, body: Say) -> Done:
    """Say something of the wall as it is shown."""
    view, store = _view(request, link), studio_of(request).store
    with store.write() as db:
        if links.said_by(db, link.id) >= links.MOST_SAID:
            raise Refusal(403, "text", "this link has said enough; ask for a new one")
        links.comment(db, link.job, link.id, body.name, body.text, view.wall.job.revision, view.position)
        _note(db, request, body.name, "commented by a link", link.job, link.label)
    return Done()


@OPENED.post("/approve", responses=CHANGED)
def approve(request: Request, link: ByLink, body: Approve) -> ApprovalOut:
    """Agree to what was seen, by the revision and the hash that the link showed; refused where the wall shows otherwise by now."""
    if link.kind != "client":
        raise Refusal(403, "link", "only a client's link approves")
    view, store = _view(request, link), studio_of(request).store
    sha, _ = seen(view, price=link.price)
    if (body.sha256, body.revision) != (sha, view.wall.job.revision):
        raise Refusal(
            409, "sha256", "the wall has changed since you looked at it; look again before you approve"
        )
    with store.write() as db:
        links.approve(db, link, body.name, body.revision, view.position, sha)
        _note(db, request, body.name, "approved", link.job, f"revision {body.revision}, {sha}")
        newest = links.approvals(db, link.job)[0]
    return _approvals(view, [newest])[0]


@OPENED.post("/tick", responses=CHANGED)
def tick(request: Request, link: ByLink, body: TickIn) -> CheckOut:
    """Tick a check, and enter what was found."""
    view, store = _view(request, link), studio_of(request).store
    checks = {one.key: one for one in checks_for(view.wall, link.role)}
    if body.check not in checks:
        raise Refusal(404, "check", "this link has no such check")
    one = checks[body.check]
    found = _lengths(one, body.found)
    links.tick(
        store, link, one.key, done=body.done, found=found, name=body.name, revision=view.wall.job.revision
    )
    with store.write() as db:
        _note(
            db,
            request,
            body.name,
            "ticked a check",
            link.job,
            f"{link.role.replace('_', ' ')} {one.key}{'' if body.done else ' not done'}{_told(found)}",
        )
        return _check(link.role, one, links.ticks(db, link.job, link.role))


def _told(found: Mapping[str, float]) -> str:
    """What was found, for the log."""
    return "".join(f", {name} {mm:g} mm" for name, mm in found.items())


def _view(request: Request, link: Link) -> View:
    return session_of(request, link.job).view()


def _lengths(check: Check, written: Mapping[str, float | str]) -> dict[str, float]:
    """What was found, in mm. JobError names what cannot be read, or is no value of this check."""
    out: dict[str, float] = {}
    for name, value in written.items():
        if name not in check.values:
            known = ", ".join(check.values) or "none"
            raise fail(f"found.{name}", None, f"is no value of this check; there are {known}", "check")
        try:
            out[name] = read_length(value)
        except ValueError as problem:
            raise fail(f"found.{name}", value, str(problem), "check") from None
    return out


def _check(role: Role, check: Check, ticks: Mapping[tuple[str, str], Any]) -> CheckOut:
    row = ticks.get((role, check.key))
    found = links.found_of(row)
    return CheckOut.model_validate(
        {"key": check.key, "role": role, "title": check.says, "drawn": dict(check.values), "done": bool(row and row.done),
         "found": found, "name": row.name if row else "", "at": row.at if row else 0.0,
         "revision": row.revision if row else "", "says": _off(check, found)}
    )  # fmt: skip


def _off(check: Check, found: Mapping[str, float]) -> str:
    """How far what was found is from what is drawn, in words."""
    words = {"x": ("left", "right"), "z": ("low", "high")}
    said: list[str] = []
    for name, value in found.items():
        by = value - check.values.get(name, value)
        if abs(by) > WITHIN:
            less, more = words.get(name, (f"less in {name}", f"more in {name}"))
            said.append(f"{abs(by):.0f} mm {more if by > 0 else less}")
    return ", ".join(said) if said else ("as drawn" if found else "")


def _link(link: Link) -> LinkOut:
    return LinkOut(
        id=link.id, role=link.role, label=link.label, price=link.price, who=link.who, made=link.made, ends=link.ends,
        revoked=link.revoked, holds=link.holds,
    )  # fmt: skip


def _comment(row: Any) -> CommentOut:
    return CommentOut(name=row.name, text=row.text, revision=row.revision, at=row.at)


def _approvals(view: View, rows: list[Any]) -> list[ApprovalOut]:
    """Approvals, each with whether the wall still shows what was approved, in the very revision."""
    shas = {price: seen(view, price=price)[0] for price in {bool(row.price) for row in rows}}
    return [
        ApprovalOut(
            name=row.name, revision=row.revision, sha256=row.sha, at=row.at,
            holds=row.revision == view.wall.job.revision and row.sha == shas[bool(row.price)],
        )
        for row in rows
    ]  # fmt: skip


def _note(db: Any, request: Request, who: str, what: str, job: str, detail: str) -> None:
    accounts.note(db, who, what, job=job, detail=detail, address=address_of(request))
