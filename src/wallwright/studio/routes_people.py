"""Signing in and out, accounts, the audit log."""

from __future__ import annotations

from typing import Annotated

from fastapi import APIRouter, Depends, Query, Request, Response
from fastapi import Path as InPath
from sqlalchemy import select

from wallwright.studio import accounts
from wallwright.studio.accounts import Who
from wallwright.studio.answers_base import Done
from wallwright.studio.answers_people import (
    Audit,
    AuditLine,
    Here,
    NewPassword,
    NewPerson,
    People,
    PersonChange,
    PersonOut,
    SignIn,
)
from wallwright.studio.door import COOKIE, address_of, owner, person, slow_down, someone, studio_of
from wallwright.studio.refusals import Refusal
from wallwright.studio.schema import AUDIT
from wallwright.studio.studio import Studio

LAST = 2**31 - 1
WRONG = "name and password do not fit together: look at both and try again"
WRONG_OLD = "the password you have now is another one"
OPEN = APIRouter()
"""For anybody."""
SIGNED_IN = APIRouter()
"""For whoever is signed in."""
OWNERS = APIRouter(dependencies=[Depends(owner)])
Owner = Annotated[Who, Depends(owner)]
Person = Annotated[Who, Depends(person)]
PersonId = Annotated[str, InPath(min_length=32, max_length=32, pattern=r"^[0-9a-f]+$")]


@OPEN.get("/here")
def here(request: Request) -> Here:
    """What the page must know before anything else: local or hosted, who is signed in, which job to open at once."""
    who, studio = someone(request), studio_of(request)
    return _here(studio, who)


@OPEN.post("/sign-in")
def sign_in(request: Request, response: Response, body: SignIn) -> Here:
    """Sign in with name and password; the session stands in a cookie that no script can read."""
    studio, address = studio_of(request), address_of(request)
    if not studio.hosted:
        raise Refusal(404, "address", "this studio is local: there is nothing to sign in to")
    slow_down(studio.logins, f"name {body.name.strip()}")
    slow_down(studio.logins, f"from {address}")
    ident = accounts.right_password(studio.store, body.name, body.password)
    with studio.store.write() as db:
        what = "signed in" if ident else "sign-in refused"
        accounts.note(db, body.name, what, address=address)
    if ident is None:
        raise Refusal(401, "password", WRONG)
    studio.logins.forget(f"name {body.name.strip()}")
    token = accounts.begin_session(studio.store, ident)
    response.set_cookie(
        COOKIE, token, max_age=int(accounts.LONGEST), path="/", secure=True, httponly=True, samesite="strict"
    )
    return _here(studio, accounts.whose(studio.store, token))


@SIGNED_IN.post("/sign-out")
def sign_out(request: Request, response: Response, who: Person) -> Done:
    """End this session."""
    studio = studio_of(request)
    accounts.end_session(studio.store, request.cookies.get(COOKIE, ""))
    with studio.store.write() as db:
        accounts.note(db, who.name, "signed out", address=address_of(request))
    response.delete_cookie(COOKIE, path="/", secure=True, httponly=True, samesite="strict")
    return Done()


@SIGNED_IN.post("/password")
def password(request: Request, response: Response, who: Person, body: NewPassword) -> Here:
    """Change one's own password: every session of the account ends, and this one begins anew."""
    studio = studio_of(request)
    slow_down(studio.logins, f"name {who.name}")
    if not who.id or accounts.right_password(studio.store, who.name, body.old) != who.id:
        raise Refusal(403, "old", WRONG_OLD)
    accounts.change_person(studio.store, who.id, None, None, body.new)
    token = accounts.begin_session(studio.store, who.id)
    with studio.store.write() as db:
        accounts.note(db, who.name, "changed the password", address=address_of(request))
    response.set_cookie(
        COOKIE, token, max_age=int(accounts.LONGEST), path="/", secure=True, httponly=True, samesite="strict"
    )
    return _here(studio, accounts.whose(studio.store, token))


@OWNERS.get("/people")
def people(request: Request) -> People:
    """All accounts."""
    with studio_of(request).store.read() as db:
        rows = accounts.people(db)
    return People(people=[PersonOut.model_validate(row) for row in rows])


@OWNERS.post("/people")
def add(request: Request, who: Owner, body: NewPerson) -> People:
    """Make an account."""
    accounts.add_person(studio_of(request).store, body.name, body.password, body.role)
    _note(request, who, "made an account", f"{body.name}: {body.role}")
    return people(request)


@OWNERS.post("/people/{ident}")
def change(request: Request, who: Owner, ident: PersonId, body: PersonChange) -> People:
    """Change an account: its role, closed or open, a new password."""
    try:
        accounts.change_person(studio_of(request).store, ident, body.role, body.active, body.password)
    except LookupError:
        raise Refusal(404, "person", "there is no such account") from None
    now = people(request)
    name = next((one.name for one in now.people if one.id == ident), ident)
    told = [
        body.role,
        {True: "opened", False: "closed", None: ""}[body.active],
        "new password" if body.password else "",
    ]
    _note(request, who, "changed an account", f"{name}: {', '.join(filter(None, told))}")
    return now


@OWNERS.get("/audit")
def audit(request: Request, before: Annotated[int, Query(ge=1, le=LAST)] = LAST) -> Audit:
    """The audit log, 100 lines at a time, newest first. before : only lines older than this one."""
    asked = select(AUDIT).order_by(AUDIT.c.id.desc()).limit(100)
    with studio_of(request).store.read() as db:
        rows = db.execute(asked.where(AUDIT.c.id < before)).mappings().all()
    return Audit(lines=[AuditLine.model_validate({**row, "job": row["job"] or ""}) for row in rows])


def _here(studio: Studio, who: Who | None) -> Here:
    return Here(
        mode="hosted" if studio.hosted else "local", name=who.name if who else "", role=who.role if who else None,
        csrf=who.csrf if who else "", first=studio.first if who else "",
    )  # fmt: skip


def _note(request: Request, who: Who, what: str, detail: str) -> None:
    with studio_of(request).store.write() as db:
        accounts.note(db, who.name, what, detail=detail, address=address_of(request))
