"""People of a hosted studio: their passwords (argon2id), their sessions, and the log of what was done.

A session's token is known to the browser alone; here stands its hash.
"""

from __future__ import annotations

import hashlib
import hmac
import secrets
import threading
from dataclasses import dataclass
from functools import cache
from typing import TYPE_CHECKING, Any, Literal

from sqlalchemy import Connection, delete, func, select, update
from sqlalchemy.exc import IntegrityError

from wallwright.job.problem import fail
from wallwright.studio.schema import AUDIT, PERSON, SIGN_IN
from wallwright.studio.store import Store, new_id, now, sha256

if TYPE_CHECKING:
    from argon2 import PasswordHasher

Role = Literal["owner", "designer", "reader"]
ROLES: tuple[Role, ...] = ("owner", "designer", "reader")
SHORTEST_PASSWORD = 12
IDLE = 12 * 3600.0
LONGEST = 7 * 24 * 3600.0
_SEEN_EACH = 60.0
_AT_ONCE = threading.BoundedSemaphore(2)  # argon2 takes 64 MB each time


@dataclass(frozen=True, slots=True)
class Who:
    """Who calls. csrf : the word that only their own page can know."""

    id: str
    name: str
    role: Role
    csrf: str = ""


@cache
def _hasher() -> PasswordHasher:
    from argon2 import PasswordHasher  # argon2id with the parameters of RFC 9106, low-memory

    return PasswordHasher()


@cache
def _nobody() -> str:
    """A hash that no password fits, so that a name that is not there takes as long as one that is."""
    return _hasher().hash(secrets.token_hex(16))


def add_person(store: Store, name: str, password: str, role: Role) -> str:
    """Make an account; gives its id. JobError where the name is taken or the password too short."""
    name = name.strip()
    if not 0 < len(name) <= 64:
        raise fail("name", name, "must hold 1 to 64 characters", "person")
    if len(password) < SHORTEST_PASSWORD:
        raise fail("password", None, f"must hold at least {SHORTEST_PASSWORD} characters", "person")
    ident, secret = new_id(), _hash(password)
    try:
        with store.write() as db:
            db.execute(
                PERSON.insert().values(
                    id=ident, name=name, role=role, secret=secret, active=True, made=now()
                )
            )  # fmt: skip
    except IntegrityError:
        raise fail("name", name, f"the name {name} is taken; choose another", "person") from None
    return ident


def people(db: Connection) -> list[dict[str, Any]]:
    """All accounts: id, name, role, active, made."""
    columns = (PERSON.c.id, PERSON.c.name, PERSON.c.role, PERSON.c.active, PERSON.c.made)
    return [dict(row) for row in db.execute(select(*columns).order_by(PERSON.c.name)).mappings()]


def change_person(
    store: Store, ident: str, role: Role | None, active: bool | None, password: str | None
) -> None:
    """Change an account; closing it or giving it another password ends its sessions. LookupError where there
    is none; JobError where no owner would be left.
    """
    values = {"role": role, "active": active, "secret": _hash(password) if password else None}
    given = {key: value for key, value in values.items() if value is not None}
    with store.write() as db:
        if not given:
            raise fail(
                "person", None, "nothing is to be changed: give a role, active or a password", "person"
            )
        if db.execute(update(PERSON).where(PERSON.c.id == ident).values(**given)).rowcount != 1:
            raise LookupError(ident)
        owners = select(func.count()).where(PERSON.c.role == "owner", PERSON.c.active)
        if db.execute(owners).scalar_one() == 0:
            raise fail(
                "person",
                None,
                "a studio keeps one owner, and this is the last owner: make another one first",
                "person",
            )
        if password or active is False:
            db.execute(delete(SIGN_IN).where(SIGN_IN.c.person == ident))


def right_password(store: Store, name: str, password: str) -> str | None:
    """The id of the person whose name and password these are; None where they are nobody's."""
    from argon2.exceptions import InvalidHashError, VerificationError

    with store.read() as db:
        found = db.execute(
            select(PERSON.c.id, PERSON.c.secret).where(PERSON.c.name == name.strip(), PERSON.c.active)
        ).first()
    try:
        with _AT_ONCE:
            _hasher().verify(found.secret if found else _nobody(), password)
    except (VerificationError, InvalidHashError):
        return None
    return str(found.id) if found else None


def begin_session(store: Store, person: str) -> str:
    """A session for a person who has shown the password; gives its token. Sessions that have ended are cleared away."""
    token = secrets.token_urlsafe(32)
    with store.write() as db:
        db.execute(delete(SIGN_IN).where(SIGN_IN.c.ends < now()))
        row = {"token": sha256(token), "person": person, "seen": now(), "ends": now() + LONGEST}
        db.execute(SIGN_IN.insert().values(**row))
    return token


def end_session(store: Store, token: str) -> None:
    """End a session."""
    with store.write() as db:
        db.execute(delete(SIGN_IN).where(SIGN_IN.c.token == sha256(token)))


def whose(store: Store, token: str) -> Who | None:
    """Whose session this is; None where it is nobody's, has ended or lay idle too long."""
    with store.read() as db:
        found = db.execute(
            select(PERSON.c.id, PERSON.c.name, PERSON.c.role, SIGN_IN.c.seen)
            .join(SIGN_IN, SIGN_IN.c.person == PERSON.c.id)
            .where(SIGN_IN.c.token == sha256(token), SIGN_IN.c.ends > now(), PERSON.c.active)
        ).first()
    if found is None or found.seen < now() - IDLE:
        return None
    if abs(found.seen - now()) > _SEEN_EACH:  # or the clock was set back
        with store.write() as db:
            db.execute(update(SIGN_IN).where(SIGN_IN.c.token == sha256(token)).values(seen=now()))
    return Who(found.id, found.name, found.role, csrf_of(token))


def csrf_of(token: str) -> str:
    """The word that the page sends back with every change: it follows from the token, which another site cannot read."""
    return hmac.new(token.encode(), b"wallwright csrf", hashlib.sha256).hexdigest()


def note(
    db: Connection, who: str, what: str, *, job: str | None = None, detail: str = "", address: str = ""
) -> None:
    """A line of the audit log."""
    row = {"at": now(), "who": who[:80], "what": what, "job": job, "detail": detail[:400]}
    db.execute(AUDIT.insert().values(**row, address=address[:64]))


def _hash(password: str) -> str:
    with _AT_ONCE:
        return _hasher().hash(password)
