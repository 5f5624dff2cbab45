"""Who may come in, and as whom: asked before every answer of the API.

Local mode has one person, who owns all. Hosted mode: a session's cookie for people, a token for those who come by a link;
neither opens what the other does.
"""

from __future__ import annotations

from typing import Annotated

from fastapi import Depends, Request
from fastapi import Path as InPath

from wallwright.studio import accounts, links
from wallwright.studio.accounts import Who
from wallwright.studio.links import Link
from wallwright.studio.pace import Pace
from wallwright.studio.pace_shared import SharedPace
from wallwright.studio.refusals import Refusal
from wallwright.studio.session import YOU, Session
from wallwright.studio.studio import Studio

COOKIE = "__Host-wallwright"
LOCAL = Who("", YOU, "owner")
READS = ("GET", "HEAD")


def studio_of(request: Request) -> Studio:
    """The studio that is served."""
    studio: Studio = request.app.state.studio
    return studio


def address_of(request: Request) -> str:
    """Where a call comes from."""
    return request.client.host if request.client else ""


def someone(request: Request) -> Who | None:
    """Who calls, by the session's cookie; None where nobody is signed in."""
    studio = studio_of(request)
    if not studio.hosted:
        return LOCAL
    token = request.cookies.get(COOKIE, "")
    return accounts.whose(studio.store, token) if 20 <= len(token) <= 100 else None


def person(request: Request) -> Who:
    """Whoever is signed in, and means it: a change carries the word that only their own page knows."""
    who = someone(request)
    if who is None:
        raise Refusal(401, "session", "sign in first")
    studio = studio_of(request)
    if studio.hosted and request.method not in READS:
        if not _same(request.headers.get("x-csrf-token", ""), who.csrf):
            raise Refusal(403, "X-CSRF-Token", "the page is not the one that was signed in on; load it again")
        slow_down(
            studio.tries if request.url.path.endswith(("/try", "/look", "/price")) else studio.edits, who.id
        )
    return who


def reader(who: Annotated[Who, Depends(person)], request: Request) -> Who:
    """Whoever is signed in for what changes nothing; for all else designers and owners."""
    if who.role == "reader" and request.method not in READS:
        raise Refusal(403, "role", "your account may look and not change; ask a designer or the owner")
    return who


def owner(who: Annotated[Who, Depends(person)]) -> Who:
    """Owners only."""
    if who.role != "owner":
        raise Refusal(403, "role", "only the owner of the studio may do this")
    return who


def by_link(request: Request) -> Link:
    """Whoever comes by a link: its token stands in the Authorization header, never in a cookie or an address."""
    studio = studio_of(request)
    slow_down(studio.knocks, address_of(request))
    kind, _, token = request.headers.get("authorization", "").partition(" ")
    if kind.lower() != "bearer" or not 20 <= len(token) <= 100:
        raise Refusal(401, "link", "open the link as it was sent to you")
    with studio.store.read() as db:
        link = links.of_token(db, token)
    if link is None:
        raise Refusal(401, "link", "this link has ended or was taken back; ask who sent it for a new one")
    return link


def first_job(request: Request) -> Session:
    """The job that is open by itself: `serve JOB`."""
    studio = studio_of(request)
    if not studio.first:
        raise Refusal(404, "job", "no job is open; choose one from the list")
    return _opened(request, studio.first)


JobId = Annotated[str, InPath(min_length=32, max_length=32, pattern=r"^[0-9a-f]+$")]


def session_of(request: Request, job: JobId) -> Session:
    """The session of a job. Refused where there is no such job."""
    return _opened(request, job)


def _opened(request: Request, job: str) -> Session:
    try:
        session = studio_of(request).session(job)
    except LookupError:
        raise Refusal(404, "job", "there is no such job") from None
    request.state.session = session
    return session


def slow_down(pace: Pace | SharedPace, who: str) -> None:
    """Refuse what comes too fast."""
    if seconds := pace.wait(who):
        wait = int(seconds) + 1
        raise Refusal(429, "pace", f"too fast: try again in {wait} s", retry_after=str(wait))


def _same(given: str, right: str) -> bool:
    import hmac

    return hmac.compare_digest(given.encode("utf-8", "replace"), right.encode())
